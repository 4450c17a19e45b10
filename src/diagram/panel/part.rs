//! One enlarged part of the panel: faces, what is engraved, positions around keys and selectors, and numbers beside or on leaders.

use super::Faces;
use super::cut::enclosing;
use super::face::{self, is_round};
use super::room::{Blob, Room};
use crate::diagram::WIDEST;
use crate::diagram::geometry::{Point, Rect};
use crate::diagram::lettering::{LEADING, SIZE, width, wrap};
use crate::diagram::outline::{call_radius, on_circle};
use crate::diagram::scene::{Anchor, Form, Lettering, Mark, Shape};
use crate::model::{Face, Item, Kind};

/// Space around the faces of a part, pt.
const MARGIN: f64 = 22.0;
/// Enlargements that are tried, pt a millimetre, and the least of all.
const ENLARGED: [f64; 4] = [1.25, 1.45, 1.7, 2.1];
const LEAST: f64 = 1.05;
/// The highest part, pt.
const HIGHEST: f64 = 400.0;
/// The longest engraving, characters.
const LONGEST: usize = 24;
/// Directions in which a number may stand, degrees; the upper left first.
const WAYS: [f64; 16] =
    [315.0, 45.0, 0.0, 270.0, 90.0, 225.0, 135.0, 180.0, 337.5, 22.5, 292.5, 67.5, 247.5, 112.5, 202.5, 157.5];
/// How far out, pt: touching first.
const OUT: [f64; 9] = [0.6, 4.0, 8.0, 12.0, 16.0, 21.0, 27.0, 34.0, 42.0];

/// A part that was laid out.
#[derive(Debug, Clone, Default)]
pub(super) struct Part {
    /// Numbers of its things, in walking order from nothing.
    pub(super) of: Vec<usize>,
    /// Its marks, from its own upper left corner.
    pub(super) marks: Vec<Mark>,
    /// Its size, pt.
    pub(super) size: (f64, f64),
    /// Where the positions of a control could not be lettered.
    pub(super) unlettered: Vec<usize>,
}

/// Lays a part out, no larger than it has to be; nothing where something finds no room.
pub(super) fn lay_out(of: &[usize], faces: &Faces<'_>) -> Option<Part> {
    ENLARGED.iter().find_map(|scale| at_scale(of, faces, (*scale, false)))
}

/// The same at the largest scale; what finds no room is left out.
pub(super) fn lay_out_anyway(of: &[usize], faces: &Faces<'_>) -> Part {
    at_scale(of, faces, (ENLARGED[ENLARGED.len() - 1], true)).unwrap_or_default()
}

fn at_scale(of: &[usize], faces: &Faces<'_>, (largest, forced): (f64, bool)) -> Option<Part> {
    let whole = enclosing(of, &faces.frames_mm);
    let scale =
        ((WIDEST - 2.0 - 2.0 * MARGIN) / whole.width.max(1.0)).min((HIGHEST - 2.0 * MARGIN) / whole.height.max(1.0));
    if scale < LEAST && !forced {
        return None;
    }
    let scale = scale.min(largest);
    let size = (whole.width * scale + 2.0 * MARGIN, whole.height * scale + 2.0 * MARGIN);
    let edge = Rect::new(0.0, 0.0, size.0, size.1);
    let mut part = Part { of: of.to_vec(), size, ..Part::default() };
    part.marks.push(Mark::Shape(Shape { class: "plate-edge", weight: 0.8, form: Form::Rect(edge, 4.0) }));
    let place = |n: &usize| {
        let f = faces.frames_mm[*n];
        Rect::new(MARGIN + (f.x - whole.x) * scale, MARGIN + (f.y - whole.y) * scale, f.width * scale, f.height * scale)
    };
    let frames: Vec<Rect> = of.iter().map(place).collect();
    for (n, rect) in of.iter().zip(&frames) {
        part.marks.extend(face::draw(faces.walked[*n].0, faces.walked[*n].1, rect, faces.look(*n, true)));
    }
    let blobs = of.iter().zip(&frames).map(|(n, rect)| blob(faces.walked[*n].1.face, rect)).collect();
    let room = Room { edge: edge.inset(1.5), taken: blobs };
    let mut layout = Layout { faces, frames, room, part, forced };
    layout.letter()?;
    layout.call()?;
    Some(layout.part)
}

/// Its positions have names that have to be told: a rocker tells off and on by signs, a button springs back, and breakers stand in.
pub(super) fn has_words(item: &Item) -> bool {
    let face = item.panel.as_ref().map(|p| p.face);
    let told = face == Some(Face::Rocker) && face::is_on_off(item);
    let springs = face == Some(Face::Button);
    item.control.is_some() && !told && !springs && !matches!(item.kind, Kind::Breaker | Kind::Fuse)
}

fn blob(face: Face, rect: &Rect) -> Blob {
    if is_round(face) { Blob::Disc(rect.centre(), rect.width.min(rect.height) / 2.0) } else { Blob::Board(*rect) }
}

/// A part in the making; the first things taken are its faces.
struct Layout<'a> {
    faces: &'a Faces<'a>,
    frames: Vec<Rect>,
    room: Room,
    part: Part,
    forced: bool,
}

impl Layout<'_> {
    /// What is engraved, then the positions of keys and selectors.
    fn letter(&mut self) -> Option<()> {
        for at in 0..self.frames.len() {
            let place = self.faces.walked[self.part.of[at]].1;
            let label: Option<String> = place.label.as_ref().map(|l| l.trim().chars().take(LONGEST).collect());
            let Some(label) = label.filter(|l| !l.is_empty()) else { continue };
            match self.engraving(at, place.face, &label) {
                Some(words) => self.put(words),
                None if self.forced => {}
                None => return None,
            }
        }
        (0..self.frames.len()).for_each(|at| self.around(at));
        Some(())
    }

    fn put(&mut self, words: Lettering) {
        self.room.taken.push(Blob::Board(words.rect()));
        self.part.marks.push(Mark::Words(words));
    }

    /// On the glass, below, above or beside, in one line or two.
    fn engraving(&self, at: usize, face: Face, label: &str) -> Option<Lettering> {
        let rect = &self.frames[at];
        if let Some((glass, _)) = face::rooms(face, rect).filter(|(glass, _)| width(label, SIZE) + 3.0 <= glass.width) {
            let middle = glass.centre();
            let aside = if face == Face::Window { 3.0 } else { 0.0 };
            return Some(Lettering::new(
                vec![label.to_owned()],
                Point::new(middle.x, middle.y + 2.9 + aside),
                Anchor::Middle,
            ));
        }
        let one = vec![label.to_owned()];
        let two = wrap(label, width(label, SIZE) * 0.7);
        let tries = [one, two].into_iter().flat_map(|lines| beside(rect, &lines));
        tries.into_iter().find(|words| self.room.is_free(&Blob::Board(words.rect()), 1.9, None))
    }

    /// The positions around a key or a selector; listed with its number where there is no room for them.
    fn around(&mut self, at: usize) {
        let n = self.part.of[at];
        let (item, place) = self.faces.walked[n];
        let Some(control) = item.control.as_ref().filter(|c| c.positions.len() > 1 && has_words(item)) else { return };
        let names: Vec<String> =
            control.positions.iter().map(|p| p.as_str().replace('-', " ").to_uppercase()).collect();
        let words = matches!(place.face, Face::Key | Face::Knob).then(|| ring(&names, &self.frames[at]));
        match words.filter(|words| words.iter().all(|w| self.room.is_free(&Blob::Board(w.rect()), 0.8, None))) {
            Some(words) => words.into_iter().for_each(|w| self.put(w)),
            None => self.part.unlettered.push(n),
        }
    }

    /// The numbers: on the blank end of a radio, touching the face, or on a short leader.
    fn call(&mut self) -> Option<()> {
        let mut order: Vec<usize> = (0..self.frames.len()).collect();
        order.sort_by_cached_key(|at| (self.choices(*at), *at));
        for at in order {
            let number = self.part.of[at] + 1;
            let Some((middle, leader)) = self.call_place(at, call_radius(number)) else {
                if self.forced {
                    continue;
                }
                return None;
            };
            self.room.taken.push(Blob::Disc(middle, call_radius(number)));
            if let Some((from, to)) = leader {
                self.part.marks.push(Mark::Shape(Shape {
                    class: "lead",
                    weight: 0.8,
                    form: Form::Line(vec![from, to]),
                }));
                let (mut n, steps) = (0.0, 6.0);
                while n <= steps {
                    let at = Point::new(from.x + (to.x - from.x) * n / steps, from.y + (to.y - from.y) * n / steps);
                    self.room.taken.push(Blob::Disc(at, 0.8));
                    n += 1.0;
                }
            }
            let of = self.faces.walked[self.part.of[at]].0.id.to_string();
            self.part.marks.push(Mark::Callout { of, at: middle, number });
        }
        Some(())
    }

    /// In how many ways a number could touch its face: those with the fewest come first.
    fn choices(&self, at: usize) -> usize {
        let radius = call_radius(self.part.of[at] + 1);
        let own = &self.room.taken[at];
        let free = |way: &&f64| self.room.is_free(&Blob::Disc(beyond(own, **way, radius + OUT[0]), radius), 0.5, None);
        WAYS.iter().filter(free).count()
    }

    fn call_place(&self, at: usize, radius: f64) -> Option<(Point, Option<(Point, Point)>)> {
        let (own, face) = (self.room.taken[at], self.faces.walked[self.part.of[at]].1.face);
        let inside = face::rooms(face, &self.frames[at]).map(|(_, blank)| blank);
        let wide_enough = |blank: &Rect| blank.width.min(blank.height) >= 2.0 * radius + 1.0;
        let free = |blank: &Rect| self.room.is_free(&Blob::Disc(blank.centre(), radius), 0.3, Some(at));
        let inside = inside.filter(wide_enough).filter(free).map(|blank| (blank.centre(), None));
        if face == Face::Radio && inside.is_some() {
            return inside;
        }
        self.beyond_face(at, &own, radius).or(inside)
    }

    /// Beside the face, near or on a leader.
    fn beyond_face(&self, at: usize, own: &Blob, radius: f64) -> Option<(Point, Option<(Point, Point)>)> {
        for out in OUT {
            for way in WAYS {
                let middle = beyond(own, way, radius + out);
                let disc = Blob::Disc(middle, radius);
                if !self.room.is_free(&disc, 0.5, None) {
                    continue;
                }
                if out < 1.0 {
                    return Some((middle, None));
                }
                let from = own.nearest(middle);
                let to = disc.nearest(from);
                if self.room.is_clear(from, to, at) {
                    return Some((middle, Some((from, to))));
                }
            }
        }
        None
    }
}

/// So far beyond the edge, in a direction.
fn beyond(own: &Blob, way: f64, far: f64) -> Point {
    on_circle(own.edge(way), far, way)
}

/// Lines below, above, to the right and to the left of a thing, nearer and farther.
fn beside(rect: &Rect, lines: &[String]) -> Vec<Lettering> {
    let high = LEADING * (lines.len().max(1) - 1) as f64;
    let wide = lines.iter().map(|l| width(l, SIZE)).fold(0.0, f64::max);
    let (middle, rise) = (rect.centre(), SIZE * 0.74);
    let mut places = Vec::new();
    for far in [2.0, 4.5, 8.0] {
        for shift in [0.0, -0.3, 0.3] {
            let x = middle.x + shift * wide;
            places.push(Point::new(x, rect.bottom() + far + rise));
            places.push(Point::new(x, rect.y - far - high - SIZE * 0.22));
        }
        let y = middle.y + rise / 2.0 - high / 2.0;
        places.push(Point::new(rect.right() + far + wide / 2.0, y));
        places.push(Point::new(rect.x - far - wide / 2.0, y));
    }
    places.into_iter().map(|at| Lettering::new(lines.to_vec(), at, Anchor::Middle)).collect()
}

/// Words around a disc, each in the direction of its position and as near as it can stand.
fn ring(names: &[String], rect: &Rect) -> Vec<Lettering> {
    let (middle, radius) = (rect.centre(), rect.width.min(rect.height) / 2.0);
    let disc = Blob::Disc(middle, radius);
    let word = |(at, name): (usize, &String)| {
        let degrees = face::turned(at, names.len());
        let placed = |out: u32| {
            let centre = on_circle(middle, radius + 2.0 + f64::from(out), degrees);
            Lettering::new(vec![name.clone()], Point::new(centre.x, centre.y + SIZE * 0.26), Anchor::Middle)
        };
        (0..60).map(placed).collect::<Vec<_>>()
    };
    let mut ring: Vec<Lettering> = Vec::new();
    for tries in names.iter().enumerate().map(word) {
        let clear = |words: &&Lettering| {
            let board = Blob::Board(words.rect());
            disc.apart(&board) >= 1.2 && ring.iter().all(|other| Blob::Board(other.rect()).apart(&board) >= 3.0)
        };
        let found = tries.iter().find(clear).or(tries.last()).cloned();
        ring.extend(found);
    }
    ring
}
