//! The marks of a drawing as they are seen: lines, frames, signs and lettering, each by its shape and place alone.

use crate::audit::page::figure::{number, numbers, pairs};
use crate::audit::page::{has_class, lines};
use scraper::ElementRef;
use scraper::node::Element;
use std::collections::BTreeSet;

/// A place on a drawing, pt.
pub(super) type Spot = (f64, f64);

/// An upright rectangle.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Frame {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

/// Lines of lettering that stand one below the other.
#[derive(Debug, Clone, Default)]
pub(super) struct Block {
    /// Where its first line is anchored.
    pub(super) at: Spot,
    pub(super) frame: Frame,
    pub(super) lines: Vec<String>,
    pub(super) middle: bool,
    pub(super) bold: bool,
    pub(super) small: bool,
    /// It is the tag of a medium.
    pub(super) tag: bool,
}

/// All marks of one drawing.
#[derive(Debug, Default)]
pub(in crate::audit) struct Ink {
    /// Corners of each feed.
    pub(super) strokes: Vec<Vec<Spot>>,
    pub(super) wedges: Vec<Vec<Spot>>,
    pub(super) dots: Vec<Spot>,
    pub(super) boxes: Vec<Frame>,
    pub(super) bars: Vec<Frame>,
    pub(super) ports: Vec<Frame>,
    pub(super) flags: Vec<Vec<Spot>>,
    pub(super) brackets: Vec<Vec<Spot>>,
    /// Pieces of symbols of devices.
    pub(super) signs: Vec<Frame>,
    /// Lines from a flag that stands on no feed.
    pub(super) stubs: Vec<Vec<Spot>>,
    pub(super) blocks: Vec<Block>,
    /// The words that a page reader is told instead.
    pub(super) spoken: Vec<String>,
    /// What is no mark of a drawing, or lies outside of it.
    pub(super) odd: Vec<String>,
    /// Thin threads under lines that have gaps.
    pub(super) threads: Vec<Vec<Spot>>,
    pub(super) view: Frame,
}

/// What a mark may be given by; anything else could hide or move it.
const KNOWN: &[&str] = &[
    "class",
    "stroke-width",
    "stroke-dasharray",
    "d",
    "points",
    "x",
    "y",
    "width",
    "height",
    "rx",
    "cx",
    "cy",
    "r",
    "font-size",
    "font-weight",
    "textLength",
    "textlength",
    "lengthAdjust",
    "lengthadjust",
    "text-anchor",
];
/// From one line of lettering to the next.
const LEADING: f64 = 9.5;

impl Frame {
    /// What encloses these points.
    pub(super) fn around(points: &[Spot]) -> Self {
        let start = Self { left: f64::MAX, top: f64::MAX, right: f64::MIN, bottom: f64::MIN };
        points.iter().fold(start, |f, p| f.with(&Self { left: p.0, top: p.1, right: p.0, bottom: p.1 }))
    }

    /// What encloses both.
    pub(super) fn with(&self, other: &Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// Whether a point is inside or nearly so.
    pub(super) fn holds(&self, (x, y): Spot, slack: f64) -> bool {
        x >= self.left - slack && x <= self.right + slack && y >= self.top - slack && y <= self.bottom + slack
    }

    pub(super) fn centre(&self) -> Spot {
        (self.left.midpoint(self.right), self.top.midpoint(self.bottom))
    }

    /// The space between two frames; nothing where they touch.
    pub(super) fn gap(&self, other: &Self) -> f64 {
        let across = (other.left - self.right).max(self.left - other.right).max(0.0);
        let down = (other.top - self.bottom).max(self.top - other.bottom).max(0.0);
        across.max(down)
    }
}

impl Block {
    /// Its words.
    pub(super) fn words(&self) -> String {
        self.lines.join(" ")
    }
}

impl Ink {
    /// Reads the marks of a figure.
    pub(in crate::audit) fn read(figure: ElementRef<'_>) -> Self {
        let mut ink = Self::default();
        let mut lettering = false;
        for inner in figure.descendent_elements() {
            let element = inner.value();
            match element.name() {
                "svg" => ink.begin(element),
                "desc" => ink.note_spoken(inner),
                "text" => ink.note_text(inner, lettering),
                "path" | "polygon" | "polyline" | "rect" | "circle" => ink.note_mark(element),
                "g" | "use" | "line" | "ellipse" | "tspan" | "mask" | "clippath" | "clipPath" | "filter" => {
                    ink.odd.push(format!("<{}>", element.name()));
                }
                _ => {}
            }
            lettering = element.name() == "text";
        }
        ink.check_threads();
        ink
    }

    /// A thread has its line over it.
    fn check_threads(&mut self) {
        let key = |points: &Vec<Spot>| points.iter().map(|p| (p.0.to_bits(), p.1.to_bits())).collect::<Vec<_>>();
        let lines: BTreeSet<Vec<(u64, u64)>> = self.strokes.iter().map(key).collect();
        let alone = self.threads.iter().filter(|thread| !lines.contains(&key(thread))).count();
        self.odd.extend((0..alone).map(|_| "a thread without a line over it".to_owned()));
    }

    /// Whether nothing of a drawing of connections is in it.
    pub(super) fn is_empty(&self) -> bool {
        self.strokes.is_empty() && self.boxes.is_empty()
    }

    /// What a page reader is told, a line a connection.
    pub(super) fn spoken(&self) -> &[String] {
        &self.spoken
    }

    fn begin(&mut self, svg: &Element) {
        if let [x, y, wide, high] = numbers(svg.attr("viewBox").or(svg.attr("viewbox")).unwrap_or_default())[..] {
            self.view = Frame { left: x, top: y, right: x + wide, bottom: y + high };
        }
    }

    fn note_spoken(&mut self, desc: ElementRef<'_>) {
        let text: String = desc.text().collect();
        self.spoken.extend(text.lines().skip(1).map(|l| l.trim_end_matches('.').to_owned()));
    }

    fn note_mark(&mut self, element: &Element) {
        let points = outline(element);
        let frame = Frame::around(&points);
        let class = |name: &str| has_class(element, name);
        let seen = points.iter().all(|p| self.view.holds(*p, 1.0));
        if points.is_empty() || !seen || element.attrs().any(|(key, _)| !KNOWN.contains(&key)) {
            let what = element.attr("class").unwrap_or_default();
            return self.odd.push(format!("<{} class=\"{what}\">", element.name()));
        }
        match element.name() {
            "path" if class("feed") && number(element, "stroke-width") < 1.0 => self.threads.push(points),
            "path" if class("feed") => self.strokes.push(points),
            "polygon" if class("wedge") => self.wedges.push(points),
            "circle" if class("dot") => self.dots.push(frame.centre()),
            "rect" if class("box") => self.boxes.push(frame),
            "rect" if class("bar") => self.bars.push(frame),
            "polygon" if class("port") => self.ports.push(frame),
            "polyline" if class("flag") => self.flags.push(points),
            "polyline" if class("bracket") => self.brackets.push(points),
            "polyline" if class("part") => self.stubs.push(points),
            "rect" if class("under") && frame.bottom - frame.top < 12.0 && frame.right - frame.left < 60.0 => {}
            _ if class("sign") || class("sign-face") => self.signs.push(frame),
            _ => self.odd.push(format!("<{} class=\"{}\">", element.name(), element.attr("class").unwrap_or_default())),
        }
    }

    fn note_text(&mut self, text: ElementRef<'_>, follows: bool) {
        let element = text.value();
        let get = |key: &str| number(element, key);
        let at = (get("x"), get("y"));
        let size = get("font-size");
        let wide =
            element.attr("textLength").or(element.attr("textlength")).and_then(|w| w.parse().ok()).unwrap_or(0.0);
        let middle = element.attr("text-anchor") == Some("middle");
        let left = if middle { at.0 - wide / 2.0 } else { at.0 };
        let frame = Frame { left, top: at.1 - size * 0.74, right: left + wide, bottom: at.1 + size * 0.22 };
        let words = lines(text).join(" ");
        if size < 4.0 || !self.view.holds(frame.centre(), 0.0) || element.attrs().any(|(key, _)| !KNOWN.contains(&key))
        {
            return self.odd.push(format!("the words “{words}”"));
        }
        let new = Block {
            at,
            frame,
            lines: vec![words],
            middle,
            bold: element.attr("font-weight").is_some(),
            small: has_class(element, "small"),
            tag: has_class(element, "tag"),
        };
        match self.blocks.last_mut() {
            Some(last) if follows && last.goes_on_with(&new) => {
                last.frame = last.frame.with(&new.frame);
                last.lines.extend(new.lines);
            }
            _ => self.blocks.push(new),
        }
    }
}

impl Block {
    fn goes_on_with(&self, next: &Self) -> bool {
        let below = self.at.1 + LEADING * self.lines.len() as f64;
        let alike = self.middle == next.middle && self.bold == next.bold && self.small == next.small;
        alike && !next.tag && (self.at.0 - next.at.0).abs() < 0.05 && (below - next.at.1).abs() < 0.1
    }
}

/// Corners of a shape; of a line with round bends those that it would have without.
fn outline(element: &Element) -> Vec<Spot> {
    let get = |key: &str| number(element, key);
    match element.name() {
        "circle" => {
            let (x, y, r) = (get("cx"), get("cy"), get("r"));
            vec![(x - r, y - r), (x + r, y + r)]
        }
        "rect" => vec![(get("x"), get("y")), (get("x") + get("width"), get("y") + get("height"))],
        "path" => corners(element.attr("d").unwrap_or_default()),
        _ => pairs(element.attr("points").unwrap_or_default()),
    }
}

/// `M1,2L3,4Q5,4 5,6L5,9` has the corners 1,2 and 5,4 and 5,9; nothing where it has any other kind of piece.
fn corners(path: &str) -> Vec<Spot> {
    let mut points: Vec<Spot> = Vec::new();
    let mut last = None;
    let kinds = path.chars().filter(char::is_ascii_alphabetic);
    for (kind, piece) in kinds.zip(path.split(|c: char| c.is_ascii_alphabetic()).skip(1)) {
        match (kind, pairs(piece).as_slice()) {
            ('M' | 'L', [point]) => {
                points.push(*point);
                last = None;
            }
            ('Q', [corner, end]) => {
                if points.len() > 1 {
                    points.pop();
                }
                points.push(*corner);
                last = Some(*end);
            }
            _ => return Vec::new(),
        }
    }
    points.extend(last);
    points
}
