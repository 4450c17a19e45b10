//! The raw tree: what stands in the files, with spans, before anything is understood.

use crate::base::Span;

/// A value and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct RawValue {
    /// What it is.
    pub kind: RawKind,
    /// Its exact characters, with quotes.
    pub span: Span,
}

/// What a value is.
#[derive(Debug, Clone, PartialEq)]
pub enum RawKind {
    /// Text.
    Text(RawText),
    /// A whole number; `None` if it does not fit.
    Whole(Option<i64>),
    /// A number with a fraction.
    Number(f64),
    /// True or false.
    Bool(bool),
    /// A date as typed; the flag says that it has no time of day.
    Date(String, bool),
    /// A list.
    List(Vec<RawValue>),
    /// A table.
    Table(RawTable),
}

/// A text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RawText {
    /// What it says, escapes undone.
    pub text: String,
    /// Where its first character stands, if the text stands in the file as it is (no escapes).
    pub inner: Option<u32>,
}

/// A table: its entries in written order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RawTable {
    /// Keys and values.
    pub entries: Vec<RawEntry>,
    /// Written in braces: closed to additions from elsewhere.
    pub braces: bool,
}

/// A key with its value.
#[derive(Debug, Clone, PartialEq)]
pub struct RawEntry {
    /// The key.
    pub key: String,
    /// Where the key stands.
    pub key_span: Span,
    /// The value.
    pub value: RawValue,
}

impl RawTable {
    /// The entry of that key.
    pub fn get(&self, key: &str) -> Option<&RawEntry> {
        self.entries.iter().find(|e| e.key == key)
    }

    /// The entry of that key, to change.
    pub fn get_mut(&mut self, key: &str) -> Option<&mut RawEntry> {
        self.entries.iter_mut().find(|e| e.key == key)
    }

    /// The table of that key, if it is one.
    pub fn table(&self, key: &str) -> Option<&Self> {
        self.get(key).and_then(|e| e.value.as_table())
    }

    /// The text of that key, if it is one.
    pub fn text(&self, key: &str) -> Option<&str> {
        self.get(key).and_then(|e| e.value.as_text())
    }

    /// Takes an entry out.
    pub fn remove(&mut self, key: &str) -> Option<RawEntry> {
        let at = self.entries.iter().position(|e| e.key == key)?;
        Some(self.entries.remove(at))
    }
}

impl RawValue {
    /// The text, if it is one.
    pub fn as_text(&self) -> Option<&str> {
        match &self.kind {
            RawKind::Text(text) => Some(&text.text),
            _ => None,
        }
    }

    /// The table, if it is one.
    pub fn as_table(&self) -> Option<&RawTable> {
        match &self.kind {
            RawKind::Table(table) => Some(table),
            _ => None,
        }
    }

    /// The list, if it is one.
    pub fn as_list(&self) -> Option<&[Self]> {
        match &self.kind {
            RawKind::List(list) => Some(list),
            _ => None,
        }
    }

    /// True or false, if it is that.
    pub fn as_bool(&self) -> Option<bool> {
        match self.kind {
            RawKind::Bool(value) => Some(value),
            _ => None,
        }
    }

    /// The number, whole or not.
    pub fn as_number(&self) -> Option<f64> {
        match self.kind {
            RawKind::Whole(n) => n.map(|n| n as f64),
            RawKind::Number(n) => Some(n),
            _ => None,
        }
    }

    /// The whole number, if it is one.
    pub fn as_whole(&self) -> Option<i64> {
        match self.kind {
            RawKind::Whole(n) => n,
            _ => None,
        }
    }

    /// What it is, in words.
    pub fn sort(&self) -> &'static str {
        match self.kind {
            RawKind::Text(_) => "text",
            RawKind::Whole(_) => "a whole number",
            RawKind::Number(_) => "a number",
            RawKind::Bool(_) => "true or false",
            RawKind::Date(..) => "a date",
            RawKind::List(_) => "a list",
            RawKind::Table(_) => "a table",
        }
    }

    /// The span of some bytes of a text; the whole value where escapes stand in the way.
    pub fn inner_span(&self, bytes: std::ops::Range<usize>) -> Span {
        match &self.kind {
            RawKind::Text(RawText { inner: Some(first), .. }) => {
                let first = *first as usize;
                Span::new(self.span.file, first + bytes.start..first + bytes.end)
            }
            _ => self.span,
        }
    }
}
