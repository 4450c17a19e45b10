//! What airspeed indicator, altimeter, vertical speed indicator and encoder show while an opening is blocked.
//!
//! **Duty.** A flight in legs (level, climb, descent), each with the openings as they are in it, gives at every moment the pressure in
//! both lines, and from these what the instruments show beside what is true. A line that closes keeps the pressure that stood in it.
//!
//! **Method.** Ram hole clear: pitot line = static + impact pressure. Ram hole blocked with the drain open: the line empties to static.
//! Both blocked: the pressure stays. Static ports clear: the line has static pressure; blocked: it stays; alternate source: the cabin's
//! pressure, which differs from static by an offset that is model data; a leak behind the panel: between the two, by the share that the
//! leak takes. The airspeed indicator shows the difference of the lines, the others show the static line.
//!
//! **Does not know** the delay of lines and of the vertical speed indicator's own leak, temperature of trapped air, or how the cabin's
//! offset changes with speed. At the moment a source is changed the needle of the vertical speed indicator jumps: told as `jump`.
//!
//! # Source
//! FAA-H-8083-25, chapter on flight instruments (reprint read), for which pressure stands in which line; the rest follows from
//! `airspeed` and `altimeter`.

mod flight;
mod run;

pub use flight::{Agreement, SAME_AIRSPEED, SAME_ALTITUDE, SAME_VERTICAL, cabin_offset};

use super::airspeed::FASTEST;
use super::altimeter::{HIGHEST_SETTING, LOWEST_SETTING, static_pressure};
use super::atmosphere::{HIGHEST, LOWEST, pressure_altitude};
use super::measure::{Feet, FeetPerMinute, Knots, Minutes, Pascals};
use run::Run;
use thiserror::Error;

/// The opening of the pitot tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PitotLine {
    /// Nothing is blocked.
    Clear,
    /// The ram hole is blocked and the drain is open.
    RamBlocked,
    /// Ram hole and drain are blocked.
    Trapped,
}

/// What the static line is open to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StaticLine {
    /// The ports.
    Ports,
    /// Nothing.
    Trapped,
    /// The cabin, by the alternate source: its pressure less static pressure. Below zero where air is drawn out of the cabin.
    Cabin(Pascals),
    /// Ports and cabin, by a leak behind the panel that makes up this share (0 to 1) of the difference.
    Leak {
        /// Cabin pressure less static pressure.
        offset: Pascals,
        /// From 0 (no leak) to 1 (the line has come off).
        share: f64,
    },
}

/// Both openings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Openings {
    /// Of the pitot line.
    pub pitot: PitotLine,
    /// Of the static line.
    pub statics: StaticLine,
}

/// Nothing is blocked.
pub const CLEAR: Openings = Openings { pitot: PitotLine::Clear, statics: StaticLine::Ports };

/// A steady leg; altitude and airspeed change evenly from what stood before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirLeg {
    /// How long it takes.
    pub time: Minutes,
    /// Altitude at its end, as a sound altimeter shows it.
    pub altitude: Feet,
    /// Calibrated airspeed at its end.
    pub airspeed: Knots,
    /// How the openings are in it.
    pub openings: Openings,
}

/// A flight in legs.
#[derive(Debug, Clone, PartialEq)]
pub struct AirFlight {
    /// Altimeter setting.
    pub setting: Pascals,
    /// Altitude at its beginning.
    pub altitude: Feet,
    /// Calibrated airspeed at its beginning.
    pub airspeed: Knots,
    /// The legs in their order. Before the first nothing is blocked.
    pub legs: Vec<AirLeg>,
}

/// Airspeed, altitude and vertical speed, and what the encoder reports.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Calibrated airspeed.
    pub airspeed: Knots,
    /// Altitude.
    pub altitude: Feet,
    /// Vertical speed.
    pub vertical: FeetPerMinute,
    /// Reported altitude, hundreds of feet of pressure altitude.
    pub reported_hundreds: i32,
}

/// One moment of a flight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Number of the leg, from 0.
    pub leg: usize,
    /// Time from the beginning of the flight.
    pub at: Minutes,
    /// What is true.
    pub true_reading: Reading,
    /// What is shown.
    pub shown: Reading,
}

/// One leg with its ends.
#[derive(Debug, Clone, PartialEq)]
pub struct FlownLeg {
    /// At its beginning, just after the openings became what they are in it.
    pub from: Moment,
    /// At its end.
    pub to: Moment,
    /// How far the altimeter jumps as the leg begins: upward the vertical speed indicator shows a momentary climb.
    pub jump: Feet,
}

/// Why a flight cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum AirError {
    /// Out of the atmosphere.
    #[error("an altitude of {0} ft cannot be; it must lie between -5000 and 65000 ft")]
    Altitude(f64),
    /// Too fast, or backwards.
    #[error("an airspeed of {0} kt cannot be; it must lie between 0 and 600 kt")]
    Airspeed(f64),
    /// No time, or too long.
    #[error("a leg of {0} min cannot be; it must be more than 0 and at most 10000 min")]
    Time(f64),
    /// No setting of any day.
    #[error("an altimeter setting of {0} hPa cannot be; it must lie between 900 and 1100 hPa")]
    Setting(f64),
    /// A cabin that is not one.
    #[error("a cabin pressure that differs by {0} hPa cannot be; it must be at most 50 hPa either way")]
    Offset(f64),
    /// A share that is none.
    #[error("a leak of share {0} cannot be; it must lie between 0 and 1")]
    Share(f64),
}

impl AirFlight {
    /// Says whether every number can be.
    ///
    /// # Errors
    /// [`AirError`].
    pub fn check(&self) -> Result<(), AirError> {
        if !(LOWEST_SETTING..=HIGHEST_SETTING).contains(&self.setting) {
            return Err(AirError::Setting(self.setting.0 / 100.0));
        }
        check_point(self.altitude, self.airspeed)?;
        self.legs.iter().try_for_each(|leg| {
            check_point(leg.altitude, leg.airspeed)?;
            if !(leg.time.0 > 0.0 && leg.time.0 <= 10_000.0) {
                return Err(AirError::Time(leg.time.0));
            }
            check_static(leg.openings.statics)
        })
    }

    /// The ends of each leg.
    ///
    /// # Errors
    /// [`AirError`] for what cannot be.
    ///
    /// # Example
    /// ```
    /// use ribstitch::analyse::altimeter::STANDARD_SETTING;
    /// use ribstitch::analyse::measure::{Feet, Knots, Minutes};
    /// use ribstitch::analyse::pitot_static::{AirFlight, AirLeg, CLEAR, Openings, StaticLine};
    /// let openings = Openings { statics: StaticLine::Trapped, ..CLEAR };
    /// let climb = AirLeg { time: Minutes(4.0), altitude: Feet(5000.0), airspeed: Knots(90.0), openings };
    /// let (altitude, airspeed) = (Feet(3000.0), Knots(90.0));
    /// let flown = AirFlight { setting: STANDARD_SETTING, altitude, airspeed, legs: vec![climb] }.fly()?;
    /// assert!((flown[0].to.shown.altitude.0 - 3000.0).abs() < 1e-6 && flown[0].to.shown.airspeed < Knots(90.0));
    /// # Ok::<(), ribstitch::analyse::pitot_static::AirError>(())
    /// ```
    pub fn fly(&self) -> Result<Vec<FlownLeg>, AirError> {
        let ends = self.moments(1)?;
        let mut before = self.altitude;
        let legs = ends.chunks_exact(2).map(|pair| {
            let jump = pair[0].shown.altitude - before;
            before = pair[1].shown.altitude;
            FlownLeg { from: pair[0], to: pair[1], jump }
        });
        Ok(legs.collect())
    }

    /// Moments for a plot: of each leg its beginning and then the ends of so many equal parts.
    ///
    /// # Errors
    /// [`AirError`] for what cannot be.
    pub fn moments(&self, parts: usize) -> Result<Vec<Moment>, AirError> {
        self.check()?;
        let parts = parts.clamp(1, 1000);
        let mut run = Run::new(self);
        Ok((0..self.legs.len()).flat_map(|leg| run.leg(leg, parts)).collect())
    }
}

fn check_point(altitude: Feet, airspeed: Knots) -> Result<(), AirError> {
    // Half of the range of settings lies beyond either end, so that pressure altitude stays in the atmosphere as well.
    if !(LOWEST.0 + 2500.0..=HIGHEST.0 - 4000.0).contains(&altitude.0) {
        return Err(AirError::Altitude(altitude.0));
    }
    if !(0.0..=FASTEST.0).contains(&airspeed.0) {
        return Err(AirError::Airspeed(airspeed.0));
    }
    Ok(())
}

fn check_static(line: StaticLine) -> Result<(), AirError> {
    let (offset, share) = match line {
        StaticLine::Ports | StaticLine::Trapped => return Ok(()),
        StaticLine::Cabin(offset) => (offset, 1.0),
        StaticLine::Leak { offset, share } => (offset, share),
    };
    if !(-5000.0..=5000.0).contains(&offset.0) {
        return Err(AirError::Offset(offset.0 / 100.0));
    }
    if (0.0..=1.0).contains(&share) { Ok(()) } else { Err(AirError::Share(share)) }
}

/// The altitude by which a pressure offset shifts an altimeter: positive where it reads high.
pub fn altitude_error(altitude: Feet, setting: Pascals, offset: Pascals) -> Feet {
    let around = static_pressure(altitude, setting);
    pressure_altitude(around + offset) - pressure_altitude(around)
}
