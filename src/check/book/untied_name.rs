//! `untied-name`: the name of an item that is typed and not pulled.

use super::Subject;
use crate::base::Diagnostic;
use crate::doc::{Piece, Tie};
use crate::model::ItemIx;
use std::ops::Range;

/// The long explanation.
pub const EXPLAIN: &str = "A name that is typed goes stale when the model changes it. Pull it with `{{ name(of=\"…\") }}`, or claim the \
    sentence that it stands in.";

/// Checks every stretch of free text.
pub fn check(subject: &Subject<'_>) -> Vec<Diagnostic> {
    let pieces = subject.prose.sentences.iter().flat_map(|s| s.pieces.iter());
    pieces.filter(|p| p.tie == Tie::Untied).flat_map(|piece| untied(subject, piece)).collect()
}

fn untied(subject: &Subject<'_>, piece: &Piece) -> Vec<Diagnostic> {
    let warn = |(range, item): (Range<usize>, ItemIx)| {
        let id = &subject.model[item].id;
        let named = piece.text.get(range.clone()).unwrap_or("");
        let message = format!("“{named}” names an item and is not tied to the model");
        let help = format!("write `{{{{ name(of=\"{id}\") }}}}`, or claim the sentence");
        Diagnostic::warning("untied-name", piece.span.inner(range), message).help(help)
    };
    subject.names.items_in(&piece.text).into_iter().map(warn).collect()
}
