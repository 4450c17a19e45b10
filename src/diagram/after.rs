//! Small panels: what is gone, false, lit and left after a failure. What they show comes with the figure; nothing is solved here.

use super::WIDEST;
use super::geometry::{Point, Rect};
use super::lettering::{LEADING, SIZE, width};
use super::panel::{Walked, dial, face, frame, signs, walk};
use super::scene::{Anchor, Form, Lettering, Mark, Scene, Shape, Shared};
use super::tags::{beside, number};
use crate::doc::{PanelShown, Sign, StillTold, ToldBy};
use crate::model::{Face, Item, Model};
use std::sync::Arc;

/// The id of the outlines that all small panels share.
const OUTLINES: &str = "drawing/panel-outlines";
/// Width of the panel after a failure, pt.
pub(super) const AFTER: f64 = 338.0;
/// Width of the sample of a sign with the space after it, pt.
pub(super) const SAMPLE: f64 = 17.0;

const AFTER_READING: &str = "Each face stands at its place on the panel; numbers are those of the drawing of the panel. Where a dial has no needle, its table tells what it shows, or it is not known.";
const AFTER_PARKED: &str =
    "Each face stands at its place on the panel; numbers are those of the drawing of the panel. Needles are left out.";
/// What is said before the engines that stop.
const STOPPED: &str = "Gone, off the panel";

/// The panel after a failure; an empty scene if the model has no panel.
pub(super) fn draw(model: &Model, shown: &PanelShown) -> Scene {
    let Some((scale, shared)) = outlines(model) else { return Scene::default() };
    let mut scene = Scene { width: WIDEST, shared: Some(Arc::new(shared)), ..Scene::default() };
    let corner = Point::new(1.0, 1.0);
    let bottom = panel(model, shown, (corner, scale, 1.0), &mut scene);
    number(model, shown, (corner, scale), &mut scene);
    let entries = entries(model, shown);
    let (left, wide) = (corner.x + AFTER + 10.0, WIDEST - AFTER - 12.0);
    let lines: usize = entries.iter().map(|(_, text)| wrapped(text, wide - SAMPLE).len()).sum();
    let beside = (lines as f64 + 0.4 * entries.len() as f64) * LEADING <= bottom;
    let at = if beside { (Point::new(left, 1.0), wide) } else { (Point::new(1.0, bottom + 5.0), WIDEST - 2.0) };
    let end = legend(&entries, at, &mut scene);
    scene.height = bottom.max(end) + 2.0;
    scene.alternative = entries.into_iter().map(|(_, text)| text).collect();
    scene.reading.push_str(if shown.needles.is_empty() { AFTER_PARKED } else { AFTER_READING });
    scene
}

/// The outlines of every face at the scale of the panel after a failure, and that scale.
pub(super) fn outlines(model: &Model) -> Option<(f64, Shared)> {
    let panel = model.panel.as_ref().filter(|p| p.width_mm > 0.0 && p.height_mm > 0.0)?;
    let scale = AFTER / panel.width_mm;
    let shapes =
        walk(model).into_iter().flat_map(|(_, place)| face::outline(place, &frame(place, scale, Point::default())));
    Some((scale, Shared { id: OUTLINES.to_owned(), shapes: shapes.collect() }))
}

/// One small panel with its signs and needles; gives its lower edge.
pub(super) fn panel(
    model: &Model,
    shown: &PanelShown,
    (corner, scale, ratio): (Point, f64, f64),
    scene: &mut Scene,
) -> f64 {
    let (wide, high) = model.panel.as_ref().map_or((0.0, 0.0), |p| (p.width_mm * scale, p.height_mm * scale));
    let plate = Rect::new(corner.x, corner.y, wide, high);
    scene.marks.push(Mark::Shape(Shape { class: "plate-edge", weight: 0.8, form: Form::Rect(plate, 4.0) }));
    scene.marks.push(Mark::Shared(corner, ratio));
    let walked = walk(model);
    let frames: Vec<Rect> = walked.iter().map(|(_, place)| frame(place, scale, corner)).collect();
    for sign in Sign::ALL {
        let Some(wearing) = shown.signs.get(&sign) else { continue };
        for (at, (item, place)) in walked.iter().enumerate() {
            if wearing.iter().any(|id| id == item.id.as_str()) {
                let lit = shown.signs.get(&Sign::Lit).is_some_and(|all| all.iter().any(|id| id == item.id.as_str()));
                let aside = if sign == Sign::Misleading { beside(&frames, at, lit, &plate) } else { None };
                let shapes = match aside {
                    Some(disc) => signs::misleading_at(disc),
                    None => signs::sign(sign, place.face, &frames[at]),
                };
                scene.marks.extend(shapes.into_iter().map(Mark::Shape));
            }
        }
    }
    for (item, place) in &walked {
        let rect = frame(place, scale, corner);
        let Some(number) = shown.needles.get(item.id.as_str()) else { continue };
        let drawn = match (place.face, item.scale.as_ref()) {
            (Face::Altimeter, _) => signs::pointers(&rect, dial::pointers(*number)).to_vec(),
            (Face::Dial, Some(of)) => {
                dial::degrees_of(of, *number).map(|d| signs::needle(&rect, d)).into_iter().collect()
            }
            _ => Vec::new(),
        };
        scene.marks.extend(drawn.into_iter().map(Mark::Shape));
    }
    plate.bottom()
}

/// A line of the legend: its sign, where it has one, and its words.
type Entry = (Option<Sign>, String);

/// Each sign that is there, with the numbers and names of what wears it, in walking order: "Gone: 9 attitude indicator"; then
/// what still tells, and engines that stop.
pub(super) fn entries(model: &Model, shown: &PanelShown) -> Vec<Entry> {
    let walked = walk(model);
    let mut all = Vec::new();
    for sign in Sign::ALL {
        if sign == Sign::StillTells {
            all.extend(shown.still.iter().filter(|s| !s.by.is_empty()).map(|still| still_entry(&walked, still)));
            all.extend(untold(shown, false).into_iter().chain(untold(shown, true)));
            continue;
        }
        let Some(wearing) = shown.signs.get(&sign) else { continue };
        let wears = |item: &Item| wearing.iter().any(|id| id == item.id.as_str());
        let named = walked.iter().zip(1..).filter(|((item, _), _)| wears(item));
        let names: Vec<String> = named
            .map(|((item, _), number)| format!("{number} {}{}", model[item.node].noun.name, stands(sign, item, shown)))
            .collect();
        if !names.is_empty() {
            all.push((Some(sign), format!("{}: {}", sign.word(), names.join(", "))));
        }
    }
    if !shown.stopped.is_empty() {
        all.push((None, format!("{STOPPED}: {}", shown.stopped.join(", "))));
    }
    all
}

/// What nothing tells; what a move of a control brings back is told apart.
fn untold(shown: &PanelShown, comes_back: bool) -> Option<Entry> {
    let none = shown.still.iter().filter(|s| s.by.is_empty() && s.comes_back == comes_back);
    let names: Vec<&str> = none.map(|s| s.of.as_str()).collect();
    let head = if comes_back { "Nothing tells, as the controls stand" } else { "Nothing tells" };
    (!names.is_empty()).then(|| (None, format!("{head}: {}", names.join("; "))))
}

/// Where a control stands, as it is engraved.
pub(super) fn stands(sign: Sign, item: &Item, shown: &PanelShown) -> String {
    let at = shown.positions.get(item.id.as_str()).filter(|_| sign == Sign::Set);
    let name = at.and_then(|at| item.control.as_ref()?.positions.get(*at));
    name.map_or(String::new(), |name| format!(" {}", name.as_str().replace('-', " ").to_uppercase()))
}

/// "Still tells bank: 6 turn coordinator (indirectly)"; it has a sample where a face wears the ring for it.
fn still_entry(walked: &[Walked<'_>], still: &StillTold) -> Entry {
    let number = |id: &str| walked.iter().position(|(item, _)| item.id.as_str() == id).map(|at| at + 1);
    let one = |by: &ToldBy| {
        let limits = if by.limits.is_empty() { String::new() } else { format!(" ({})", by.limits.join("; ")) };
        let number = number(&by.item).map_or(String::new(), |n| format!("{n} "));
        format!("{number}{}{limits}", by.name)
    };
    let word = Sign::StillTells.word();
    let ringed = still.by.iter().any(|by| number(&by.item).is_some());
    let words = still.by.iter().map(one).collect::<Vec<_>>().join(", ");
    (ringed.then_some(Sign::StillTells), format!("{word} {}: {words}", still.of))
}

/// Samples of signs with names, one under the other; gives the lower edge.
fn legend(entries: &[Entry], (corner, wide): (Point, f64), scene: &mut Scene) -> f64 {
    let mut y = corner.y + 8.0;
    for (sign, text) in entries {
        if let Some(sign) = sign {
            sample(*sign, Point::new(corner.x + 1.0, y - 7.0), scene);
        }
        let lines = wrapped(text, wide - SAMPLE);
        let count = lines.len();
        scene.marks.push(Mark::Words(Lettering::new(lines, Point::new(corner.x + SAMPLE, y), Anchor::Start)));
        y += LEADING * (count as f64 + 0.4);
    }
    y - SIZE
}

/// A face with the sign, as large as a letter.
pub(super) fn sample(sign: Sign, corner: Point, scene: &mut Scene) {
    let rect = Rect::new(corner.x + 1.0, corner.y, 8.0, 8.0);
    let disc = Shape { class: "face", weight: 0.6, form: Form::Circle(rect.centre(), 4.0) };
    scene.marks.push(Mark::Shape(disc));
    scene.marks.extend(signs::sign(sign, Face::Lamp, &rect).into_iter().map(Mark::Shape));
}

/// All of a text in lines of at most so many points.
pub(super) fn wrapped(text: &str, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        match lines.last_mut() {
            Some(line) if width(line, SIZE) + width(" ", SIZE) + width(word, SIZE) <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
