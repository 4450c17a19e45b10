//! Round faces with a scale: arcs, marks, numerals and needle from what the model says of the scale.

use super::face::{Look, bezel, circle, frame, polygon};
use crate::base::Quantity;
use crate::diagram::geometry::{Point, Rect};
use crate::diagram::lettering::{SIZE, width};
use crate::diagram::outline::on_circle;
use crate::diagram::scene::{Anchor, Form, Lettering, Mark, Shape};
use crate::model::{ArcMark, Scale, ScaleArc};

/// A scale begins here, degrees clockwise from the top.
pub(super) const BEGIN: f64 = -140.0;
/// And runs over so many degrees.
const SWEEP: f64 = 280.0;

/// From here on a scale is numbered in hundreds or thousands.
const HUNDREDS: f64 = 2000.0;

/// The marks of a dial.
pub(super) fn dial(scale: Option<&Scale>, middle: Point, radius: f64, look: Look) -> Vec<Mark> {
    let mut shapes = bezel(middle, radius);
    let Some(scale) = scale else {
        shapes.extend((0..=10).map(|n| tick(middle, radius, BEGIN + SWEEP * f64::from(n) / 10.0, n % 5 == 0)));
        return shapes.into_iter().map(Mark::Shape).collect();
    };
    shapes.extend(scale.arcs.iter().flat_map(|arc| arc_shapes(scale, arc, middle, radius)));
    let (step, letters) =
        if scale.unnumbered { (step(scale, 8.0), Vec::new()) } else { numbered(scale, middle, radius) };
    let parts = if look.lettered { 5 } else { 1 };
    shapes.extend(ticks(scale, step, parts).into_iter().map(|(degrees, long)| tick(middle, radius, degrees, long)));
    let stands = look.needle.and_then(|n| degrees_of(scale, n));
    shapes.extend(stands.into_iter().flat_map(|at| needle(middle, radius * 0.7, at)));
    let mut marks: Vec<Mark> = shapes.into_iter().map(Mark::Shape).collect();
    if look.lettered {
        marks.extend(letters.into_iter().flat_map(|words| over(words, (middle, radius), stands)));
    }
    marks
}

/// Lettering; where a needle runs under it, on a pale ground.
pub(super) fn over(words: Lettering, (middle, radius): (Point, f64), needle: Option<f64>) -> Vec<Mark> {
    let rect = words.rect();
    let touched = |degrees: f64| {
        (0..=20)
            .map(|n| on_circle(middle, radius * 0.7 * f64::from(n) / 20.0, degrees))
            .any(|p| rect.inset(-1.5).holds(p))
    };
    let ground = Shape { class: "veil", weight: 0.0, form: Form::Rect(rect.inset(-0.4), 1.0) };
    let ground = needle.filter(|d| touched(*d)).map(|_| Mark::Shape(ground));
    ground.into_iter().chain([Mark::Words(words)]).collect()
}

/// An altimeter: a turn of the long pointer is a thousand of its unit, one of the short pointer ten thousand; the window shows to
/// which pressure it is set.
pub(super) fn altimeter(scale: Option<&Scale>, middle: Point, radius: f64, look: Look) -> Vec<Mark> {
    let mut shapes = bezel(middle, radius);
    let parts = if look.lettered { 50 } else { 10 };
    shapes.extend((0..parts).map(|n| {
        let long = n * 10 % parts == 0;
        tick(middle, radius, 360.0 * f64::from(n) / f64::from(parts), long)
    }));
    let window = Rect::new(middle.x + radius * 0.2, middle.y - radius * 0.1, radius * 0.34, radius * 0.2);
    shapes.push(frame("glass", window, 0.7, 1.0));
    let turns = look.needle.map(|number| pointers(number));
    if let Some((hundreds, thousands)) = turns {
        shapes.extend(needle(middle, radius * 0.7, hundreds));
        shapes.push(short_pointer(middle, radius * 0.42, thousands));
    }
    let mut marks: Vec<Mark> = shapes.into_iter().map(Mark::Shape).collect();
    if look.lettered {
        let figure = |n: i32| letters(n.to_string(), on_circle(middle, radius * 0.56, 36.0 * f64::from(n)));
        let unit = scale.map_or(String::new(), |s| format!("100 {}", s.span.unit.symbol));
        // On the side from which both pointers point away.
        let up = |degrees: f64| libm::cos(degrees.to_radians());
        let side = if turns.is_some_and(|(long, short)| up(long) + up(short) > 0.0) { 0.26 } else { -0.24 };
        marks.push(Mark::Words(letters(unit, Point::new(middle.x, middle.y + radius * side))));
        marks.extend((0..10).map(figure).flat_map(|words| over(words, (middle, radius), turns.map(|t| t.0))));
    }
    marks
}

/// Degrees of the long and the short pointer of an altimeter.
pub(in crate::diagram) fn pointers(number: f64) -> (f64, f64) {
    (number.rem_euclid(1000.0) * 0.36, number.rem_euclid(10_000.0) * 0.036)
}

/// Short and broad, so that it is told from the long one.
fn short_pointer(middle: Point, length: f64, degrees: f64) -> Shape {
    let side = |turn: f64| on_circle(on_circle(middle, length * 0.62, degrees), length * 0.2, degrees + turn);
    polygon("part-solid", vec![on_circle(middle, length, degrees), side(90.0), middle, side(-90.0)])
}

/// The closest numerals that stand apart, and the step between them.
fn numbered(scale: &Scale, middle: Point, radius: f64) -> (f64, Vec<Lettering>) {
    let at = |most: f64| {
        let step = step(scale, most);
        (step, numerals(scale, step, middle, radius))
    };
    let apart = |(_, letters): &(f64, Vec<Lettering>)| {
        let rects: Vec<_> = letters.iter().map(|l| l.rect().inset(-1.0)).collect();
        rects.iter().enumerate().all(|(n, one)| rects.iter().skip(n + 1).all(|other| !one.overlaps(other)))
    };
    [8.0, 7.0, 6.0, 5.0, 4.0, 3.0, 2.0].into_iter().map(at).find(apart).unwrap_or((step(scale, 2.0), Vec::new()))
}

/// A stroke from one part of the radius to another.
pub(super) fn ray(class: &'static str, middle: Point, degrees: f64, radii: (f64, f64), weight: f64) -> Shape {
    let ends = vec![on_circle(middle, radii.0, degrees), on_circle(middle, radii.1, degrees)];
    Shape { class, weight, form: Form::Line(ends) }
}

fn tick(middle: Point, radius: f64, degrees: f64, long: bool) -> Shape {
    let inner = if long { 0.68 } else { 0.76 };
    ray("part", middle, degrees, (radius * inner, radius * 0.82), if long { 0.9 } else { 0.5 })
}

/// Degrees of a number on a scale.
pub(in crate::diagram) fn degrees_of(scale: &Scale, number: f64) -> Option<f64> {
    let span = scale.span.range().filter(|r| r.to > r.from)?;
    Some(BEGIN + SWEEP * ((number - span.from) / (span.to - span.from)).clamp(0.0, 1.0))
}

/// A number of a quantity in the unit of a scale.
pub(in crate::diagram) fn on_scale(scale: &Scale, of: &Quantity, number: f64) -> f64 {
    let unit = scale.span.unit;
    if of.unit.symbol == unit.symbol { number } else { unit.from_si(of.unit.to_si(number)) }
}

/// From one numeral to the next: 1, 2 or 5 with noughts, so that there are not more than so many.
fn step(scale: &Scale, most: f64) -> f64 {
    let span = scale.span.range().map_or(1.0, |r| r.to - r.from).max(1e-6);
    let ten = libm::pow(10.0, libm::floor(libm::log10(span / most)));
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|n| n * ten).find(|s| span / s <= most).unwrap_or(span)
}

/// Degrees of every mark, and whether it is one with a numeral.
fn ticks(scale: &Scale, step: f64, parts: i32) -> Vec<(f64, bool)> {
    let Some(span) = scale.span.range() else { return Vec::new() };
    let small = step / f64::from(parts);
    let (first, last) = (libm::ceil(span.from / small - 1e-9) as i32, libm::floor(span.to / small + 1e-9) as i32);
    let each = first..=last.min(first.saturating_add(200));
    each.filter_map(|n| degrees_of(scale, f64::from(n) * small).map(|d| (d, n % parts == 0))).collect()
}

/// Numerals inside the marks, and the unit; thousands are said with the unit.
fn numerals(scale: &Scale, step: f64, middle: Point, radius: f64) -> Vec<Lettering> {
    let Some(span) = scale.span.range() else { return Vec::new() };
    let large = span.to.abs().max(span.from.abs());
    let divide = if step >= 1000.0 {
        1000.0
    } else if large >= HUNDREDS && step >= 100.0 {
        100.0
    } else {
        1.0
    };
    let (first, last) = (libm::ceil(span.from / step - 1e-9) as i32, libm::floor(span.to / step + 1e-9) as i32);
    let mut marks = Vec::new();
    for n in first..=last.min(first.saturating_add(20)) {
        let value = f64::from(n) * step;
        let Some(degrees) = degrees_of(scale, value) else { continue };
        let words = format!("{}", value / divide);
        let out = radius * 0.66 - (width(&words, SIZE) / 2.0).max(4.0);
        let at = on_circle(middle, out, degrees);
        marks.push(letters(words, at));
    }
    let unit = scale.span.unit.symbol.replace("deg", "°");
    let unit = if divide > 1.0 { format!("×{divide} {unit}") } else { unit };
    let below = Point::new(middle.x, middle.y + radius * 0.74);
    if width(&unit, SIZE) <= radius * 1.1 {
        marks.push(letters(unit, below));
    }
    marks
}

fn letters(words: String, middle: Point) -> Lettering {
    Lettering::new(vec![words], Point::new(middle.x, middle.y + 2.9), Anchor::Middle)
}

/// An arc over a range; a stroke at a single value.
fn arc_shapes(scale: &Scale, marked: &ScaleArc, middle: Point, radius: f64) -> Vec<Shape> {
    let class = arc_class(marked.mark);
    let inner = radius * if marked.mark == ArcMark::White { 0.78 } else { 0.87 };
    let of_arc = |n: f64| degrees_of(scale, on_scale(scale, &marked.over, n));
    let Some(begin) = of_arc(marked.over.number) else { return Vec::new() };
    let end = marked.over.upper.and_then(of_arc).filter(|end| *end > begin);
    let Some(end) = end else {
        let edge = ray("arc-edge", middle, begin, (radius * 0.74, radius * 0.94), radius * 0.05 + 1.4);
        return vec![edge, ray(class, middle, begin, (radius * 0.75, radius * 0.93), radius * 0.05 + 0.6)];
    };
    let arc = |class: &'static str, weight: f64| Shape { class, weight, form: Form::Arc(middle, inner, begin, end) };
    // White is told by its dark edges, yellow by its bars: in grey and on a white face too.
    let edge = if marked.mark == ArcMark::White { 2.2 } else { 0.7 };
    let mut shapes = vec![arc("arc-edge", radius * 0.08 + edge), arc(class, radius * 0.08)];
    if marked.mark == ArcMark::Yellow {
        let count = ((end - begin) / 5.0).floor().clamp(1.0, 60.0) as i32;
        let bar = |n: i32| {
            let at = begin + (end - begin) * (f64::from(n) + 0.5) / f64::from(count);
            (on_circle(middle, inner - radius * 0.04, at), on_circle(middle, inner + radius * 0.04, at))
        };
        shapes.push(Shape { class: "part", weight: 0.7, form: Form::Strokes((0..count).map(bar).collect()) });
    }
    shapes
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
    let side = |turn: f64| on_circle(middle, length * 0.07, degrees + turn);
    let tip = on_circle(middle, length, degrees);
    let points = vec![tip, side(90.0), on_circle(middle, length * 0.22, degrees + 180.0), side(-90.0)];
    vec![polygon("part-solid", points), circle("part-solid", middle, length * 0.1, 0.0)]
}
