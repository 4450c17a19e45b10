//! The standard atmosphere, from sea level and somewhat below to 20 km.
//!
//! **Duty.** Temperature, pressure and density by altitude, and the altitude of a pressure. Altitude is geopotential, which is what an
//! altimeter is made to show.
//!
//! **Does not know** the weather: a day is told by its altimeter setting alone (see `altimeter`).
//!
//! # Source
//! ICAO Doc 7488/3, Manual of the ICAO Standard Atmosphere, and US Standard Atmosphere 1976 (the constants below): a temperature that
//! falls by 6.5 K/km to 11 km and stays above it, and hydrostatic balance of a perfect gas.

use super::measure::{Feet, Kelvin, Pascals};

/// Temperature at sea level, K.
pub const SEA_LEVEL_TEMPERATURE: Kelvin = Kelvin(288.15);
/// Pressure at sea level, Pa.
pub const SEA_LEVEL_PRESSURE: Pascals = Pascals(101_325.0);
/// How fast it grows colder with height below the tropopause, K/m.
pub const LAPSE_K_PER_M: f64 = 0.0065;
/// Gas constant of dry air, J/(kg K).
pub const GAS_J_PER_KG_K: f64 = 287.052_87;
/// Standard gravity, m/s².
pub const GRAVITY_M_PER_S2: f64 = 9.806_65;
/// Where the lapse ends, m.
pub const TROPOPAUSE_M: f64 = 11_000.0;
/// The lowest altitude that is taken.
pub const LOWEST: Feet = Feet(-5_000.0);
/// The highest altitude that is taken: below 20 km, where the next layer begins.
pub const HIGHEST: Feet = Feet(65_000.0);

const FOOT_M: f64 = 0.3048;

/// Exponent of the pressure in the layer with a lapse: g / (R L).
const EXPONENT: f64 = GRAVITY_M_PER_S2 / (GAS_J_PER_KG_K * LAPSE_K_PER_M);

/// True for an altitude that this atmosphere has.
pub fn has(altitude: Feet) -> bool {
    (LOWEST..=HIGHEST).contains(&altitude)
}

/// Temperature of the standard atmosphere.
pub fn temperature(altitude: Feet) -> Kelvin {
    let height_m = altitude.0 * FOOT_M;
    Kelvin(SEA_LEVEL_TEMPERATURE.0 - LAPSE_K_PER_M * height_m.min(TROPOPAUSE_M))
}

/// Pressure of the standard atmosphere.
pub fn pressure(altitude: Feet) -> Pascals {
    let height_m = altitude.0 * FOOT_M;
    let ratio = libm::pow(temperature(altitude) / SEA_LEVEL_TEMPERATURE, EXPONENT);
    let above_m = (height_m - TROPOPAUSE_M).max(0.0);
    let isothermal = libm::exp(-GRAVITY_M_PER_S2 * above_m / (GAS_J_PER_KG_K * temperature(altitude).0));
    SEA_LEVEL_PRESSURE * (ratio * isothermal)
}

/// The altitude at which the standard atmosphere has that pressure.
pub fn pressure_altitude(pressure: Pascals) -> Feet {
    let tropopause = Feet(TROPOPAUSE_M / FOOT_M);
    let (limit, cold) = (self::pressure(tropopause), temperature(tropopause));
    if pressure < limit {
        let above_m = -libm::log(pressure / limit) * GAS_J_PER_KG_K * cold.0 / GRAVITY_M_PER_S2;
        return Feet((TROPOPAUSE_M + above_m) / FOOT_M);
    }
    let ratio = libm::pow(pressure / SEA_LEVEL_PRESSURE, 1.0 / EXPONENT);
    Feet(SEA_LEVEL_TEMPERATURE.0 * (1.0 - ratio) / LAPSE_K_PER_M / FOOT_M)
}

/// Density of air, kg/m³.
///
/// # Source
/// The perfect gas, as ICAO Doc 7488/3 takes it.
pub fn density_kg_m3(pressure: Pascals, temperature: Kelvin) -> f64 {
    pressure.0 / (GAS_J_PER_KG_K * temperature.0)
}
