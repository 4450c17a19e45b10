//! Many files, a tail over its type, names to indices: one model. And back: the canonical text of a model.
//!
//! This module does not know what follows from a model; rules beyond names and forms are for `check`.
mod broken;
mod build;
mod canonical;
mod control;
mod fault;
mod item;
mod media;
mod merge;
mod names;
mod need;
mod numbers;
mod places;
mod read;
mod rest;
mod state;
mod tail;

pub use canonical::canonical_model;

use crate::base::{Diagnostic, Diagnostics, FileId, Sources, Span};
use crate::model::{Change, Model};
use crate::parse::key::TOP;
use crate::parse::{RawTable, check_table, parse_text};
use std::path::Path;

/// Reads an aircraft: the folder of a type, a tail file in its `tails`, or a single model file.
///
/// The model is there when there is no error. All files that were read are in `sources`, with the place of every key.
///
/// # Errors
/// Every code of reading, parsing and resolving; see `check::explain`.
pub fn load(path: &Path, sources: &mut Sources) -> (Option<Model>, Diagnostics) {
    let mut diagnostics = Diagnostics::default();
    let gathered = read::gather(path, sources, &mut diagnostics);
    finish(gathered, sources, diagnostics)
}

/// As [`load`], from texts. Texts whose name lies in a folder `tails` are tails; the last that no other is over is meant.
pub fn load_texts(texts: Vec<(String, String)>, sources: &mut Sources) -> (Option<Model>, Diagnostics) {
    let mut diagnostics = Diagnostics::default();
    let gathered = read::gather_texts(texts, sources, &mut diagnostics);
    finish(gathered, sources, diagnostics)
}

/// What stands in the files of one aircraft, parsed: the type's, and the tails from the type outward.
struct Gathered {
    files: Vec<(FileId, RawTable)>,
    tails: Vec<(FileId, RawTable)>,
    /// The place to speak of where something is missing from the whole.
    at: Span,
}

fn finish(
    gathered: Option<Gathered>,
    sources: &mut Sources,
    mut diagnostics: Diagnostics,
) -> (Option<Model>, Diagnostics) {
    let broken = broken::Broken::find(&diagnostics, sources);
    let mut later = Diagnostics::default();
    let model = gathered.and_then(|g| resolve(g, sources, &mut later));
    diagnostics.append(broken.keep_sure(&later));
    diagnostics.sort(sources);
    let model = if diagnostics.has_errors() { None } else { model };
    (model, diagnostics)
}

fn resolve(gathered: Gathered, sources: &mut Sources, diagnostics: &mut Diagnostics) -> Option<Model> {
    let mut whole = merge::merge(gathered.files, diagnostics);
    let mut changes: Vec<Change> = Vec::new();
    let outer = gathered.tails.last().map(|t| t.0);
    for (_, tail) in gathered.tails {
        tail::apply(&mut whole, tail, &mut changes, diagnostics);
    }
    if let Some(file) = outer.filter(|_| whole.table("aircraft").is_some_and(|t| t.get("registration").is_none())) {
        let message = "a tail is one individual aircraft, and this one has no registration";
        diagnostics.push(
            Diagnostic::error("registration-missing", Span::new(file, 0..0), message)
                .help("add `registration` under `[aircraft]`"),
        );
    }
    check_table(&whole, &TOP, gathered.at, diagnostics);
    places::mark(&whole, sources);
    build::build(&whole, changes, diagnostics)
}

/// Parses one file.
fn parse(file: FileId, sources: &Sources, diagnostics: &mut Diagnostics) -> Option<RawTable> {
    parse_text(file, &sources.get(file)?.text, diagnostics)
}
