//! The answers of the analysis, as plain data. Lists of nodes are in node order unless said otherwise.

use crate::model::{AlertIx, FaultIx, InformationIx, ItemIx, MediumIx, NodeIx, PositionIx, StateIx};
use std::collections::BTreeSet;

/// Where the solution of the sustained feeds starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Start {
    /// The state stands, then the faults strike.
    #[default]
    Running,
    /// The faults are present through the whole chain of states.
    Cold,
}

/// A question of "what if".
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// In this state.
    pub state: StateIx,
    /// With these faults.
    pub faults: Vec<FaultIx>,
    /// From running or from cold.
    pub start: Start,
    /// Controls set before the faults strike; settled first.
    pub set: Vec<(ItemIx, PositionIx)>,
    /// Moves afterwards, each settled in turn.
    pub then: Vec<(ItemIx, PositionIx)>,
}

impl Question {
    /// One or more faults in a state, from running.
    pub fn faults(state: StateIx, faults: Vec<FaultIx>) -> Self {
        Self { state, faults, start: Start::Running, set: Vec::new(), then: Vec::new() }
    }
}

/// Positions of all controls and truth of all givens.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Situation {
    /// By item; of an item that is no control the first position, which means nothing.
    pub positions: Vec<PositionIx>,
    /// By given.
    pub givens: Vec<bool>,
}

/// What works and what is false, in one situation.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Solution {
    /// Nodes that work.
    pub works: BTreeSet<NodeIx>,
    /// Of those, the ones that are false.
    pub misleads: BTreeSet<NodeIx>,
    /// Of those that work, the ones that work only through approximate feeds.
    pub approximate: BTreeSet<NodeIx>,
}

impl Solution {
    /// Works and is not false.
    pub fn is_true(&self, node: NodeIx) -> bool {
        self.works.contains(&node) && !self.misleads.contains(&node)
    }
}

/// A state solved with no faults.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StateSolution {
    /// The state.
    pub state: StateIx,
    /// False if some state of the chain was not reached.
    pub reached: bool,
    /// Positions and givens.
    pub situation: Situation,
    /// What works.
    pub solution: Solution,
}

/// Something that a fault touches, with the shortest chain of causes from the fault's item on (the thing itself not included).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Affected {
    /// What is touched.
    pub node: NodeIx,
    /// Causes, the nearest to the fault first.
    pub because: Vec<NodeIx>,
    /// Media and nodes that its own feeds miss: what `on-loss` is looked up by.
    pub misses: Vec<NodeIx>,
}

/// Something that stops later.
#[derive(Debug, Clone, PartialEq)]
pub struct LostLater {
    /// What stops.
    pub node: NodeIx,
    /// After so long, min, where it is known.
    pub in_min: Option<f64>,
    /// The stores that are spent or the faults that come.
    pub because: Vec<NodeIx>,
}

/// What one more fault now takes that it did not take before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoBackup {
    /// Next faults that each take the same, nearest common cause first.
    pub next: Vec<FaultIx>,
    /// What they take.
    pub of: Vec<Target>,
}

/// Something whose backup is asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Target {
    /// A piece of information.
    Information(InformationIx),
    /// A bus.
    Bus(NodeIx),
    /// A medium.
    Medium(MediumIx),
}

/// A piece of information that a fault touches, with the sources that remain, best first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StillTells {
    /// What is told.
    pub information: InformationIx,
    /// Node and which of its `tells`.
    pub sources: Vec<(NodeIx, usize)>,
}

/// A gauge or alert that shows something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Indication {
    /// A light, flag or pointer.
    Alert(AlertIx),
    /// A gauge that senses what is lost.
    Gauge(NodeIx),
}

/// How the pilot comes to know of a fault: the first that applies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum HowYouKnow {
    /// An alert shows.
    Alert,
    /// A gauge shows it.
    Gauge,
    /// A lost instrument looks dead.
    Instrument,
    /// The pilot feels, hears, smells or sees it.
    Cue,
    /// Only when it is used or tested.
    Use,
    /// Nothing tells.
    Nothing,
}

impl HowYouKnow {
    /// The word in JSON answers.
    pub fn word(self) -> &'static str {
        match self {
            Self::Alert => "alert",
            Self::Gauge => "gauge",
            Self::Instrument => "instrument",
            Self::Cue => "cue",
            Self::Use => "use",
            Self::Nothing => "nothing",
        }
    }
}

/// One move of a control; a cycle ends where it began.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Move {
    /// The control.
    pub control: ItemIx,
    /// From here.
    pub from: PositionIx,
    /// To here; the same as `from` for a cycle.
    pub to: PositionIx,
}

/// Moves after which something works again, or stops.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restore {
    /// What works again (or stops).
    pub what: Vec<NodeIx>,
    /// Of those, the ones that work only approximately.
    pub approximate: Vec<NodeIx>,
    /// In an order that loses nothing on the way, unless it `costs`.
    pub moves: Vec<Move>,
    /// Something else is lost: only of what stops a thing that no other way stops.
    pub costs: bool,
}

/// A hazard of a fault.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ActiveHazard {
    /// The fault.
    pub fault: FaultIx,
    /// Which of its hazards.
    pub hazard: usize,
    /// Its condition holds now.
    pub active: bool,
    /// Single moves that end its condition.
    pub ended_by: Vec<Move>,
}

/// All that faults do in one state.
#[derive(Debug, Clone, PartialEq)]
pub struct Effects {
    /// What was asked.
    pub question: Question,
    /// False if the state is not reached, with the faults from cold; then the rest speaks of the last state that was.
    pub reached: bool,
    /// Before the faults.
    pub before: Solution,
    /// With them.
    pub after: Solution,
    /// Positions and givens with the faults.
    pub situation: Situation,
    /// Still works, and is false.
    pub misleads: Vec<Affected>,
    /// Worked and does not.
    pub lost: Vec<Affected>,
    /// Works now, and will not.
    pub lost_later: Vec<LostLater>,
    /// Works, rough or less than full.
    pub weakened: Vec<NodeIx>,
    /// What one more fault now takes.
    pub no_backup: Vec<NoBackup>,
    /// Each piece of information touched.
    pub still_tells: Vec<StillTells>,
    /// Shows now and did not before: alerts by id, then gauges.
    pub shows: Vec<Indication>,
    /// Alerts that show now and did before.
    pub already_on: Vec<AlertIx>,
    /// Alerts that could show before, and cannot now.
    pub no_longer_warns: Vec<AlertIx>,
    /// Lost instruments that look dead.
    pub looks_dead: Vec<NodeIx>,
    /// The first that applies.
    pub how_you_know: HowYouKnow,
    /// Works with the faults and not without.
    pub runs_unasked: Vec<NodeIx>,
    /// What stops that.
    pub stops: Vec<Restore>,
    /// What makes something lost or false work again.
    pub restores: Vec<Restore>,
    /// Hazards of the faults.
    pub hazards: Vec<ActiveHazard>,
}

impl Effects {
    /// True if nothing at all tells of the faults.
    pub fn is_silent(&self) -> bool {
        self.how_you_know == HowYouKnow::Nothing
    }

    /// True if the faults take nothing and make nothing false, now or later.
    pub fn takes_nothing(&self) -> bool {
        self.lost.is_empty() && self.misleads.is_empty() && self.lost_later.is_empty()
    }
}

/// What is seen of an aircraft in a state; what is not listed is not known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seen {
    /// In this state.
    pub state: StateIx,
    /// The faults struck while it stood, or were there from the cold aircraft on.
    pub start: Start,
    /// Does not work.
    pub lost: Vec<NodeIx>,
    /// Works, and is false.
    pub wrong: Vec<NodeIx>,
    /// Works, and is not false.
    pub working: Vec<NodeIx>,
    /// Alerts that show; gauges that show a loss.
    pub shows: Vec<Indication>,
    /// Alerts and gauges that do not.
    pub not_shows: Vec<Indication>,
}

/// What explains it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Suspects {
    /// Sets of faults, each of the size `order`, the likeliest first.
    pub explanations: Vec<Vec<FaultIx>>,
    /// The size of the smallest sets that explain it; where none does, the size up to which all were tried.
    pub order: usize,
    /// False where there were too many sets of that size to try them all.
    pub complete: bool,
}

/// What a node hangs on, and what hangs on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trace {
    /// The node.
    pub node: NodeIx,
    /// Media of its own feeds and of what it senses.
    pub media: Vec<MediumIx>,
    /// Upstream nodes that need nothing themselves.
    pub sources: Vec<NodeIx>,
    /// All that it hangs on, passed devices included.
    pub upstream: Vec<NodeIx>,
    /// All that hangs on it.
    pub downstream: Vec<NodeIx>,
}
