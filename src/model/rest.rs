//! The other tables of a model.

use super::index::{ItemIx, NodeIx};
use super::item::words;
use super::kind::WalkGroup;
use super::need::Need;
use super::node::Noun;
use crate::base::{Id, Quantity, Span};

/// Type, maker, registration, revision.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Aircraft {
    /// Name of the type.
    pub name: String,
    /// Who makes it.
    pub maker: String,
    /// Of one individual aircraft.
    pub registration: Option<String>,
    /// Number of the revision.
    pub revision: i64,
    /// Date of the revision, `2026-05-02`.
    pub date: String,
    /// The governing handbook.
    pub handbook: String,
    /// A sentence.
    pub note: Option<String>,
}

/// A system with its published number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct System {
    /// Its id.
    pub id: Id,
    /// Its printed name.
    pub name: String,
    /// Two digits.
    pub number: String,
    /// What it does; sentences.
    pub does: Option<String>,
    /// Where it is declared.
    pub span: Span,
}

/// What the pilot needs to know.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Information {
    /// Its id.
    pub id: Id,
    /// Its printed name.
    pub noun: Noun,
    /// Sources, best first, where the author ranks them.
    pub prefer: Vec<NodeIx>,
    /// Where it is declared.
    pub span: Span,
}

/// A light, flag or pointer that shows when something is lost.
#[derive(Debug, Clone, PartialEq)]
pub struct Alert {
    /// Its id.
    pub id: Id,
    /// Its printed name.
    pub noun: Noun,
    /// The item that shows it.
    pub on: ItemIx,
    /// What it watches: it shows when this does not hold.
    pub watches: Vec<Need>,
    /// What it needs in order to show.
    pub needs: Vec<Need>,
    /// What is seen; a sentence.
    pub reads: Option<String>,
    /// Where it is declared.
    pub span: Span,
}

/// A number with a name.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedQuantity {
    /// Its id.
    pub id: Id,
    /// Its printed name.
    pub name: String,
    /// The number.
    pub value: Quantity,
    /// Where it comes from.
    pub cite: Option<String>,
    /// The item that it is about.
    pub of: Option<ItemIx>,
    /// A sentence.
    pub note: Option<String>,
    /// It has no row on the quick-reference card.
    pub off_card: bool,
    /// Where it is declared.
    pub span: Span,
}

/// What the recording instruments count.
#[derive(Debug, Clone, PartialEq)]
pub struct TimeRecording {
    /// The recording tachometer.
    pub tachometer: Option<ItemIx>,
    /// Speed at which its time is clock time, rpm.
    pub reference: Option<Quantity>,
    /// The hour meter.
    pub hour_meter: Option<ItemIx>,
    /// Where it is declared.
    pub span: Span,
}

/// What must be inspected when.
#[derive(Debug, Clone, PartialEq)]
pub struct Inspection {
    /// Its printed name.
    pub name: String,
    /// How often.
    pub every: Interval,
    /// By which count.
    pub by: InspectionBy,
    /// By how much it may be exceeded on the way to where it is done; the excess counts in the next interval.
    pub overrun: Option<Quantity>,
    /// Where the rule stands.
    pub cite: Option<String>,
    /// Where it is declared.
    pub span: Span,
}

/// An interval of inspection.
#[derive(Debug, Clone, PartialEq)]
pub enum Interval {
    /// Hours.
    Hours(Quantity),
    /// Calendar months, to the last day.
    CalendarMonths(u32),
    /// Plain days.
    Days(u32),
}

words! {
    /// What an inspection counts.
    InspectionBy {
        Tachometer = "tachometer", HourMeter = "hour-meter", TimeInService = "time in service", Calendar = "calendar",
    }
}

/// Size of the panel and the order of walking it.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Width, mm.
    pub width_mm: f64,
    /// Height, mm.
    pub height_mm: f64,
    /// Groups in walking order; those not named follow.
    pub walk: Vec<WalkGroup>,
    /// Where it is declared.
    pub span: Span,
}

/// One thing that a tail changes in its type.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// What sort.
    pub kind: ChangeKind,
    /// The table that it means: `item.com-2`.
    pub path: String,
    /// Why; a sentence.
    pub reason: String,
    /// Where it is declared.
    pub span: Span,
}

words! {
    /// How a tail differs.
    ChangeKind { Add = "add", Replace = "replace", Remove = "remove" }
}
