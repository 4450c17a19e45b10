//! The answer of `due`.

use schemars::JsonSchema;
use serde::Serialize;

/// What inspection falls due when.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct DueAnswer {
    /// Version of this interface.
    pub ribstitch: u32,
    /// Name of the type, with the registration where there is one.
    pub aircraft: String,
    /// The day that was asked about.
    pub on: String,
    /// What falls due first, or has been due longest.
    pub first: Option<String>,
    /// How fast each counter has run lately.
    pub rates: Vec<RateAnswer>,
    /// Every inspection of the model.
    pub inspections: Vec<InspectionAnswer>,
}

/// How fast a counter has run lately.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct RateAnswer {
    /// The column of the log.
    pub count: String,
    /// Its last reading, h.
    pub last_h: f64,
    /// Hours a day; none where the log is too short.
    pub h_a_day: Option<f64>,
}

/// One inspection.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct InspectionAnswer {
    /// Its name.
    pub name: String,
    /// How often.
    pub every: String,
    /// The log tells of it. Where it does not, nothing below is known.
    pub known: bool,
    /// When it was done last.
    pub done_on: Option<String>,
    /// At which count, h.
    pub done_at_h: Option<f64>,
    /// The last day on which it is not past.
    pub due_on: Option<String>,
    /// The column by which it comes.
    pub count: Option<String>,
    /// The count at which it is due, h.
    pub due_at_h: Option<f64>,
    /// What of the last interval was overrun and counts in this one, h.
    pub carried_h: f64,
    /// What is left at the last reading, h.
    pub left_h: Option<f64>,
    /// The day, or the day on which the count comes at the present rate.
    pub expected_on: Option<String>,
    /// Days from the day that was asked about to that day.
    pub left_days: Option<i64>,
    /// It is past.
    pub past: bool,
}
