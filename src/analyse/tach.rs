//! Tachometer time beside clock time.
//!
//! **Duty.** A recording tachometer counts turns of the engine and shows them as hours, so that an hour at its reference speed is an hour
//! and an hour at half of it is half an hour. This gives both times for a flight told in legs, unrounded, with each step.
//!
//! **Does not know** the speed between legs, how an individual instrument was set up, or what an inspection counts.
//!
//! # Source
//! A tachometer maker's note, reprinted (`checks/README.md` of the design: reference 2400 rpm; 2400 gives 1.0 h for each clock hour,
//! 1200 gives 1/2, 2000 gives 5/6). Half of the reference for an hour is half an hour: common practice, no source.

use thiserror::Error;

/// The highest engine speed that is taken, rpm.
pub const HIGHEST_RPM: f64 = 10_000.0;
/// The longest leg that is taken, min.
pub const LONGEST_MIN: f64 = 10_000.0;

/// A stretch of time at one engine speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// Engine speed, rpm.
    pub speed_rpm: f64,
    /// Clock time, min.
    pub time_min: f64,
}

/// One leg worked out: tachometer hours = speed / reference × minutes / 60.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorkedLeg {
    /// The leg.
    pub leg: Leg,
    /// Speed by reference speed.
    pub share: f64,
    /// Tachometer time, h.
    pub tach_h: f64,
    /// Clock time, h.
    pub clock_h: f64,
}

/// All legs worked out, with the sums.
#[derive(Debug, Clone, PartialEq)]
pub struct TachTime {
    /// Speed at which tachometer time is clock time, rpm.
    pub reference_rpm: f64,
    /// The legs in their order.
    pub legs: Vec<WorkedLeg>,
    /// Tachometer time, h.
    pub tach_h: f64,
    /// Clock time, h.
    pub clock_h: f64,
}

/// Why times cannot be worked out.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum TachError {
    /// The text is not a speed and a time.
    #[error("`{0}` is no leg; a leg is an engine speed and minutes, as in `2400:60`")]
    NoLeg(String),
    /// An engine speed that cannot be.
    #[error("an engine speed of {0} rpm cannot be; it must be more than 0 and at most 10000 rpm")]
    Speed(f64),
    /// A time that cannot be.
    #[error("a leg of {0} min cannot be; it must be more than 0 and at most 10000 min")]
    Time(f64),
    /// A reference speed that cannot be.
    #[error("a reference speed of {0} rpm cannot be; it must be more than 0 and at most 10000 rpm")]
    Reference(f64),
    /// There is nothing to add up.
    #[error("there is no leg")]
    NoLegs,
}

impl Leg {
    /// Reads `rpm:minutes`.
    ///
    /// # Errors
    /// [`TachError::NoLeg`], [`TachError::Speed`], [`TachError::Time`].
    pub fn parse(text: &str) -> Result<Self, TachError> {
        let none = || TachError::NoLeg(text.chars().take(40).collect());
        let (speed, time) = text.trim().split_once(':').ok_or_else(none)?;
        let number = |part: &str| part.trim().parse::<f64>().map_err(|_| none());
        let leg = Self { speed_rpm: number(speed)?, time_min: number(time)? };
        leg.check()?;
        Ok(leg)
    }

    /// Says whether both numbers can be.
    ///
    /// # Errors
    /// [`TachError::Speed`], [`TachError::Time`].
    pub fn check(&self) -> Result<(), TachError> {
        if !within(self.speed_rpm, HIGHEST_RPM) {
            return Err(TachError::Speed(self.speed_rpm));
        }
        if !within(self.time_min, LONGEST_MIN) {
            return Err(TachError::Time(self.time_min));
        }
        Ok(())
    }
}

/// Tachometer and clock time of legs, unrounded.
///
/// # Errors
/// [`TachError`] for what cannot be.
///
/// # Example
/// ```
/// use ribstitch::analyse::tach::{Leg, tach_time};
/// let hour = tach_time(&[Leg { speed_rpm: 1200.0, time_min: 60.0 }], 2400.0)?;
/// assert_eq!((hour.tach_h, hour.clock_h), (0.5, 1.0));
/// # Ok::<(), ribstitch::analyse::tach::TachError>(())
/// ```
pub fn tach_time(legs: &[Leg], reference_rpm: f64) -> Result<TachTime, TachError> {
    if !within(reference_rpm, HIGHEST_RPM) {
        return Err(TachError::Reference(reference_rpm));
    }
    if legs.is_empty() {
        return Err(TachError::NoLegs);
    }
    legs.iter().try_for_each(Leg::check)?;
    let worked: Vec<WorkedLeg> = legs.iter().map(|leg| work(*leg, reference_rpm)).collect();
    // Turns are added first and divided once, so that the sum is as exact as its parts.
    let turns: f64 = legs.iter().map(|l| l.speed_rpm * l.time_min).sum();
    let minutes: f64 = legs.iter().map(|l| l.time_min).sum();
    Ok(TachTime { reference_rpm, legs: worked, tach_h: turns / (reference_rpm * 60.0), clock_h: minutes / 60.0 })
}

fn work(leg: Leg, reference_rpm: f64) -> WorkedLeg {
    WorkedLeg {
        leg,
        share: leg.speed_rpm / reference_rpm,
        tach_h: leg.speed_rpm * leg.time_min / (reference_rpm * 60.0),
        clock_h: leg.time_min / 60.0,
    }
}

/// More than nothing, and at most so much; false for what is no number.
fn within(number: f64, most: f64) -> bool {
    number > 0.0 && number <= most
}
