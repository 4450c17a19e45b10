//! Tachometer time against clock time.

use ribstitch::analyse::tach::{Leg, TachError, tach_time};

fn hours(speed_rpm: f64, time_min: f64, reference_rpm: f64) -> f64 {
    tach_time(&[Leg { speed_rpm, time_min }], reference_rpm).unwrap().tach_h
}

/// Source: a tachometer maker's note (reprint read): reference 2400 rpm; 2400 gives 1.0, 1200 gives 1/2, 2000 gives 5/6.
#[test]
fn the_makers_table_is_met() {
    assert_eq!(hours(2400.0, 60.0, 2400.0), 1.0);
    assert_eq!(hours(1200.0, 60.0, 2400.0), 0.5);
    assert_eq!(hours(2000.0, 60.0, 2400.0), 5.0 / 6.0);
}

/// Common practice, no source: in training the tachometer runs 10 to 20 % behind the clock.
#[test]
fn a_training_flight_runs_behind_the_clock_by_a_tenth_to_a_fifth() {
    let legs = ["1000:8", "2300:40", "1800:8", "1000:4"].map(|l| Leg::parse(l).unwrap());
    let time = tach_time(&legs, 2400.0).unwrap();
    let behind = 1.0 - time.tach_h / time.clock_h;
    assert_eq!(time.clock_h, 1.0);
    assert!((0.1..=0.2).contains(&behind), "{behind}");
}

#[test]
fn the_sum_is_the_sum_of_its_legs() {
    let legs = ["2400:60", "1200:60"].map(|l| Leg::parse(l).unwrap());
    let time = tach_time(&legs, 2400.0).unwrap();
    assert_eq!((time.tach_h, time.clock_h), (1.5, 2.0));
    assert_eq!(time.legs.iter().map(|l| l.tach_h).collect::<Vec<_>>(), [1.0, 0.5]);
    assert_eq!(time.legs[1].share, 0.5);
}

#[test]
fn many_equal_legs_add_up_without_drift() {
    let legs = vec![Leg { speed_rpm: 2000.0, time_min: 6.0 }; 1000];
    assert_eq!(tach_time(&legs, 2400.0).unwrap().tach_h, 2000.0 * 6000.0 / (2400.0 * 60.0));
}

#[test]
fn absurd_numbers_are_refused() {
    for (text, error) in [
        ("0:60", TachError::Speed(0.0)),
        ("-5:60", TachError::Speed(-5.0)),
        ("10001:60", TachError::Speed(10_001.0)),
        ("2400:0", TachError::Time(0.0)),
        ("2400:10001", TachError::Time(10_001.0)),
        ("2400:inf", TachError::Time(f64::INFINITY)),
    ] {
        assert_eq!(Leg::parse(text), Err(error), "{text}");
    }
    assert!(matches!(Leg::parse("2400:nan"), Err(TachError::Time(_))));
    for text in ["", "2400", "2400:", ":60", "fast:60", "2400:60:1"] {
        assert!(matches!(Leg::parse(text), Err(TachError::NoLeg(_))), "{text}");
    }
    assert!(Leg::parse("10000:10000").is_ok());
    let leg = [Leg { speed_rpm: 2400.0, time_min: 60.0 }];
    assert_eq!(tach_time(&leg, 0.0), Err(TachError::Reference(0.0)));
    assert_eq!(tach_time(&[], 2400.0), Err(TachError::NoLegs));
}
