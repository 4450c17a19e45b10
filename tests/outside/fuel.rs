//! Fuel and its reserves.
//!
//! # Source
//! 14 CFR 91.151 (quote read): 30 min by day, 45 by night; at 12 gph a flight of 30 min needs 12 gal by day and 15 by night. Aviation
//! gasoline: 6.0 lb/gal (from memory).

use super::sandling;
use ribstitch::analyse::fuel::{FuelError, Light, endurance, needed, on_one_tank, tanks};
use ribstitch::analyse::measure::{Gallons, GallonsPerHour, Minutes, Pounds};

#[test]
fn the_rules_example_comes_out() {
    let of = |light| needed(Minutes(30.0), GallonsPerHour(12.0), light).unwrap();
    assert_eq!(of(Light::Day), Gallons(12.0));
    assert_eq!(of(Light::Night), Gallons(15.0));
}

#[test]
fn the_tank_that_is_selected_runs_dry_while_the_other_is_full() {
    let found = on_one_tank(&[Gallons(23.0), Gallons(23.0)], 0, GallonsPerHour(9.2), Minutes(60.0)).unwrap();
    assert!((found.dry_after.0 - 150.0).abs() < 1e-9);
    assert!((found.left[0].0 - 13.8).abs() < 1e-9 && found.left[1] == Gallons(23.0));
    assert!((found.difference - Pounds(55.2)).0.abs() < 1e-9);
    let dry = on_one_tank(&[Gallons(23.0), Gallons(23.0)], 0, GallonsPerHour(9.2), Minutes(200.0)).unwrap();
    assert_eq!(dry.left[0], Gallons(0.0));
}

/// The demo's tanks give together what its handbook says is usable.
#[test]
fn the_demo_agrees_with_itself() {
    let model = sandling();
    let usable: Gallons = tanks(&model).iter().map(|t| t.usable).sum();
    let said = model.quantities.iter().find(|q| q.id.as_str() == "fuel-usable").unwrap();
    assert_eq!(Gallons::of(&said.value), Some(usable));
}

#[test]
fn absurd_numbers_are_refused() {
    assert_eq!(endurance(Gallons(10.0), GallonsPerHour(0.0)), Err(FuelError::Rate(0.0)));
    assert_eq!(endurance(Gallons(-1.0), GallonsPerHour(9.0)), Err(FuelError::Amount(-1.0)));
    assert_eq!(needed(Minutes(-5.0), GallonsPerHour(9.0), Light::Day), Err(FuelError::Time(-5.0)));
    assert_eq!(on_one_tank(&[], 0, GallonsPerHour(9.0), Minutes(1.0)), Err(FuelError::NoTank(0)));
}
