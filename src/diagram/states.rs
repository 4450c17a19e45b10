//! The panel in each cockpit state, with lists below each: what stands away from its rest and where, what does not work, what is lit.

use super::WIDEST;
use super::after::{AFTER, SAMPLE, entries, outlines, panel, sample, wrapped};
use super::geometry::Point;
use super::lettering::{LEADING, SIZE, width};
use super::panel::walk;
use super::scene::{Anchor, Fold, Lettering, Mark, Scene};
use crate::doc::{PanelShown, Sign, plain_text};
use crate::model::{Item, Model};
use std::sync::Arc;

/// Width of the panel in a state, pt.
const STATE: f64 = 249.0;
/// Panels beside one another.
const COLUMNS: usize = 2;
/// The highest part of the drawing, pt.
const HIGHEST: f64 = 630.0;

const READING: &str = "Each face stands at its place on the panel; needles are left out. Numbers are those of the drawing of the panel, with what is engraved there.";

/// The panel in each of several states, side by side.
pub(super) fn draw(model: &Model, states: &[PanelShown]) -> Scene {
    let Some((scale, shared)) = outlines(model) else { return Scene::default() };
    let mut scene = Scene { width: WIDEST, shared: Some(Arc::new(shared)), ..Scene::default() };
    let (mut top, mut page) = (1.0, 0.0);
    for chunk in states.chunks(COLUMNS) {
        let before = scene.marks.len();
        let bottom = row(model, chunk, (top, scale), &mut scene);
        if bottom - page > HIGHEST && page < top && before > 0 {
            scene.folds.push(Fold { marks: before, bottom: top });
            page = top;
        }
        top = bottom;
    }
    let used: Vec<(Sign, String)> = Sign::ALL
        .into_iter()
        .filter(|sign| states.iter().any(|s| s.signs.contains_key(sign)))
        .map(|sign| (sign, small(said(sign))))
        .collect();
    scene.height = row_of_samples(&used, top, &mut scene) + 2.0;
    scene.folds.push(Fold { marks: scene.marks.len(), bottom: scene.height });
    scene.reading.push_str(READING);
    scene
}

/// Panels side by side with their lists; gives the lower edge.
fn row(model: &Model, states: &[PanelShown], (top, scale): (f64, f64), scene: &mut Scene) -> f64 {
    let ratio = STATE / AFTER;
    let mut lowest = top;
    for (column, shown) in states.iter().enumerate() {
        let x = 1.0 + column as f64 * (STATE + 10.0);
        let name = plain_text(&shown.caption);
        scene.marks.push(Mark::Words(Lettering::new(vec![name.clone()], Point::new(x, top + 9.0), Anchor::Start)));
        let bottom = panel(model, shown, (Point::new(x, top + 13.0), scale * ratio, ratio), scene);
        let lines: Vec<String> = lists(model, shown).iter().flat_map(|text| wrapped(text, STATE)).collect();
        let end = bottom + LEADING * (lines.len() as f64 + 0.6);
        if !lines.is_empty() {
            let at = Point::new(x, bottom + LEADING + 1.0);
            scene.marks.push(Mark::Words(Lettering::new(lines, at, Anchor::Start)));
        }
        lowest = lowest.max(end);
        let said = entries(model, shown).into_iter();
        scene.alternative.extend(said.map(|(_, text)| format!("{name}, {}", small(&text))));
    }
    lowest + 8.0
}

/// What is said below a panel: the note of the state, then a list a sign.
fn lists(model: &Model, shown: &PanelShown) -> Vec<String> {
    let walked = walk(model);
    let mut lists: Vec<String> = shown.note.iter().cloned().collect();
    for sign in [Sign::Set, Sign::Lit, Sign::Gone, Sign::GoneInPart, Sign::Misleading] {
        let Some(wearing) = shown.signs.get(&sign) else { continue };
        let wears = |item: &Item| wearing.iter().any(|id| id == item.id.as_str());
        let named = walked.iter().zip(1..).filter(|((item, _), _)| wears(item));
        let one = |((item, place), number): (&super::panel::Walked<'_>, i32)| match sign {
            Sign::Set => {
                let at = shown.positions.get(item.id.as_str());
                let at = at.and_then(|at| item.control.as_ref()?.positions.get(*at));
                let label = place.label.clone().unwrap_or_else(|| model[item.node].noun.name.clone());
                format!(
                    "{number} {label} {}",
                    at.map_or(String::new(), |p| p.as_str().replace('-', " ").to_uppercase())
                )
            }
            _ => number.to_string(),
        };
        let named: Vec<String> = named.map(one).collect();
        if !named.is_empty() {
            lists.push(format!("{}: {}", said(sign), named.join(", ")));
        }
    }
    lists
}

/// What a sign means where no failure is meant.
fn said(sign: Sign) -> &'static str {
    match sign {
        Sign::Gone => "Does not work",
        Sign::GoneInPart => "Some of it is off or not fed",
        Sign::Misleading => "Misleading",
        Sign::Set => "Away from rest",
        other => other.word(),
    }
}

fn small(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

/// Samples in one row.
fn row_of_samples(entries: &[(Sign, String)], top: f64, scene: &mut Scene) -> f64 {
    let (mut x, mut y) = (1.0, top + 8.0);
    for (sign, text) in entries {
        let wide = SAMPLE + width(text, SIZE) + 14.0;
        if x + wide > WIDEST && x > 1.0 {
            (x, y) = (1.0, y + LEADING * 1.5);
        }
        sample(*sign, Point::new(x + 1.0, y - 7.0), scene);
        let at = Point::new(x + SAMPLE, y);
        scene.marks.push(Mark::Words(Lettering::new(vec![text.clone()], at, Anchor::Start)));
        x += wide;
    }
    y + 3.0
}
