//! Faces: plain forms of our own, true in size and in what the scale says.

use crate::diagram::geometry::{Point, Rect};
use crate::diagram::scene::{Form, Shape};
use crate::diagram::svg::on_circle;
use crate::model::{ArcMark, Face, Item, PanelPlace, Scale, ScaleArc};

/// A scale begins here, degrees clockwise from the top.
const BEGIN: f64 = -140.0;
/// And runs over so many degrees.
const SWEEP: f64 = 280.0;

/// The shapes of one face inside its frame.
pub(super) fn draw(item: &Item, place: &PanelPlace, rect: &Rect) -> Vec<Shape> {
    let (middle, radius) = (rect.centre(), rect.width.min(rect.height) / 2.0);
    match place.face {
        Face::Dial => dial(item.scale.as_ref(), middle, radius),
        Face::Horizon => horizon(middle, radius),
        Face::Card => card(middle, radius),
        Face::Turn => turn(middle, radius),
        Face::Window => window(rect),
        Face::Radio => radio(rect),
        Face::Lamp => vec![circle("face", middle, radius, 1.0), circle("part-soft", middle, radius * 0.62, 0.7)],
        Face::Toggle => toggle(rect),
        Face::Rocker => rocker(rect),
        Face::Key => key(middle, radius),
        Face::Lever => lever(rect),
        Face::Knob => knob(middle, radius),
        Face::Breaker => vec![circle("face", middle, radius, 1.0), circle("part", middle, radius * 0.55, 0.8)],
        Face::Wheel => {
            vec![circle("face", middle, radius, 1.2), circle("part", middle, radius * 0.78, 0.8), cross(middle, radius)]
        }
    }
}

fn circle(class: &'static str, at: Point, radius: f64, weight: f64) -> Shape {
    Shape { class, weight, form: Form::Circle(at, radius) }
}

fn line(class: &'static str, weight: f64, points: &[(f64, f64)]) -> Shape {
    Shape { class, weight, form: Form::Line(points.iter().map(|(x, y)| Point::new(*x, *y)).collect()) }
}

fn polygon(class: &'static str, points: Vec<Point>) -> Shape {
    Shape { class, weight: 0.8, form: Form::Polygon(points) }
}

fn frame(class: &'static str, rect: Rect, round: f64) -> Shape {
    Shape { class, weight: 1.0, form: Form::Rect(rect, round) }
}

fn bezel(middle: Point, radius: f64) -> Vec<Shape> {
    vec![circle("face", middle, radius, 1.2), circle("part-soft", middle, radius * 0.94, 0.5)]
}

/// A stroke from one part of the radius to another.
fn ray(class: &'static str, middle: Point, degrees: f64, radii: (f64, f64), weight: f64) -> Shape {
    let (a, b) = (on_circle(middle, radii.0, degrees), on_circle(middle, radii.1, degrees));
    line(class, weight, &[(a.x, a.y), (b.x, b.y)])
}

fn dial(scale: Option<&Scale>, middle: Point, radius: f64) -> Vec<Shape> {
    let mut shapes = bezel(middle, radius);
    if let Some(scale) = scale {
        shapes.extend(scale.arcs.iter().flat_map(|arc| arc_shapes(scale, arc, middle, radius)));
    }
    for tick in 0..=10 {
        let degrees = BEGIN + SWEEP * f64::from(tick) / 10.0;
        let inner = if tick % 5 == 0 { 0.66 } else { 0.74 };
        shapes.push(ray("part", middle, degrees, (radius * inner, radius * 0.82), 0.7));
    }
    let stands = scale.and_then(|s| s.usual.as_ref().or(s.rests.as_ref()).and_then(|q| along(s, q.number)));
    shapes.extend(needle(middle, radius * 0.7, stands.unwrap_or(BEGIN)));
    shapes
}

/// Degrees of a number on a scale.
fn along(scale: &Scale, number: f64) -> Option<f64> {
    let span = scale.span.range().filter(|r| r.to > r.from)?;
    Some(BEGIN + SWEEP * ((number - span.from) / (span.to - span.from)).clamp(0.0, 1.0))
}

/// An arc over a range; a stroke at a single value.
fn arc_shapes(scale: &Scale, marked: &ScaleArc, middle: Point, radius: f64) -> Vec<Shape> {
    let class = arc_class(marked.mark);
    let inner = radius * if marked.mark == ArcMark::White { 0.74 } else { 0.86 };
    let Some(begin) = along(scale, marked.over.number) else { return Vec::new() };
    let end = marked.over.upper.and_then(|to| along(scale, to)).filter(|end| *end > begin);
    let Some(end) = end else { return vec![ray(class, middle, begin, (radius * 0.76, radius * 0.93), 1.6)] };
    let arc = |class: &'static str, weight: f64| Shape { class, weight, form: Form::Arc(middle, inner, begin, end) };
    vec![arc("arc-edge", radius * 0.09 + 0.7), arc(class, radius * 0.09)]
}

fn arc_class(mark: ArcMark) -> &'static str {
    match mark {
        ArcMark::White => "arc arc-white",
        ArcMark::Green => "arc arc-green",
        ArcMark::Yellow => "arc arc-yellow",
        ArcMark::Red => "arc arc-red",
        ArcMark::Blue => "arc arc-blue",
    }
}

fn needle(middle: Point, length: f64, degrees: f64) -> Vec<Shape> {
    let side = |turn: f64| on_circle(middle, length * 0.09, degrees + turn);
    let tip = on_circle(middle, length, degrees);
    vec![
        polygon("part-solid", vec![tip, side(90.0), on_circle(middle, length * 0.22, degrees + 180.0), side(-90.0)]),
        circle("part-solid", middle, length * 0.11, 0.0),
    ]
}

fn horizon(middle: Point, radius: f64) -> Vec<Shape> {
    let mut shapes = bezel(middle, radius);
    let inner = radius * 0.8;
    let half: Vec<Point> = (0..=18).map(|n| on_circle(middle, inner, 90.0 + f64::from(n) * 10.0)).collect();
    shapes.push(polygon("ground", half));
    shapes.push(circle("part-soft", middle, inner, 0.6));
    shapes.push(line("part", 1.0, &[(middle.x - inner, middle.y), (middle.x + inner, middle.y)]));
    for (at, wide) in [(-0.36, 0.2), (-0.18, 0.12), (0.18, 0.12), (0.36, 0.2)] {
        let y = middle.y + at * radius;
        shapes.push(line("part", 0.7, &[(middle.x - wide * radius, y), (middle.x + wide * radius, y)]));
    }
    let (x, y) = (middle.x, middle.y);
    let wing = |side: f64| {
        line(
            "part",
            2.0,
            &[
                (x + side * radius * 0.56, y),
                (x + side * radius * 0.2, y),
                (x + side * radius * 0.2, y + radius * 0.09),
            ],
        )
    };
    shapes.extend([wing(-1.0), wing(1.0), circle("part-solid", middle, radius * 0.05, 0.0)]);
    shapes.extend([-60.0, -30.0, 0.0, 30.0, 60.0].map(|d| ray("part", middle, d, (inner, radius * 0.92), 0.8)));
    shapes
}

fn card(middle: Point, radius: f64) -> Vec<Shape> {
    let mut shapes = bezel(middle, radius);
    for tick in 0..36 {
        let inner = if tick % 3 == 0 { 0.66 } else { 0.74 };
        shapes.push(ray("part", middle, f64::from(tick) * 10.0, (radius * inner, radius * 0.82), 0.6));
    }
    shapes.push(polygon(
        "part-solid",
        vec![
            Point::new(middle.x, middle.y - radius * 0.8),
            Point::new(middle.x - radius * 0.08, middle.y - radius * 0.94),
            Point::new(middle.x + radius * 0.08, middle.y - radius * 0.94),
        ],
    ));
    shapes.push(aeroplane(middle, radius * 0.5));
    shapes
}

/// A plain aeroplane seen from above: body, wing, tail.
fn aeroplane(middle: Point, size: f64) -> Shape {
    let at = |(x, y): (f64, f64)| Point::new(middle.x + x * size, middle.y + y * size);
    let right =
        [(0.08, -0.7), (0.1, -0.25), (0.85, -0.02), (0.85, 0.14), (0.1, 0.1), (0.07, 0.55), (0.34, 0.7), (0.34, 0.82)];
    let mut points: Vec<Point> = std::iter::once((0.0, -0.9)).chain(right).map(at).collect();
    points.extend(right.iter().rev().map(|(x, y)| at((-x, *y))));
    Shape { class: "part", weight: 0.9, form: Form::Polygon(points) }
}

fn turn(middle: Point, radius: f64) -> Vec<Shape> {
    let mut shapes = bezel(middle, radius);
    for degrees in [90.0, 110.0, 250.0, 270.0] {
        shapes.push(ray("part", middle, degrees, (radius * 0.72, radius * 0.86), 1.2));
    }
    let (x, y) = (middle.x, middle.y);
    shapes.push(line(
        "part",
        2.0,
        &[(x - radius * 0.66, y), (x - radius * 0.1, y), (x + radius * 0.1, y), (x + radius * 0.66, y)],
    ));
    shapes.push(line("part", 1.6, &[(x, y), (x, y - radius * 0.2)]));
    shapes.push(circle("part-solid", middle, radius * 0.09, 0.0));
    let tube = Rect::new(x - radius * 0.42, y + radius * 0.38, radius * 0.84, radius * 0.2);
    shapes.push(frame("face", tube, radius * 0.1));
    shapes.push(circle("part-solid", Point::new(x, y + radius * 0.48), radius * 0.085, 0.0));
    for side in [-1.0, 1.0] {
        let mark = x + side * radius * 0.13;
        shapes.push(line("part", 0.7, &[(mark, y + radius * 0.38), (mark, y + radius * 0.58)]));
    }
    shapes
}

fn window(rect: &Rect) -> Vec<Shape> {
    let inner = rect.inset(rect.width.min(rect.height) * 0.16);
    vec![frame("face", *rect, 2.0), frame("part-soft", inner, 1.0)]
}

fn radio(rect: &Rect) -> Vec<Shape> {
    let high = rect.height;
    let screen = Rect::new(rect.x + high * 0.5, rect.y + high * 0.2, rect.width * 0.52, high * 0.45);
    let knob = (high * 0.26).min(rect.width * 0.12);
    vec![
        frame("face", *rect, 2.0),
        frame("part-soft", screen, 1.0),
        circle("part", Point::new(rect.x + high * 0.26, rect.centre().y), (knob * 0.55).min(high * 0.2), 0.8),
        circle("part", Point::new(rect.right() - knob - high * 0.12, rect.centre().y), knob, 0.9),
        circle("part-soft", Point::new(rect.right() - knob - high * 0.12, rect.centre().y), knob * 0.55, 0.7),
    ]
}

fn toggle(rect: &Rect) -> Vec<Shape> {
    let middle = rect.centre();
    let radius = rect.width.min(rect.height) * 0.32;
    let top = rect.y + rect.height * 0.1;
    vec![
        frame("face", *rect, 2.0),
        circle("part", middle, radius, 0.8),
        line("part", 2.4, &[(middle.x, middle.y), (middle.x, top)]),
    ]
}

fn rocker(rect: &Rect) -> Vec<Shape> {
    let middle = rect.centre();
    let x = (rect.x, rect.right());
    let upper = rect.y + rect.height * 0.25;
    vec![
        frame("face", *rect, 2.0),
        line("part", 0.8, &[(x.0, middle.y), (x.1, middle.y)]),
        line("part", 1.2, &[(middle.x, upper - rect.height * 0.08), (middle.x, upper + rect.height * 0.08)]),
        circle("part", Point::new(middle.x, middle.y + rect.height * 0.25), rect.width * 0.12, 0.9),
    ]
}

fn key(middle: Point, radius: f64) -> Vec<Shape> {
    let slot = Rect::new(middle.x - radius * 0.1, middle.y - radius * 0.4, radius * 0.2, radius * 0.8);
    let mut shapes =
        vec![circle("face", middle, radius, 1.0), circle("part", middle, radius * 0.6, 0.8), frame("part", slot, 0.5)];
    shapes.extend([-60.0, -30.0, 0.0, 30.0, 60.0].map(|d| ray("part", middle, d, (radius * 0.72, radius * 0.92), 0.8)));
    shapes
}

fn lever(rect: &Rect) -> Vec<Shape> {
    let middle = rect.centre();
    let slot = Rect::new(middle.x - rect.width * 0.07, rect.y, rect.width * 0.14, rect.height);
    let grip = Rect::new(rect.x, rect.y + rect.height * 0.12, rect.width, (rect.height * 0.22).min(rect.width * 0.9));
    vec![frame("part-soft", slot, 1.0), frame("face", grip, 2.5)]
}

fn knob(middle: Point, radius: f64) -> Vec<Shape> {
    vec![
        circle("face", middle, radius, 1.0),
        circle("part-soft", middle, radius * 0.72, 0.6),
        ray("part", middle, -40.0, (radius * 0.25, radius * 0.95), 1.4),
    ]
}

fn cross(middle: Point, radius: f64) -> Shape {
    let r = radius * 0.78;
    line(
        "part",
        1.0,
        &[
            (middle.x - r, middle.y),
            (middle.x + r, middle.y),
            (middle.x, middle.y),
            (middle.x, middle.y - r),
            (middle.x, middle.y + r),
        ],
    )
}
