//! What the lists of a guide name: sections, tables of failures, drawings. Page and screen list the same.

use crate::doc::{Block, Chapter, Document, Inlines, TableKind};

/// Where an entry leads, and what it is called.
pub type Entry<'a> = (&'a str, &'a Inlines);

/// Entries of one kind under their chapters; a chapter without any is left out.
pub fn with_entries<'a>(
    document: &'a Document,
    entry: fn(&'a Block) -> Option<Entry<'a>>,
) -> Vec<(&'a Chapter, Vec<Entry<'a>>)> {
    let of = |c: &'a Chapter| (c, c.blocks.iter().filter_map(entry).collect::<Vec<Entry>>());
    document.chapters.iter().map(of).filter(|(_, entries)| !entries.is_empty()).collect()
}

/// A heading under the title of its chapter.
pub fn section_entry(block: &Block) -> Option<Entry<'_>> {
    match block {
        Block::Heading { level: 0..=2, id, text } => Some((id, text)),
        _ => None,
    }
}

/// A table of what a failure does.
pub fn failure_entry(block: &Block) -> Option<Entry<'_>> {
    match block {
        Block::Table(table) if table.kind == TableKind::Failure => Some((&table.id, &table.caption)),
        _ => None,
    }
}

/// A drawing.
pub fn figure_entry(block: &Block) -> Option<Entry<'_>> {
    match block {
        Block::Figure(figure) => Some((&figure.id, &figure.caption)),
        _ => None,
    }
}
