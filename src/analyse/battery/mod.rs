//! How long a battery carries its loads.
//!
//! **Duty.** What of a battery's rating is counted on, and the ledger of phases: each takes its current for its time, and one phase gets
//! what is left. With the exponent of Peukert's law a greater current than that of the rating takes more than its share.
//!
//! **Does not know** the state of charge, the age beyond the share that the model gives, or how a consumer fails as the voltage falls.
//!
//! # Source
//! An avionics installation manual (read; its page stands beside the test): rating × 0.75, ampere-minutes by phase. Peukert's law,
//! W. Peukert, Elektrotechnische Zeitschrift 20 (1897): `t = H (C / (I H))^k` (from memory). 14 CFR 23.1353(h) before 2017 (reprint
//! read): at least 30 min, recognition and shedding included. That a standing drain empties a battery after capacity ÷ current: common
//! practice, no source.

mod plan;

pub use plan::{Gain, PhaseLoads, Plan, Stage, drain, gains, is_coil, left_on, nothing_off, plan, stages, time_alone};

use super::measure::{AmpHours, Amps, Hours, Kelvin, Minutes};
use crate::model::{ItemIx, Model};
use thiserror::Error;

/// How long a battery has to carry the essential loads.
pub const LEAST: Minutes = Minutes(30.0);

/// What a battery gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Battery {
    /// Its rating.
    pub rated: AmpHours,
    /// The time over which that was taken.
    pub over: Option<Hours>,
    /// The share that is counted on, 0 to 1.
    pub usable: f64,
    /// Exponent of Peukert's law; 1 where the current does not matter.
    pub exponent: f64,
    /// The share that is left at a temperature, coldest first.
    pub cold: Vec<(Kelvin, f64)>,
}

/// A phase: current, and time where it has one of its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Phase {
    /// Mean current.
    pub current: Amps,
    /// Its time; none for what is left.
    pub lasts: Option<Minutes>,
}

/// A phase worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorkedPhase {
    /// Mean current.
    pub current: Amps,
    /// The current of the rating that empties the battery as fast: more than `current` where Peukert's law counts.
    pub counts_as: Amps,
    /// How long it takes, or until the battery is empty.
    pub time: Minutes,
    /// What it takes: `counts_as` × `time`.
    pub takes_a_min: f64,
}

/// All phases worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Endurance {
    /// What is counted on.
    pub usable: AmpHours,
    /// The same in ampere-minutes.
    pub usable_a_min: f64,
    /// The phases in their order.
    pub phases: Vec<WorkedPhase>,
    /// Until the battery is empty or the last phase ends.
    pub total: Minutes,
    /// The phase in which the battery is empty before those that have a time of their own are over.
    pub empty_in: Option<usize>,
}

/// Why it cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum BatteryError {
    /// No battery holds as much, or it holds nothing.
    #[error("a rating of {0} Ah cannot be; it must be more than 0 and at most 10000 Ah")]
    Rating(f64),
    /// A share that is none.
    #[error("a usable share of {0} cannot be; it must be more than 0 and at most 1")]
    Share(f64),
    /// An exponent that cannot be.
    #[error("an exponent of {0} cannot be; it must lie between 1 and 2")]
    Exponent(f64),
    /// An exponent alone.
    #[error("Peukert's law asks for the time over which the rating was taken")]
    NoBasis,
    /// A current that cannot be.
    #[error("a current of {0} A cannot be; it must lie between 0 and 10000 A")]
    Current(f64),
    /// A time that cannot be.
    #[error("a phase of {0} min cannot be; it must be more than 0 and at most 10000 min")]
    Time(f64),
    /// Not exactly one phase takes what is left.
    #[error("{0} phases are without a time, and exactly one gets what is left")]
    Open(usize),
    /// The phase that gets what is left draws nothing.
    #[error("the phase that gets what is left draws nothing, so it has no end")]
    NoLoad,
    /// There is no battery to work out.
    #[error("there is no battery with a capacity, or no state in which the alternator is lost")]
    NoPlan,
    /// Nothing is known of that temperature.
    #[error("the model does not say what the battery gives at {0} degC")]
    Temperature(f64),
}

impl Battery {
    /// The battery that an item of the model is; none where it says no rating.
    pub fn of(model: &Model, item: ItemIx) -> Option<Self> {
        let rated = AmpHours::of(model[item].capacity.as_ref()?)?;
        let plain = Self { rated, over: None, usable: 1.0, exponent: 1.0, cold: Vec::new() };
        let Some(says) = &model[item].discharge else { return Some(plain) };
        Some(Self {
            over: says.over.as_ref().and_then(Hours::of),
            usable: says.usable.unwrap_or(1.0),
            exponent: says.exponent.unwrap_or(1.0),
            cold: says.cold.iter().filter_map(|(at, share)| Kelvin::of(at).map(|k| (k, *share))).collect(),
            ..plain
        })
    }

    /// The share that is left at a temperature: between two that are told, by proportion.
    ///
    /// # Errors
    /// [`BatteryError::Temperature`] outside of what is told.
    pub fn share_at(&self, temperature: Kelvin) -> Result<f64, BatteryError> {
        if let Some((_, share)) = self.cold.iter().find(|(at, _)| (at.0 - temperature.0).abs() < 1e-9) {
            return Ok(*share);
        }
        let between = self.cold.windows(2).find(|w| w[0].0 < temperature && temperature < w[1].0);
        let Some([(low, less), (high, more)]) = between else {
            return Err(BatteryError::Temperature(temperature.0 - 273.15));
        };
        Ok(less + (more - less) * (temperature.0 - low.0) / (high.0 - low.0))
    }

    /// What it gives at each temperature that the model tells of, coldest first.
    pub fn in_the_cold(&self) -> impl Iterator<Item = (Kelvin, Self)> + '_ {
        self.cold.iter().map(|(at, share)| (*at, Self { usable: self.usable * share, ..self.clone() }))
    }

    /// The same battery at a temperature.
    ///
    /// # Errors
    /// [`BatteryError::Temperature`].
    pub fn at(&self, temperature: Kelvin) -> Result<Self, BatteryError> {
        Ok(Self { usable: self.usable * self.share_at(temperature)?, ..self.clone() })
    }

    /// What is counted on.
    pub fn usable(&self) -> AmpHours {
        self.rated * self.usable
    }

    /// The current of the rating that empties the battery as fast. A current below that of the rating counts as itself: what the law
    /// would give beyond the rating is not counted on.
    pub fn counts_as(&self, current: Amps) -> Amps {
        let rated = self.over.map_or(f64::INFINITY, |over| self.rated.0 / over.0);
        if current.0 <= rated { current } else { current * libm::pow(current.0 / rated, self.exponent - 1.0) }
    }

    fn check(&self) -> Result<(), BatteryError> {
        if !(self.rated.0 > 0.0 && self.rated.0 <= 10_000.0) {
            return Err(BatteryError::Rating(self.rated.0));
        }
        if !(self.usable > 0.0 && self.usable <= 1.0) {
            return Err(BatteryError::Share(self.usable));
        }
        if !(1.0..=2.0).contains(&self.exponent) {
            return Err(BatteryError::Exponent(self.exponent));
        }
        if self.exponent > 1.0 && self.over.is_none_or(|h| h.0 <= 0.0) {
            return Err(BatteryError::NoBasis);
        }
        Ok(())
    }

    /// Works the phases out.
    ///
    /// # Errors
    /// [`BatteryError`] for what cannot be.
    ///
    /// # Example
    /// ```
    /// use ribstitch::analyse::battery::{Battery, Phase};
    /// use ribstitch::analyse::measure::{AmpHours, Amps, Minutes};
    /// let battery = Battery { rated: AmpHours(35.0), over: None, usable: 0.75, exponent: 1.0, cold: Vec::new() };
    /// let phase = |current, lasts: Option<f64>| Phase { current: Amps(current), lasts: lasts.map(Minutes) };
    /// let found = battery.endurance(&[phase(43.5, Some(5.0)), phase(48.1, Some(10.0)), phase(34.0, None)])?;
    /// assert!((found.total.0 - 40.8).abs() < 0.05);
    /// # Ok::<(), ribstitch::analyse::battery::BatteryError>(())
    /// ```
    pub fn endurance(&self, phases: &[Phase]) -> Result<Endurance, BatteryError> {
        self.check()?;
        check_phases(phases)?;
        let usable_a_min = self.usable().0 * 60.0;
        let takes = |p: &Phase| self.counts_as(p.current).0 * p.lasts.map_or(0.0, Minutes::get);
        let fixed: f64 = phases.iter().map(takes).sum();
        let mut left = usable_a_min;
        let (mut worked, mut empty_in) = (Vec::new(), None);
        for (at, phase) in phases.iter().enumerate() {
            let counts_as = self.counts_as(phase.current);
            let wanted = phase.lasts.map_or((usable_a_min - fixed).max(0.0) / counts_as.0, Minutes::get);
            let able = if counts_as.0 > 0.0 { left / counts_as.0 } else { f64::INFINITY };
            let time = wanted.min(able);
            // What is left is worked out in floating point, so a phase may fall short by a rounding.
            if phase.lasts.is_some() && able < wanted * (1.0 - 1e-9) {
                empty_in = empty_in.or(Some(at));
            }
            left = (left - counts_as.0 * time).max(0.0);
            let takes_a_min = counts_as.0 * time;
            worked.push(WorkedPhase { current: phase.current, counts_as, time: Minutes(time), takes_a_min });
        }
        let total = worked.iter().map(|p| p.time).sum();
        Ok(Endurance { usable: self.usable(), usable_a_min, phases: worked, total, empty_in })
    }

    /// How long a small current takes to empty it, of its full rating.
    ///
    /// # Errors
    /// [`BatteryError::NoLoad`], [`BatteryError::Rating`], [`BatteryError::Current`].
    pub fn standing(&self, drain: Amps) -> Result<Hours, BatteryError> {
        self.check()?;
        check_current(drain)?;
        if drain.0 == 0.0 { Err(BatteryError::NoLoad) } else { Ok(Hours(self.rated.0 / drain.0)) }
    }
}

fn check_current(current: Amps) -> Result<(), BatteryError> {
    if (0.0..=10_000.0).contains(&current.0) { Ok(()) } else { Err(BatteryError::Current(current.0)) }
}

fn check_phases(phases: &[Phase]) -> Result<(), BatteryError> {
    for phase in phases {
        check_current(phase.current)?;
        if let Some(time) = phase.lasts.filter(|t| !(t.0 > 0.0 && t.0 <= 10_000.0)) {
            return Err(BatteryError::Time(time.0));
        }
    }
    let open: Vec<&Phase> = phases.iter().filter(|p| p.lasts.is_none()).collect();
    match open.as_slice() {
        [one] if one.current.0 > 0.0 => Ok(()),
        [_] => Err(BatteryError::NoLoad),
        _ => Err(BatteryError::Open(open.len())),
    }
}
