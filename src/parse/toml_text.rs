//! One TOML text to a raw tree.

use super::depth::{DEEPEST, too_deep_at};
use super::raw::{RawEntry, RawKind, RawTable, RawText, RawValue};
use crate::base::{Diagnostic, Diagnostics, FileId, Span};
use std::ops::Range;
use toml::de::{DeArray, DeTable, DeValue};

/// A file with more bytes than this is not read.
pub const LARGEST_FILE: usize = 8 * 1024 * 1024;

/// At most so many syntax errors of one file are told.
const MOST_SYNTAX_ERRORS: usize = 50;

/// Reads the text of one file. What can be understood is given back also where there are errors.
///
/// # Errors
/// `too-large`, `nested-too-deep`, `syntax`, `key-twice`.
pub fn parse_text(file: FileId, text: &str, diagnostics: &mut Diagnostics) -> Option<RawTable> {
    if text.len() > LARGEST_FILE {
        diagnostics.push(too_large(file, text.len()));
        return None;
    }
    if let Some(at) = too_deep_at(text) {
        diagnostics.push(too_deep(Span::new(file, at..at + 1)));
        return None;
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    let tree = Reader { file, text }.table(table.get_ref(), false);
    for error in errors.iter().take(MOST_SYNTAX_ERRORS) {
        let found = syntax(file, text, error.message(), error.span());
        diagnostics.push(match first_of(&tree, text, &found) {
            Some(first) => found.also(first, "here it is defined already"),
            None => found,
        });
    }
    Some(tree)
}

/// Where the key of a `key-twice` stands first: looked up by the head of its table, where both are written without quotes.
fn first_of(tree: &RawTable, text: &str, found: &Diagnostic) -> Option<Span> {
    let at = found.primary.span.range();
    let before = text.get(..at.start).filter(|_| found.code == "key-twice")?;
    let line = text.get(before.rfind('\n').map_or(0, |n| n + 1)..at.end)?;
    if let Some(head) = line.strip_prefix('[') {
        let first = before.find(&format!("\n[{head}]")).map(|n| n + 2)?;
        return Some(Span::new(found.primary.span.file, first..first + head.len()));
    }
    let head = before.lines().rev().find_map(|l| l.strip_prefix('[')?.split(']').next()).unwrap_or("");
    let path = [head, line].join(".");
    let steps: Vec<&str> = path.split('.').map(str::trim).filter(|s| !s.is_empty()).collect();
    let (last, around) = steps.split_last()?;
    let table = around.iter().try_fold(tree, |table, step| table.table(step))?;
    table.get(last).map(|e| e.key_span).filter(|s| *s != found.primary.span)
}

/// The diagnostic for a file that is too large.
pub fn too_large(file: FileId, bytes: usize) -> Diagnostic {
    Diagnostic::error(
        "too-large",
        Span::new(file, 0..0),
        format!("the file has {bytes} bytes; {LARGEST_FILE} is the most"),
    )
    .help("split the file over several, or leave out what is not part of the model")
}

fn too_deep(span: Span) -> Diagnostic {
    Diagnostic::error("nested-too-deep", span, format!("tables and lists nest deeper than {DEEPEST} here"))
        .help("write the need as a sentence, or give its inner part an item of its own")
}

fn syntax(file: FileId, text: &str, message: &str, range: Option<Range<usize>>) -> Diagnostic {
    let range = range.unwrap_or(text.len()..text.len());
    let span = Span::new(file, range.clone());
    let message = message.lines().next().unwrap_or("this is not TOML");
    if message.contains("duplicate key") {
        let key: String = text.get(range).unwrap_or("").chars().take(80).collect();
        return Diagnostic::error("key-twice", span, format!("`{key}` is defined twice in this file"))
            .help("keep one of the two, since each fact is declared once");
    }
    Diagnostic::error("syntax", span, format!("this is not TOML: {message}")).help("mend the line so that it is TOML")
}

/// Turns the parser's tree into our own.
struct Reader<'a> {
    file: FileId,
    text: &'a str,
}

impl Reader<'_> {
    fn span(&self, range: Range<usize>) -> Span {
        Span::new(self.file, range)
    }

    fn table(&self, table: &DeTable<'_>, braces: bool) -> RawTable {
        let mut entries: Vec<RawEntry> = table
            .iter()
            .map(|(key, value)| {
                let key_span = self.span(key.span());
                let mut value = self.value(value.get_ref(), value.span());
                if value.span.end <= value.span.start {
                    value.span = key_span;
                }
                RawEntry { key: key.get_ref().to_string(), key_span, value }
            })
            .collect();
        entries.sort_by_key(|e| e.key_span);
        RawTable { entries, braces }
    }

    fn value(&self, value: &DeValue<'_>, range: Range<usize>) -> RawValue {
        let span = self.span(range.clone());
        let kind = match value {
            DeValue::String(text) => RawKind::Text(self.text(text, range)),
            DeValue::Integer(n) => {
                let digits = n.as_str();
                RawKind::Whole(i64::from_str_radix(digits, n.radix()).ok())
            }
            DeValue::Float(n) => RawKind::Number(n.as_str().parse().unwrap_or(f64::NAN)),
            DeValue::Boolean(b) => RawKind::Bool(*b),
            DeValue::Datetime(d) => RawKind::Date(d.to_string(), d.date.is_some() && d.time.is_none()),
            DeValue::Array(list) => RawKind::List(self.list(list)),
            DeValue::Table(table) => {
                let braces = self.text.as_bytes().get(range.start) == Some(&b'{');
                RawKind::Table(self.table(table, braces))
            }
        };
        RawValue { kind, span }
    }

    fn list(&self, list: &DeArray<'_>) -> Vec<RawValue> {
        list.iter().map(|v| self.value(v.get_ref(), v.span())).collect()
    }

    fn text(&self, text: &str, range: Range<usize>) -> RawText {
        let written = self.text.get(range.clone()).unwrap_or("");
        let at = ["\"\"\"", "'''", "\"", "'"].iter().find_map(|quote| {
            let inside = written.strip_prefix(quote)?.strip_suffix(quote)?;
            let inside = if quote.len() == 3 { inside.strip_prefix('\n').unwrap_or(inside) } else { inside };
            (inside == text).then(|| written.len() - quote.len() - inside.len())
        });
        RawText { text: text.to_owned(), inner: at.map(|at| (range.start + at) as u32) }
    }
}
