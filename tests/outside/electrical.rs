//! The demo's electrical numbers against the rules for them.
//!
//! # Source
//! FAA AC 43.13-1B, chapter 11, paragraph 11-35 (read): a continuous load of at most 80 % of the alternator's rating; a warning below
//! 13 V in a 14 V system. 14 CFR 23.1353(h) before 2017 (reprint read): at least 30 min from the battery.

use super::{effects, sandling};
use ribstitch::base::Unit;
use ribstitch::model::Model;

fn quantity(model: &Model, id: &str, unit: &str) -> f64 {
    let quantity = model.quantities.iter().find(|q| q.id.as_str() == id).unwrap_or_else(|| panic!("no `{id}`"));
    quantity.value.in_unit(Unit::find(unit).unwrap()).unwrap()
}

#[test]
fn low_voltage_is_warned_of_below_13_volts() {
    assert_eq!(quantity(&sandling(), "low-voltage", "V"), 13.0);
}

#[test]
fn the_continuous_load_leaves_a_fifth_of_the_alternator() {
    let model = sandling();
    let alternator = &model[model.find_item("alternator").unwrap()];
    let rating = alternator.rating.as_ref().unwrap().in_unit(Unit::find("A").unwrap()).unwrap();
    assert!(quantity(&model, "continuous-load", "A") <= 0.8 * rating);
}

#[test]
fn the_battery_carries_its_loads_for_half_an_hour() {
    let model = sandling();
    assert!(quantity(&model, "battery-endurance", "min") >= 30.0);
    let lost = effects(&model, "alternator");
    let bus = model.find_node("main-bus").unwrap();
    let later = lost.lost_later.iter().find(|l| l.node == bus).expect("the bus goes later");
    assert!(later.in_min.expect("after a stated time") >= 30.0);
}
