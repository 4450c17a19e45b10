//! A chart of curves: frame, ticks, grid, lines, and a label at the end of each line.

use super::axis::Scale;
use super::{GAP, LETTERS, LINE, THIN, WIDTH, label, shape, title};
use crate::diagram::geometry::{Point, Rect};
use crate::diagram::lettering::width;
use crate::diagram::scene::{Anchor, Form, Mark, Scene};
use crate::doc::{Chart, Curve, Curves, PlotShown, Stroke, plain_text};

/// Room that the numbers of two ticks need, pt: upward.
const UPWARD: f64 = 20.0;
/// Between the frame and the label of a line, pt.
const LEAD: f64 = 10.0;

/// The left and the right edge that the frames of all charts have in common.
pub fn sides(shown: &PlotShown) -> (f64, f64) {
    let curves = || shown.charts.iter().filter_map(|c| if let Chart::Curves(c) = c { Some(c) } else { None });
    let numbers = curves().flat_map(|c| Scale::widened(&c.up, (80.0, 0.0), UPWARD).ticks);
    let left = numbers.map(|(_, text)| width(&text, LETTERS)).fold(0.0, f64::max);
    let labels = curves().flat_map(|c| &c.curves).map(|c| width(&plain_text(&c.label), LETTERS));
    let right = labels.fold(0.0, f64::max);
    (left + GAP + 2.0, (WIDTH - right - LEAD - 3.0).max(left + 60.0))
}

/// Draws one chart; gives its lower edge. The last one has the numbers of the axis across.
/// `bounds` are the places in time where one stretch ends and the next begins.
pub fn draw(
    chart: &Curves,
    (sides, top, high): ((f64, f64), f64, f64),
    (last, bounds): (bool, &[f64]),
    scene: &mut Scene,
) -> f64 {
    let heading = label(&title(&chart.up), Point::new(1.0, top + LETTERS), Anchor::Start);
    scene.marks.push(Mark::Words(heading));
    let top = top + LINE + 6.0;
    let across = Scale::exact(&chart.across, sides);
    let up = Scale::widened(&chart.up, (top + high, top), UPWARD);
    let along = along_edges(chart, &up);
    let up = up.padded(along);
    for bound in bounds {
        let x = across.place(*bound);
        let line = Form::Line(vec![Point::new(x, top + high), Point::new(x, top)]);
        scene.marks.push(shape("bound", THIN, line));
    }
    grid(&across, &up, last, scene);
    if let Some((at, words)) = &chart.level {
        level(&across, &up, (*at, &plain_text(words)), scene);
    }
    let frame = Rect::new(sides.0, top, sides.1 - sides.0, high);
    scene.marks.push(shape("chart", THIN, Form::Rect(frame, 0.0)));
    for curve in &chart.curves {
        scene.marks.push(line(curve, &across, &up));
    }
    names(chart, (sides.1, top, high), &up, scene);
    let bottom = top + high;
    if !last {
        return bottom + 7.0;
    }
    let below = bottom + GAP + 2.0 * LINE;
    scene.marks.push(Mark::Words(label(&title(&chart.across), Point::new(sides.0, below), Anchor::Start)));
    below + 3.0
}

/// Whether a line runs along the low or the high end of the scale for a stretch, where it would lie on the frame.
fn along_edges(chart: &Curves, up: &Scale) -> (bool, bool) {
    let (low, high) = up.values();
    let near = (high - low) * 0.02;
    let runs = |edge: f64| {
        let at = |y: f64| (y - edge).abs() <= near;
        chart.curves.iter().any(|c| c.points.windows(2).any(|w| at(w[0].1) && at(w[1].1)))
    };
    (runs(low), runs(high))
}

/// Light lines at each tick, with their numbers left and below.
fn grid(across: &Scale, up: &Scale, last: bool, scene: &mut Scene) {
    let ((left, right), (bottom, top)) = (across.places(), up.places());
    for (value, text) in &up.ticks {
        let y = up.place(*value);
        let line = Form::Line(vec![Point::new(left, y), Point::new(right, y)]);
        scene.marks.push(shape("grid", THIN, line));
        scene.marks.push(Mark::Words(label(text, Point::new(left - GAP, y + 3.5), Anchor::End)));
    }
    for (value, text) in &across.ticks {
        let x = across.place(*value);
        let line = Form::Line(vec![Point::new(x, bottom), Point::new(x, top)]);
        scene.marks.push(shape("grid", THIN, line));
        if last {
            scene.marks.push(Mark::Words(label(text, Point::new(x, bottom + GAP + LETTERS), Anchor::Middle)));
        }
    }
}

/// An upright at a place that matters, named inside the frame at its foot.
fn level(across: &Scale, up: &Scale, (at, words): (f64, &str), scene: &mut Scene) {
    let ((left, _), (bottom, top)) = (across.places(), up.places());
    let x = across.place(at);
    scene.marks.push(shape("level", 1.2, Form::Line(vec![Point::new(x, bottom), Point::new(x, top)])));
    let room = x - left > width(words, LETTERS) + 2.0 * GAP;
    let (x, anchor) = if room { (x - GAP, Anchor::End) } else { (x + GAP, Anchor::Start) };
    let words = label(words, Point::new(x, bottom - 2.0 * GAP), anchor);
    let under = words.rect().inset(-1.0);
    scene.marks.push(shape("under", 0.0, Form::Rect(under, 0.0)));
    scene.marks.push(Mark::Words(words));
}

fn line(curve: &Curve, across: &Scale, up: &Scale) -> Mark {
    let points = curve.points.iter().map(|(x, y)| Point::new(across.place(*x), up.place(*y))).collect();
    match curve.stroke {
        Stroke::Plain => Mark::Curve { class: "curve-plain", weight: 1.1, dashes: &[], points },
        Stroke::Broken => Mark::Curve { class: "curve-broken", weight: 2.2, dashes: &[6.0, 2.5], points },
    }
}

/// The labels at the ends of the lines, pushed apart where they would lie on one another, each with a thin lead from its line.
fn names(chart: &Curves, (right, top, high): (f64, f64, f64), up: &Scale, scene: &mut Scene) {
    let end = |c: &Curve| c.points.last().map_or(0.0, |(_, y)| up.place(*y));
    let mut ends: Vec<(f64, String)> = chart.curves.iter().map(|c| (end(c), plain_text(&c.label))).collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let places = apart(&ends.iter().map(|(y, _)| *y).collect::<Vec<_>>(), (top, top + high));
    for ((y, text), place) in ends.iter().zip(places) {
        let lead = vec![Point::new(right, *y), Point::new(right + LEAD - 2.0, place)];
        scene.marks.push(shape("lead", THIN, Form::Line(lead)));
        scene.marks.push(Mark::Words(label(text, Point::new(right + LEAD, place + 3.5), Anchor::Start)));
    }
}

/// Heights from the top down, moved as little as it takes for lines of letters not to touch.
fn apart(wanted: &[f64], (top, bottom): (f64, f64)) -> Vec<f64> {
    let mut places: Vec<f64> = Vec::new();
    for y in wanted {
        let least = places.last().map_or(top, |above| above + LINE);
        places.push(y.max(least));
    }
    let mut most = bottom;
    for place in places.iter_mut().rev() {
        *place = place.min(most);
        most = *place - LINE;
    }
    places
}
