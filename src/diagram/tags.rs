//! What stands beside the faces of a small panel: their numbers, and signs that a face is too small for. Each is nearer to its face
//! than to any other that it could be of.

use super::geometry::{Point, Rect};
use super::lettering::{SIZE, width};
use super::panel::{frame, signs, walk};
use super::scene::{Anchor, Form, Lettering, Mark, Scene, Shape};
use crate::doc::{PanelShown, Sign};
use crate::model::{Item, Model};

/// A face that is smaller has no room for the sign of what misleads, pt.
const SMALL: f64 = 12.0;

/// How far a point is from a rectangle; nothing inside.
fn off(rect: &Rect, p: Point) -> f64 {
    let (x, y) = ((rect.x - p.x).max(p.x - rect.right()).max(0.0), (rect.y - p.y).max(p.y - rect.bottom()).max(0.0));
    libm::hypot(x, y)
}

/// Where a sign stands that a face is too small for: beside it, and nearer to it than to any other.
pub(super) fn beside(frames: &[Rect], at: usize, lit: bool, plate: &Rect) -> Option<Point> {
    let own = frames.get(at).filter(|own| own.width.min(own.height) < SMALL)?;
    let far = signs::SMALLEST + if lit { 3.8 } else { 0.4 };
    let place = |way: f64| {
        let (half_x, half_y) = (own.width / 2.0 + far, own.height / 2.0 + far);
        let (x, y) = (libm::sin(way.to_radians()), -libm::cos(way.to_radians()));
        let reach = (half_x / x.abs().max(1e-6)).min(half_y / y.abs().max(1e-6));
        let out = if own.width > 1.5 * own.height || own.height > 1.5 * own.width { reach } else { half_x.max(half_y) };
        Point::new(own.centre().x + x * out, own.centre().y + y * out)
    };
    let clear = |p: &Point, but: f64| {
        let inside = off(&plate.inset(signs::SMALLEST), *p) <= 0.0;
        inside && frames.iter().enumerate().all(|(n, other)| n == at || off(other, *p) > off(own, *p).max(but))
    };
    let ways = || [45.0, 315.0, 0.0, 90.0, 270.0, 135.0, 225.0, 180.0].into_iter().map(place);
    ways().find(|p| clear(p, signs::SMALLEST + 0.3)).or_else(|| ways().find(|p| clear(p, 0.0)))
}

/// The numbers of the faces that wear a sign, beside them: on no face if there is room, else on none that wears a sign.
pub(super) fn number(model: &Model, shown: &PanelShown, (corner, scale): (Point, f64), scene: &mut Scene) {
    let walked = walk(model);
    let marked = |item: &Item| {
        let signs = shown.signs.iter().filter(|(sign, _)| **sign != Sign::Before);
        signs.flat_map(|(_, ids)| ids).any(|id| id == item.id.as_str())
    };
    let frames: Vec<Rect> = walked.iter().map(|(_, place)| frame(place, scale, corner)).collect();
    let wears: Vec<bool> = walked.iter().map(|(item, _)| marked(item)).collect();
    let (wide, high) = model.panel.as_ref().map_or((0.0, 0.0), |p| (p.width_mm * scale, p.height_mm * scale));
    let edge = Rect::new(corner.x, corner.y, wide, high).inset(1.0);
    let signs = signs_of(scene);
    let mut tags: Vec<Rect> = Vec::new();
    for (at, own) in frames.iter().enumerate().filter(|(at, _)| wears[*at]) {
        let words = (at + 1).to_string();
        let size = (width(&words, SIZE) + 1.6, 7.4);
        let fits = |tag: &Rect, all: bool| {
            let middle = tag.centre();
            let own_far = off(own, middle);
            let free = tags.iter().chain(&signs).all(|other| !other.overlaps(tag));
            let faces = frames.iter().enumerate().filter(|(n, _)| *n != at);
            let apart = |(n, other): (usize, &Rect)| {
                (!(all || wears[n]) || !other.overlaps(tag)) && (!wears[n] || off(other, middle) > own_far + 0.5)
            };
            edge.holds(Point::new(tag.x, tag.y))
                && edge.holds(Point::new(tag.right(), tag.bottom()))
                && free
                && !own.inset(-0.4).overlaps(tag)
                && faces.into_iter().all(apart)
        };
        let tries = || around(own, size);
        let Some(tag) = tries().find(|tag| fits(tag, true)).or_else(|| tries().find(|tag| fits(tag, false))) else {
            continue;
        };
        let base = Point::new(tag.centre().x, tag.centre().y + 2.9);
        scene.marks.push(Mark::Shape(Shape { class: "veil", weight: 0.0, form: Form::Rect(tag, 1.0) }));
        scene.marks.push(Mark::Words(Lettering::new(vec![words], base, Anchor::Middle)));
        tags.push(tag);
    }
}

/// What signs cover outside their faces.
fn signs_of(scene: &Scene) -> Vec<Rect> {
    let disc = |mark: &Mark| match mark {
        Mark::Shape(Shape { class: "false-face", form: Form::Circle(at, r), .. }) => {
            Some(Rect::new(at.x - r, at.y - r, 2.0 * r, 2.0 * r))
        }
        _ => None,
    };
    scene.marks.iter().filter_map(disc).collect()
}

/// Places for a tag of that size around a face, nearer ones first.
fn around(own: &Rect, (wide, high): (f64, f64)) -> impl Iterator<Item = Rect> {
    let (middle, own) = (own.centre(), *own);
    [0.6, 2.2, 4.2].into_iter().flat_map(move |far| {
        let (x, y) = (own.width / 2.0 + far + wide / 2.0, own.height / 2.0 + far + high / 2.0);
        let shifts =
            [(0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0), (0.8, -0.8), (-0.8, -0.8), (0.8, 0.8), (-0.8, 0.8)];
        let more = [(0.4, 1.0), (-0.4, 1.0), (0.4, -1.0), (-0.4, -1.0)];
        shifts.into_iter().chain(more).map(move |(right, down)| {
            Rect::new(middle.x + right * x - wide / 2.0, middle.y + down * y - high / 2.0, wide, high)
        })
    })
}
