//! The two clocks of an aircraft, and its time in service.
//!
//! **Duty.** Of each leg of a flight: tachometer time, the integral of engine speed over the reference speed; hour-meter time, the clock
//! time while what switches the meter holds; time in service, the clock time from lift-off to touch-down. Of a month of flights, the sums
//! and what the ratio of the two clocks does.
//!
//! **Does not know** how a club counts its price; it gives the ratio that any price is multiplied with.
//!
//! # Source
//! Tachometer: see `tach`. Time in service: 14 CFR 1.1, from the moment an aircraft leaves the surface until it touches it at the next
//! landing (quote read). That the tachometer runs 10 to 20 % behind the clock in training: common practice, no source.

use super::measure::{Hours, Minutes, Rpm};
use super::network::Analysis;
use super::tach::{HIGHEST_RPM, LONGEST_MIN, TachError};
use crate::model::{Flight, Model, Place};

/// A leg as the clocks see it.
#[derive(Debug, Clone, PartialEq)]
pub struct ClockLeg {
    /// Its name.
    pub name: String,
    /// Clock time.
    pub time: Minutes,
    /// Engine speed; nothing while the engine stands still.
    pub engine: Rpm,
    /// What switches the hour meter holds.
    pub meter_runs: bool,
    /// Between lift-off and touch-down.
    pub airborne: bool,
}

/// A leg worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkedClockLeg {
    /// The leg.
    pub leg: ClockLeg,
    /// Its times.
    pub times: Times,
}

/// The times of a leg, a flight or a month.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Times {
    /// Clock time.
    pub clock: Hours,
    /// Tachometer time.
    pub tach: Hours,
    /// Hour-meter time.
    pub meter: Hours,
    /// Time in service.
    pub service: Hours,
}

impl Times {
    /// Tachometer hours in an hour of the hour meter; none where the meter has not run.
    pub fn ratio(&self) -> Option<f64> {
        (self.meter.0 > 0.0).then(|| self.tach / self.meter)
    }

    /// So many times as much.
    #[must_use]
    pub fn times(self, many: f64) -> Self {
        Self {
            clock: self.clock * many,
            tach: self.tach * many,
            meter: self.meter * many,
            service: self.service * many,
        }
    }

    fn plus(self, other: Self) -> Self {
        Self {
            clock: self.clock + other.clock,
            tach: self.tach + other.tach,
            meter: self.meter + other.meter,
            service: self.service + other.service,
        }
    }
}

/// The legs of a flight worked out, and their sums.
///
/// # Errors
/// [`TachError`] for what cannot be.
pub fn flight_times(legs: &[ClockLeg], reference: Rpm) -> Result<(Vec<WorkedClockLeg>, Times), TachError> {
    if !(reference.0 > 0.0 && reference.0 <= HIGHEST_RPM) {
        return Err(TachError::Reference(reference.0));
    }
    if legs.is_empty() {
        return Err(TachError::NoLegs);
    }
    legs.iter().try_for_each(check)?;
    let worked: Vec<WorkedClockLeg> = legs.iter().map(|l| work(l, reference)).collect();
    let sum = worked.iter().fold(Times::default(), |sum, leg| sum.plus(leg.times));
    Ok((worked, sum))
}

fn check(leg: &ClockLeg) -> Result<(), TachError> {
    if !(leg.time.0 > 0.0 && leg.time.0 <= LONGEST_MIN) {
        return Err(TachError::Time(leg.time.0));
    }
    if (0.0..=HIGHEST_RPM).contains(&leg.engine.0) { Ok(()) } else { Err(TachError::Speed(leg.engine.0)) }
}

fn work(leg: &ClockLeg, reference: Rpm) -> WorkedClockLeg {
    let clock = leg.time.hours();
    let counts = |counts: bool| if counts { clock } else { Hours(0.0) };
    let times = Times {
        clock,
        tach: Hours(leg.engine.0 * leg.time.0 / (reference.0 * 60.0)),
        meter: counts(leg.meter_runs),
        service: counts(leg.airborne),
    };
    WorkedClockLeg { leg: leg.clone(), times }
}

/// Tachometer time of engine speeds read at moments, the speed changing evenly between two: the integral by the trapezoid rule.
///
/// # Errors
/// [`TachError`] for a speed or reference that cannot be, for moments that run backwards, and for fewer than two.
pub fn integral(readings: &[(Minutes, Rpm)], reference: Rpm) -> Result<Hours, TachError> {
    if readings.len() < 2 {
        return Err(TachError::NoLegs);
    }
    let legs: Vec<ClockLeg> = readings
        .windows(2)
        .map(|w| ClockLeg {
            name: String::new(),
            time: w[1].0 - w[0].0,
            engine: Rpm(f64::midpoint(w[0].1.0, w[1].1.0)),
            meter_runs: true,
            airborne: true,
        })
        .collect();
    if let Some((_, wrong)) = readings.iter().find(|(_, rpm)| !(0.0..=HIGHEST_RPM).contains(&rpm.0)) {
        return Err(TachError::Speed(wrong.0));
    }
    flight_times(&legs, reference).map(|(_, sum)| sum.tach)
}

/// The legs of a flight of the model. The hour meter runs in a leg where it works in the leg's state; a leg is airborne where its state
/// is in flight.
pub fn legs(model: &Model, analysis: &Analysis<'_>, flight: &Flight) -> Vec<ClockLeg> {
    let meter = model.time.as_ref().and_then(|t| t.hour_meter);
    let leg = |leg: &crate::model::FlightLeg| {
        let works = &analysis.state(leg.state).solution.works;
        Some(ClockLeg {
            name: leg.name.clone(),
            time: Minutes::of(&leg.lasts)?,
            engine: leg.engine.as_ref().and_then(Rpm::of).unwrap_or_default(),
            meter_runs: meter.is_some_and(|m| works.contains(&model[m].node)),
            airborne: model[leg.state].place == Place::InFlight,
        })
    };
    flight.legs.iter().filter_map(leg).collect()
}

/// One kind of flight in a month.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthlyFlight {
    /// Its name.
    pub name: String,
    /// How often.
    pub monthly: u32,
    /// One of them.
    pub one: Times,
    /// All of them.
    pub all: Times,
}

/// A month of a model's flights: each kind that is flown, and the sum. A year is twelve of it.
///
/// # Errors
/// [`TachError`]; [`TachError::NoLegs`] where no flight is flown monthly.
pub fn month(model: &Model, analysis: &Analysis<'_>, reference: Rpm) -> Result<(Vec<MonthlyFlight>, Times), TachError> {
    let mut found = Vec::new();
    for flight in model.flights.iter().filter(|f| f.monthly > 0) {
        let (_, one) = flight_times(&legs(model, analysis, flight), reference)?;
        let all = one.times(f64::from(flight.monthly));
        found.push(MonthlyFlight { name: flight.name.clone(), monthly: flight.monthly, one, all });
    }
    let sum = found.iter().fold(Times::default(), |sum, f| sum.plus(f.all));
    if found.is_empty() { Err(TachError::NoLegs) } else { Ok((found, sum)) }
}

/// What the ratio of the clocks does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatioEffects {
    /// Tachometer hours in an hour of the hour meter.
    pub ratio: f64,
    /// By this a price for an hour of the hour meter is multiplied, so that a price for a tachometer hour takes the same.
    pub price_factor: f64,
    /// Hours of the hour meter in which the tachometer counts 100.
    pub meter_in_100_tach: Hours,
    /// Time in service in which the tachometer counts 100.
    pub service_in_100_tach: Hours,
    /// Hours that the hour meter shows where the tachometer shows 4,000, both new together.
    pub meter_at_4000_tach: Hours,
}

/// What the ratio of the clocks does; none where a clock has not run.
pub fn ratio_effects(sum: Times) -> Option<RatioEffects> {
    let ratio = sum.ratio().filter(|r| *r > 0.0)?;
    Some(RatioEffects {
        ratio,
        price_factor: 1.0 / ratio,
        meter_in_100_tach: Hours(100.0 / ratio),
        service_in_100_tach: Hours(100.0 * (sum.service / sum.tach)),
        meter_at_4000_tach: Hours(4000.0 / ratio),
    })
}
