//! Copper wire: what it resists, what it carries, and which breaker or fuse protects it.
//!
//! **Duty.** The published tables by wire size, and the drop of voltage along a wire.
//!
//! **Does not know** bundles, altitude and temperature of an individual run: the ratings are those of the table's head.
//!
//! # Source
//! FAA AC 43.13-1B: Table 11-3 (9/8/98), breaker and fuse by wire size; Table 11-9 (change 1, 9/27/01), resistance at 20 degC and
//! current rating of 105 degC wire in bundles at 70 degC (both read); Table 11-6, drop allowed (from memory; continuous column
//! corroborated). Table 11-8 works drops as ohm per foot × feet × amperes.

use super::measure::{Amps, Feet, Volts};
use crate::model::WireGauge;

/// One size of copper wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WireSize {
    /// The size.
    pub gauge: WireGauge,
    /// Resistance at 20 degC, ohm for 1000 ft.
    pub ohm_per_1000_ft: f64,
    /// Current rating in a bundle, wire of 105 degC.
    pub rating: Amps,
    /// The greatest breaker for it, where the table gives one.
    pub breaker: Option<Amps>,
    /// The greatest fuse for it, where the table gives one.
    pub fuse: Option<Amps>,
}

const fn size(gauge: WireGauge, ohm_per_1000_ft: f64, rating: f64, guards: Option<(Option<f64>, f64)>) -> WireSize {
    let (breaker, fuse) = match guards {
        Some((Some(breaker), fuse)) => (Some(Amps(breaker)), Some(Amps(fuse))),
        Some((None, fuse)) => (None, Some(Amps(fuse))),
        None => (None, None),
    };
    WireSize { gauge, ohm_per_1000_ft, rating: Amps(rating), breaker, fuse }
}

/// Every size, from the thinnest.
pub const SIZES: &[WireSize] = &[
    size(WireGauge::G24, 28.40, 2.5, None),
    size(WireGauge::G22, 16.20, 3.0, Some((Some(5.0), 5.0))),
    size(WireGauge::G20, 9.88, 4.0, Some((Some(7.5), 5.0))),
    size(WireGauge::G18, 6.23, 6.0, Some((Some(10.0), 10.0))),
    size(WireGauge::G16, 4.81, 7.0, Some((Some(15.0), 10.0))),
    size(WireGauge::G14, 3.06, 10.0, Some((Some(20.0), 15.0))),
    size(WireGauge::G12, 2.02, 13.0, Some((Some(30.0), 20.0))),
    size(WireGauge::G10, 1.26, 17.0, Some((Some(40.0), 30.0))),
    size(WireGauge::G8, 0.70, 38.0, Some((Some(50.0), 50.0))),
    size(WireGauge::G6, 0.44, 50.0, Some((Some(80.0), 70.0))),
    size(WireGauge::G4, 0.28, 68.0, Some((Some(100.0), 70.0))),
    size(WireGauge::G2, 0.18, 95.0, Some((Some(125.0), 100.0))),
    size(WireGauge::G1, 0.15, 113.0, Some((None, 150.0))),
    size(WireGauge::G0, 0.12, 128.0, Some((None, 150.0))),
    size(WireGauge::G00, 0.09, 147.0, None),
    size(WireGauge::G000, 0.07, 172.0, None),
    size(WireGauge::G0000, 0.06, 204.0, None),
];

/// The row of a size.
pub fn row(gauge: WireGauge) -> &'static WireSize {
    &SIZES[gauge as usize]
}

/// The drop along a wire of that length at that current.
pub fn drop(gauge: WireGauge, length: Feet, current: Amps) -> Volts {
    Volts(row(gauge).ohm_per_1000_ft / 1000.0 * length.0 * current.0)
}

/// What a wire may drop: while current flows on and on, and for moments.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DropAllowed {
    /// Continuous load.
    pub continuous: Volts,
    /// Intermittent load.
    pub intermittent: Volts,
}

/// The drop allowed in a system of that voltage: 14 V or 28 V while the alternator runs, which is a battery of 12 V or 24 V.
pub fn drop_allowed(system: Volts) -> Option<DropAllowed> {
    let of =
        |continuous, intermittent| DropAllowed { continuous: Volts(continuous), intermittent: Volts(intermittent) };
    match system.0 {
        v if (12.0..=14.5).contains(&v) => Some(of(0.5, 1.0)),
        v if (24.0..=29.0).contains(&v) => Some(of(1.0, 2.0)),
        _ => None,
    }
}
