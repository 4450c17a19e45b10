//! What an altimeter, a vertical speed indicator and an encoder make of static pressure.
//!
//! **Duty.** An altimeter shows how far its pressure lies, in the standard atmosphere, above the pressure set in its window. An encoder
//! has no window: it reports pressure altitude to the nearest hundred feet, whatever the altimeter is set to.
//!
//! **Does not know** the errors of an individual instrument, nor how the air differs from standard between the two pressures.
//!
//! # Source
//! ICAO Doc 7488/3 for the scale. 14 CFR 43, Appendix E (c): encoder and altimeter within 125 ft (reprint read). That altitude is
//! reported in steps of 100 ft: 14 CFR 43, Appendix E (c) and RTCA DO-181 (from memory).

use super::atmosphere::{pressure, pressure_altitude};
use super::measure::{Feet, FeetPerMinute, Minutes, Pascals};

/// The standard setting: 1013.25 hPa.
pub const STANDARD_SETTING: Pascals = super::atmosphere::SEA_LEVEL_PRESSURE;
/// The lowest setting that is taken.
pub const LOWEST_SETTING: Pascals = Pascals(90_000.0);
/// The highest setting that is taken.
pub const HIGHEST_SETTING: Pascals = Pascals(110_000.0);
/// How far encoder and altimeter may lie apart.
pub const CORRESPONDENCE: Feet = Feet(125.0);
/// The step in which altitude is reported.
pub const REPORTED_STEP: Feet = Feet(100.0);

/// The altitude that is shown.
pub fn shown_altitude(static_pressure: Pascals, setting: Pascals) -> Feet {
    pressure_altitude(static_pressure) - pressure_altitude(setting)
}

/// The static pressure where a sound altimeter with that setting shows that altitude.
pub fn static_pressure(altitude: Feet, setting: Pascals) -> Pascals {
    pressure(altitude + pressure_altitude(setting))
}

/// The vertical speed that a steady change of static pressure is shown as: between two pressures in that time.
pub fn vertical_speed(from: Pascals, to: Pascals, time: Minutes) -> FeetPerMinute {
    FeetPerMinute((pressure_altitude(to) - pressure_altitude(from)).0 / time.0)
}

/// What an encoder reports: hundreds of feet of pressure altitude, the nearest; halfway, the higher.
pub fn encoder_hundreds(static_pressure: Pascals) -> i32 {
    libm::floor(pressure_altitude(static_pressure) / REPORTED_STEP + 0.5) as i32
}

/// Whether a report corresponds to what the altimeter shows with the standard setting.
pub fn corresponds(shown_with_standard_setting: Feet, reported_hundreds: i32) -> bool {
    let apart = REPORTED_STEP * f64::from(reported_hundreds) - shown_with_standard_setting;
    apart.0.abs() <= CORRESPONDENCE.0
}
