//! Faults: ways to fail.

use super::index::{AlertIx, FaultIx, ItemIx, NodeIx};
use super::item::words;
use super::need::When;
use crate::base::{Id, Quantity, Span};

/// One way in which an item fails or a given is gone.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// Its id: `fails` unless it was named.
    pub id: Id,
    /// The item or given that fails.
    pub of: NodeIx,
    /// Verb phrase: "is blocked".
    pub said: Option<String>,
    /// What stops working: the item itself, functions of it, other items. `loses` and `takes` together; an item takes its functions.
    pub loses: Vec<Entry<NodeIx>>,
    /// What still works, but rough or less than full.
    pub weakens: Vec<Entry<NodeIx>>,
    /// What becomes false.
    pub misleads: Vec<Entry<NodeIx>>,
    /// What shuts in what was in it: where it would be lost, it goes on working, false.
    pub traps: Vec<Entry<NodeIx>>,
    /// What opens and stays open, in every position.
    pub trips: Vec<Entry<NodeIx>>,
    /// Whose conditions count as met.
    pub ignores: Vec<Entry<Ignores>>,
    /// What follows in time.
    pub leads_to: Vec<LeadsTo>,
    /// Alerts that show because of it.
    pub shows: Vec<Entry<AlertIx>>,
    /// Alerts that do not show though they should.
    pub hides: Vec<Entry<AlertIx>>,
    /// When it is found, if nothing shows it.
    pub found_by: Option<FoundBy>,
    /// What the pilot feels, hears, smells or sees.
    pub cue: Option<Cue>,
    /// What can hurt.
    pub hazards: Vec<Hazard>,
    /// Where the handbook speaks of it.
    pub see: Option<String>,
    /// Rank, 0 to 1.
    pub likely: Option<f64>,
    /// It may be mended by cycling a control that resets its item.
    pub transient: bool,
    /// Restoring moves are offered though it has a hazard.
    pub restorable: bool,
    /// Where it is asked about.
    pub asked: Asked,
    /// Where it is declared: its own table, or the item's for a default.
    pub span: Span,
    /// Whether the author wrote it.
    pub written: bool,
}

/// One thing that a fault does, and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry<T> {
    /// The thing.
    pub what: T,
    /// How controls must stand for it.
    pub when: When,
    /// What is seen of it, in a sentence: of what misleads or is weakened.
    pub text: Option<String>,
}

/// Conditions on a control or the needs of a coil that count as met.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ignores {
    /// The control (its positions no longer matter), or an item with a coil (its needs no longer matter).
    pub what: ItemIx,
    /// For these nodes; an item stands for itself and its functions.
    pub nodes: Vec<NodeIx>,
}

/// A fault that follows in time.
#[derive(Debug, Clone, PartialEq)]
pub struct LeadsTo {
    /// The fault that comes.
    pub fault: FaultIx,
    /// After this time, where it is known.
    pub after: Option<Quantity>,
}

/// What is noticed.
#[derive(Debug, Clone, PartialEq)]
pub struct Cue {
    /// A sentence.
    pub text: String,
    /// While controls stand so; empty: always.
    pub when: When,
}

/// What can hurt.
#[derive(Debug, Clone, PartialEq)]
pub struct Hazard {
    /// A sentence.
    pub text: String,
    /// How much it weighs.
    pub level: HazardLevel,
    /// While controls stand so; empty: always.
    pub when: When,
}

words! {
    /// In the sense of flight manuals.
    HazardLevel { Warning = "warning", Caution = "caution" }
}

words! {
    /// When a fault is found that nothing shows.
    FoundBy {
        InUse = "in use", PressToTest = "press-to-test", RunUp = "run-up", Preflight = "preflight", Inspection = "inspection",
    }
}

words! {
    /// Where a fault is asked about.
    Asked { Always = "always", InFlight = "in flight", OnTheGround = "on the ground" }
}

impl FoundBy {
    /// True if it is done on the ground only, so that it finds nothing in flight.
    pub fn on_the_ground_only(self) -> bool {
        matches!(self, Self::RunUp | Self::Preflight | Self::Inspection)
    }
}
