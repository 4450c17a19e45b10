//! Pages: the same document tree and the same scenes as PDF.
//!
//! The document is set into strips that are not divided ([`setter`]), the strips are laid on pages ([`pages`]), and the pages are
//! drawn ([`draw`], [`write`]). What a link says of its page is filled in last. The file meets PDF/A-3a and PDF/UA-1 as far as the
//! library can tell, and carries the canonical text.
mod booklet;
mod boxes;
pub mod card;
mod columns;
mod compact;
mod draw;
mod figure;
pub mod fonts;
mod front;
pub mod geometry;
mod inline;
mod layout;
mod lines;
mod pages;
pub mod scene;
mod setter;
mod sheet;
mod strip;
mod table;
mod tags;
mod words;
mod write;

pub use write::{ATTACHED, PdfError};

use crate::diagram::Scene;
use crate::doc::Document;
use crate::render::Paper;
use std::collections::BTreeMap;

/// The guide as one PDF file.
///
/// # Errors
/// [`PdfError`] where the file would not be as its standards want it.
pub fn write(document: &Document, scenes: &BTreeMap<String, Scene>, paper: Paper) -> Result<Vec<u8>, PdfError> {
    write::write(document, layout::lay_out(document, scenes, paper))
}

/// The guide as pages of half the size, two on each side of the paper, in the order in which the sheets are folded to a booklet.
///
/// # Errors
/// [`PdfError`] as for [`write`].
pub fn write_booklet(document: &Document, scenes: &BTreeMap<String, Scene>, paper: Paper) -> Result<Vec<u8>, PdfError> {
    let layout = layout::lay_out_on(document, scenes, sheet::Sheet::half(paper));
    let spread = booklet::Spread::folded(layout.pages.len(), &layout.setter.sheet);
    write::write_on(document, layout, &spread)
}
