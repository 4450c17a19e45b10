//! The answer of `endurance`.

use schemars::JsonSchema;
use serde::Serialize;

/// Electrical load, and how long the battery carries it once the alternator is lost.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct EnduranceAnswer {
    /// Version of this interface.
    pub ribstitch: u32,
    /// Name of the type, with the registration where there is one.
    pub aircraft: String,
    /// The state in which the alternator is lost.
    pub state: String,
    /// The battery.
    pub battery: String,
    /// Mean current in the phase that gets what is left, A.
    pub load_a: f64,
    /// Rating of the battery, Ah.
    pub battery_ah: f64,
    /// What is counted on, Ah.
    pub usable_ah: f64,
    /// Until the battery is empty or the last phase ends, min.
    pub minutes: f64,
    /// With nothing left off at all until it is empty, min.
    pub nothing_off_min: f64,
    /// What the rules of certification asked for until 2017, with the loads essential to a safe flight and landing, min.
    pub least_min: f64,
    /// The phase in which the battery is empty too soon.
    pub empty_in: Option<String>,
    /// What is shed from the first phase on.
    pub shed: Vec<String>,
    /// The phases in their order.
    pub phases: Vec<PhaseAnswer>,
    /// With nothing shed, then with one thing more each time.
    pub stages: Vec<StageAnswer>,
    /// Which loads buy most minutes, the greatest gain first.
    pub gains: Vec<GainAnswer>,
    /// What is drawn in each state.
    pub states: Vec<StateLoadAnswer>,
    /// Each circuit against its breaker and its wire.
    pub circuits: Vec<CircuitAnswer>,
    /// With everything off.
    pub standing: StandingAnswer,
    /// With the master left on after a flight; none where the model has no such state.
    pub left_on: Option<LeftOnAnswer>,
}

/// What the battery carries with the master left on.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LeftOnAnswer {
    /// The state.
    pub state: String,
    /// The coil of the contactor, A.
    pub coil_a: f64,
    /// Hours until it alone has taken the rating.
    pub coil_h: f64,
    /// All that is on, A.
    pub a: f64,
    /// Hours until that has taken the rating.
    pub h: f64,
}

/// One phase.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PhaseAnswer {
    /// Its name.
    pub name: String,
    /// Mean current, A.
    pub a: f64,
    /// The current of the rating that empties the battery as fast, A.
    pub counts_as_a: f64,
    /// Its time, min.
    pub min: f64,
    /// What it takes, A min.
    pub takes_a_min: f64,
    /// It gets what the others leave.
    pub open: bool,
    /// Ids of what is on.
    pub on: Vec<String>,
}

/// How long the battery lasts with so many things shed.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StageAnswer {
    /// What is shed.
    pub shed: Vec<String>,
    /// In all, min.
    pub minutes: f64,
}

/// What the absence of one load would give.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct GainAnswer {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Mean current in the phase that gets what is left, A.
    pub a: f64,
    /// Minutes more.
    pub min: f64,
}

/// What is drawn in a state.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StateLoadAnswer {
    /// The state.
    pub state: String,
    /// Sum of what is not intermittent, A.
    pub continuous_a: f64,
    /// Sum by duty, A.
    pub mean_a: f64,
    /// Four fifths of the rating of the alternators that work, A; 0 where none does.
    pub allowed_a: f64,
}

/// A circuit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CircuitAnswer {
    /// The breaker, fuse or item with a wire.
    pub id: String,
    /// What it opens at, A.
    pub opens_at_a: Option<f64>,
    /// Sum of what is not intermittent, A.
    pub continuous_a: f64,
    /// Sum of all, A.
    pub total_a: f64,
    /// Size of its wire.
    pub gauge: Option<String>,
    /// The greatest breaker or fuse for that size, A.
    pub protected_to_a: Option<f64>,
    /// Drop at the continuous load, V.
    pub drop_v: Option<f64>,
    /// What may drop then, V.
    pub allowed_v: Option<f64>,
}

/// What the battery carries with everything off.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StandingAnswer {
    /// Ids of what draws.
    pub on: Vec<String>,
    /// The sum, A.
    pub a: f64,
    /// Days until the battery is empty; none where nothing draws.
    pub days: Option<f64>,
}
