//! The figures of a document, and what is drawn for each.

use crate::diagram::{Scene, svg};
use crate::doc::{Block, Document, Figure};
use crate::render::html::Drawings;
use std::collections::BTreeMap;

/// Every figure, in the order of the document.
pub(super) fn figures(document: &Document) -> Vec<&Figure> {
    let mut found = Vec::new();
    document.chapters.iter().flat_map(|c| &c.blocks).for_each(|b| collect(b, &mut found));
    found
}

fn collect<'d>(block: &'d Block, found: &mut Vec<&'d Figure>) {
    match block {
        Block::Figure(figure) => found.push(figure),
        Block::List { items, .. } => items.iter().flatten().for_each(|b| collect(b, found)),
        Block::Notice { body, .. } => body.iter().for_each(|b| collect(b, found)),
        Block::Heading { .. } | Block::Para(_) | Block::Table(_) | Block::Worked { .. } => {}
    }
}

/// The drawings that the page takes in.
pub(super) fn drawings(scenes: &BTreeMap<String, Scene>) -> Drawings {
    scenes.iter().map(|(id, scene)| (id.clone(), scene.into())).collect()
}

/// The same drawings as files of their own.
pub(super) fn pictures(scenes: &BTreeMap<String, Scene>) -> BTreeMap<String, String> {
    scenes.iter().map(|(id, scene)| (id.clone(), svg::write(scene))).collect()
}
