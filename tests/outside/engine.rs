//! Suction, and what the clocks of training do, against what is commonly said of them.
//!
//! # Source
//! FAA-H-8083-25, flight instruments (read, weak): the gyros of light aircraft want a suction of 4.5 to 5.5 inHg in general; the type's
//! own range is data. Tachometer time in training lies 10 to 20 % below clock time: common practice. Aviation gasoline weighs 6.0 lb/gal
//! (from memory).

use super::sandling;
use ribstitch::analyse::fuel::POUNDS_A_GALLON;
use ribstitch::analyse::gauges::{Needle, needles};
use ribstitch::analyse::network::Analysis;
use ribstitch::analyse::tach::{Leg, tach_time};
use ribstitch::base::Unit;
use ribstitch::model::ArcMark;

#[test]
fn the_green_arc_of_the_suction_gauge_lies_in_the_general_range() {
    let model = sandling();
    let inch = Unit::find("inHg").unwrap();
    let gauge = &model[model.find_item("suction-gauge").unwrap()];
    let arcs = &gauge.scale.as_ref().unwrap().arcs;
    let green = arcs.iter().find(|a| a.mark == ArcMark::Green).map(|a| &a.over).unwrap();
    assert!(green.in_unit(inch).unwrap() >= 4.5 && green.upper.unwrap() <= 5.5, "{green}");
}

/// Common practice, no source: a pump that the engine turns gives less suction at idle than in cruise, and cold oil is below its arc.
#[test]
fn needles_stand_in_the_green_in_cruise_and_below_it_at_idle() {
    let model = sandling();
    let analysis = Analysis::new(&model);
    for id in ["suction-gauge", "oil-pressure-gauge", "oil-temperature-gauge"] {
        let all = needles(&model, &analysis, model.find_item(id).unwrap());
        let at = |state: &str| all.iter().find(|n| n.state == model.find_state(state).unwrap()).unwrap();
        let (Needle::Usual(cruise), Needle::Usual(idle)) = (&at("cruise").needle, &at("engine-running").needle) else {
            panic!("{id}: {all:?}")
        };
        assert!(idle.si() < cruise.si(), "{id}");
        assert_eq!((at("cruise").arc, at("engine-running").arc), (Some(ArcMark::Green), None), "{id}");
    }
}

/// The training flight of the guide's chapter on clocks.
#[test]
fn a_training_flight_counts_a_tenth_to_a_fifth_less_by_tachometer() {
    let leg = |speed_rpm, time_min| Leg { speed_rpm, time_min };
    let legs = [(1000.0, 10.0), (1800.0, 4.0), (2600.0, 8.0), (2250.0, 40.0), (1500.0, 6.0), (1000.0, 7.0)];
    let found = tach_time(&legs.map(|(rpm, min)| leg(rpm, min)), 2400.0).unwrap();
    let less = 1.0 - found.tach_h / found.clock_h;
    assert!((0.1..=0.2 + 1e-12).contains(&less), "{less}");
}

#[test]
fn a_gallon_weighs_six_pounds() {
    assert_eq!(POUNDS_A_GALLON, 6.0);
}
