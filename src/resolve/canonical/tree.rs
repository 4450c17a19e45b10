//! A small TOML tree and its one way of being written: keys sorted, LF.

use std::collections::BTreeMap;

/// A value.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    Text(String),
    /// Written as it is: numbers, dates, true, false.
    Bare(String),
    List(Vec<Value>),
    /// A table in braces.
    Inline(BTreeMap<String, Value>),
    /// A table under a head.
    Table(Table),
    /// Tables under double heads.
    Tables(Vec<Table>),
}

/// A table under a head.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table(BTreeMap<String, Value>);

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl Value {
    pub fn flag(value: bool) -> Self {
        Self::Bare(value.to_string())
    }

    pub fn whole(value: impl std::fmt::Display) -> Self {
        Self::Bare(value.to_string())
    }

    /// A number with a fraction, in the fewest digits that give it back.
    pub fn number(value: f64) -> Self {
        Self::Bare(format!("{value:?}"))
    }

    pub fn texts<S: AsRef<str>>(texts: impl IntoIterator<Item = S>) -> Self {
        Self::List(texts.into_iter().map(|t| Self::from(t.as_ref())).collect())
    }
}

impl Table {
    pub fn put(&mut self, key: &str, value: Value) {
        self.0.insert(key.to_owned(), value);
    }

    pub fn text(&mut self, key: &str, text: &str) {
        self.put(key, Value::from(text));
    }

    pub fn maybe(&mut self, key: &str, text: Option<impl ToString>) {
        if let Some(text) = text {
            self.put(key, Value::Text(text.to_string()));
        }
    }

    /// A list, where it is not empty.
    pub fn list(&mut self, key: &str, list: Vec<Value>) {
        if !list.is_empty() {
            self.put(key, Value::List(list));
        }
    }

    /// The word `true`, where it is so.
    pub fn flag(&mut self, key: &str, value: bool) {
        if value {
            self.put(key, Value::flag(true));
        }
    }

    /// A table under a head, where it is not empty.
    pub fn table(&mut self, key: &str, table: Table) {
        if !table.0.is_empty() {
            self.put(key, Value::Table(table));
        }
    }

    /// The same keys in braces.
    pub fn inline(self) -> Value {
        Value::Inline(self.0)
    }

    /// The text of a whole file.
    pub fn write(&self) -> String {
        let mut out = String::new();
        self.write_body("", &mut out);
        out
    }

    fn write_body(&self, path: &str, out: &mut String) {
        for (key, value) in &self.0 {
            if !matches!(value, Value::Table(_) | Value::Tables(_)) {
                out.push_str(&format!("{} = ", key_text(key)));
                write_value(value, out);
                out.push('\n');
            }
        }
        for (key, value) in &self.0 {
            let path = if path.is_empty() { key_text(key) } else { format!("{path}.{}", key_text(key)) };
            match value {
                Value::Table(table) => table.write_under(&path, "[", "]", out),
                Value::Tables(tables) => tables.iter().for_each(|t| t.write_under(&path, "[[", "]]", out)),
                _ => {}
            }
        }
    }

    fn write_under(&self, path: &str, open: &str, close: &str, out: &mut String) {
        let only_tables = self.0.values().all(|v| matches!(v, Value::Table(_) | Value::Tables(_)));
        if !only_tables || open == "[[" {
            if !out.is_empty() {
                out.push('\n');
            }
            out.push_str(&format!("{open}{path}{close}\n"));
        }
        self.write_body(path, out);
    }
}

fn key_text(key: &str) -> String {
    let bare = !key.is_empty() && key.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_');
    if bare { key.to_owned() } else { quoted(key) }
}

fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

fn write_value(value: &Value, out: &mut String) {
    match value {
        Value::Text(text) => out.push_str(&quoted(text)),
        Value::Bare(text) => out.push_str(text),
        Value::List(list) => write_list(list, out),
        Value::Inline(entries) => write_inline(entries, out),
        Value::Table(table) => write_inline(&table.0, out),
        Value::Tables(tables) => tables.iter().for_each(|t| write_inline(&t.0, out)),
    }
}

fn write_list(list: &[Value], out: &mut String) {
    out.push('[');
    for (at, value) in list.iter().enumerate() {
        out.push_str(if at == 0 { "" } else { ", " });
        write_value(value, out);
    }
    out.push(']');
}

fn write_inline(entries: &BTreeMap<String, Value>, out: &mut String) {
    if entries.is_empty() {
        return out.push_str("{}");
    }
    out.push_str("{ ");
    for (at, (key, value)) in entries.iter().enumerate() {
        out.push_str(if at == 0 { "" } else { ", " });
        out.push_str(&format!("{} = ", key_text(key)));
        write_value(value, out);
    }
    out.push_str(" }");
}
