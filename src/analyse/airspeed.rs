//! Airspeed from impact pressure, and back.
//!
//! **Duty.** What pressure a calibrated airspeed makes in the pitot tube, what an airspeed indicator makes of a pressure, and the true
//! airspeed. Compressible flow, below the speed of sound.
//!
//! **Does not know** the errors of an individual installation: calibrated airspeed is what a perfect indicator shows.
//!
//! # Source
//! NASA RP-1046 (1980), chapter on airspeed: `qc = p0 ((1 + 0.2 (V / a0)²)^3.5 - 1)`.

use super::atmosphere::{GAS_J_PER_KG_K, SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE};
use super::measure::{Kelvin, Knots, Pascals};

/// Ratio of the specific heats of air.
pub const HEAT_RATIO: f64 = 1.4;
/// The fastest airspeed that is taken: below the speed of sound at sea level.
pub const FASTEST: Knots = Knots(600.0);

const KNOT_M_PER_S: f64 = 1852.0 / 3600.0;

/// Speed of sound.
pub fn speed_of_sound(temperature: Kelvin) -> Knots {
    Knots(libm::sqrt(HEAT_RATIO * GAS_J_PER_KG_K * temperature.0) / KNOT_M_PER_S)
}

/// The impact pressure (total less static) that a calibrated airspeed stands for.
pub fn impact_pressure(calibrated: Knots) -> Pascals {
    compressed(calibrated / speed_of_sound(SEA_LEVEL_TEMPERATURE), SEA_LEVEL_PRESSURE)
}

/// The calibrated airspeed that an impact pressure is shown as. A needle has nothing below zero: where the pressure in the pitot
/// line is the lower one, it rests.
pub fn calibrated(impact: Pascals) -> Knots {
    speed_of_sound(SEA_LEVEL_TEMPERATURE) * mach(impact, SEA_LEVEL_PRESSURE)
}

/// True airspeed of a calibrated airspeed in air of that pressure and temperature.
pub fn true_airspeed(calibrated: Knots, pressure: Pascals, temperature: Kelvin) -> Knots {
    speed_of_sound(temperature) * mach(impact_pressure(calibrated), pressure)
}

/// Calibrated airspeed of a true airspeed in air of that pressure and temperature.
pub fn calibrated_of_true(true_airspeed: Knots, pressure: Pascals, temperature: Kelvin) -> Knots {
    calibrated(compressed(true_airspeed / speed_of_sound(temperature), pressure))
}

/// Rise of pressure where air of that Mach number is brought to rest.
fn compressed(mach: f64, pressure: Pascals) -> Pascals {
    pressure * (libm::pow(1.0 + 0.2 * mach * mach, 3.5) - 1.0)
}

/// Mach number of a rise of pressure; zero for none, or for a fall.
fn mach(impact: Pascals, pressure: Pascals) -> f64 {
    let ratio = (impact / pressure).max(0.0);
    libm::sqrt(5.0 * (libm::pow(1.0 + ratio, 2.0 / 7.0) - 1.0))
}
