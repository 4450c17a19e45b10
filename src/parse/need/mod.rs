//! Needs: sentences and tables to one raw tree, with spans.
//!
//! This module does not know which nodes, controls and positions there are.
mod sentence;
mod table;
mod words;

pub use table::NEED_TABLE;

use super::raw::{RawKind, RawValue};
use crate::base::{Diagnostics, Span, Spanned};

/// A need as written.
#[derive(Debug, Clone, PartialEq)]
pub enum RawNeed {
    /// Something from a node.
    Feed(RawFeed),
    /// Controls that must stand so.
    When(RawWhen, Span),
    /// One is enough.
    Any(Vec<RawNeed>, Span),
    /// All must hold.
    All(Vec<RawNeed>, Span),
    /// So many of them.
    AtLeast(usize, Vec<RawNeed>, Span),
}

/// A feed as written.
#[derive(Debug, Clone, PartialEq)]
pub struct RawFeed {
    /// The node that it comes from.
    pub from: Spanned<String>,
    /// What it passes.
    pub through: Vec<Spanned<String>>,
    /// How controls must stand.
    pub when: RawWhen,
    /// The output of what needs it may keep it up.
    pub sustained: bool,
    /// What is not exact when it alone carries.
    pub approximate: Option<String>,
    /// The whole of it.
    pub span: Span,
}

/// Controls and the positions that will do.
pub type RawWhen = Vec<(Spanned<String>, Vec<Spanned<String>>)>;

/// Reads one need; a sentence or a table.
///
/// # Errors
/// `need-grammar`, `empty-need`, `at-least-out-of-range`, and the codes of keys for tables.
pub fn parse_need(value: &RawValue, diagnostics: &mut Diagnostics) -> Option<RawNeed> {
    match &value.kind {
        RawKind::Text(text) => match sentence::parse(value, &text.text) {
            Ok(need) => Some(need),
            Err(diagnostic) => {
                diagnostics.push(*diagnostic);
                None
            }
        },
        RawKind::Table(table) => table::parse(table, value.span, diagnostics),
        _ => None,
    }
}

/// Reads a list of needs; what cannot be read is told and left out.
pub fn parse_needs(value: &RawValue, diagnostics: &mut Diagnostics) -> Vec<RawNeed> {
    value.as_list().unwrap_or(&[]).iter().filter_map(|v| parse_need(v, diagnostics)).collect()
}

/// Reads `{ control = "position" }` or `{ control = ["position", …] }`.
pub fn parse_when(value: &RawValue) -> RawWhen {
    let entries = value.as_table().map_or(&[][..], |t| &t.entries);
    entries
        .iter()
        .map(|e| {
            let one = std::slice::from_ref(&e.value);
            let positions = e.value.as_list().unwrap_or(one).iter().filter_map(name_of).collect();
            (Spanned::new(e.key.clone(), e.key_span), positions)
        })
        .collect()
}

/// A text as a name with the place of its characters.
pub fn name_of(value: &RawValue) -> Option<Spanned<String>> {
    value.as_text().map(|text| Spanned::new(text.to_owned(), value.inner_span(0..text.len())))
}
