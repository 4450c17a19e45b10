//! Faces: plain forms of our own, true in size and in what the scale says.

use super::dial::{altimeter, dial, ray};
use super::radio_dial::{bearing, course};
use crate::diagram::geometry::{Point, Rect};
use crate::diagram::lettering::{SIZE, width};
use crate::diagram::outline::on_circle;
use crate::diagram::scene::{Anchor, Form, Lettering, Mark, Shape};
use crate::model::{Face, Item, PanelPlace};

/// How one face is drawn.
#[derive(Debug, Clone, Copy)]
pub(super) struct Look {
    /// Where its needle stands, on its scale.
    pub(super) needle: Option<f64>,
    /// Which of how many positions its control is in.
    pub(super) position: Option<(usize, usize)>,
    /// With lettering: numerals, ratings, what is engraved on it.
    pub(super) lettered: bool,
}

/// The marks of one face inside its frame.
pub(super) fn draw(item: &Item, place: &PanelPlace, rect: &Rect, look: Look) -> Vec<Mark> {
    let (middle, radius) = (rect.centre(), rect.width.min(rect.height) / 2.0);
    let mut marks = match place.face {
        Face::Dial => return dial(item.scale.as_ref(), middle, radius, look),
        Face::Altimeter => return altimeter(item.scale.as_ref(), middle, radius, look),
        Face::PushPull => shapes(push_pull(middle, radius)),
        Face::Horizon => shapes(horizon(middle, radius)),
        Face::Card => return with_rose(shapes(card(middle, radius)), middle, radius * 0.54, look),
        Face::Course => shapes(course(middle, radius)),
        Face::Bearing => return with_rose(shapes(bearing(middle, radius)), middle, radius * 0.56, look),
        Face::Turn => shapes(turn(middle, radius)),
        Face::Window => shapes(window(rect)),
        Face::Radio => shapes(radio(rect)),
        Face::Lamp => shapes(lamp(middle, radius)),
        Face::Toggle => shapes(toggle(rect, along(look, 1.0, -1.0))),
        Face::Rocker => shapes(rocker(rect, along(look, 1.0, -1.0), is_on_off(item))),
        Face::Key => shapes(key(middle, radius, look)),
        Face::Lever => shapes(lever(rect, along(look, -1.0, 1.0))),
        Face::Knob => shapes(knob(middle, radius, pointing(look))),
        Face::Button => shapes(button(middle, radius)),
        Face::Socket => shapes(socket(middle, radius)),
        Face::Breaker => shapes(breaker(middle, radius)),
        Face::Wheel => shapes(wheel(rect)),
    };
    if look.lettered {
        marks.extend(rating(item, place, rect));
    }
    marks
}

/// A thin outline of a face, for panels that are too small for more.
pub(in crate::diagram) fn outline(place: &PanelPlace, rect: &Rect) -> Vec<Shape> {
    let (middle, radius) = (rect.centre(), rect.width.min(rect.height) / 2.0);
    let mut shapes = vec![body(place.face, rect)];
    match place.face {
        Face::Horizon => {
            let half = (0..=9).map(|n| on_circle(middle, radius * 0.8, 90.0 + f64::from(n) * 20.0)).collect();
            shapes.push(polygon("ground", half));
        }
        Face::Card | Face::Bearing => shapes.push(circle("part-soft", middle, radius * 0.66, 0.4)),
        Face::Course => shapes.push(line(
            "part-soft",
            0.8,
            &[(middle.x, middle.y - radius * 0.6), (middle.x, middle.y + radius * 0.6)],
        )),
        Face::Turn => shapes.push(line(
            "part-soft",
            0.8,
            &[(middle.x - radius * 0.6, middle.y), (middle.x + radius * 0.6, middle.y)],
        )),
        Face::PushPull => shapes.push(circle("ground", middle, radius * 0.5, 0.0)),
        Face::Radio => shapes.push(frame("glass", screen(rect), 0.4, 0.5)),
        Face::Window => shapes.push(frame("glass", rect.inset(rect.width.min(rect.height) * 0.16), 0.4, 0.5)),
        Face::Rocker => shapes.push(line("part-soft", 0.4, &[(rect.x, middle.y), (rect.right(), middle.y)])),
        _ => {}
    }
    shapes
}

/// The outline that the whole face fills.
fn body(face: Face, rect: &Rect) -> Shape {
    if is_round(face) {
        return circle("face", rect.centre(), rect.width.min(rect.height) / 2.0, 0.6);
    }
    frame("face", *rect, 0.6, 1.0)
}

/// True for a face that is a disc.
pub(super) fn is_round(face: Face) -> bool {
    use Face::{
        Altimeter, Bearing, Breaker, Button, Card, Course, Dial, Horizon, Key, Knob, Lamp, PushPull, Socket, Turn,
    };
    matches!(
        face,
        Altimeter
            | PushPull
            | Dial
            | Horizon
            | Card
            | Course
            | Bearing
            | Turn
            | Knob
            | Button
            | Socket
            | Key
            | Lamp
            | Breaker
    )
}

/// A place between two, as far along as the position of the control.
fn along(look: Look, first: f64, last: f64) -> f64 {
    let Some((at, of)) = look.position.filter(|(_, of)| *of > 1) else { return first };
    first + (last - first) * at as f64 / (of - 1) as f64
}

/// Degrees of a knob: at one of the names around it.
fn pointing(look: Look) -> f64 {
    match look.position {
        Some((at, of)) => turned(at, of),
        None => 0.0,
    }
}

fn shapes(all: Vec<Shape>) -> Vec<Mark> {
    all.into_iter().map(Mark::Shape).collect()
}

pub(super) fn circle(class: &'static str, at: Point, radius: f64, weight: f64) -> Shape {
    Shape { class, weight, form: Form::Circle(at, radius) }
}

pub(super) fn line(class: &'static str, weight: f64, points: &[(f64, f64)]) -> Shape {
    Shape { class, weight, form: Form::Line(points.iter().map(|(x, y)| Point::new(*x, *y)).collect()) }
}

pub(super) fn polygon(class: &'static str, points: Vec<Point>) -> Shape {
    Shape { class, weight: 0.8, form: Form::Polygon(points) }
}

pub(super) fn frame(class: &'static str, rect: Rect, weight: f64, round: f64) -> Shape {
    Shape { class, weight, form: Form::Rect(rect, round) }
}

pub(super) fn bezel(middle: Point, radius: f64) -> Vec<Shape> {
    vec![circle("face", middle, radius, 1.2), circle("part-soft", middle, radius * 0.94, 0.5)]
}

/// What a breaker is rated, on its button, where there is room.
fn rating(item: &Item, place: &PanelPlace, rect: &Rect) -> Option<Mark> {
    let rating = item.rating.as_ref().filter(|_| place.face == Face::Breaker)?;
    let words = format!("{}", rating.number);
    let room = rect.width.min(rect.height) * 0.62;
    let middle = rect.centre();
    let at = Point::new(middle.x, middle.y + 2.9);
    (width(&words, SIZE) <= room).then(|| Mark::Words(Lettering::new(vec![words], at, Anchor::Middle)))
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
        let bar =
            [(x + side * radius * 0.56, y), (x + side * radius * 0.2, y), (x + side * radius * 0.2, y + radius * 0.09)];
        line("part", 2.0, &bar)
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
    let mark = [(0.0, -0.8), (-0.08, -0.94), (0.08, -0.94)];
    let mark = mark.iter().map(|(x, y)| Point::new(middle.x + x * radius, middle.y + y * radius)).collect();
    shapes.push(polygon("part-solid", mark));
    shapes.push(aeroplane(middle, radius * 0.36));
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
    let wing = [(x - radius * 0.66, y), (x - radius * 0.1, y), (x + radius * 0.1, y), (x + radius * 0.66, y)];
    shapes.push(line("part", 2.0, &wing));
    shapes.push(line("part", 1.6, &[(x, y), (x, y - radius * 0.2)]));
    shapes.push(circle("part-solid", middle, radius * 0.09, 0.0));
    let tube = Rect::new(x - radius * 0.42, y + radius * 0.38, radius * 0.84, radius * 0.2);
    shapes.push(frame("face", tube, 1.0, radius * 0.1));
    shapes.push(circle("part-solid", Point::new(x, y + radius * 0.48), radius * 0.085, 0.0));
    for side in [-1.0, 1.0] {
        let mark = x + side * radius * 0.13;
        shapes.push(line("part", 0.7, &[(mark, y + radius * 0.38), (mark, y + radius * 0.58)]));
    }
    shapes
}

/// A cap in a ring.
fn button(middle: Point, radius: f64) -> Vec<Shape> {
    vec![circle("face", middle, radius, 1.0), Shape { weight: 0.9, ..circle("ground", middle, radius * 0.66, 0.9) }]
}

/// A round socket with its contact in the middle.
fn socket(middle: Point, radius: f64) -> Vec<Shape> {
    vec![
        circle("face", middle, radius, 1.0),
        circle("part", middle, radius * 0.72, 0.8),
        circle("part-solid", middle, radius * 0.16, 0.0),
    ]
}

fn window(rect: &Rect) -> Vec<Shape> {
    let inner = rect.inset((rect.width.min(rect.height) * 0.14).min(7.0));
    vec![frame("face", *rect, 1.0, 2.0), frame("glass", inner, 0.7, 1.0)]
}

/// Where a radio shows what it is set to: right of a blank end, left of its knob.
fn screen(rect: &Rect) -> Rect {
    let (high, knob) = (rect.height, knob_of(rect));
    let left = (high * 0.42).clamp(rect.width * 0.08, rect.width * 0.24);
    Rect::new(rect.x + left, rect.y + high * 0.18, rect.width - left - knob * 2.0 - high * 0.24, high * 0.64)
}

fn knob_of(rect: &Rect) -> f64 {
    (rect.height * 0.27).min(rect.width * 0.11)
}

fn radio(rect: &Rect) -> Vec<Shape> {
    let knob = knob_of(rect);
    let at = Point::new(rect.right() - knob - rect.height * 0.12, rect.centre().y);
    vec![
        frame("face", *rect, 1.0, 2.0),
        frame("glass", screen(rect), 0.7, 1.0),
        circle("part", at, knob, 0.9),
        circle("part-soft", at, knob * 0.55, 0.7),
    ]
}

/// Where lettering and number find room on a face: the glass, and the blank end beside it.
pub(super) fn rooms(face: Face, rect: &Rect) -> Option<(Rect, Rect)> {
    match face {
        Face::Radio => {
            let glass = screen(rect);
            Some((glass, Rect::new(rect.x, rect.y, glass.x - rect.x, rect.height)))
        }
        Face::Window => {
            let glass = rect.inset((rect.width.min(rect.height) * 0.14).min(7.0));
            Some((glass, Rect::new(glass.x, glass.y, 17.0, 17.0)))
        }
        _ => None,
    }
}

/// `at` is 1 for the lower end and -1 for the upper.
fn toggle(rect: &Rect, at: f64) -> Vec<Shape> {
    let middle = rect.centre();
    let radius = rect.width.min(rect.height) * 0.32;
    let tip = Point::new(middle.x, middle.y + at * rect.height * 0.4);
    let bat = line("part", 2.4, &[(middle.x, middle.y), (tip.x, tip.y)]);
    vec![frame("face", *rect, 1.0, 2.0), circle("part", middle, radius, 0.8), bat, circle("part-solid", tip, 1.9, 0.0)]
}

/// The pressed half is shaded and wears a dot at its end; in the middle neither is. Bar and ring stand for on and off, and for
/// nothing else.
fn rocker(rect: &Rect, at: f64, on_off: bool) -> Vec<Shape> {
    let middle = rect.centre();
    let mut shapes = vec![frame("face", *rect, 1.0, 2.0)];
    if at.abs() > 0.5 {
        let top = if at < 0.0 { rect.y } else { middle.y };
        let half = Rect::new(rect.x, top, rect.width, rect.height / 2.0).inset(1.6);
        shapes.push(frame("ground", half, 0.0, 1.0));
        let dot = (rect.width * 0.11).max(1.1);
        let y = if at < 0.0 { rect.y + dot * 1.9 } else { rect.bottom() - dot * 1.9 };
        shapes.push(circle("part-solid", Point::new(middle.x, y), dot, 0.0));
    }
    shapes.push(line("part", 0.8, &[(rect.x, middle.y), (rect.right(), middle.y)]));
    if on_off {
        let upper = rect.y + rect.height * 0.3;
        shapes.push(line(
            "part",
            1.2,
            &[(middle.x, upper - rect.height * 0.08), (middle.x, upper + rect.height * 0.08)],
        ));
        shapes.push(circle("part", Point::new(middle.x, middle.y + rect.height * 0.2), rect.width * 0.12, 0.9));
    }
    shapes
}

/// A control with nothing but off and on.
pub(super) fn is_on_off(item: &Item) -> bool {
    let names = item.control.as_ref().map(|c| c.positions.iter().map(|p| p.as_str()).collect::<Vec<_>>());
    names.is_none_or(|names| names == ["off", "on"])
}

/// A lens with the cross that stands for a lamp.
fn lamp(middle: Point, radius: f64) -> Vec<Shape> {
    let arm = |degrees: f64| ray("part-soft", middle, degrees, (-radius * 0.62, radius * 0.62), 0.7);
    vec![circle("face", middle, radius, 1.0), circle("part-soft", middle, radius * 0.62, 0.7), arm(45.0), arm(135.0)]
}

/// Flange and collar on the panel, a shaft that comes out to the reader, and the knob at its end. Where it stands, words say.
fn push_pull(middle: Point, radius: f64) -> Vec<Shape> {
    let at = |off: f64| Point::new(middle.x + off * radius, middle.y + off * radius);
    let (collar, knob) = (at(-0.34), at(0.24));
    let shaft = |class: &'static str, weight: f64| line(class, weight, &[(collar.x, collar.y), (knob.x, knob.y)]);
    vec![
        circle("face", middle, radius, 0.6),
        circle("part-soft", collar, radius * 0.4, 0.8),
        circle("part", collar, radius * 0.27, 0.8),
        shaft("part", radius * 0.26),
        circle("ground", knob, radius * 0.54, 0.0),
        circle("part", knob, radius * 0.54, 1.0),
        circle("part-soft", knob, radius * 0.4, 0.6),
    ]
}

/// Figures of a compass rose: tens of degrees, and letters for the quarters.
fn with_rose(mut marks: Vec<Mark>, middle: Point, out: f64, look: Look) -> Vec<Mark> {
    const NAMES: [&str; 12] = ["N", "3", "6", "E", "12", "15", "S", "21", "24", "W", "30", "33"];
    if !look.lettered {
        return marks;
    }
    let step = if out > 22.0 { 1 } else { 3 };
    for (n, name) in NAMES.iter().enumerate().step_by(step) {
        let at = on_circle(middle, out, 30.0 * n as f64);
        let words = Lettering::new(vec![(*name).to_owned()], Point::new(at.x, at.y + 2.9), Anchor::Middle);
        marks.push(Mark::Shape(frame("veil", words.rect(), 0.0, 1.0)));
        marks.push(Mark::Words(words));
    }
    marks
}

/// Degrees of each of so many positions around a key or a selector.
pub(super) fn turned(at: usize, of: usize) -> f64 {
    if of < 2 { 0.0 } else { -72.0 + 144.0 * at as f64 / (of - 1) as f64 }
}

fn key(middle: Point, radius: f64, look: Look) -> Vec<Shape> {
    let (at, of) = look.position.unwrap_or((0, 5));
    let stands = turned(at, of);
    let slot = [on_circle(middle, radius * 0.46, stands), on_circle(middle, radius * 0.46, stands + 180.0)];
    let mut shapes = vec![circle("face", middle, radius, 1.0), circle("part", middle, radius * 0.6, 0.8)];
    shapes.push(Shape { class: "part", weight: radius * 0.14, form: Form::Line(slot.to_vec()) });
    shapes.extend((0..of).map(|n| ray("part", middle, turned(n, of), (radius * 0.72, radius * 0.94), 0.9)));
    shapes
}

/// `at` is -1 for the first position, at the top, and 1 for the last.
fn lever(rect: &Rect, at: f64) -> Vec<Shape> {
    let middle = rect.centre();
    let slot = Rect::new(middle.x - rect.width * 0.07, rect.y, rect.width * 0.14, rect.height);
    let high = (rect.height * 0.22).min(rect.width * 0.9);
    let y = middle.y + at * (rect.height - high) * 0.42 - high / 2.0;
    vec![frame("part-soft", slot, 1.0, 1.0), frame("face", Rect::new(rect.x, y, rect.width, high), 1.0, 2.5)]
}

fn knob(middle: Point, radius: f64, degrees: f64) -> Vec<Shape> {
    vec![
        circle("face", middle, radius, 1.0),
        circle("part-soft", middle, radius * 0.72, 0.6),
        ray("part", middle, degrees, (radius * 0.25, radius * 0.95), 1.6),
    ]
}

fn breaker(middle: Point, radius: f64) -> Vec<Shape> {
    // The flats of the nut around the button.
    let flat = |n: u32| ray("part", middle, f64::from(n) * 60.0 + 30.0, (radius * 0.78, radius), 0.7);
    let mut shapes = vec![circle("face", middle, radius, 1.0), circle("part-soft", middle, radius * 0.78, 0.7)];
    shapes.extend((0..6).map(flat));
    shapes
}

/// A wheel that stands edge on, with its ribs.
fn wheel(rect: &Rect) -> Vec<Shape> {
    let rib = |n: u32| {
        let y = rect.y + rect.height * f64::from(n) / 12.0;
        (Point::new(rect.x + 2.0, y), Point::new(rect.right() - 2.0, y))
    };
    let ribs = Shape { class: "part-soft", weight: 0.7, form: Form::Strokes((1..12).map(rib).collect()) };
    vec![frame("face", *rect, 1.2, rect.width * 0.3), ribs]
}
