//! Forms as paths. Places are rounded to hundredths of a point, as in the SVG.

use crate::diagram::geometry::{Point, Rect};
use crate::diagram::outline::{Step, on_circle};
use crate::diagram::scene::Form;
use krilla::geom::PathBuilder;

/// How far the handles of a quarter circle are from its ends, in parts of the radius.
const QUARTER: f64 = 0.552_284_749_8;

/// A length to the next hundredth of a point; nothing that is no number reaches a file.
pub(super) fn near(n: f64) -> f32 {
    if n.is_finite() { ((n * 100.0).round() / 100.0) as f32 } else { 0.0 }
}

/// A form of the drawing.
pub(super) fn form(path: &mut PathBuilder, form: &Form) {
    match form {
        Form::Line(points) => line(path, points),
        Form::Polygon(points) => polygon(path, points),
        Form::Circle(middle, radius) => circle(path, *middle, *radius),
        Form::Arc(middle, radius, from, to) => arc(path, (*middle, *radius), *from, *to),
        Form::Rect(rect, round) => rounded(path, rect, *round),
        Form::Strokes(strokes) => strokes.iter().for_each(|(a, b)| line(path, &[*a, *b])),
    }
}

fn to(path: &mut PathBuilder, at: Point) {
    path.line_to(near(at.x), near(at.y));
}

/// Straight lines through points.
pub(super) fn line(path: &mut PathBuilder, points: &[Point]) {
    let Some((first, rest)) = points.split_first() else { return };
    path.move_to(near(first.x), near(first.y));
    rest.iter().for_each(|p| to(path, *p));
}

/// The same, closed.
pub(super) fn polygon(path: &mut PathBuilder, points: &[Point]) {
    if points.len() > 1 {
        line(path, points);
        path.close();
    }
}

/// A path with bends.
pub(super) fn steps(path: &mut PathBuilder, steps: &[Step]) {
    for step in steps {
        match step {
            Step::Begin(at) => path.move_to(near(at.x), near(at.y)),
            Step::Line(at) => to(path, *at),
            Step::Bend(corner, at) => path.quad_to(near(corner.x), near(corner.y), near(at.x), near(at.y)),
        }
    }
}

/// A circle.
pub(super) fn circle(path: &mut PathBuilder, middle: Point, radius: f64) {
    if radius > 0.0 {
        curve(path, (middle, radius), 0.0, 360.0);
        path.close();
    }
}

fn arc(path: &mut PathBuilder, round: (Point, f64), from: f64, to: f64) {
    if round.1 > 0.0 && from.is_finite() && to.is_finite() {
        // From the one to the other clockwise, as the SVG has it.
        let turn = if to >= from { (to - from).min(360.0) } else { (to - from).rem_euclid(360.0) };
        curve(path, round, from, turn);
    }
}

/// A part of a circle as curves of at most a quarter.
fn curve(path: &mut PathBuilder, (middle, radius): (Point, f64), from: f64, turn: f64) {
    let start = on_circle(middle, radius, from);
    path.move_to(near(start.x), near(start.y));
    let parts = (turn / 90.0).ceil().max(1.0);
    let step = turn / parts;
    let handle = 4.0 / 3.0 * libm::tan(step.to_radians() / 4.0) * radius;
    for part in 0..parts as u32 {
        let (a, b) = (from + f64::from(part) * step, from + f64::from(part + 1) * step);
        let end = on_circle(middle, radius, b);
        let leave = moved(on_circle(middle, radius, a), a, handle);
        let reach = moved(end, b, -handle);
        cubic(path, leave, reach, end);
    }
}

/// A point moved along the circle's tangent.
fn moved(at: Point, degrees: f64, by: f64) -> Point {
    let angle = degrees.to_radians();
    Point::new(at.x + by * libm::cos(angle), at.y + by * libm::sin(angle))
}

fn cubic(path: &mut PathBuilder, leave: Point, reach: Point, end: Point) {
    path.cubic_to(near(leave.x), near(leave.y), near(reach.x), near(reach.y), near(end.x), near(end.y));
}

/// A rectangle whose corners are rounded.
pub(super) fn rounded(path: &mut PathBuilder, rect: &Rect, round: f64) {
    let (left, top, right, bottom) = (rect.x, rect.y, rect.x + rect.width.max(0.0), rect.y + rect.height.max(0.0));
    let corners = [(left, top), (right, top), (right, bottom), (left, bottom)].map(|(x, y)| Point::new(x, y));
    let r = round.min(rect.width / 2.0).min(rect.height / 2.0);
    if r.is_nan() || r <= 0.0 {
        return polygon(path, &corners);
    }
    let along = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)]; // the side that begins at each corner
    let ahead = |at: Point, side: usize, by: f64| Point::new(at.x + along[side].0 * by, at.y + along[side].1 * by);
    let first = ahead(corners[0], 0, r);
    path.move_to(near(first.x), near(first.y));
    for side in 0..4 {
        let (corner, next) = (corners[(side + 1) % 4], (side + 1) % 4);
        to(path, ahead(corner, side, -r));
        let far = r * (1.0 - QUARTER);
        cubic(path, ahead(corner, side, -far), ahead(corner, next, far), ahead(corner, next, r));
    }
    path.close();
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_number_is_drawn_at_nothing() {
        for wrong in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(near(wrong), 0.0);
            let mut path = PathBuilder::new();
            let bad = Point::new(wrong, wrong);
            form(&mut path, &Form::Circle(bad, wrong));
            form(&mut path, &Form::Arc(bad, 5.0, wrong, 90.0));
            form(&mut path, &Form::Rect(Rect::new(wrong, 0.0, wrong, 5.0), 2.0));
            form(&mut path, &Form::Line(vec![bad]));
        }
    }
}
