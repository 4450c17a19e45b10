//! What must hold of batteries, clocks and calendars, whatever the numbers; and the verbs that tell of them.

use crate::program::call;
use jiff::civil::{Date, date};
use proptest::prelude::*;
use ribstitch::analyse::battery::{Battery, BatteryError, Phase};
use ribstitch::analyse::clocks::{ClockLeg, flight_times, integral};
use ribstitch::analyse::due::{end_of_months, parse};
use ribstitch::analyse::gauges::{Needle, needles};
use ribstitch::analyse::measure::{AmpHours, Amps, Hours, Minutes, Rpm};
use ribstitch::analyse::network::Analysis;
use ribstitch::analyse::tach::TachError;
use ribstitch::base::{FileId, Sources};
use ribstitch::model::ArcMark;
use ribstitch::resolve;
use std::path::Path;

fn battery() -> impl Strategy<Value = Battery> {
    (5.0..60.0f64, 0.5..20.0f64, 0.3..1.0f64, 1.0..1.6f64).prop_map(|(rated, over, usable, exponent)| Battery {
        rated: AmpHours(rated),
        over: Some(Hours(over)),
        usable,
        exponent,
        cold: Vec::new(),
    })
}

fn legs() -> impl Strategy<Value = Vec<ClockLeg>> {
    let leg =
        (1.0..200.0f64, 0.0..2400.0f64, any::<bool>(), any::<bool>()).prop_map(|(time, rpm, meter_runs, airborne)| {
            ClockLeg { name: String::new(), time: Minutes(time), engine: Rpm(rpm), meter_runs, airborne }
        });
    prop::collection::vec(leg, 1..8)
}

proptest! {
    #[test]
    fn more_load_never_lasts_longer(
        battery in battery(),
        first in 0.0..60.0f64,
        then in 1.0..60.0f64,
        minutes in 1.0..20.0f64,
        more in 0.0..30.0f64,
    ) {
        let total = |first: f64, then: f64| {
            let phases = [Phase { current: Amps(first), lasts: Some(Minutes(minutes)) }, Phase { current: Amps(then), lasts: None }];
            battery.endurance(&phases).unwrap().total.0
        };
        let least = total(first, then);
        prop_assert!(total(first + more, then) <= least * (1.0 + 1e-12));
        prop_assert!(total(first, then + more) <= least * (1.0 + 1e-12));
    }

    /// The ledger closes: what the phases take is what there was, unless a phase that has its own time ends first.
    #[test]
    fn the_phases_take_what_there_is(battery in battery(), amps in 1.0..60.0f64, minutes in 1.0..200.0f64) {
        let phases = [Phase { current: Amps(amps), lasts: None }, Phase { current: Amps(amps), lasts: Some(Minutes(minutes)) }];
        let found = battery.endurance(&phases).unwrap();
        let taken: f64 = found.phases.iter().map(|p| p.takes_a_min).sum();
        prop_assert!((taken - found.usable_a_min).abs() < 1e-6 * found.usable_a_min);
        prop_assert_eq!(found.empty_in.is_some(), found.phases[1].time.0 < minutes * (1.0 - 1e-9));
    }

    #[test]
    fn tachometer_time_never_exceeds_clock_time_below_the_reference(legs in legs()) {
        let (worked, sum) = flight_times(&legs, Rpm(2400.0)).unwrap();
        for leg in &worked {
            prop_assert!(leg.times.tach.0 <= leg.times.clock.0 * (1.0 + 1e-12));
            prop_assert!(leg.times.meter <= leg.times.clock && leg.times.service <= leg.times.clock);
        }
        prop_assert!(sum.tach.0 <= sum.clock.0 * (1.0 + 1e-12));
    }

    /// A steady speed read often is the leg of that speed.
    #[test]
    fn the_integral_of_a_steady_speed_is_the_leg(rpm in 100.0..3000.0f64, minutes in 1.0..300.0f64, parts in 2..20usize) {
        let readings: Vec<_> = (0..=parts).map(|i| (Minutes(minutes * i as f64 / parts as f64), Rpm(rpm))).collect();
        let found = integral(&readings, Rpm(2400.0)).unwrap();
        prop_assert!((found.0 - rpm * minutes / (2400.0 * 60.0)).abs() < 1e-9);
    }

    /// By its own count, without the library: so many months on, the last day, whatever day it was done on.
    #[test]
    fn calendar_months_end_on_the_last_day_of_the_month(year in 1950..2090i16, month in 1..=12i8, day in 1..=31i8, months in 1..=120i32) {
        let Ok(done) = Date::new(year, month, day) else { return Ok(()) };
        let due = end_of_months(done, months.unsigned_abs()).unwrap();
        let count = i32::from(year) * 12 + i32::from(month) - 1 + months;
        let (due_year, due_month) = (count / 12, count % 12 + 1);
        prop_assert_eq!((i32::from(due.year()), i32::from(due.month())), (due_year, due_month));
        let leap = due_year % 4 == 0 && (due_year % 100 != 0 || due_year % 400 == 0);
        let last = match due_month { 4 | 6 | 9 | 11 => 30, 2 => 28 + i8::from(leap), _ => 31 };
        prop_assert_eq!(due.day(), last);
    }

    #[test]
    fn no_text_makes_the_reader_of_logs_stop(text in "[0-9,.\\-\n a-z\u{e9}\"]{0,200}") {
        let head = "date,tachometer,hour-meter,in-service,inspection\n";
        let _ = parse(FileId(0), &text, &[]);
        let _ = parse(FileId(0), &format!("{head}{text}"), &[("oil change".to_owned(), None)]);
    }
}

#[test]
fn month_ends_and_leap_years() {
    for (done, months, due) in [
        (date(2024, 1, 31), 1, date(2024, 2, 29)),
        (date(2023, 1, 31), 1, date(2023, 2, 28)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2024, 2, 1), 48, date(2028, 2, 29)),
        (date(1999, 12, 31), 2, date(2000, 2, 29)),
        (date(2099, 2, 28), 12, date(2100, 2, 28)),
    ] {
        assert_eq!(end_of_months(done, months), Some(due), "{done} and {months} months");
    }
}

#[test]
fn the_integral_of_an_even_rise_is_its_mean() {
    let found = integral(&[(Minutes(0.0), Rpm(0.0)), (Minutes(60.0), Rpm(2400.0))], Rpm(2400.0)).unwrap();
    assert_eq!(found, Hours(0.5));
    let absurd = integral(&[(Minutes(0.0), Rpm(1e9)), (Minutes(60.0), Rpm(2400.0))], Rpm(2400.0));
    assert!(matches!(absurd, Err(TachError::Speed(_))));
    let backwards = integral(&[(Minutes(5.0), Rpm(1000.0)), (Minutes(1.0), Rpm(1000.0))], Rpm(2400.0));
    assert_eq!(backwards, Err(TachError::Time(-4.0)));
}

#[test]
fn what_no_battery_does_is_refused() {
    let battery = Battery { rated: AmpHours(25.0), over: None, usable: 1.0, exponent: 1.0, cold: Vec::new() };
    let one = |current| [Phase { current: Amps(current), lasts: None }];
    assert_eq!(battery.endurance(&one(-1.0)), Err(BatteryError::Current(-1.0)));
    assert_eq!(battery.endurance(&one(0.0)), Err(BatteryError::NoLoad));
    assert_eq!(battery.endurance(&[]), Err(BatteryError::Open(0)));
    let negative = Battery { rated: AmpHours(-3.0), ..battery.clone() };
    assert_eq!(negative.endurance(&one(1.0)), Err(BatteryError::Rating(-3.0)));
    let no_basis = Battery { exponent: 1.2, ..battery };
    assert_eq!(no_basis.endurance(&one(1.0)), Err(BatteryError::NoBasis));
}

#[test]
fn needles_stand_where_the_state_has_them() {
    let (model, _) = resolve::load(Path::new("aircraft/sandling"), &mut Sources::default());
    let model = model.unwrap();
    let analysis = Analysis::new(&model);
    let at = |gauge: &str, state: &str| {
        let found = needles(&model, &analysis, model.find_item(gauge).unwrap());
        let state = model.find_state(state).unwrap();
        found.into_iter().find(|n| n.state == state).map(|n| (n.needle, n.arc)).unwrap()
    };
    assert!(matches!(at("suction-gauge", "cruise"), (Needle::Usual(_), Some(ArcMark::Green))));
    assert!(matches!(at("suction-gauge", "battery-on").0, Needle::Rests(_)));
    assert!(matches!(at("ammeter", "battery-on").0, Needle::Said(_)), "it shows a discharge, and does not rest");
    assert!(matches!(at("oil-pressure-gauge", "cruise").0, Needle::Usual(_)));
}

#[test]
fn endurance_tells_phases_stages_and_gains() {
    let answer = call(&["endurance", "sandling", "--json"]).json();
    let number = |key: &str| answer[key].as_f64().unwrap();
    assert!(number("minutes") >= 30.0 && number("usable_ah") == 18.75);
    assert_eq!(answer["phases"].as_array().unwrap().len(), 4);
    let less = call(&["endurance", "sandling", "--shed", "avionics-master", "beacon", "--json"]).json();
    let stages: Vec<f64> = less["stages"].as_array().unwrap().iter().map(|s| s["minutes"].as_f64().unwrap()).collect();
    assert!(stages.len() == 3 && stages[0] < stages[1] && stages[1] < stages[2], "{stages:?}");
    assert_eq!(stages[2], less["minutes"].as_f64().unwrap());
    let cold = call(&["endurance", "sandling", "--temperature", "0 degC", "--json"]).json();
    assert!(cold["minutes"].as_f64().unwrap() < number("minutes"));
    let gains = answer["gains"].as_array().unwrap();
    assert!(gains.windows(2).all(|w| w[0]["min"].as_f64() >= w[1]["min"].as_f64()) && !gains.is_empty());
}

#[test]
fn due_tells_the_first_and_names_wrong_lines() {
    let folder = tempfile::tempdir().unwrap();
    let head = "date,tachometer,hour-meter,in-service,inspection\n";
    let file = |name: &str, lines: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, format!("{head}{lines}")).unwrap();
        path.to_string_lossy().into_owned()
    };
    let good = file("good.csv", "2026-01-01,1000,1200,900,oil change\n2026-01-21,1010,1213,909,\n");
    let answer = call(&["due", "sandling", "--log", &good, "--on", "2026-01-21", "--json"]).json();
    assert_eq!(answer["first"], "oil change");
    let bad = file("bad.csv", "2026-13-01,1000,1200,900,oil change\n");
    let wrong = call(&["due", "sandling", "--log", &bad, "--on", "2026-01-21"]);
    assert_eq!(wrong.status, 1);
    assert!(wrong.err.contains("log-date") && wrong.err.contains("bad.csv:2:1"), "{}", wrong.err);
    assert_eq!(call(&["due", "sandling", "--log", &good, "--on", "2026-02-30"]).status, 2);
    assert_eq!(call(&["due", "sandling", "--log", &good, "--on", "2025-01-01"]).status, 2);
}

#[test]
fn a_flight_of_the_model_has_three_times() {
    let answer = call(&["tach", "sandling", "--flight", "lesson", "--json"]).json();
    let hours = |key: &str| answer[key].as_f64().unwrap();
    assert!(hours("tach_h") < hours("meter_h") && hours("service_h") < hours("meter_h"), "{answer:#}");
    assert!((hours("meter_h") - 55.0 / 60.0).abs() < 1e-9 && (hours("service_h") - 41.0 / 60.0).abs() < 1e-9);
    let month = call(&["tach", "sandling", "--month", "--json"]).json();
    let ratio = month["month"]["ratio"].as_f64().unwrap();
    assert!((0.75..0.95).contains(&ratio), "{ratio}");
    assert_eq!(call(&["tach", "sandling", "--flight", "nowhere"]).status, 1);
    assert_eq!(call(&["tach", "sandling"]).status, 2);
}
