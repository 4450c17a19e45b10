//! The audit: what was printed, held against answers worked out afresh.
//!
//! Duty: from the canonical text alone, with a plain solver of its own, say what works, what is lost, what misleads
//! and how the pilot knows. It shares no code with the stages that made the guide. What it does not know: whether
//! the model is true of an aircraft, and whether the canonical text says what its author typed.

mod carried;
mod effects;
mod fault_reading;
mod fields;
mod finding;
mod later;
mod layout;
mod page;
mod parts;
mod promises;
mod reading;
mod remedies;
mod seals;
mod situation;
mod solver;
mod states;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod trials;

pub use effects::{Effects, HazardFact, Inquiry, Pairs, Source, Target};
pub use finding::{Finding, Proved, Report};
pub use parts::{FaultName, Lapse, PlainModel};
pub use remedies::{Move, Remedy};
pub use states::StateAnswer;

use finding::Notes;
use page::Page;

/// Reads a finished page back and holds it against the canonical text that it was made from.
pub fn audit_html(html: &str, canonical: &str) -> Vec<Finding> {
    report(html, canonical).findings
}

/// The same, with how much was proved.
pub fn report(html: &str, canonical: &str) -> Report {
    let page = Page::read(html);
    let mut notes = Notes::default();
    carried::check(&page, canonical, &mut notes);
    seals::check(&page, &mut notes);
    promises::check(&page, None, &mut notes);
    notes.report
}
