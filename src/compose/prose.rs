//! Running text cut into sentences, each with its place.

use crate::base::Span;
use crate::doc::{Piece, Sentence};

/// Cuts the pieces of one paragraph into sentences.
pub fn sentences(chapter: &str, pieces: Vec<Piece>) -> Vec<Sentence> {
    let mut all: Vec<Vec<Piece>> = vec![Vec::new()];
    let whole: String = pieces.iter().map(|p| p.text.as_str()).collect();
    let cuts = cuts(&whole);
    let mut at = 0;
    for piece in pieces {
        let end = at + piece.text.len();
        let mut from = at;
        for cut in cuts.iter().copied().filter(|c| (at + 1..=end).contains(c)) {
            push(&mut all, part(&piece, from - at, cut - at));
            all.push(Vec::new());
            from = cut;
        }
        push(&mut all, part(&piece, from - at, end - at));
        at = end;
    }
    all.into_iter().filter_map(|pieces| sentence(chapter, pieces)).collect()
}

/// The text of the sentence that a place stands in; of several sentences, all of them.
pub fn around(sentences: &[Sentence], place: Span) -> String {
    let touches = |s: &&Sentence| s.span.start < place.end && s.span.end > place.start;
    sentences.iter().filter(touches).map(|s| s.text.as_str()).collect::<Vec<_>>().join(" ")
}

fn push(all: &mut [Vec<Piece>], piece: Option<Piece>) {
    if let (Some(last), Some(piece)) = (all.last_mut(), piece) {
        last.push(piece);
    }
}

/// Part of a piece; its place follows where the piece is written byte for byte.
fn part(piece: &Piece, from: usize, to: usize) -> Option<Piece> {
    let text = piece.text.get(from..to).filter(|t| !t.is_empty())?;
    let written = piece.span.range().len() == piece.text.len();
    let span = if written { piece.span.inner(from..to) } else { piece.span };
    Some(Piece { tie: piece.tie.clone(), text: text.to_owned(), span })
}

fn sentence(chapter: &str, pieces: Vec<Piece>) -> Option<Sentence> {
    let text: String = pieces.iter().map(|p| p.text.as_str()).collect();
    let inked: Vec<&Piece> = pieces.iter().filter(|p| !p.text.trim().is_empty()).collect();
    let (first, last) = (inked.first()?, inked.last()?);
    let lead = first.text.len() - first.text.trim_start().len();
    let start =
        if first.span.range().len() == first.text.len() { first.span.start + lead as u32 } else { first.span.start };
    let span = Span { file: first.span.file, start, end: last.span.end.max(start) };
    Some(Sentence { chapter: chapter.to_owned(), span, text: text.trim().to_owned(), pieces })
}

/// Where sentences end: after a stop that is followed by space and a capital or digit.
fn cuts(text: &str) -> Vec<usize> {
    let mut cuts = Vec::new();
    for (at, c) in text.char_indices() {
        if !matches!(c, '.' | '!' | '?') {
            continue;
        }
        let after = &text[at + 1..];
        let rest = after.trim_start();
        let begins = rest.chars().next().is_some_and(|c| c.is_uppercase() || c.is_ascii_digit());
        if rest.len() < after.len() && begins {
            cuts.push(at + 1);
        }
    }
    cuts
}
