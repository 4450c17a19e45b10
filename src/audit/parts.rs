//! What the audit knows of a model: nodes, faults, alerts and states, with names turned to numbers once.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// The number of a node: its place in the list of nodes.
pub(super) type Number = usize;

/// Stands for "no node" where a need is asked for nobody in particular.
pub(super) const NOBODY: Number = usize::MAX;

/// One fault of one item or given.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct FaultName {
    /// The id of the item or given.
    pub item: String,
    /// The id of the fault, `fails` for the plain one.
    pub fault: String,
}

impl FaultName {
    /// Reads `item` or `item:fault`.
    pub fn from_text(text: &str) -> Self {
        let (item, fault) = text.split_once(':').unwrap_or((text, "fails"));
        Self { item: item.to_owned(), fault: fault.to_owned() }
    }
}

impl fmt::Display for FaultName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.item, self.fault)
    }
}

/// In how long something comes about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lapse {
    /// After so many minutes.
    Minutes(f64),
    /// In a time that the model does not say as a number.
    Sometime,
}

impl Lapse {
    /// Minutes for putting in order: what has no number comes last.
    pub(super) fn order(self) -> f64 {
        match self {
            Self::Minutes(minutes) => minutes,
            Self::Sometime => f64::INFINITY,
        }
    }

    /// This long, and then that long.
    pub(super) fn and_then(self, other: Self) -> Self {
        match (self, other) {
            (Self::Minutes(a), Self::Minutes(b)) => Self::Minutes(a + b),
            _ => Self::Sometime,
        }
    }
}

/// A condition: a control stands in one of these positions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Condition {
    pub(super) control: Number,
    pub(super) positions: BTreeSet<String>,
}

/// A condition's number: its place in the list of conditions.
pub(super) type ConditionNumber = usize;

/// A feed from one node.
#[derive(Debug, Clone)]
pub(super) struct Feed {
    pub(super) from: Number,
    pub(super) through: Vec<Number>,
    pub(super) when: Vec<ConditionNumber>,
    pub(super) sustained: bool,
    pub(super) approximate: bool,
}

/// One need.
#[derive(Debug, Clone)]
pub(super) enum Need {
    Feed(Feed),
    When(Vec<ConditionNumber>),
    Any(Vec<Need>),
    All(Vec<Need>),
    AtLeast(usize, Vec<Need>),
}

impl Need {
    /// Every feed in it, however deep.
    pub(super) fn feeds<'n>(&'n self, found: &mut Vec<&'n Feed>) {
        match self {
            Need::Feed(feed) => found.push(feed),
            Need::When(_) => {}
            Need::Any(list) | Need::All(list) | Need::AtLeast(_, list) => {
                for need in list {
                    need.feeds(found);
                }
            }
        }
    }

    /// Every condition in it, however deep.
    pub(super) fn conditions(&self, found: &mut Vec<ConditionNumber>) {
        match self {
            Need::Feed(feed) => found.extend(&feed.when),
            Need::When(when) => found.extend(when),
            Need::Any(list) | Need::All(list) | Need::AtLeast(_, list) => {
                for need in list {
                    need.conditions(found);
                }
            }
        }
    }
}

/// What a node is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum NodeKind {
    Item { kind: String },
    Function { item: Number },
    Given { normally: bool },
}

/// A control's positions and manners.
#[derive(Debug, Clone, Default)]
pub(super) struct Control {
    pub(super) positions: Vec<String>,
    pub(super) rest: String,
    pub(super) conducts_in: BTreeSet<String>,
    pub(super) springs_to: BTreeMap<String, String>,
    pub(super) off_with: Option<String>,
    pub(super) never_offer: BTreeSet<String>,
    pub(super) resets: BTreeSet<String>,
    pub(super) reachable: String,
    pub(super) pull: bool,
}

/// What a node tells the pilot.
#[derive(Debug, Clone)]
pub(super) struct Telling {
    pub(super) information: String,
    pub(super) indirectly: bool,
}

/// An item, a function or a given.
#[derive(Debug, Clone)]
pub(super) struct Node {
    pub(super) id: String,
    pub(super) kind: NodeKind,
    pub(super) gives: Option<String>,
    pub(super) needs: Vec<Need>,
    pub(super) senses: Vec<Need>,
    pub(super) kept_by: Vec<Need>,
    pub(super) spent_by: Vec<Need>,
    pub(super) tells: Vec<Telling>,
    /// Medium or node that is gone, and what is seen then.
    pub(super) on_loss: BTreeMap<String, String>,
    /// Of a store: in how long it is spent.
    pub(super) lasts: Option<Lapse>,
    pub(super) control: Option<Control>,
    pub(super) functions: Vec<Number>,
}

impl Node {
    /// Whether it is an item of this kind.
    pub(super) fn is_kind(&self, wanted: &str) -> bool {
        matches!(&self.kind, NodeKind::Item { kind } if kind == wanted)
    }
}

/// One entry of a fault.
#[derive(Debug, Clone)]
pub(super) struct Entry<T> {
    pub(super) what: T,
    pub(super) when: Vec<ConditionNumber>,
}

/// A hazard and the conditions under which it is one.
#[derive(Debug, Clone)]
pub(super) struct Hazard {
    pub(super) text: String,
    pub(super) level: String,
    pub(super) when: Vec<ConditionNumber>,
}

/// One way to fail.
#[derive(Debug, Clone, Default)]
pub(super) struct Fault {
    pub(super) loses: Vec<Entry<Number>>,
    pub(super) takes: Vec<Entry<Number>>,
    pub(super) weakens: Vec<Entry<Number>>,
    pub(super) misleads: Vec<Entry<Number>>,
    pub(super) traps: Vec<Entry<Number>>,
    pub(super) trips: Vec<Entry<Number>>,
    /// What is ignored, and by which nodes.
    pub(super) ignores: Vec<(Entry<Number>, Vec<Number>)>,
    pub(super) leads_to: Vec<(FaultName, Lapse)>,
    pub(super) shows: Vec<Entry<String>>,
    pub(super) hides: Vec<Entry<String>>,
    pub(super) found_by: Option<String>,
    pub(super) cue: Option<Cue>,
    pub(super) hazards: Vec<Hazard>,
    pub(super) transient: bool,
    pub(super) restorable: bool,
    pub(super) asked: Option<String>,
}

/// What is noticed, and how controls must stand for it.
#[derive(Debug, Clone)]
pub(super) struct Cue {
    pub(super) text: String,
    pub(super) when: Vec<ConditionNumber>,
}

/// A light, flag or pointer.
#[derive(Debug, Clone)]
pub(super) struct Alert {
    pub(super) on: Number,
    pub(super) watches: Vec<Need>,
    pub(super) needs: Vec<Need>,
}

/// A named cockpit state as it is written.
#[derive(Debug, Clone, Default)]
pub(super) struct State {
    pub(super) controls: BTreeMap<String, String>,
    pub(super) givens: BTreeMap<String, bool>,
    pub(super) after: Option<String>,
    pub(super) like: Option<String>,
    pub(super) reached_if: Vec<Number>,
    pub(super) in_flight: bool,
    pub(super) on_ground: bool,
}

/// A model as the audit reads it from the canonical text.
#[derive(Debug, Clone)]
pub struct PlainModel {
    pub(super) nodes: Vec<Node>,
    pub(super) number: BTreeMap<String, Number>,
    pub(super) conditions: Vec<Condition>,
    pub(super) faults: BTreeMap<FaultName, Fault>,
    pub(super) alerts: BTreeMap<String, Alert>,
    pub(super) states: BTreeMap<String, State>,
    /// Pieces of information, with the nodes that are preferred, best first.
    pub(super) information: BTreeMap<String, Vec<String>>,
    pub(super) layout: Layout,
}

/// What follows from the needs alone and is worked out once.
#[derive(Debug, Clone, Default)]
pub(super) struct Layout {
    /// Nodes that some feed passes.
    pub(super) passed: Vec<bool>,
    /// Nodes that some sustained feed comes from.
    pub(super) anchors: Vec<bool>,
    /// Whether any feed is approximate.
    pub(super) approximate: bool,
    /// The order of asking: sources before what hangs on them, where there is such an order.
    pub(super) order: Vec<Number>,
    /// What each node hangs on: sources, passages, its item.
    pub(super) uses: Vec<BTreeSet<Number>>,
    /// What hangs on each node.
    pub(super) users: Vec<BTreeSet<Number>>,
    /// Everything that hangs on each node, however far, itself included.
    pub(super) cones: Vec<Vec<Number>>,
    /// For each control, what looks at where it stands: itself, controls that are off with it, and nodes.
    pub(super) turned: Vec<Vec<Number>>,
    /// For each control, the conditions on it and on controls that are off with it.
    pub(super) looked_at: Vec<Vec<ConditionNumber>>,
    /// The conditions on controls that each node looks at, passages included.
    pub(super) hinges: Vec<Vec<Condition>>,
}
