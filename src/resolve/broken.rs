//! What can still be said of a model when a file of it is not TOML.

use crate::base::{Diagnostics, FileId, Sources};
use std::collections::BTreeMap;

/// Files with syntax errors, and from where on they are not to be trusted.
pub struct Broken(BTreeMap<FileId, u32>);

impl Broken {
    /// The files in which syntax errors were told: each from the beginning of the first such line.
    pub fn find(diagnostics: &Diagnostics, sources: &Sources) -> Self {
        let mut files = BTreeMap::new();
        for found in
            diagnostics.iter().filter(|d| d.code == "syntax" || d.code == "nested-too-deep" || d.code == "not-utf8")
        {
            let (file, at) = (found.primary.span.file, found.primary.span.start);
            let text = sources.get(file).and_then(|f| f.text.get(..at as usize)).unwrap_or("");
            let line = text.rfind('\n').map_or(0, |n| n + 1) as u32;
            files.entry(file).and_modify(|first: &mut u32| *first = line.min(*first)).or_insert(line);
        }
        Self(files)
    }

    /// What was found later, without what may only follow from the syntax errors: anything after them in the same file, and
    /// names that may be declared where nothing could be read.
    pub fn keep_sure(&self, later: &Diagnostics) -> Diagnostics {
        let mut kept = Diagnostics::default();
        for found in later.iter() {
            let span = found.primary.span;
            let after = self.0.get(&span.file).is_some_and(|first| span.end >= *first);
            if self.0.is_empty() || !(after || hangs_on_names(found.code)) {
                kept.push(found.clone());
            }
        }
        kept
    }
}

fn hangs_on_names(code: &str) -> bool {
    let names = code.starts_with("unknown-")
        && !matches!(code, "unknown-key" | "unknown-table" | "unknown-word" | "unknown-kind");
    names
        || code.starts_with("missing-")
        || code.starts_with("overlay-")
        || matches!(code, "not-a-control" | "not-a-given" | "not-an-item")
        || code.ends_with("-missing")
}
