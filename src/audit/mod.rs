//! The audit: what was printed, held against answers worked out afresh.
//!
//! Duty: from the canonical text alone, with a plain solver of its own, say what works, what is lost, what misleads
//! and how the pilot knows. It shares no code with the stages that made the guide. What it does not know: whether
//! the model is true of an aircraft, and whether the canonical text says what its author typed.

mod effects;
mod fault_reading;
mod fields;
mod later;
mod layout;
mod parts;
mod reading;
mod remedies;
mod situation;
mod solver;
mod states;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod trials;

pub use effects::{Effects, HazardFact, Inquiry, Pairs, Source, Target};
pub use parts::{FaultName, Lapse, PlainModel};
pub use remedies::{Move, Remedy};
pub use states::StateAnswer;
