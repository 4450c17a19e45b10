//! Tachometer time and inspection intervals.
//!
//! # Source
//! `data/tachometer.csv`: a tachometer maker's note. Half of the reference speed for an hour is half an hour: common practice, no
//! source. `data/inspections.csv`: 14 CFR part 91.

use super::{rows, sandling};
use ribstitch::analyse::tach::{Leg, tach_time};
use ribstitch::model::Interval;

#[test]
fn the_makers_rows_are_met() {
    for row in rows("tachometer.csv") {
        let (above, below) = row[1].split_once('/').unwrap_or((&row[1], "1"));
        let published = above.parse::<f64>().unwrap() / below.parse::<f64>().unwrap();
        let leg = Leg { speed_rpm: row[0].parse().unwrap(), time_min: 60.0 };
        let found = tach_time(&[leg], 2400.0).unwrap();
        assert!((found.tach_h - published).abs() < 1e-12, "{row:?}: {}", found.tach_h);
        assert_eq!(found.clock_h, 1.0);
    }
}

#[test]
fn half_of_any_reference_speed_counts_half_the_time() {
    for reference in [2200.0, 2310.0, 2400.0, 2500.0] {
        let leg = Leg { speed_rpm: reference / 2.0, time_min: 60.0 };
        assert_eq!(tach_time(&[leg], reference).unwrap().tach_h, 0.5);
    }
}

/// The demo's intervals that cite a rule are the rule's.
#[test]
fn inspections_that_cite_a_rule_have_its_interval() {
    let model = sandling();
    for row in rows("inspections.csv") {
        let inspection = model.inspections.iter().find(|i| i.cite.as_ref() == Some(&row[0]));
        let inspection = inspection.unwrap_or_else(|| panic!("none cites {}", row[0]));
        let count: u32 = row[1].parse().unwrap();
        let wanted = if row[2] == "days" { Interval::Days(count) } else { Interval::CalendarMonths(count) };
        assert_eq!(inspection.every, wanted, "{}", inspection.name);
    }
}
