//! Plots: charts of curves and of bars, one under another, with round ticks, light grids and labels at the ends of lines.
//!
//! What they show comes with the figure; nothing is worked out here but places. A line is known by its pattern and its label, never by
//! its colour alone.

mod axis;
mod bars;
mod curves;

use super::geometry::Point;
use super::lettering;
use super::scene::{Anchor, Form, Lettering, Mark, Scene, Shape};
use crate::doc::{Band, Chart, Inlines, PlotShown, plain_text};

/// Width of a plot, pt: at this width its letters are no smaller than 8 pt on a phone.
const WIDTH: f64 = 320.0;
/// Size of all its letters, pt.
const LETTERS: f64 = 10.0;
/// From one line of letters to the next, pt.
const LINE: f64 = 11.9;
/// Between letters and what they stand at, pt.
const GAP: f64 = 4.0;
/// What is drawn thin.
const THIN: f64 = 0.6;

/// Draws a plot.
pub(super) fn draw(shown: &PlotShown) -> Scene {
    let mut scene = Scene { width: WIDTH, reading: plain_text(&shown.reading), ..Scene::default() };
    let sides = curves::sides(shown);
    let mut top = bands(shown, sides, &mut scene);
    let bounds: Vec<f64> = shown.bands.iter().skip(1).map(|b| b.from).collect();
    let last = shown.charts.len().saturating_sub(1);
    for (at, chart) in shown.charts.iter().enumerate() {
        top = match chart {
            Chart::Curves(curves) => {
                let high = if last == 0 { 170.0 } else { 92.0 };
                curves::draw(curves, (sides, top, high), (at == last, &bounds), &mut scene)
            }
            Chart::Bars(bars) => bars::draw(bars, top, &mut scene),
        };
    }
    top = key(shown, sides, top, &mut scene);
    scene.height = top + 2.0;
    tell(shown, &mut scene);
    scene
}

/// The text alternative, as a table and as lines.
fn tell(shown: &PlotShown, scene: &mut Scene) {
    let texts = |cells: &Vec<Inlines>| cells.iter().map(|c| plain_text(c)).collect::<Vec<_>>();
    scene.table = std::iter::once(&shown.head).chain(&shown.rows).map(texts).collect();
    scene.alternative = scene.table.iter().map(|row| row.join("; ")).collect();
}

/// Names of stretches, and below them the stretch in which something is different; gives the lower edge.
fn bands(shown: &PlotShown, (left, right): (f64, f64), scene: &mut Scene) -> f64 {
    let Some(Chart::Curves(first)) = shown.charts.first() else { return 1.0 };
    let scale = axis::Scale::exact(&first.across, (left, right));
    let mut top = 1.0;
    if !shown.bands.is_empty() {
        let numbered = !names_fit(&scale, &shown.bands);
        for (at, band) in shown.bands.iter().enumerate() {
            let text = if numbered { (at + 1).to_string() } else { plain_text(&band.label) };
            let place = Point::new(middle(&scale, band), top + LETTERS);
            scene.marks.push(Mark::Words(label(&text, place, Anchor::Middle)));
        }
        top += LINE + 1.0;
    }
    if let Some(span) = &shown.span {
        let (from, to, at) = (scale.place(span.from), scale.place(span.to), top + 4.0);
        let ends = [at - 3.0, at + 3.0];
        let upright = |x: f64| (Point::new(x, ends[0]), Point::new(x, ends[1]));
        let strokes = vec![upright(from), (Point::new(from, at), Point::new(to, at)), upright(to)];
        scene.marks.push(shape("span", 1.2, Form::Strokes(strokes)));
        let text = plain_text(&span.label);
        let half = lettering::width(&text, LETTERS) / 2.0;
        let x = from.midpoint(to).clamp(half + 1.0, (WIDTH - half - 1.0).max(half + 1.0));
        scene.marks.push(Mark::Words(label(&text, Point::new(x, at + 4.0 + LETTERS), Anchor::Middle)));
        top += LINE + 9.0;
    }
    top
}

/// Whether each stretch is wide enough for its name.
fn names_fit(scale: &axis::Scale, bands: &[Band]) -> bool {
    let wide = |b: &Band| scale.place(b.to) - scale.place(b.from);
    bands.iter().all(|b| lettering::width(&plain_text(&b.label), LETTERS) <= wide(b) - 1.0)
}

/// The names of stretches that have a number alone, a line each; gives the lower edge.
fn key(shown: &PlotShown, sides: (f64, f64), top: f64, scene: &mut Scene) -> f64 {
    let Some(Chart::Curves(first)) = shown.charts.first() else { return top };
    if names_fit(&axis::Scale::exact(&first.across, sides), &shown.bands) {
        return top;
    }
    for (at, band) in shown.bands.iter().enumerate() {
        let text = format!("{}  {}", at + 1, plain_text(&band.label));
        let place = Point::new(sides.0, top + LETTERS + at as f64 * LINE);
        scene.marks.push(Mark::Words(label(&text, place, Anchor::Start)));
    }
    top + 3.0 + shown.bands.len() as f64 * LINE
}

fn middle(scale: &axis::Scale, band: &Band) -> f64 {
    scale.place(band.from).midpoint(scale.place(band.to))
}

/// Letters in one line.
fn label(text: &str, at: Point, anchor: Anchor) -> Lettering {
    Lettering { size: LETTERS, ..Lettering::new(vec![text.to_owned()], at, anchor) }
}

fn shape(class: &'static str, weight: f64, form: Form) -> Mark {
    Mark::Shape(Shape { class, weight, form })
}

/// `Airspeed, kt`.
fn title(axis: &crate::doc::Axis) -> String {
    format!("{}, {}", plain_text(&axis.name), axis.unit)
}

#[cfg(test)]
mod tests;
