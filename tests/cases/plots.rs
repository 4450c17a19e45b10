//! Plots as they are drawn: letters do not touch, everything stands on the drawing.

use ribstitch::diagram::scene::Lettering;
use ribstitch::diagram::{Mark, Scene, draw};
use ribstitch::doc::{
    Axis, Band, Bar, Bars, Chart, Curve, Curves, Figure, FigureKind, Inline, Inlines, PlotShown, Stroke, Subject,
};

fn words(text: &str) -> Inlines {
    vec![Inline::text(text)]
}

fn axis(from: f64, to: f64) -> Axis {
    Axis { name: words("Size"), unit: "kt", from, to }
}

fn drawn(plot: PlotShown) -> Scene {
    let (kind, subject, caption) = (FigureKind::Plot, Subject::Aircraft, words("a plot"));
    let figure = Figure { id: "figure/plot".into(), kind, subject, caption, panels: Vec::new(), plot: Some(plot) };
    draw(&figure, &super::diagram::demo())
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
        assert_letters_are_apart(&drawn(shown));
    }
}

#[test]
fn bars_of_any_length_keep_their_letters_apart() {
    let bar = |label: &str, value: f64| Bar { label: words(label), value, shown: words("20.3 A"), limit: Some(48.0) };
    let bars = vec![bar("cruise", 20.3), bar("a state with a rather long name", 0.0), bar("night", 59.9)];
    let chart = Chart::Bars(Bars { along: axis(0.0, 60.0), bars, limit: words("80 % of the alternator") });
    let shown = PlotShown { charts: vec![chart], ..PlotShown::default() };
    assert_letters_are_apart(&drawn(shown));
}
