//! A scene on a page: the same marks as in the SVG, as lines and as text that can be found and copied.
//!
//! Colours come from the style of the SVG and places from the same geometry, so that the two cannot differ. What many
//! drawings share is written into the file once. Tags are for the page: everything here is drawn into one of its slots.
mod letters;
mod look;
mod marks;
mod outlines;
mod sheet;

use super::fonts::Fonts;
use crate::diagram::scene::{Scene, Shared};
use krilla::geom::Transform;
use krilla::graphic::Graphic;
use krilla::surface::Surface;
use look::Looks;
use sheet::Sheet;
use std::collections::BTreeMap;
use std::ops::Range;

/// A part of a scene that is not divided: all of it, or a band of a long one. The last one has the legend.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its marks.
    pub marks: Range<usize>,
    /// Its upper edge within the scene, pt.
    pub top: f64,
    /// Its lower edge, pt.
    pub bottom: f64,
}

impl Piece {
    /// Its height, pt.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }
}

/// The pieces of a scene from top to bottom, the same as in the page on a screen.
pub fn pieces(scene: &Scene) -> Vec<Piece> {
    let mut ends: Vec<(usize, f64)> = scene.folds.iter().map(|f| (f.marks.min(scene.marks.len()), f.bottom)).collect();
    ends.pop();
    ends.push((scene.marks.len(), scene.height));
    let (mut first, mut top) = (0, 0.0);
    let piece = |(end, bottom): (usize, f64)| {
        let piece = Piece { marks: first.min(end)..end, top, bottom };
        (first, top) = (end, bottom);
        piece
    };
    ends.into_iter().map(piece).collect()
}

/// Where a piece is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Its left edge on the page, pt.
    pub x: f32,
    /// Its upper edge, pt.
    pub y: f32,
    /// How large it is drawn; 1 is its true size.
    pub scale: f32,
}

/// Draws scenes into one document.
#[derive(Default)]
pub struct Pen {
    looks: Looks,
    /// What was drawn once for many scenes, by its id.
    forms: BTreeMap<String, Graphic>,
}

impl Pen {
    /// A pen for a new document.
    pub fn new() -> Self {
        Self::default()
    }

    /// Draws a piece of a scene. The marked content that it belongs to is begun and ended by the page.
    pub fn draw(
        &mut self,
        surface: &mut Surface<'_>,
        fonts: &mut Fonts,
        (scene, piece): (&Scene, &Piece),
        place: Place,
    ) {
        let scale = if place.scale.is_finite() && place.scale > 0.0 { place.scale } else { 1.0 };
        let (x, y) = (place.x, place.y - piece.top as f32 * scale);
        let shared = scene.shared.as_deref().and_then(|s| self.form(surface, s));
        surface.push_transform(&Transform::from_row(scale, 0.0, 0.0, scale, x, y));
        let marks = scene.marks.get(piece.marks.clone()).unwrap_or_default();
        let mut sheet = Sheet::new(surface, &mut self.looks);
        marks::draw(&mut sheet, fonts, (scene, marks), shared.as_ref());
        sheet.finish();
        surface.pop();
    }

    /// What a scene shares with others, as one thing of the file.
    fn form(&mut self, surface: &mut Surface<'_>, shared: &Shared) -> Option<Graphic> {
        if !self.forms.contains_key(&shared.id) {
            let mut stream = surface.stream_builder();
            let mut inner = stream.surface();
            let mut sheet = Sheet::new(&mut inner, &mut self.looks);
            shared.shapes.iter().for_each(|s| sheet.shape(s));
            sheet.finish();
            inner.finish();
            self.forms.insert(shared.id.clone(), Graphic::new(stream.finish(), false));
        }
        self.forms.get(&shared.id).cloned()
    }
}
