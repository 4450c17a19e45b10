//! A flight of the model as the instruments see it, and what is true of what they show.

use super::{AirFlight, AirLeg, CLEAR, Moment, Openings};
use crate::analyse::measure::{Feet, FeetPerMinute, Knots, Minutes, Pascals};
use crate::model::{Flight, ItemIx, Model};

/// What two readings may lie apart and still be called the same. In flight a pilot hardly sees less; of altitude it is one graduation of
/// a usual dial. The guide prints it below its tables.
pub const SAME_AIRSPEED: Knots = Knots(2.0);
/// As [`SAME_AIRSPEED`], of altitude.
pub const SAME_ALTITUDE: Feet = Feet(20.0);
/// As [`SAME_AIRSPEED`], of vertical speed.
pub const SAME_VERTICAL: FeetPerMinute = FeetPerMinute(20.0);

/// Which instruments show what is true, at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(clippy::struct_excessive_bools)] // one for each instrument
pub struct Agreement {
    /// The airspeed indicator.
    pub airspeed: bool,
    /// The altimeter.
    pub altitude: bool,
    /// The vertical speed indicator.
    pub vertical: bool,
    /// What the encoder reports.
    pub reported: bool,
}

impl Moment {
    /// Which instruments show what is true.
    pub fn agreement(&self) -> Agreement {
        let (shown, real) = (self.shown, self.true_reading);
        Agreement {
            airspeed: (shown.airspeed - real.airspeed).0.abs() <= SAME_AIRSPEED.0,
            altitude: (shown.altitude - real.altitude).0.abs() <= SAME_ALTITUDE.0,
            vertical: (shown.vertical - real.vertical).0.abs() <= SAME_VERTICAL.0,
            reported: shown.reported_hundreds == real.reported_hundreds,
        }
    }
}

impl AirFlight {
    /// A flight of the model with nothing blocked. A leg that says no altitude or airspeed keeps that before it; before the first
    /// both are zero where the flight says none.
    pub fn of(flight: &Flight, setting: Pascals) -> Self {
        let mut altitude = flight.altitude.as_ref().and_then(Feet::of).unwrap_or_default();
        let mut airspeed = flight.airspeed.as_ref().and_then(Knots::of).unwrap_or_default();
        let (from_altitude, from_airspeed) = (altitude, airspeed);
        let mut legs = Vec::new();
        for leg in &flight.legs {
            altitude = leg.altitude.as_ref().and_then(Feet::of).unwrap_or(altitude);
            airspeed = leg.airspeed.as_ref().and_then(Knots::of).unwrap_or(airspeed);
            let time = Minutes::of(&leg.lasts).unwrap_or_default();
            legs.push(AirLeg { time, altitude, airspeed, openings: CLEAR });
        }
        Self { setting, altitude: from_altitude, airspeed: from_airspeed, legs }
    }

    /// The same flight with the openings so from a leg on, counted from 0.
    #[must_use]
    pub fn with(mut self, openings: Openings, from_leg: usize) -> Self {
        self.legs.iter_mut().skip(from_leg).for_each(|leg| leg.openings = openings);
        self
    }
}

/// The alternate source of static pressure and how its pressure differs from the true one; nothing where the model has none.
pub fn cabin_offset(model: &Model) -> Option<(ItemIx, Pascals)> {
    let of = |item: ItemIx| Some((item, Pascals::of(model[item].pressure_offset.as_ref()?)?));
    model.item_indices().find_map(of)
}
