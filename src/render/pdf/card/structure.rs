//! What a page reader follows: a title, tables with heads of columns and rows, the sentence at the foot.

use krilla::tagging::{Identifier, TableHeaderScope, Tag, TagGroup, TagKind, TagTree};
use std::num::NonZeroU16;

/// The identifiers of a row: cells, the things that each says, their lines.
type Cells = Vec<Vec<Vec<Identifier>>>;

/// A table that is being drawn.
struct Table {
    says: String,
    caption: Vec<Identifier>,
    head: Option<TagGroup>,
    rows: Vec<TagGroup>,
}

/// All of it, in reading order.
pub(super) struct Structure {
    title: String,
    heading: Vec<Identifier>,
    note: Vec<Identifier>,
    tables: Vec<Table>,
    feet: Vec<Identifier>,
}

impl Structure {
    /// A card with this title and tables with these captions.
    pub fn new<'c>(title: &str, captions: impl Iterator<Item = &'c str>) -> Self {
        let table = |says: &str| Table { says: says.to_owned(), caption: Vec::new(), head: None, rows: Vec::new() };
        let (heading, note, feet) = (Vec::new(), Vec::new(), Vec::new());
        Self { title: title.to_owned(), heading, note, tables: captions.map(table).collect(), feet }
    }

    /// The title and what stands beside it.
    pub fn title(&mut self, heading: Option<Identifier>, note: Option<Identifier>) {
        self.heading.extend(heading);
        self.note.extend(note);
    }

    /// The lines at the foot of a side.
    pub fn foot(&mut self, sentence: Option<Identifier>, edition: Option<Identifier>) {
        self.feet.extend(sentence.into_iter().chain(edition));
    }

    /// The caption of a table.
    pub fn caption(&mut self, table: usize, caption: Option<Identifier>) {
        if let Some(table) = self.tables.get_mut(table) {
            table.caption.extend(caption);
        }
    }

    /// The heads of a table's columns.
    pub fn head(&mut self, table: usize, cells: Cells) {
        let row = row(cells, |_| Tag::TH(TableHeaderScope::Column).into());
        if let Some(table) = self.tables.get_mut(table) {
            table.head = Some(TagGroup::with_children(Tag::THead, vec![row.into()]));
        }
    }

    /// A row of a table; its first cell says what it is about.
    pub fn row(&mut self, table: usize, cells: Cells) {
        let scope = |at: usize| if at == 0 { Tag::TH(TableHeaderScope::Row).into() } else { Tag::TD.into() };
        let row = row(cells, scope);
        if let Some(table) = self.tables.get_mut(table) {
            table.rows.push(row);
        }
    }

    /// The tree as the library takes it.
    pub fn build(self, language: &str) -> TagTree {
        let mut tree = TagTree::new().with_lang((!language.is_empty()).then(|| language.to_owned()));
        tree.push(group(Tag::Hn(NonZeroU16::MIN, Some(self.title)), self.heading));
        tree.push(group(Tag::P, self.note));
        for table in self.tables {
            let mut whole = TagGroup::new(Tag::Table.with_summary(Some(table.says)));
            whole.push(group(Tag::Caption, table.caption));
            table.head.into_iter().for_each(|head| whole.push(head));
            whole.push(TagGroup::with_children(Tag::TBody, table.rows.into_iter().map(Into::into).collect()));
            tree.push(whole);
        }
        self.feet.into_iter().for_each(|line| tree.push(group(Tag::P, vec![line])));
        tree
    }
}

fn row(cells: Cells, tag: impl Fn(usize) -> TagKind) -> TagGroup {
    let cell = |(at, things): (usize, Vec<Vec<Identifier>>)| {
        let things = things.into_iter().map(|lines| group(Tag::P, lines).into()).collect();
        TagGroup::with_children(tag(at), things).into()
    };
    TagGroup::with_children(Tag::TR, cells.into_iter().enumerate().map(cell).collect())
}

fn group(tag: impl Into<TagKind>, leaves: Vec<Identifier>) -> TagGroup {
    TagGroup::with_children(tag, leaves.into_iter().map(Into::into).collect())
}
