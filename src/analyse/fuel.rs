//! Fuel: what can be used, how long it lasts, what is kept in reserve, and what one tank alone does.
//!
//! **Duty.** Usable fuel by tank, endurance at a rate, the fuel that a flight asks for by day and by night, and the tanks after a time on
//! one of them.
//!
//! **Does not know** what a gauge shows, nor how an imbalance is felt: the handbook's limit is data of the type.
//!
//! # Source
//! 14 CFR 91.151 (quote read): 30 min of reserve by day and 45 by night at normal cruising speed; at 12 gph a flight of 30 min needs 12
//! gal by day and 15 by night. Weight of aviation gasoline: 6.0 lb/gal (from memory).

use super::measure::{Gallons, GallonsPerHour, Hours, Minutes, Pounds};
use crate::base::{Dimension, Quantity};
use crate::model::{ItemIx, Kind, Model};
use thiserror::Error;

/// Weight of a US gallon of aviation gasoline.
pub const POUNDS_A_GALLON: f64 = 6.0;

/// When a flight is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Light {
    /// By day.
    Day,
    /// By night.
    Night,
}

/// A tank of fuel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tank {
    /// The tank.
    pub item: ItemIx,
    /// What it holds.
    pub holds: Gallons,
    /// What of it can be used in flight; all where the model does not say.
    pub usable: Gallons,
}

/// Why it cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum FuelError {
    /// A rate that cannot be.
    #[error("a consumption of {0} gph cannot be; it must be more than 0 and at most 1000 gph")]
    Rate(f64),
    /// An amount that cannot be.
    #[error("an amount of {0} gal cannot be; it must lie between 0 and 10000 gal")]
    Amount(f64),
    /// A time that cannot be.
    #[error("a time of {0} min cannot be; it must lie between 0 and 10000 min")]
    Time(f64),
    /// There is no such tank.
    #[error("there is no tank number {0}")]
    NoTank(usize),
}

/// The fuel tanks of a model that say what they hold, in the order of items.
pub fn tanks(model: &Model) -> Vec<Tank> {
    let fuel = model.find_medium("fuel");
    let tank = |item: ItemIx| {
        let of = &model[item];
        if of.kind != Kind::Tank || model[of.node].gives != fuel {
            return None;
        }
        let holds = gallons(of.capacity.as_ref()?)?;
        let usable = of.usable.as_ref().and_then(gallons).unwrap_or(holds);
        Some(Tank { item, holds, usable })
    };
    model.item_indices().filter_map(tank).collect()
}

/// A volume, or the volume of a mass of fuel.
fn gallons(of: &Quantity) -> Option<Gallons> {
    match of.unit.dimension {
        Dimension::Mass => Pounds::of(of).map(|m| Gallons(m.0 / POUNDS_A_GALLON)),
        _ => Gallons::of(of),
    }
}

/// How long fuel lasts at a rate.
///
/// # Errors
/// [`FuelError`].
pub fn endurance(usable: Gallons, rate: GallonsPerHour) -> Result<Hours, FuelError> {
    check(usable, rate)?;
    Ok(Hours(usable.0 / rate.0))
}

/// The time that is kept in reserve.
pub fn reserve(light: Light) -> Minutes {
    match light {
        Light::Day => Minutes(30.0),
        Light::Night => Minutes(45.0),
    }
}

/// The fuel that a flight of that time asks for, with its reserve.
///
/// # Errors
/// [`FuelError`].
pub fn needed(trip: Minutes, rate: GallonsPerHour, light: Light) -> Result<Gallons, FuelError> {
    check(Gallons(0.0), rate)?;
    check_time(trip)?;
    Ok(Gallons((trip + reserve(light)).hours().0 * rate.0))
}

/// The tanks after a time on one of them.
#[derive(Debug, Clone, PartialEq)]
pub struct OneTank {
    /// What each can still give, in the order given.
    pub left: Vec<Gallons>,
    /// The time after which the tank that is selected runs dry, though others hold fuel.
    pub dry_after: Minutes,
    /// By how much the fullest outweighs the emptiest.
    pub difference: Pounds,
}

/// What a selector does that stays on one tank.
///
/// # Errors
/// [`FuelError`].
pub fn on_one_tank(
    tanks: &[Gallons],
    selected: usize,
    rate: GallonsPerHour,
    time: Minutes,
) -> Result<OneTank, FuelError> {
    tanks.iter().try_for_each(|t| check(*t, rate))?;
    check_time(time)?;
    let holds = *tanks.get(selected).ok_or(FuelError::NoTank(selected))?;
    let dry_after = endurance(holds, rate)?.minutes();
    let burnt = Gallons(rate.0 * time.hours().0);
    let after =
        |(at, tank): (usize, &Gallons)| if at == selected { (*tank - burnt).or_more(Gallons(0.0)) } else { *tank };
    let left: Vec<Gallons> = tanks.iter().enumerate().map(after).collect();
    let most = left.iter().map(|g| g.0).fold(f64::MIN, f64::max);
    let least = left.iter().map(|g| g.0).fold(f64::MAX, f64::min);
    Ok(OneTank { left, dry_after, difference: Pounds((most - least) * POUNDS_A_GALLON) })
}

fn check(amount: Gallons, rate: GallonsPerHour) -> Result<(), FuelError> {
    if !(rate.0 > 0.0 && rate.0 <= 1000.0) {
        return Err(FuelError::Rate(rate.0));
    }
    if (0.0..=10_000.0).contains(&amount.0) { Ok(()) } else { Err(FuelError::Amount(amount.0)) }
}

fn check_time(time: Minutes) -> Result<(), FuelError> {
    if (0.0..=10_000.0).contains(&time.0) { Ok(()) } else { Err(FuelError::Time(time.0)) }
}
