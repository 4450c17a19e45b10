//! Dials that radios move: a course bar, and a pointer to a beacon.

use super::dial::ray;
use super::face::{bezel, circle, frame, line, polygon};
use crate::diagram::geometry::{Point, Rect};
use crate::diagram::outline::on_circle;
use crate::diagram::scene::Shape;

/// Off to the side by so many parts of the radius stand the dots of a course dial.
const DOTS: [f64; 6] = [-0.48, -0.32, -0.16, 0.16, 0.32, 0.48];

/// The bar on the line of course, dots to each side, the pane of the flag, and a ring to set the course.
pub(super) fn course(middle: Point, radius: f64) -> Vec<Shape> {
    let mut shapes = bezel(middle, radius);
    shapes.extend((0..36).map(|tick| {
        let inner = if tick % 3 == 0 { 0.74 } else { 0.8 };
        ray("part", middle, f64::from(tick) * 10.0, (radius * inner, radius * 0.88), 0.6)
    }));
    let dot = |off: &f64| circle("part-solid", Point::new(middle.x + off * radius, middle.y), radius * 0.035, 0.0);
    shapes.extend(DOTS.iter().map(dot));
    shapes.push(circle("part", middle, radius * 0.07, 0.7));
    shapes.push(line("part", 2.2, &[(middle.x, middle.y - radius * 0.56), (middle.x, middle.y + radius * 0.56)]));
    let pane = Rect::new(middle.x + radius * 0.14, middle.y + radius * 0.2, radius * 0.3, radius * 0.18);
    shapes.push(frame("glass", pane, 0.7, 1.0));
    shapes
}

/// A ring of bearings and an arrow across it.
pub(super) fn bearing(middle: Point, radius: f64) -> Vec<Shape> {
    const POINTS: f64 = 35.0;
    let mut shapes = bezel(middle, radius);
    shapes.extend((0..36).map(|tick| {
        let inner = if tick % 3 == 0 { 0.7 } else { 0.78 };
        ray("part", middle, f64::from(tick) * 10.0, (radius * inner, radius * 0.86), 0.6)
    }));
    let (tip, tail) = (on_circle(middle, radius * 0.64, POINTS), on_circle(middle, radius * 0.6, POINTS + 180.0));
    shapes.push(line("part", 1.8, &[(tail.x, tail.y), (tip.x, tip.y)]));
    let barb = |side: f64| on_circle(middle, radius * 0.42, POINTS + side * 14.0);
    shapes.push(polygon("part-solid", vec![tip, barb(1.0), barb(-1.0)]));
    shapes.push(circle("part-solid", middle, radius * 0.06, 0.0));
    shapes
}
