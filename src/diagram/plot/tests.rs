//! Ticks are round, labels do not touch, everything stands on the drawing.

use super::axis::{Scale, step};
use super::*;
use crate::doc::{Axis, Bar, Bars, Curve, Curves, Inline, Stroke};

fn words(text: &str) -> Inlines {
    vec![Inline::text(text)]
}

fn axis(from: f64, to: f64) -> Axis {
    Axis { name: words("Size"), unit: "kt", from, to }
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

/// Lettering of a scene.
fn letterings(scene: &Scene) -> Vec<Lettering> {
    scene.marks.iter().filter_map(|m| if let Mark::Words(w) = m { Some(w.clone()) } else { None }).collect()
}

fn assert_letters_are_apart(scene: &Scene) {
    let all = letterings(scene);
    for (at, one) in all.iter().enumerate() {
        let rect = one.rect();
        assert!(rect.x >= 0.0 && rect.right() <= scene.width && rect.bottom() <= scene.height, "{:?}", one.lines);
        assert!(one.size >= 8.0, "{:?}", one.lines);
        for other in all.iter().skip(at + 1) {
            assert!(!rect.overlaps(&other.rect()), "{:?} on {:?}", one.lines, other.lines);
        }
    }
}

#[test]
fn labels_of_lines_that_end_together_do_not_touch() {
    let curve = |label: &str, stroke, y| Curve { label: words(label), stroke, points: vec![(0.0, 1.0), (30.0, y)] };
    for y in [0.0, 3.0, 99.0] {
        let curves = vec![curve("true", Stroke::Plain, y), curve("shown", Stroke::Broken, y)];
        let level = Some((24.0, words("here")));
        let chart = Chart::Curves(Curves { across: axis(0.0, 30.0), up: axis(0.0, 100.0), curves, level });
        let bands = vec![Band { label: words("climb"), from: 0.0, to: 30.0 }];
        let span = Some(Band { label: words("blocked"), from: 20.0, to: 30.0 });
        let shown = PlotShown { bands, span, charts: vec![chart.clone(), chart], ..PlotShown::default() };
        assert_letters_are_apart(&draw(&shown));
    }
}

#[test]
fn bars_of_any_length_keep_their_letters_apart() {
    let bar = |label: &str, value: f64| Bar { label: words(label), value, shown: words("20.3 A"), limit: Some(48.0) };
    let bars = vec![bar("cruise", 20.3), bar("a state with a rather long name", 0.0), bar("night", 59.9)];
    let chart = Chart::Bars(Bars { along: axis(0.0, 60.0), bars, limit: words("80 % of the alternator") });
    let shown = PlotShown { charts: vec![chart], ..PlotShown::default() };
    assert_letters_are_apart(&draw(&shown));
}
