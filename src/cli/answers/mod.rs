//! The answers of the verbs as JSON: a stable interface, whose schemas `schema answers` prints.
//!
//! Fields may be added; none changes its meaning or goes away while [`VERSION`] stays.
mod due;
mod endurance;
mod names;
mod states;
mod suspect;
mod tach;
mod trace;
mod whatif;

pub use due::{DueAnswer, InspectionAnswer, RateAnswer};
pub use endurance::{
    CircuitAnswer, EnduranceAnswer, GainAnswer, LeftOnAnswer, PhaseAnswer, StageAnswer, StandingAnswer, StateLoadAnswer,
};
pub use names::Names;
pub use states::StatesAnswer;
pub use suspect::SuspectAnswer;
pub use tach::{LegAnswer, MonthAnswer, MonthlyAnswer, TachAnswer};
pub use trace::TraceAnswer;
pub use whatif::aircraft;
pub use whatif::{
    Hazard, Lost, LostLater, Misleads, MoveAnswer, NamedNode, NoBackup, Restores, Shows, Source, StillTells, Weakened,
    WhatifAnswer,
};

/// Version of the JSON answers, in the field `ribstitch` of each.
pub const VERSION: u32 = 1;
