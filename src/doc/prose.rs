//! What the chapters say in their own words, sentence by sentence, with places: for the lints and the listing of claims.
//!
//! Renderers do not see it.

use crate::base::Span;
use std::collections::BTreeSet;

/// All free sentences of a book and all that is claimed in them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Prose {
    /// Sentences in the order of the book.
    pub sentences: Vec<Sentence>,
    /// Claims in the order of the book.
    pub claims: Vec<ClaimedSentence>,
    /// Which items the guide draws and tells of; nothing where the book has no index, which would promise all of them.
    pub coverage: Option<Coverage>,
    /// Codes of topics that no heading teaches or leaves out, each with the call that lists the topics.
    pub untaught: Vec<(String, Span)>,
}

/// Ids of items by what the guide has of them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Coverage {
    /// In a drawing.
    pub drawn: BTreeSet<String>,
    /// With a row in a table of items or in the walk round.
    pub described: BTreeSet<String>,
    /// With a fault in a failure table or in the list of what takes nothing.
    pub failing: BTreeSet<String>,
}

impl Prose {
    /// How many sentences are tied to the model: they hold a pulled name or value, or a proved claim.
    pub fn tied(&self) -> usize {
        self.sentences.iter().filter(|s| s.is_tied()).count()
    }
}

/// One sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sentence {
    /// Id of its chapter.
    pub chapter: String,
    /// From its first to its last character.
    pub span: Span,
    /// As the reader sees it.
    pub text: String,
    /// What it is made of.
    pub pieces: Vec<Piece>,
}

impl Sentence {
    /// True if something in it is pulled from the model or proved against it.
    pub fn is_tied(&self) -> bool {
        self.pieces.iter().any(|p| matches!(p.tie, Tie::Name(_) | Tie::Shown | Tie::Claim(_)))
    }
}

/// A stretch of a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// What holds it to the model.
    pub tie: Tie,
    /// As the reader sees it.
    pub text: String,
    /// Where it stands; byte for byte the text, unless it was pulled.
    pub span: Span,
}

/// What holds a stretch of text to the model.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Tie {
    /// Nothing.
    Untied,
    /// An engraving or a thing typed.
    Code,
    /// The name of the thing of that id.
    Name(String),
    /// A fact of the ledger.
    Shown,
    /// A claim that was proved.
    Claim(String),
}

/// A sentence beside what it claims.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClaimedSentence {
    /// Where the claim's text stands.
    pub span: Span,
    /// What was claimed.
    pub claim: String,
    /// The whole sentence that it stands in.
    pub sentence: String,
    /// Ids of the things that the claim speaks of.
    pub things: Vec<String>,
    /// It says that something is not so.
    pub negative: bool,
}
