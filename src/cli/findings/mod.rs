//! Diagnostics as text for a person, as JSON, and as SARIF.
mod human;
mod json;
mod sarif;

pub use human::{summary, write as human};
pub use json::{CheckAnswer, Finding, FindingPlace, SentenceCount};
pub use sarif::write as sarif;

use crate::base::{Sources, Span};

/// First and last place of a span, counted from one, columns in characters; the end is the character after the last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Extent {
    line: usize,
    column: usize,
    end_line: usize,
    end_column: usize,
}

impl Extent {
    fn of(span: Span, sources: &Sources) -> Self {
        let (line, column) = sources.line_column(span);
        let end = Span { start: span.end.max(span.start), ..span };
        let (end_line, end_column) = sources.line_column(end);
        Self { line, column, end_line, end_column }
    }
}
