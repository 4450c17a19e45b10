//! Nodes: what can work or not.

use super::index::{GivenIx, InformationIx, ItemIx, MediumIx, NodeIx};
use super::need::Need;
use super::numbers::Duty;
use crate::base::{Id, Quantity, Span};

/// A name as phrases need it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Noun {
    /// As a pilot says it, without article.
    pub name: String,
    /// At most 14 characters, for drawings; the name where there is none.
    pub short: Option<String>,
    /// How it is spoken, where the spelling misleads.
    pub said: Option<String>,
    /// Other names that prose may use.
    pub aliases: Vec<String>,
    /// `a`, `an` or nothing, where the rule of vowels fails.
    pub article: Option<String>,
    /// The name is a plural.
    pub plural: bool,
}

/// What a node is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NodeKind {
    /// A whole item.
    Item(ItemIx),
    /// A function of an item: its place in [`super::Item::functions`].
    Function(ItemIx, usize),
    /// An outside fact.
    Given(GivenIx),
}

/// An item, a function or a given: what works or does not.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// `item`, `item.function` or `given`.
    pub id: String,
    /// What it is.
    pub kind: NodeKind,
    /// Its printed name. A function's own name does not name its item.
    pub noun: Noun,
    /// What it does: sentences for the student.
    pub does: Option<String>,
    /// All must hold.
    pub needs: Vec<Need>,
    /// What a gauge measures.
    pub senses: Vec<Need>,
    /// While all hold, a store is not being spent.
    pub kept_by: Vec<Need>,
    /// A store is being spent only while all of this holds; empty: always.
    pub spent_by: Vec<Need>,
    /// The medium that others get from it.
    pub gives: Option<MediumIx>,
    /// A or W.
    pub draws: Option<Quantity>,
    /// For what share of the time it draws.
    pub duty: Duty,
    /// It draws for moments only.
    pub intermittent: bool,
    /// What it tells the pilot.
    pub tells: Vec<Tells>,
    /// What it shows when something is gone.
    pub on_loss: Vec<LossLook>,
    /// What it shows when what it is fed with is false.
    pub on_false: Vec<FalseLook>,
    /// What a gauge shows when what it senses is gone; a sentence.
    pub reads_when_absent: Option<String>,
    /// How long a store lasts.
    pub lasts: Option<Lasts>,
    /// Where it stands in the handbook.
    pub cite: Option<String>,
    /// A remark; a sentence.
    pub note: Option<String>,
    /// Where its table begins.
    pub span: Span,
}

/// An outside fact that nothing in the aircraft makes.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// Its id.
    pub id: Id,
    /// Its node.
    pub node: NodeIx,
    /// Whether it holds when no state says otherwise.
    pub normally: bool,
}

/// One piece of information that a node tells.
#[derive(Debug, Clone, PartialEq)]
pub struct Tells {
    /// What is told.
    pub information: InformationIx,
    /// Directly or not.
    pub how: How,
    /// The limit within which it tells: "in steady, level flight".
    pub only: Option<String>,
    /// A sentence for the student.
    pub note: Option<String>,
    /// Where it stands.
    pub span: Span,
}

/// Whether a source shows a thing itself, or something it follows from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum How {
    /// The thing itself.
    Directly,
    /// Something that it follows from.
    Indirectly,
}

/// What is seen when something is gone.
#[derive(Debug, Clone, PartialEq)]
pub struct LossLook {
    /// What is gone.
    pub of: LossOf,
    /// How it looks.
    pub looks: Looks,
    /// A sentence.
    pub text: Option<String>,
    /// Where it stands.
    pub span: Span,
}

/// What is seen when something is false.
#[derive(Debug, Clone, PartialEq)]
pub struct FalseLook {
    /// What is false.
    pub of: LossOf,
    /// A sentence.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// What is gone or false, for [`LossLook`] and [`FalseLook`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LossOf {
    /// A medium.
    Medium(MediumIx),
    /// One node.
    Node(NodeIx),
}

/// How a dead instrument looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum Looks {
    Dark,
    Flag,
    Zero,
    Full,
    Centred,
    Freezes,
    Wanders,
}

impl Looks {
    /// Every look.
    pub const ALL: [Self; 7] =
        [Self::Dark, Self::Flag, Self::Zero, Self::Full, Self::Centred, Self::Freezes, Self::Wanders];

    /// The word in model files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Dark => "dark",
            Self::Flag => "flag",
            Self::Zero => "zero",
            Self::Full => "full",
            Self::Centred => "centred",
            Self::Freezes => "freezes",
            Self::Wanders => "wanders",
        }
    }

    /// True if the pilot can see from it that the instrument is dead.
    pub fn tells(self) -> bool {
        matches!(self, Self::Dark | Self::Flag | Self::Zero | Self::Full)
    }
}

/// How long a store lasts once nothing keeps it up.
#[derive(Debug, Clone, PartialEq)]
pub enum Lasts {
    /// A stated time.
    Stated(Quantity),
    /// A computed result, by name.
    Result(String),
}
