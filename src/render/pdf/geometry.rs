//! Where everything stands, as plain numbers: for those who hold the pages against what was promised of them.

use super::layout::{Layout, lay_out};
use super::lines::{Line, Store};
use super::pages::Page;
use super::sheet::Sheet;
use super::strip::{Ink, Put};
use crate::diagram::Scene;
use crate::doc::Document;
use crate::render::Paper;
use std::collections::BTreeMap;

pub use super::strip::Kind;

/// Left, top, right, bottom from the upper left corner of the paper, pt.
pub type Corners = [f32; 4];

/// One page in numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// `3-12`, or `iv`.
    pub label: String,
    /// Number of the chapter; nothing before the first.
    pub chapter: Option<usize>,
    /// It is the last page of its chapter.
    pub last: bool,
    /// What lies between the margins.
    pub text: Corners,
    /// Blocks from top to bottom.
    pub blocks: Vec<(Kind, Corners)>,
    /// Lines of letters, and how high the letters are.
    pub letters: Vec<(f32, Corners)>,
    /// Drawings, and how large they are drawn; 1 is the true size, at which lettering has 8 pt.
    pub drawings: Vec<(f32, Corners)>,
    /// Which share of the height is used.
    pub filled: f32,
}

/// Lays a document out and measures its pages.
pub fn measure(document: &Document, scenes: &BTreeMap<String, Scene>, paper: Paper) -> Vec<Measured> {
    let Layout { setter, pages, .. } = lay_out(document, scenes, paper);
    pages.iter().map(|p| measured(p, &setter.sheet, (&setter.store, scenes))).collect()
}

fn measured(page: &Page, sheet: &Sheet, of: (&Store, &BTreeMap<String, Scene>)) -> Measured {
    let (left, top) = (sheet.side, sheet.top);
    let mut done = Measured {
        label: page.label.clone(),
        chapter: page.chapter,
        last: page.last,
        text: [left, top, left + sheet.wide(), top + sheet.high()],
        blocks: Vec::new(),
        letters: Vec::new(),
        drawings: Vec::new(),
        filled: page.filled() / sheet.high(),
    };
    for laid in &page.laid {
        let (strip, y) = (&laid.strip, top + laid.y);
        let x = left + strip.x;
        done.blocks.push((strip.kind, [x, y, x + strip.width, y + strip.height]));
        for put in &strip.puts {
            done.add(put, &|x, y| (left + x, top + laid.y + y), of);
        }
    }
    done
}

/// From a place within a strip to a place on the paper.
type Onto<'a> = &'a dyn Fn(f32, f32) -> (f32, f32);

impl Measured {
    fn add(&mut self, put: &Put, onto: Onto<'_>, (store, scenes): (&Store, &BTreeMap<String, Scene>)) {
        match &put.ink {
            Ink::Text(line, size) if !is_empty(line, store) => {
                let (far, low) = (put.x + line.width, put.y + size * 0.24);
                self.letters.push((*size, corners(onto(put.x, put.y - size * 0.74), onto(far, low))));
            }
            Ink::Scene(drawn) => {
                let wide = scenes.get(&drawn.figure).map_or(0.0, |s| s.width as f32) * drawn.scale;
                let high = drawn.piece.height() as f32 * drawn.scale;
                self.drawings.push((drawn.scale, corners(onto(put.x, put.y), onto(put.x + wide, put.y + high))));
            }
            Ink::Turned(wide, down, puts) => {
                let turned = |x: f32, y: f32| onto(put.x + down + y, put.y + wide - x);
                puts.iter().for_each(|p| self.add(p, &turned, (store, scenes)));
            }
            _ => {}
        }
    }
}

fn is_empty(line: &Line, store: &Store) -> bool {
    store.of(line).is_empty()
}

fn corners(a: (f32, f32), b: (f32, f32)) -> Corners {
    [a.0.min(b.0), a.1.min(b.1), a.0.max(b.0), a.1.max(b.1)]
}

/// The label of the page on which each id stands.
pub fn places(document: &Document, scenes: &BTreeMap<String, Scene>, paper: Paper) -> BTreeMap<String, String> {
    let Layout { pages, anchors, .. } = lay_out(document, scenes, paper);
    let label = |at: usize| pages.get(at).map(|p| p.label.clone()).unwrap_or_default();
    anchors.into_iter().map(|(id, (page, _))| (id, label(page))).collect()
}
