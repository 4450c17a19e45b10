//! Ticks are round.

use super::axis::{Scale, step};
use crate::doc::{Axis, Inline};

fn axis(from: f64, to: f64) -> Axis {
    Axis { name: vec![Inline::text("Size")], unit: "kt", from, to }
}

#[test]
fn steps_are_one_two_or_five_times_a_power_of_ten() {
    let found =
        [(10.0, 5.0), (107.0, 6.0), (0.3, 4.0), (2700.0, 6.0), (4000.0, 4.0)].map(|(span, most)| step(span, most));
    let wanted = [2.0, 20.0, 0.1, 500.0, 1000.0];
    assert!(found.iter().zip(wanted).all(|(f, w)| (f - w).abs() < 1e-9 * w), "{found:?}");
}

#[test]
fn a_widened_scale_begins_and_ends_at_a_tick() {
    let scale = Scale::widened(&axis(-130.0, 470.0), (100.0, 0.0), 20.0);
    let ends = (scale.ticks.first().unwrap(), scale.ticks.last().unwrap());
    assert_eq!(((ends.0.1.as_str()), (ends.1.1.as_str())), ("\u{2212}200", "600"));
    assert!((scale.place(ends.0.0) - 100.0).abs() < 1e-9 && scale.place(ends.1.0).abs() < 1e-9);
}

#[test]
fn an_axis_of_no_length_and_one_without_numbers_still_have_a_scale() {
    for (from, to) in [(5.0, 5.0), (0.0, 0.0), (f64::NAN, 1.0), (3.0, f64::INFINITY), (7.0, 1.0)] {
        let scale = Scale::widened(&axis(from, to), (100.0, 0.0), 20.0);
        assert!(scale.ticks.len() > 1 && scale.place(1.0).is_finite(), "{from} {to}");
    }
}
