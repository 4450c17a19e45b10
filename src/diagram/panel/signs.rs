//! What is said of one face on a small panel: each sign has a form of its own, so that it is told apart without colour.

use super::face::is_round;
use crate::diagram::geometry::{Point, Rect};
use crate::diagram::outline::on_circle;
use crate::diagram::scene::{Form, Shape};
use crate::doc::Sign;
use crate::model::Face;
use std::f64::consts::SQRT_2;

/// From one line of a hatching to the next, pt.
const HATCH: f64 = 2.4;

/// Radius of the smallest disc with a sign that can be read, pt.
pub(in crate::diagram) const SMALLEST: f64 = 3.9;

/// The shapes of a sign on a face with this frame.
pub(in crate::diagram) fn sign(sign: Sign, face: Face, rect: &Rect) -> Vec<Shape> {
    let (middle, radius) = (rect.centre(), rect.width.min(rect.height) / 2.0);
    match sign {
        Sign::Gone => gone(face, rect),
        Sign::GoneInPart => vec![strokes("in-part", 0.7, hatching(face, rect, true))],
        Sign::Misleading => misleading(middle, (radius * 0.62).clamp(SMALLEST, 7.0)),
        Sign::Before => vec![outlined("before", 0.0, face, &rect.inset(0.4))],
        Sign::Shows => shows(middle, radius),
        Sign::StillTells => vec![outlined("still", 2.2, face, &rect.inset(-0.2))],
        Sign::Lit => {
            let ray = |n: u32| f64::from(n) * 45.0;
            let ray = |n: u32| (on_circle(middle, radius + 0.9, ray(n)), on_circle(middle, radius + 3.4, ray(n)));
            vec![outlined("lit", 0.8, face, rect), strokes("rays", 1.0, (0..8).map(ray).collect())]
        }
        Sign::Opened => vec![outlined("opened", 0.0, face, &rect.inset(radius * 0.34))],
        Sign::Set if face == Face::Radio => {
            let at = Point::new(rect.right() - rect.height * 0.45, middle.y);
            vec![Shape { class: "set", weight: 0.0, form: Form::Circle(at, radius * 0.55) }]
        }
        Sign::Set => vec![outlined("set", 0.0, face, &rect.inset(radius * 0.4))],
    }
}

/// The sign of what misleads, beside a small face.
pub(in crate::diagram) fn misleading_at(middle: Point) -> Vec<Shape> {
    misleading(middle, SMALLEST)
}

/// A needle from the middle of a dial.
pub(in crate::diagram) fn needle(rect: &Rect, degrees: f64) -> Shape {
    pointer(rect, degrees, (0.78, 1.1))
}

/// The long and the short pointer of an altimeter.
pub(in crate::diagram) fn pointers(rect: &Rect, (long, short): (f64, f64)) -> [Shape; 2] {
    [pointer(rect, long, (0.78, 1.0)), pointer(rect, short, (0.46, 2.0))]
}

fn pointer(rect: &Rect, degrees: f64, (reach, weight): (f64, f64)) -> Shape {
    let radius = rect.width.min(rect.height) / 2.0;
    let tip = on_circle(rect.centre(), radius * reach, degrees);
    Shape { class: "needle", weight, form: Form::Line(vec![rect.centre(), tip]) }
}

fn strokes(class: &'static str, weight: f64, strokes: Vec<(Point, Point)>) -> Shape {
    Shape { class, weight, form: Form::Strokes(strokes) }
}

fn outlined(class: &'static str, weight: f64, face: Face, rect: &Rect) -> Shape {
    let radius = rect.width.min(rect.height) / 2.0;
    let form = if is_round(face) { Form::Circle(rect.centre(), radius) } else { Form::Rect(*rect, 1.2) };
    Shape { class, weight, form }
}

/// Hatched, and struck through the other way.
fn gone(face: Face, rect: &Rect) -> Vec<Shape> {
    let middle = rect.centre();
    let reach = rect.width.min(rect.height) * 0.5 * 0.66;
    let (x, y) = if is_round(face) {
        (reach, reach)
    } else {
        ((rect.width * 0.5 - 0.9).max(0.5), (rect.height * 0.5 - 0.9).max(0.5))
    };
    let strike = (Point::new(middle.x - x, middle.y - y), Point::new(middle.x + x, middle.y + y));
    vec![
        outlined("veil", 0.0, face, rect),
        strokes("gone", 0.6, hatching(face, rect, false)),
        strokes("gone", 1.8, vec![strike]),
    ]
}

/// Lines that rise to the right, inside a face or inside its lower half.
fn hatching(face: Face, rect: &Rect, lower: bool) -> Vec<(Point, Point)> {
    let middle = rect.centre();
    let most = rect.width.midpoint(rect.height) / SQRT_2;
    let count = (most / HATCH).ceil().clamp(1.0, 200.0) as i32;
    let mut lines = Vec::new();
    for n in -count..=count {
        let off = f64::from(n) * HATCH;
        let Some((mut from, to)) = inside(face, rect, off) else { continue };
        // Below the middle: off - t > 0.
        let to = if lower { to.min(off) } else { to };
        from = from.max(-1e6);
        if to - from > 0.4 {
            let at = |t: f64| Point::new(middle.x + (off + t) / SQRT_2, middle.y + (off - t) / SQRT_2);
            lines.push((at(from), at(to)));
        }
    }
    lines
}

/// Where a rising line that far from the middle lies inside a face.
fn inside(face: Face, rect: &Rect, off: f64) -> Option<(f64, f64)> {
    if is_round(face) {
        let radius = rect.width.min(rect.height) / 2.0;
        let half = libm::sqrt((radius * radius - off * off).max(0.0));
        return (half > 0.0).then_some((-half, half));
    }
    let (across, down) = (rect.width / SQRT_2, rect.height / SQRT_2);
    let (from, to) = ((-across - off).max(off - down), (across - off).min(off + down));
    (to > from).then_some((from, to))
}

/// An arrowhead at the lower edge of a dial, where no needle goes.
fn shows(middle: Point, radius: f64) -> Vec<Shape> {
    let (high, half) = ((radius * 0.6).min(5.6), (radius * 0.36).min(3.4));
    let low = middle.y + radius - 0.6;
    let corners =
        vec![Point::new(middle.x, low - high), Point::new(middle.x + half, low), Point::new(middle.x - half, low)];
    vec![Shape { class: "shows", weight: 0.7, form: Form::Polygon(corners) }]
}

/// A disc with the sign "is not equal to".
fn misleading(middle: Point, r: f64) -> Vec<Shape> {
    let at = |x: f64, y: f64| Point::new(middle.x + x * r, middle.y + y * r);
    let bars = vec![
        (at(-0.55, -0.24), at(0.55, -0.24)),
        (at(-0.55, 0.24), at(0.55, 0.24)),
        (at(-0.32, 0.66), at(0.32, -0.66)),
    ];
    let disc = Shape { class: "false-face", weight: 1.1, form: Form::Circle(middle, r) };
    vec![disc, strokes("false", 1.3, bars)]
}
