//! Many files to one tree.

use crate::base::{Diagnostic, Diagnostics, FileId};
use crate::parse::{RawEntry, RawKind, RawTable};
use std::collections::BTreeMap;

/// Puts the trees of all files together; lists of tables (`[[inspection]]`) are joined.
///
/// # Errors
/// `key-twice` with both places.
pub fn merge(files: Vec<(FileId, RawTable)>, diagnostics: &mut Diagnostics) -> RawTable {
    let mut whole = RawTable::default();
    for (_, table) in files {
        put(&mut whole, table, "", diagnostics);
    }
    whole
}

fn put(into: &mut RawTable, from: RawTable, path: &str, diagnostics: &mut Diagnostics) {
    let index: BTreeMap<String, usize> = into.entries.iter().enumerate().map(|(i, e)| (e.key.clone(), i)).collect();
    for entry in from.entries {
        match index.get(&entry.key).and_then(|i| into.entries.get_mut(*i)) {
            Some(there) => join(there, entry, path, diagnostics),
            None => into.entries.push(entry),
        }
    }
}

fn join(there: &mut RawEntry, entry: RawEntry, path: &str, diagnostics: &mut Diagnostics) {
    let path = if path.is_empty() { entry.key.clone() } else { format!("{path}.{}", entry.key) };
    match (&mut there.value.kind, entry.value.kind) {
        (RawKind::Table(a), RawKind::Table(b)) if !a.braces && !b.braces => put(a, b, &path, diagnostics),
        (RawKind::List(a), RawKind::List(b)) if path == "inspection" => a.extend(b),
        _ => diagnostics.push(
            Diagnostic::error("key-twice", entry.key_span, format!("`{path}` is defined twice"))
                .also(there.key_span, "here it is defined already")
                .help("keep one of the two, since each fact is declared once"),
        ),
    }
}
