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
    /// Clock time of all legs, h: what the hour meter counts.
    pub clock_h: f64,
    /// The legs as given.
    pub legs: Vec<LegAnswer>,
}

/// One leg.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LegAnswer {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// Clock time, min.
    pub min: f64,
    /// Tachometer time, h.
    pub tach_h: f64,
    /// The sum, written out.
    pub sum: String,
}
