//! The panel to scale, from the places and scales in the model: once as a whole, then in enlarged parts with all lettering.
//!
//! Faces are plain forms of our own; needles stand where the model says that they usually stand, controls where they stand in the
//! reference state. Numbers run as a person walks.

mod cut;
pub(super) mod dial;
pub(super) mod face;
mod part;
mod radio_dial;
mod room;
pub(super) mod signs;

use super::WIDEST;
use super::geometry::{Point, Rect};
use super::lettering::{LEADING, SIZE, wrap};
use super::scene::{Anchor, Fold, Form, Lettering, Mark, Scene, Shape};
use crate::doc::PanelShown;
use crate::model::{Face, Item, Model, PanelPlace};
use face::Look;
use part::Part;
use room::{Blob, Room};

/// Space around the panel, pt.
const EDGE: f64 = 6.0;
/// Half the side of the letter of a part, pt.
const LETTER: f64 = 7.0;

/// How to read the drawing.
const READING: &str = "The letters on the whole panel are those of the parts below it. Numbers run as a person walks the panel. \
                       Needles stand where they usually stand, and controls as in the reference state. A dot marks the half of a rocker \
                       that is pressed: the bar is on, the ring off. Breakers stand in.";

/// A thing with a place on the panel.
pub(super) type Walked<'a> = (&'a Item, &'a PanelPlace);

/// Every face in walking order.
pub(super) struct Faces<'a> {
    walked: Vec<Walked<'a>>,
    /// Their frames on the panel, mm.
    frames_mm: Vec<Rect>,
    shown: &'a PanelShown,
}

impl Faces<'_> {
    /// How a face is drawn: its needle where it usually stands, its control as it is in the reference state.
    fn look(&self, at: usize, lettered: bool) -> Look {
        let item = self.walked[at].0;
        let usual = |s: &crate::model::Scale| {
            s.usual.as_ref().or(s.rests.as_ref()).map_or(s.span.number, |q| dial::on_scale(s, q, q.number))
        };
        let position = item.control.as_ref().map(|c| {
            let set = self.shown.positions.get(item.id.as_str()).copied();
            (set.unwrap_or(c.rest.usize()), c.positions.len())
        });
        Look { needle: item.scale.as_ref().map(usual), position, lettered }
    }
}

impl Faces<'_> {
    /// Where a control stands, of one whose positions have names that have to be told.
    fn stands(&self, n: usize) -> Option<String> {
        let item = self.walked.get(n)?.0;
        let control = item.control.as_ref().filter(|_| part::has_words(item))?;
        let at = self.shown.positions.get(item.id.as_str()).copied().unwrap_or(control.rest.usize());
        control.positions.get(at).map(engraved)
    }
}

/// Draws the panel; an empty scene if the model has none.
pub(super) fn draw(model: &Model, shown: &PanelShown) -> Scene {
    let Some(panel) = model.panel.as_ref().filter(|p| p.width_mm > 0.0 && p.height_mm > 0.0) else {
        return Scene::default();
    };
    let walked = walk(model);
    let frames_mm = walked.iter().map(|(_, place)| frame(place, 1.0, Point::default())).collect();
    let faces = Faces { walked, frames_mm, shown };
    let all: Vec<usize> = (0..faces.walked.len()).collect();
    let groups: Vec<usize> = faces.walked.iter().map(|(item, _)| item.kind.group() as usize).collect();
    let board = cut::Board { frames: &faces.frames_mm, groups: &groups };
    let parts = cut::cut(&all, &board, &|of| part::lay_out(of, &faces), &|of| part::lay_out_anyway(of, &faces));
    let scale = (WIDEST - 2.0 * EDGE) / panel.width_mm;
    let mut scene = Scene { width: WIDEST, height: panel.height_mm * scale + 2.0 * EDGE, ..Scene::default() };
    draw_whole(&faces, &parts, scale, panel.height_mm * scale, &mut scene);
    scene.folds.push(Fold { marks: scene.marks.len(), bottom: scene.height });
    for (at, part) in parts.iter().enumerate() {
        draw_part(model, &faces, part, at, &mut scene);
        scene.folds.push(Fold { marks: scene.marks.len(), bottom: scene.height });
    }
    for (n, (item, _)) in faces.walked.iter().enumerate() {
        let within =
            parts.iter().position(|p| p.of.contains(&n)).map_or(String::new(), |p| format!(", part {}", letter(p)));
        let at = faces.stands(n).map_or(String::new(), |at| format!(", at {}", at.replace('\u{a0}', " ")));
        scene.alternative.push(format!("{}: {}{within}{at}", n + 1, model[item.node].noun.name));
    }
    scene.reading.push_str(READING);
    scene
}

/// Items with a place, in the order of walking: group by group, each from the top row down and from left to right.
pub(super) fn walk(model: &Model) -> Vec<Walked<'_>> {
    let items = model.walk_groups().into_iter().flat_map(|group| model.on_panel(group));
    items.filter_map(|i| Some((&model[i], model[i].panel.as_ref()?))).collect()
}

/// The frame of a face at a scale, on a panel whose upper left corner is there.
pub(super) fn frame(place: &PanelPlace, scale: f64, corner: Point) -> Rect {
    let (wide, high) = (place.width_mm * scale, place.height_mm * scale);
    Rect::new(corner.x + place.x_mm * scale - wide / 2.0, corner.y + place.y_mm * scale - high / 2.0, wide, high)
}

/// The letters of parts: A to Z, then AA.
fn letter(at: usize) -> String {
    let sign = char::from(b'A' + (at % 26) as u8);
    if at < 26 { sign.to_string() } else { format!("{}{sign}", letter(at / 26 - 1)) }
}

/// The whole panel, each part framed and lettered.
fn draw_whole(faces: &Faces<'_>, parts: &[Part], scale: f64, high: f64, scene: &mut Scene) {
    let corner = Point::new(EDGE, EDGE);
    let plate = Rect::new(EDGE, EDGE, WIDEST - 2.0 * EDGE, high);
    scene.marks.push(Mark::Shape(Shape { class: "plate-edge", weight: 1.2, form: Form::Rect(plate, 6.0) }));
    let frames: Vec<Rect> = faces.walked.iter().map(|(_, place)| frame(place, scale, corner)).collect();
    for (n, rect) in frames.iter().enumerate() {
        scene.marks.extend(face::draw(faces.walked[n].0, faces.walked[n].1, rect, faces.look(n, false)));
    }
    let zones: Vec<Rect> = parts.iter().map(|p| cut::enclosing(&p.of, &frames).inset(-2.5)).collect();
    for zone in &zones {
        scene.marks.push(Mark::Shape(Shape { class: "zone", weight: 0.8, form: Form::Rect(*zone, 3.0) }));
    }
    let mut room = Room { edge: plate, taken: frames.iter().map(|f| Blob::Board(*f)).collect() };
    for (at, zone) in zones.iter().enumerate() {
        let tag = tag_place(zone, &room);
        room.taken.push(Blob::Board(tag));
        scene.marks.extend(tag_marks(&letter(at), tag));
    }
}

/// A place for the letter: along the border of the part, where it covers no face.
fn tag_place(zone: &Rect, room: &Room) -> Rect {
    let square = |x: f64, y: f64| Rect::new(x - LETTER, y - LETTER, 2.0 * LETTER, 2.0 * LETTER);
    let steps = |from: f64, to: f64| (0..=20).map(move |n| from + (to - from) * f64::from(n) / 20.0);
    let inner = zone.inset(LETTER + 1.0);
    let mut tries = Vec::new();
    for y in [zone.y, inner.y, zone.bottom(), inner.bottom(), zone.centre().y] {
        tries.extend(steps(zone.x, zone.right()).map(|x| square(x, y)));
    }
    for x in [zone.x, zone.right(), inner.x, inner.right()] {
        tries.extend(steps(zone.y, zone.bottom()).map(|y| square(x, y)));
    }
    let (across, down) = ((zone.width / 3.0) as i32, (zone.height / 3.0) as i32);
    for y in 0..=down {
        tries.extend((0..=across).map(|x| square(zone.x + f64::from(x) * 3.0, zone.y + f64::from(y) * 3.0)));
    }
    let fallback = square(zone.x, zone.y);
    tries.into_iter().find(|tag| room.is_free(&Blob::Board(*tag), 0.3, None)).unwrap_or(fallback)
}

fn tag_marks(letter: &str, tag: Rect) -> [Mark; 2] {
    let middle = tag.centre();
    let words = Lettering {
        size: 10.0,
        ..Lettering::new(vec![letter.to_owned()], Point::new(middle.x, middle.y + 3.6), Anchor::Middle)
    };
    [Mark::Shape(Shape { class: "face", weight: 1.2, form: Form::Rect(tag, 2.0) }), Mark::Words(words)]
}

/// A part below what is there, with its letter and the list of its numbers.
fn draw_part(model: &Model, faces: &Faces<'_>, part: &Part, at: usize, scene: &mut Scene) {
    let top = scene.height + 8.0;
    scene.marks.extend(tag_marks(&letter(at), Rect::new(1.0, top, 2.0 * LETTER, 2.0 * LETTER)));
    let title = format!("Part {}: {}", letter(at), content(faces, part));
    scene.marks.push(Mark::Words(Lettering::new(vec![title], Point::new(21.0, top + 10.0), Anchor::Start)));
    let corner = Point::new(1.0, top + 2.0 * LETTER + 4.0);
    scene.marks.extend(part.marks.iter().cloned().map(|mark| moved(mark, corner)));
    let entries: Vec<(usize, String)> = part.of.iter().map(|n| (n + 1, listed(model, faces, part, *n))).collect();
    let (beside, below) = (WIDEST - part.size.0 - 14.0, corner.y + part.size.1);
    let high = if beside >= 150.0 {
        let columns = Columns {
            left: corner.x + part.size.0 + 12.0,
            top: corner.y,
            wide: beside,
            count: if beside > 320.0 { 2 } else { 1 },
        };
        below.max(list(&entries, columns, scene))
    } else {
        list(&entries, Columns { left: 1.0, top: below + 6.0, wide: WIDEST - 2.0, count: 3 }, scene)
    };
    scene.height = high + 4.0;
}

/// The walking groups of which a part holds most: one, or two where the second is not much smaller.
fn content(faces: &Faces<'_>, part: &Part) -> String {
    let mut counts: Vec<(usize, &str)> = Vec::new();
    for n in &part.of {
        let word = faces.walked[*n].0.kind.group().word();
        match counts.iter_mut().find(|(_, known)| *known == word) {
            Some((count, _)) => *count += 1,
            None => counts.push((1, word)),
        }
    }
    counts.sort_by_key(|(count, _)| std::cmp::Reverse(*count));
    let most = counts.first().map_or(0, |(count, _)| *count);
    let named: Vec<&str> = counts.iter().filter(|(count, _)| 3 * count >= most).map(|(_, word)| *word).collect();
    match named.split_last() {
        Some((last, before)) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => named.join(""),
    }
}

fn moved(mark: Mark, by: Point) -> Mark {
    let shift = |p: &mut Point| *p = Point::new(p.x + by.x, p.y + by.y);
    match mark {
        Mark::Shape(mut shape) => {
            shape.form.each_point(shift);
            Mark::Shape(shape)
        }
        Mark::Callout { of, mut at, number } => {
            shift(&mut at);
            Mark::Callout { of, at, number }
        }
        Mark::Words(mut words) => {
            shift(&mut words.at);
            Mark::Words(words)
        }
        other => other,
    }
}

/// The name; of a control with other positions than off and on where it stands, and its positions where they are not on the drawing.
fn listed(model: &Model, faces: &Faces<'_>, part: &Part, n: usize) -> String {
    let (item, place) = faces.walked[n];
    let name = model[item.node].noun.name.clone();
    let Some(stands) = faces.stands(n) else { return name };
    let Some(control) = item.control.as_ref().filter(|_| part.unlettered.contains(&n)) else {
        return format!("{name}: at {stands}");
    };
    let names: Vec<String> = control.positions.iter().map(engraved).collect();
    let way = match place.face {
        Face::Rocker | Face::Toggle => "from below: ",
        Face::Lever => "from above: ",
        _ => "",
    };
    format!("{name}: {way}{}; at {stands}", names.join(", "))
}

fn engraved(position: &crate::base::Id) -> String {
    position.as_str().replace('-', "\u{a0}").to_uppercase()
}

/// Where a list stands.
#[derive(Clone, Copy)]
struct Columns {
    left: f64,
    top: f64,
    wide: f64,
    count: usize,
}

/// Writes a list of numbers and names in columns, and says how far down it goes.
fn list(entries: &[(usize, String)], columns: Columns, scene: &mut Scene) -> f64 {
    let wide = columns.wide / columns.count as f64;
    let lines: Vec<Vec<String>> = entries.iter().map(|(_, name)| wrap(name, wide - 26.0)).collect();
    let total: usize = lines.iter().map(Vec::len).sum();
    let most = total.div_ceil(columns.count).max(1);
    let (mut column, mut row, mut lowest) = (0, 0, columns.top);
    for ((number, _), lines) in entries.iter().zip(lines) {
        if row > 0 && row + lines.len() > most + 1 && column + 1 < columns.count {
            (column, row) = (column + 1, 0);
        }
        let (x, y) = (columns.left + column as f64 * wide, columns.top + 8.0 + row as f64 * (LEADING + 1.0));
        let digits = number.to_string();
        let before = super::lettering::width(&digits, SIZE);
        scene.marks.push(Mark::Words(Lettering::new(vec![digits], Point::new(x + 15.0 - before, y), Anchor::Start)));
        row += lines.len();
        for (n, text) in lines.into_iter().enumerate() {
            let at = Point::new(x + 20.0, y + n as f64 * (LEADING + 1.0));
            scene.marks.push(Mark::Words(Lettering::new(vec![text], at, Anchor::Start)));
        }
        lowest = lowest.max(columns.top + 8.0 + row as f64 * (LEADING + 1.0));
    }
    lowest
}
