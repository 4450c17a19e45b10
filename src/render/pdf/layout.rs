//! A whole document laid out: all pages with all ids, before anything is drawn.

use super::pages::{Page, anchors};
use super::setter::Setter;
use super::sheet::Sheet;
use crate::diagram::Scene;
use crate::doc::{Document, plain_text};
use crate::render::Paper;
use std::collections::BTreeMap;

/// All pages, with what is needed to draw them.
pub(super) struct Layout<'a> {
    /// The setter with its lines, faces and reading order.
    pub setter: Setter<'a>,
    /// Pages in order, those before the first chapter included.
    pub pages: Vec<Page>,
    /// Where every id stands: number of the page from the first, and how far down.
    pub anchors: BTreeMap<String, (usize, f32)>,
}

/// Lays a document out: the chapters first, then what stands before them and tells their pages.
pub(super) fn lay_out<'a>(document: &'a Document, scenes: &'a BTreeMap<String, Scene>, paper: Paper) -> Layout<'a> {
    lay_out_on(document, scenes, Sheet::of(paper))
}

/// The same on any sheet.
pub(super) fn lay_out_on<'a>(document: &'a Document, scenes: &'a BTreeMap<String, Scene>, sheet: Sheet) -> Layout<'a> {
    let mut setter = Setter::new(document, scenes, sheet);
    let front = setter.front_nodes();
    let mut body = Vec::new();
    for chapter in &document.chapters {
        let strips = setter.chapter(chapter);
        let head = format!("{}  {}", chapter.number, plain_text(&chapter.title));
        body.append(&mut setter.paginated(strips, Some(chapter.number), &head));
    }
    let mut pages = setter.front(document, &front, &body);
    pages.append(&mut body);
    let anchors = anchors(&pages);
    Layout { setter, pages, anchors }
}
