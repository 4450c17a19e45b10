//! What stands before the first chapter: cover, contents, lists, effective pages, revisions.

use super::pages::Page;
use super::setter::Setter;
use super::tags::NodeIx;
use crate::doc::Document;

/// Parts before the first chapter, with their ids.
pub(super) const PARTS: &[(&str, &str)] = &[("Cover", "page/cover"), ("Contents", "page/contents")];

/// Places in the reading order that are kept for what is laid out last.
pub(super) struct FrontNodes(pub Vec<NodeIx>);

impl<'a> Setter<'a> {
    /// Keeps the places.
    pub(super) fn front_nodes(&mut self) -> FrontNodes {
        FrontNodes(Vec::new())
    }

    /// The pages before the first chapter.
    pub(super) fn front(&mut self, _document: &'a Document, _nodes: &FrontNodes, _body: &[Page]) -> Vec<Page> {
        Vec::new()
    }
}
