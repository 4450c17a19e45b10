//! The answer of `tach`.

use schemars::JsonSchema;
use serde::Serialize;

/// Tachometer time beside clock time.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TachAnswer {
    /// Version of this interface.
    pub ribstitch: u32,
    /// Name of the type, with the registration where there is one.
    pub aircraft: String,
    /// Speed at which the tachometer counts clock time, rpm.
    pub reference_rpm: f64,
    /// Tachometer time of all legs, h.
    pub tach_h: f64,
    /// Clock time of all legs, h.
    pub clock_h: f64,
    /// Hour-meter time of all legs, h; of the model's flights only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub meter_h: Option<f64>,
    /// Time in service of all legs, h; of the model's flights only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub service_h: Option<f64>,
    /// The legs as given; of a month none.
    pub legs: Vec<LegAnswer>,
    /// A month and a year, where they were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub month: Option<MonthAnswer>,
}

/// One leg.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LegAnswer {
    /// Its name, of the model's flights only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Engine speed, rpm.
    pub rpm: f64,
    /// Clock time, min.
    pub min: f64,
    /// Tachometer time, h.
    pub tach_h: f64,
    /// Hour-meter time, h; of the model's flights only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub meter_h: Option<f64>,
    /// Time in service, h; of the model's flights only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub service_h: Option<f64>,
    /// The sum, written out.
    pub sum: String,
}

/// A month and a year of the model's flights, and what the ratio of the clocks does.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MonthAnswer {
    /// Each kind of flight.
    pub flights: Vec<MonthlyAnswer>,
    /// Tachometer time of a year, h.
    pub year_tach_h: f64,
    /// Hour-meter time of a year, h.
    pub year_meter_h: f64,
    /// Time in service of a year, h.
    pub year_service_h: f64,
    /// Tachometer hours in an hour of the hour meter; none where a clock has not run.
    pub ratio: Option<f64>,
    /// By this a price for an hour of the hour meter is multiplied, so that a price for a tachometer hour takes the same.
    pub price_factor: Option<f64>,
    /// Hours of the hour meter in which the tachometer counts 100.
    pub meter_in_100_tach_h: Option<f64>,
    /// Time in service in which the tachometer counts 100, h.
    pub service_in_100_tach_h: Option<f64>,
    /// What the hour meter shows where the tachometer shows 4,000, both new together, h.
    pub meter_at_4000_tach_h: Option<f64>,
}

/// One kind of flight in a month.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MonthlyAnswer {
    /// Its name.
    pub name: String,
    /// How often.
    pub monthly: u32,
    /// Tachometer time of all of them, h.
    pub tach_h: f64,
    /// Hour-meter time of all of them, h.
    pub meter_h: f64,
    /// Time in service of all of them, h.
    pub service_h: f64,
}
