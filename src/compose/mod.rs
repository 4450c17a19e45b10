//! Model, answers and chapters to the one document tree. Claims are proved here.
//!
//! Names come into the tree only as names, numbers only as facts of the ledger, sentences of the model's author only as quoted; what
//! else is said comes from the phrases or from the chapters. This module draws nothing and lays nothing out.
mod card;
mod chapters;
pub mod claims;
pub mod composer;
mod figures;
mod late;
mod numbers;
pub mod phrase;
mod plots;
mod pointers;
mod prints;
mod prose;
mod rings;
pub mod say;
pub mod tables;
mod value;
pub mod words;

pub use prints::Prints;

use crate::analyse::network::Analysis;
use crate::base::{Diagnostics, Sources};
use crate::doc::{Document, Meta, Prose};
use crate::model::Model;
use crate::parse::book::Book;
use composer::Composer;
use words::Words;

/// What composing gives.
#[derive(Debug, Clone)]
pub struct Composed {
    /// The guide, unless there are errors.
    pub document: Option<Document>,
    /// The free sentences of the chapters and their claims, for the lints.
    pub prose: Prose,
    /// What is wrong.
    pub diagnostics: Diagnostics,
}

/// Makes the document.
///
/// # Errors
/// Codes: `name-unknown`, `value-unknown`, `call-argument`, `link-unknown`, `heading-twice`, `heading-attribute`, `topic-unknown`, `claim-grammar`, `claim-unknown`,
/// `claim-false`.
pub fn compose(
    model: &Model,
    analysis: &Analysis<'_>,
    book: &Book,
    sources: &Sources,
    prints: Prints,
) -> (Option<Document>, Diagnostics) {
    let composed = compose_with_prose(model, analysis, book, sources, prints);
    (composed.document, composed.diagnostics)
}

/// Makes the document, and gives what the book lints read.
///
/// # Errors
/// As [`compose`].
pub fn compose_with_prose(
    model: &Model,
    analysis: &Analysis<'_>,
    book: &Book,
    sources: &Sources,
    prints: Prints,
) -> Composed {
    let words = Words::new(model);
    let mut composer = Composer::new(model, analysis, &words, sources);
    let (chapters, prose) = chapters::write(&mut composer, book);
    let meta = meta(model, prints);
    let mut diagnostics = composer.diagnostics;
    diagnostics.sort(sources);
    let whole = !diagnostics.has_errors();
    let document = whole.then_some(Document { meta, chapters, ledger: composer.ledger });
    Composed { document, prose, diagnostics }
}

/// The quick-reference card of a guide: a document of its own, of one chapter.
pub fn card(model: &Model, analysis: &Analysis<'_>, sources: &Sources, meta: &Meta) -> Document {
    let words = Words::new(model);
    let mut composer = Composer::new(model, analysis, &words, sources);
    let chapter = composer.card();
    Document { meta: meta.clone(), chapters: vec![chapter], ledger: composer.ledger }
}

fn meta(model: &Model, prints: Prints) -> Meta {
    let aircraft = &model.aircraft;
    let which = aircraft.registration.as_ref().map_or_else(String::new, |r| format!(" {r}"));
    Meta {
        title: format!("Study guide: {}{which}", aircraft.name),
        type_name: aircraft.name.clone(),
        maker: aircraft.maker.clone(),
        registration: aircraft.registration.clone(),
        revision: aircraft.revision,
        date: aircraft.date.clone(),
        handbook: aircraft.handbook.clone(),
        confirmed: model.items.iter().filter(|i| i.seen.is_some()).count(),
        items: model.items.len(),
        facts_fingerprint: prints.facts,
        made_by: prints.made_by,
        canonical: prints.canonical,
        language: "en".to_owned(),
    }
}
