//! Drawings: upright where they are legible so, else turned by a quarter; parted at their folds where they are higher than a page.
//!
//! Lettering of a drawing is 8 pt at its true size, so a drawing is made smaller only where neither helps.

use super::fonts::Face;
use super::scene::{Piece, pieces};
use super::setter::{Frame, Setter};
use super::strip::{Drawn, Ink, Keep, Kind, Put, Strip, Tone, stacked};
use super::tags::{NodeIx, Role};
use crate::diagram::Scene;
use crate::doc::Figure;

/// Down to this scale a drawing counts as legible.
const LEGIBLE: f32 = 0.985;
/// Room for the caption of a drawing that fills a page, pt.
const CAPTION: f32 = 28.0;
/// Between a drawing and its caption, pt.
const GAP: f32 = 5.0;

/// A drawing that is set.
#[derive(Clone, Copy)]
struct Plate<'a> {
    figure: &'a Figure,
    scene: &'a Scene,
    node: NodeIx,
    scale: f32,
    frame: Frame,
}

impl Setter<'_> {
    /// A drawing with its caption.
    pub(super) fn figure(&mut self, figure: &Figure, frame: Frame) -> Vec<Strip> {
        let Some(scene) = self.scenes.get(&figure.id).filter(|s| s.width > 0.0 && s.height > 0.0) else {
            return self.caption(figure, None, frame);
        };
        let node = self.tags.block(Some(frame.node), Role::Figure(in_words(scene)));
        let (wide, high) = (self.sheet.wide(), self.sheet.high());
        let upright = scale(scene, (frame.width, high));
        let turned = scale(scene, (high, wide));
        let mut plate = Plate { figure, scene, node, scale: upright, frame };
        let mut strips = if upright < LEGIBLE && turned > upright {
            plate.scale = turned;
            self.turned(plate)
        } else {
            self.upright(plate)
        };
        if let Some(first) = strips.first_mut() {
            first.puts.insert(0, Put { x: 0.0, y: 0.0, ink: Ink::Anchor(figure.id.clone()) });
        }
        strips
    }

    fn caption(&mut self, figure: &Figure, scene: Option<&Scene>, frame: Frame) -> Vec<Strip> {
        let size = self.sheet.small;
        let wide = frame.width.min(frame.measure);
        let node = self.tags.block(Some(frame.node), Role::Para);
        let title = self.words(&figure.caption, Self::style(Face::Bold, Tone::Ink, Some(node)), false);
        let mut strips = self.lines(&title, size, (frame.x, wide));
        if let Some(scene) = scene.filter(|s| !s.reading.is_empty()) {
            let node = self.tags.block(Some(frame.node), Role::Para);
            let items = self.plain_words(&scene.reading, Self::style(Face::Regular, Tone::Soft, Some(node)));
            strips.extend(self.lines(&items, size, (frame.x, wide)));
        }
        for strip in &mut strips {
            (strip.kind, strip.keep) = (Kind::Head, Keep::Hard);
        }
        strips.last_mut().into_iter().for_each(|s| s.keep = Keep::Free);
        strips
    }

    /// The drawing in one strip, or in a strip for each band where it is higher than a page.
    fn upright(&mut self, plate: Plate<'_>) -> Vec<Strip> {
        let Plate { figure, scene, scale, frame, .. } = plate;
        let caption = self.caption(figure, Some(scene), frame);
        let caption = stacked(Kind::Head, (frame.x, frame.width), caption);
        let parts = pieces(scene);
        let whole = scene.height as f32 * scale + GAP + caption.height;
        let groups: Vec<Vec<Piece>> =
            if whole <= self.sheet.high() { vec![parts] } else { parts.into_iter().map(|p| vec![p]).collect() };
        let last = groups.len().saturating_sub(1);
        let mut strips = Vec::with_capacity(groups.len());
        for (at, group) in groups.iter().enumerate() {
            let spare = if at == last { caption.height + GAP } else { 0.0 };
            let mut strip = drawn(plate, group, self.sheet.high() - spare);
            if at == last {
                let down = strip.height + GAP;
                strip.height = down + caption.height;
                strip.take(caption.clone(), down);
            }
            strip.above = if at == 0 { frame.size.leading * 1.1 } else { 0.0 };
            strip.floats = last == 0;
            strips.push(strip);
        }
        strips
    }

    /// Pages whose ink is turned, each with as many parts as it holds.
    fn turned(&mut self, plate: Plate<'_>) -> Vec<Strip> {
        let (wide, high) = (self.sheet.high(), self.sheet.wide());
        let inner = Frame { x: 0.0, width: wide, measure: wide, ..plate.frame };
        let plate = Plate { frame: inner, ..plate };
        let caption = self.caption(plate.figure, Some(plate.scene), inner);
        let caption = stacked(Kind::Head, (0.0, wide), caption);
        let room = high - caption.height - GAP;
        let mut groups: Vec<Vec<Piece>> = Vec::new();
        let mut filled = f32::MAX;
        for piece in pieces(plate.scene) {
            let part = piece.height() as f32 * plate.scale;
            if filled + part > room {
                groups.push(Vec::new());
                filled = 0.0;
            }
            filled += part;
            groups.last_mut().into_iter().for_each(|g| g.push(piece.clone()));
        }
        let last = groups.len().saturating_sub(1);
        let mut strips = Vec::with_capacity(groups.len());
        for (at, group) in groups.iter().enumerate() {
            let mut strip = drawn(plate, group, room);
            if at == last {
                let down = strip.height + GAP;
                strip.height = down + caption.height;
                strip.take(caption.clone(), down);
            }
            strips.push(Strip::turned(Kind::Figure, strip, (high, wide)));
        }
        strips
    }
}

/// How large a drawing can be drawn on a page of that width and height, at most in its true size, parted at its folds; all its
/// parts have one measure. Some room is left for the caption.
fn scale(scene: &Scene, (wide, high): (f32, f32)) -> f32 {
    let tallest = pieces(scene).iter().map(|p| p.height() as f32).fold(1.0, f32::max);
    (wide / scene.width as f32).min((high - CAPTION) / tallest).clamp(0.05, 1.0)
}

/// Parts of a drawing under one another, made smaller where they are higher than there is room.
fn drawn(plate: Plate<'_>, parts: &[Piece], most: f32) -> Strip {
    let true_high: f32 = parts.iter().map(|p| p.height() as f32).sum();
    let fits = true_high * plate.scale <= most;
    let scale = if fits { plate.scale } else { (most / true_high).max(0.05) };
    let mut strip = Strip::new(Kind::Figure, (plate.frame.x, plate.frame.width), 0.0);
    for piece in parts {
        let (figure, piece) = (plate.figure.id.clone(), piece.clone());
        let high = piece.height() as f32 * scale;
        strip.put(plate.frame.x, strip.height, Ink::Scene(Drawn { figure, piece, scale, node: plate.node }));
        strip.height += high;
    }
    strip
}

/// What a page reader says in place of the drawing.
fn in_words(scene: &Scene) -> String {
    let mut words = format!("{}. {}", scene.title, scene.reading);
    for line in &scene.alternative {
        words.push('\n');
        words.push_str(line);
    }
    words
}
