//! Where the ink of a mark goes: corners, bends and base lines, the same for every format.
//!
//! What is here is geometry alone; how thick and in what colour is for the format.

use super::geometry::{Point, Rect};
use super::lettering::{self, LEADING, SIZE};
use super::scene::{Anchor, Lettering, SceneMedium};

/// Radius of the bend of a feed, pt.
const BEND: f64 = 3.0;
/// Hundredths of a millimetre in points.
const HUNDREDTH_MM: f64 = 72.0 / 2540.0;
/// Length of the sample in the legend, pt.
const SAMPLE: f64 = 40.0;
/// Bold lettering is that much wider.
const BOLD: f64 = 1.04;
/// Radius of the dot where lines are joined, pt.
pub const DOT: f64 = 2.1;
/// Width of the line of a feed, pt.
pub const FEED: f64 = 1.4;
/// Width of the thread under a line with gaps, pt.
pub const THREAD: f64 = 0.4;

/// A step of a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    /// Begins here.
    Begin(Point),
    /// Straight to there.
    Line(Point),
    /// Round a corner (the first) to there, as a quadratic curve.
    Bend(Point, Point),
}

/// A path whose corners are rounded, but where lines are joined.
pub fn bent(points: &[Point], dots: &[Point]) -> Vec<Step> {
    let mut path = Vec::new();
    for (at, point) in points.iter().enumerate() {
        let (before, after) = (at.checked_sub(1).and_then(|b| points.get(b)), points.get(at + 1));
        match (before, after) {
            (None, _) => path.push(Step::Begin(*point)),
            (Some(before), Some(after)) if !dots.iter().any(|d| d.meets(*point)) => {
                path.push(Step::Line(toward(*point, *before)));
                path.push(Step::Bend(*point, toward(*point, *after)));
            }
            _ => path.push(Step::Line(*point)),
        }
    }
    path
}

/// A point a bend's radius away, or half the way if that is nearer.
fn toward(from: Point, to: Point) -> Point {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let length = libm::hypot(dx, dy);
    let part = if length > 0.0 { (BEND / length).min(0.5) } else { 0.0 };
    Point::new(from.x + dx * part, from.y + dy * part)
}

/// The line of a feed: where it wears a wedge, it ends inside that.
pub fn feed_line(points: &[Point], wedge: bool) -> Vec<Point> {
    let mut line = points.to_vec();
    if let (true, Some(last)) = (wedge, line.last_mut()) {
        last.x -= 3.0;
    }
    line
}

/// The corners of the wedge whose tip is there.
pub fn wedge(tip: Point) -> [Point; 3] {
    [tip, Point::new(tip.x - 5.5, tip.y - 2.8), Point::new(tip.x - 5.5, tip.y + 2.8)]
}

/// Ink and gap of a medium's line in turn, pt.
pub fn dashes(medium: &SceneMedium) -> Vec<f64> {
    medium.dashes.iter().map(|n| f64::from(*n) * HUNDREDTH_MM).collect()
}

/// The tag of a medium on its line, and the paper under it.
pub fn tag(medium: &SceneMedium, at: Point) -> (Rect, Lettering) {
    let wide = lettering::width(&medium.tag, 8.0);
    let under = Rect::new(at.x - wide / 2.0 - 1.2, at.y - 4.0, wide + 2.4, 8.0);
    (under, Lettering::new(vec![medium.tag.clone()], Point::new(at.x, at.y + 2.9), Anchor::Middle))
}

/// What a medium has in the legend: its sample, its tag, its name.
pub fn key(medium: &SceneMedium, at: Point) -> ([Point; 2], Lettering, Lettering) {
    let line = [Point::new(at.x, at.y - 3.0), Point::new(at.x + SAMPLE, at.y - 3.0)];
    let tag = Lettering::new(vec![medium.tag.clone()], Point::new(at.x + SAMPLE + 5.0, at.y), Anchor::Start);
    let name = Lettering::new(vec![medium.name.clone()], Point::new(at.x + SAMPLE + 21.0, at.y), Anchor::Start);
    (line, tag, name)
}

/// The corners of a bracket.
pub fn bracket(x: f64, (top, bottom): (f64, f64)) -> [Point; 4] {
    [Point::new(x + 2.5, top), Point::new(x, top), Point::new(x, bottom), Point::new(x + 2.5, bottom)]
}

/// The paper under the word of a bracket.
pub fn bracket_paper(word: &Lettering) -> Rect {
    word.rect().inset(-0.8)
}

/// A pennant: its pole is the left edge, and it flies at the upper end.
pub fn flag(rect: &Rect, words: &Lettering) -> [Point; 6] {
    let bottom = words.rect().bottom().max(rect.y + 6.0) + 1.0;
    let bottom = bottom.min(rect.bottom().max(bottom));
    [
        Point::new(rect.x, rect.bottom()),
        Point::new(rect.x, rect.y),
        Point::new(rect.right(), rect.y),
        Point::new(rect.right() - 2.5, rect.y.midpoint(bottom)),
        Point::new(rect.right(), bottom),
        Point::new(rect.x, bottom),
    ]
}

/// A frame with a point at its right side: what gives stands left, what takes stands right.
pub fn port(rect: &Rect) -> [Point; 5] {
    let tip = rect.right() - 6.0;
    [
        Point::new(rect.x, rect.y),
        Point::new(tip, rect.y),
        Point::new(rect.right(), rect.centre().y),
        Point::new(tip, rect.bottom()),
        Point::new(rect.x, rect.bottom()),
    ]
}

/// How far the edge of a callout is from its middle, pt.
pub fn call_radius(number: usize) -> f64 {
    if number > 99 { 8.0 } else { 6.6 }
}

/// The number in a callout.
pub fn call_number(at: Point, number: usize) -> Lettering {
    Lettering::new(vec![number.to_string()], Point::new(at.x, at.y + 2.9), Anchor::Middle)
}

/// A point on a circle, clockwise from the top.
pub fn on_circle(middle: Point, radius: f64, degrees: f64) -> Point {
    let angle = degrees.to_radians();
    Point::new(middle.x + radius * libm::sin(angle), middle.y - radius * libm::cos(angle))
}

/// One line of lettering.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line<'w> {
    /// What it says; never nothing.
    pub text: &'w str,
    /// Where the anchor lies on the base line.
    pub at: Point,
    /// The width that it takes, pt.
    pub length: f64,
}

/// The lines of lettering, each with its place and width.
pub fn lines(words: &Lettering, bold: bool) -> impl Iterator<Item = Line<'_>> {
    let leading = LEADING * words.size / SIZE;
    let wide = if bold { BOLD } else { 1.0 };
    words.lines.iter().enumerate().filter(|(_, text)| !text.is_empty()).map(move |(at, text)| Line {
        text,
        at: Point::new(words.at.x, words.at.y + at as f64 * leading),
        length: lettering::width(text, words.size) * wide,
    })
}
