//! The one tree that every output is made from.
//!
//! What a [`Document`] that `compose` gives guarantees (a test in `compose` for each):
//! 1. ids of chapters, headings, tables, figures and facts are unique in the document, stable and readable (`fail/vacuum-pump`);
//! 2. a number with a unit enters visible text only as [`Inline::Shown`], the name of an item only as [`Inline::Name`]
//!    (or inside the author's own sentence, [`Inline::Quoted`]);
//! 3. every [`Inline::Shown`] names a fact of the ledger, and its text is that fact's `shown`;
//! 4. every row of a table has as many cells as the table has columns;
//! 5. every [`Inline::Ref`] leads to an id of the document;
//! 6. every chapter has a title and at least one block; headings go down one level at a time;
//! 7. every figure has a text alternative by the time it is rendered (`diagram` gives it).
//!
//! Renderers get this tree and nothing of the model. The training-aid notice is not in the tree: renderers put it on every page.
mod block;
mod inline;
mod ledger;
mod plot;
mod prose;
mod shown;
mod table;
mod topic;

pub use block::{Block, Figure, FigureKind, NoticeLevel, Step};
pub use inline::{Inline, Inlines, plain_text};
pub use ledger::{Fact, FactId, FactOrigin, Ledger};
pub use plot::{Axis, Band, Bar, Bars, Chart, Curve, Curves, PlotShown, Stroke};
pub use prose::{ClaimedSentence, Coverage, Piece, Prose, Sentence, Tie};
pub use shown::{PanelShown, Sign, StillTold, ToldBy};
pub use table::{Cell, Column, Mark, Row, Subject, Table, TableKind};
pub use topic::{TOPICS, Topic};

/// A whole guide.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// What stands on the cover and at the foot of pages.
    pub meta: Meta,
    /// Chapters in order.
    pub chapters: Vec<Chapter>,
    /// Every fact that is shown.
    pub ledger: Ledger,
}

/// What stands on the cover and at the foot of pages.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Meta {
    /// "Study guide: Brackwater BW-4 Sandling".
    pub title: String,
    /// Name of the type.
    pub type_name: String,
    /// Who makes the aircraft.
    pub maker: String,
    /// Of one individual aircraft.
    pub registration: Option<String>,
    /// Number of the revision.
    pub revision: i64,
    /// Its date, `2026-05-02`.
    pub date: String,
    /// The governing handbook.
    pub handbook: String,
    /// Items confirmed at the aircraft.
    pub confirmed: usize,
    /// Items in all.
    pub items: usize,
    /// Fingerprint of the canonical text, hexadecimal: is this print still current?
    pub facts_fingerprint: String,
    /// Fingerprint of program and templates, hexadecimal: small print.
    pub made_by: String,
    /// The canonical text: resolved model, then chapters.
    pub canonical: String,
    /// Language of the text, as in BCP 47.
    pub language: String,
}

impl Meta {
    /// True until every item was confirmed at the aircraft.
    pub fn is_draft(&self) -> bool {
        self.confirmed < self.items
    }
}

/// One chapter.
#[derive(Debug, Clone, PartialEq)]
pub struct Chapter {
    /// Its id, from its file name.
    pub id: String,
    /// From 1.
    pub number: usize,
    /// Its title.
    pub title: Inlines,
    /// What it holds.
    pub blocks: Vec<Block>,
}

/// The sentence on the cover and at the foot of every page.
pub const TRAINING_AID: &str = "Training aid. The approved flight manual, placards and your instructor govern.";
