//! A chart of bars that lie under one another: a name, the bar, its value, and what it is held against.

use super::axis::Scale;
use super::{GAP, LETTERS, LINE, THIN, WIDTH, label, shape, title};
use crate::diagram::geometry::{Point, Rect};
use crate::diagram::lettering::{SIZE, width, wrap};
use crate::diagram::scene::{Anchor, Form, Lettering, Mark, Scene};
use crate::doc::{Bar, Bars, plain_text};

/// The widest that names may be, pt.
const NAMES: f64 = 112.0;
/// Height of a bar, pt.
const HIGH: f64 = 15.0;

/// Draws the chart; gives its lower edge.
pub fn draw(chart: &Bars, top: f64, scene: &mut Scene) -> f64 {
    let names: Vec<Vec<String>> = chart.bars.iter().map(|b| lines(&plain_text(&b.label))).collect();
    let left = names.iter().flatten().map(|l| width(l, LETTERS)).fold(0.0, f64::max) + GAP + 2.0;
    let values = chart.bars.iter().map(|b| width(&plain_text(&b.shown), LETTERS)).fold(0.0, f64::max);
    let right = (WIDTH - values - GAP - 2.0).max(left + 60.0);
    let scale = Scale::widened(&chart.along, (left, right), 34.0);
    let limits = chart.bars.iter().any(|b| b.limit.is_some());
    let top = if limits { limit_name(chart, &scale, top, scene) } else { top + GAP };
    let rows: Vec<f64> = names.iter().map(|n| (n.len() as f64 * LINE).max(HIGH) + 5.0).collect();
    let high: f64 = rows.iter().sum::<f64>() + 4.0;
    ticks(&scale, (top, top + high), scene);
    let mut y = top + 2.0;
    for ((bar, name), row) in chart.bars.iter().zip(&names).zip(&rows) {
        draw_bar(bar, name, (&scale, y, *row), scene);
        y += row;
    }
    let frame = Rect::new(left, top, right - left, high);
    scene.marks.push(shape("chart", THIN, Form::Rect(frame, 0.0)));
    let below = top + high + GAP + 2.0 * LINE;
    scene.marks.push(Mark::Words(label(&title(&chart.along), Point::new(left, below), Anchor::Start)));
    below + 3.0
}

/// A name in lines.
fn lines(text: &str) -> Vec<String> {
    wrap(text, NAMES * SIZE / LETTERS)
}

/// What the limits are, over the first of them; gives the lower edge.
fn limit_name(chart: &Bars, scale: &Scale, top: f64, scene: &mut Scene) -> f64 {
    let text = plain_text(&chart.limit);
    let at = chart.bars.iter().find_map(|b| b.limit).map_or(0.0, |l| scale.place(l));
    let half = width(&text, LETTERS) / 2.0;
    let x = at.clamp(half + 1.0, (WIDTH - half - 1.0).max(half + 1.0));
    scene.marks.push(Mark::Words(label(&text, Point::new(x, top + LETTERS), Anchor::Middle)));
    top + LINE + 4.0
}

fn ticks(scale: &Scale, (top, bottom): (f64, f64), scene: &mut Scene) {
    for (value, text) in &scale.ticks {
        let x = scale.place(*value);
        let line = Form::Line(vec![Point::new(x, bottom), Point::new(x, top)]);
        scene.marks.push(shape("grid", THIN, line));
        scene.marks.push(Mark::Words(label(text, Point::new(x, bottom + GAP + LETTERS), Anchor::Middle)));
    }
}

fn draw_bar(bar: &Bar, name: &[String], (scale, y, row): (&Scale, f64, f64), scene: &mut Scene) {
    let (left, end, middle) = (scale.places().0, scale.place(bar.value), y + row / 2.0);
    let high = (name.len().max(1) - 1) as f64 * LINE;
    let at = Point::new(left - GAP, middle + 3.5 - high / 2.0);
    scene.marks.push(Mark::Words(Lettering { size: LETTERS, ..Lettering::new(name.to_vec(), at, Anchor::End) }));
    let rect = Rect::new(left, middle - HIGH / 2.0, (end - left).max(0.0), HIGH);
    scene.marks.push(shape("plot-bar", 0.8, Form::Rect(rect, 0.0)));
    if let Some(limit) = bar.limit {
        let x = scale.place(limit);
        scene.marks.push(shape("level", 1.6, Form::Strokes(vec![(Point::new(x, y), Point::new(x, y + row))])));
    }
    // Right of the frame, where neither a bar nor an upright strikes it.
    let value = plain_text(&bar.shown);
    let x = scale.places().1 + GAP;
    scene.marks.push(Mark::Words(label(&value, Point::new(x, middle + 3.5), Anchor::Start)));
}
