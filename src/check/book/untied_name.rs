//! `untied-name`: the name of an item that is typed and not pulled.

use super::Subject;
use super::named::{find, lower};
use crate::base::Diagnostic;
use crate::doc::{Piece, Tie};
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
    let text = lower(&piece.text);
    let mut places: Vec<(Range<usize>, &str)> = Vec::new();
    for item in &subject.model.items {
        let id = item.id.as_str();
        let names = subject.names.of(id).iter();
        places.extend(names.flat_map(|n| find(&text, n)).map(|range| (range, id)));
    }
    // Of names that overlap, the longest is meant.
    places.sort_by_key(|(range, _)| (range.start, std::cmp::Reverse(range.end)));
    let mut end = 0;
    let mut found = Vec::new();
    for (range, id) in places {
        if range.start < end {
            continue;
        }
        end = range.end;
        let message =
            format!("“{}” names an item and is not tied to the model", piece.text.get(range.clone()).unwrap_or(""));
        let help = format!("write `{{{{ name(of=\"{id}\") }}}}`, or claim the sentence");
        found.push(Diagnostic::warning("untied-name", piece.span.inner(range), message).help(help));
    }
    found
}
