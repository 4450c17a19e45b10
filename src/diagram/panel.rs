//! The panel to scale, from the places and scales in the model.
//!
//! Faces are plain forms of our own; needles stand where the model says that they usually stand. Numbers run as a person walks.

mod face;

use super::WIDEST;
use super::geometry::{Point, Rect};
use super::lettering::{LEADING, SIZE, width};
use super::scene::{Anchor, Fold, Form, Lettering, Mark, Scene, Shape};
use super::system::short;
use crate::model::{Face, Item, Model, PanelPlace, WalkGroup};

/// Space around the panel, pt.
const EDGE: f64 = 6.0;
/// Half of a callout, pt.
const CALL: f64 = 6.8;
/// The longest name in the list of numbers, characters.
const LONGEST: usize = 26;

/// How to read the drawing.
const READING: &str =
    "Numbers run as a person walks the panel. Needles stand where they usually stand in the reference state.";

/// Draws the panel; an empty scene if the model has none.
pub(super) fn draw(model: &Model) -> Scene {
    let Some(panel) = model.panel.as_ref().filter(|p| p.width_mm > 0.0 && p.height_mm > 0.0) else {
        return Scene::default();
    };
    let scale = (WIDEST - 2.0 * EDGE) / panel.width_mm;
    let mut scene = Scene { width: WIDEST, height: panel.height_mm * scale + 2.0 * EDGE, ..Scene::default() };
    let plate = Rect::new(EDGE, EDGE, panel.width_mm * scale, panel.height_mm * scale);
    scene.marks.push(Mark::Shape(Shape { class: "plate-edge", weight: 1.2, form: Form::Rect(plate, 6.0) }));
    let walked = walk(model, &panel.walk);
    let frames: Vec<Rect> = walked.iter().map(|(_, place)| frame(place, scale)).collect();
    for ((item, place), rect) in walked.iter().zip(&frames) {
        scene.marks.extend(face::draw(item, place, rect).into_iter().map(Mark::Shape));
    }
    let mut taken = Vec::new();
    for (at, ((item, place), rect)) in walked.iter().zip(&frames).enumerate() {
        let middle = call_place(place.face, rect, &plate, &frames, &mut taken);
        scene.marks.push(Mark::Callout { of: item.id.to_string(), at: middle, number: at + 1 });
        scene.alternative.push(format!("{}: {}", at + 1, model[item.node].noun.name));
    }
    taken.extend(&frames);
    for ((_, place), rect) in walked.iter().zip(&frames) {
        scene.marks.extend(engraving(place, rect, &plate, &mut taken));
    }
    scene.folds.push(Fold { marks: scene.marks.len(), bottom: scene.height });
    key(model, &walked, &mut scene);
    scene.folds.push(Fold { marks: scene.marks.len(), bottom: scene.height });
    scene.reading.push_str(READING);
    scene
}

/// Items with a place, in the order of walking: group by group, each from the top row down and from left to right.
fn walk<'a>(model: &'a Model, said: &[WalkGroup]) -> Vec<(&'a Item, &'a PanelPlace)> {
    let mut groups = said.to_vec();
    groups.extend(WalkGroup::ALL.iter().filter(|g| !said.contains(g)));
    let mut walked = Vec::new();
    for group in groups {
        let mut items: Vec<(&Item, &PanelPlace)> = model
            .items
            .iter()
            .filter(|i| i.kind.group() == group)
            .filter_map(|i| i.panel.as_ref().map(|p| (i, p)))
            .collect();
        items.sort_by(|a, b| row(a.1).cmp(&row(b.1)).then(a.1.x_mm.total_cmp(&b.1.x_mm)).then(a.0.id.cmp(&b.0.id)));
        walked.extend(items);
    }
    walked
}

/// Things stand in one row when their middles are within the same 50 mm.
fn row(place: &PanelPlace) -> i64 {
    (place.y_mm / 50.0).floor() as i64
}

fn frame(place: &PanelPlace, scale: f64) -> Rect {
    let (wide, high) = (place.width_mm * scale, place.height_mm * scale);
    Rect::new(EDGE + place.x_mm * scale - wide / 2.0, EDGE + place.y_mm * scale - high / 2.0, wide, high)
}

/// What is engraved, under the thing or above it, where it overlaps nothing; left out where there is no room, since the list
/// of numbers names everything.
fn engraving(place: &PanelPlace, rect: &Rect, board: &Rect, taken: &mut Vec<Rect>) -> Option<Mark> {
    let label = place.label.as_ref()?;
    let at = |y: f64| Lettering::new(vec![label.clone()], Point::new(rect.centre().x, y), Anchor::Middle).small();
    let heights = [rect.bottom() + SIZE, rect.y - 3.0];
    let fitting = heights.into_iter().map(at).find(|words| is_free(&words.rect(), board, taken))?;
    taken.push(fitting.rect());
    Some(Mark::Words(fitting))
}

fn is_free(rect: &Rect, plate: &Rect, taken: &[Rect]) -> bool {
    let inside = plate.holds(Point::new(rect.x, rect.y)) && plate.holds(Point::new(rect.right(), rect.bottom()));
    inside && taken.iter().all(|t| !t.overlaps(rect))
}

/// A place for the number: on the edge of a large face, beside a small one, farther out until nothing else is overlapped.
fn call_place(face: Face, rect: &Rect, plate: &Rect, frames: &[Rect], taken: &mut Vec<Rect>) -> Point {
    let space = |p: &Point| Rect::new(p.x - CALL, p.y - CALL, 2.0 * CALL, 2.0 * CALL);
    let free = |p: &Point| {
        let others: Vec<Rect> = frames.iter().filter(|f| *f != rect).chain(taken.iter()).copied().collect();
        is_free(&space(p), plate, &others)
    };
    let tries = if rect.width.min(rect.height) < 3.0 * CALL { Vec::new() } else { on_edge(face, rect) };
    let beside = [0.0, 3.0, 7.0, 12.0, 18.0, 25.0].into_iter().flat_map(|out| around(rect, out));
    let at = tries.into_iter().chain(beside).find(free).unwrap_or_else(|| rect.centre());
    taken.push(space(&at));
    at
}

/// Places on the edge of a face, the upper left first.
fn on_edge(face: Face, rect: &Rect) -> Vec<Point> {
    let round =
        matches!(face, Face::Dial | Face::Horizon | Face::Card | Face::Turn | Face::Knob | Face::Key | Face::Wheel);
    let (middle, radius) = (rect.centre(), rect.width.min(rect.height) / 2.0);
    if round {
        return [315.0, 45.0, 225.0, 135.0].map(|d| super::svg::on_circle(middle, radius + CALL * 0.4, d)).to_vec();
    }
    let (left, right, top, bottom) = (rect.x + 2.0, rect.right() - 2.0, rect.y + 2.0, rect.bottom() - 2.0);
    let (x, y) = (middle.x, middle.y);
    [(left, y), (right, y), (left, top), (right, top), (left, bottom), (right, bottom), (x, top), (x, y)]
        .map(|(x, y)| Point::new(x, y))
        .to_vec()
}

/// Places around a thing, so far out.
fn around(rect: &Rect, out: f64) -> [Point; 8] {
    let middle = rect.centre();
    let (left, right) = (rect.x - CALL - out, rect.right() + CALL + out);
    let (top, bottom) = (rect.y - CALL - out, rect.bottom() + CALL + out);
    let corner = 3.0;
    [
        (middle.x, top),
        (left + corner, top + corner),
        (right - corner, top + corner),
        (left, middle.y),
        (right, middle.y),
        (middle.x, bottom),
        (left + corner, bottom - corner),
        (right - corner, bottom - corner),
    ]
    .map(|(x, y)| Point::new(x, y))
}

/// The list of numbers under the panel, in columns.
fn key(model: &Model, walked: &[(&Item, &PanelPlace)], scene: &mut Scene) {
    let names: Vec<String> =
        walked.iter().enumerate().map(|(at, (i, _))| format!("{}  {}", at + 1, listed(model, i))).collect();
    let widest = names.iter().map(|n| width(n, SIZE)).fold(60.0, f64::max) + 14.0;
    let columns = (1..=5_usize).rev().find(|n| widest * *n as f64 <= WIDEST).unwrap_or(1);
    let rows = names.len().div_ceil(columns).max(1);
    let top = scene.height + 12.0;
    for (at, name) in names.into_iter().enumerate() {
        let (column, row) = (at / rows, at % rows);
        let place =
            Point::new(EDGE + column as f64 * (WIDEST - EDGE) / columns as f64, top + row as f64 * (LEADING + 1.0));
        scene.marks.push(Mark::Words(Lettering::new(vec![name], place, Anchor::Start)));
    }
    scene.height = top + rows as f64 * (LEADING + 1.0);
}

/// The full name where it is not too long for a list.
fn listed(model: &Model, item: &Item) -> String {
    let noun = &model[item.node].noun;
    let name = if noun.name.chars().count() <= LONGEST { &noun.name } else { short(noun) };
    let mut listed: String = name.chars().take(LONGEST).collect();
    if listed.len() < name.len() {
        listed.push('…');
    }
    listed
}
