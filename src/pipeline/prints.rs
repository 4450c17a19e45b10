//! The canonical text and the two fingerprints of a guide.

use super::bundle::hex;
use crate::base::Sources;
use crate::compose::Prints;
use crate::model::Model;
use crate::parse::book::Book;
use crate::resolve;
use sha2::{Digest, Sha256};

/// Everything besides the model and its chapters that shapes a guide.
const MAKERS: &[&str] = &[
    env!("CARGO_PKG_VERSION"),
    include_str!("../../templates/page.html"),
    include_str!("../../templates/page.css"),
    include_str!("../../templates/page.js"),
    include_str!("../../templates/phrases.toml"),
];

/// The canonical text with the fingerprint of the facts in it, and the fingerprint of program and templates.
pub fn of(model: &Model, book: &Book, sources: &Sources) -> Prints {
    let canonical = canonical(model, book, sources);
    let facts = hex(&Sha256::digest(canonical.as_bytes()));
    let mut makers = Sha256::new();
    for part in MAKERS {
        makers.update((part.len() as u64).to_le_bytes());
        makers.update(part.as_bytes());
    }
    Prints { canonical, facts_fingerprint: facts, made_by: hex(&makers.finalize()) }
}

/// The resolved model, then the chapters, as DEVELOPERS.md lays down.
fn canonical(model: &Model, book: &Book, sources: &Sources) -> String {
    let mut text = resolve::canonical_model(model);
    for chapter in &book.chapters {
        let body = sources.get(chapter.file).map_or("", |f| f.text.as_str());
        text.push_str(&format!("+++ chapter {} +++\n{}", chapter.file_name, body.replace("\r\n", "\n")));
        if !text.ends_with('\n') {
            text.push('\n');
        }
    }
    text
}
