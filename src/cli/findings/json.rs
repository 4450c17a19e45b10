//! Diagnostics as a JSON answer.

use super::Extent;
use crate::base::{Diagnostic, Diagnostics, Label, Severity, Sources};
use crate::cli::answers::VERSION;
use crate::doc::Prose;
use schemars::JsonSchema;
use serde::Serialize;

/// The answer of `check`.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CheckAnswer {
    /// Version of this interface.
    pub ribstitch: u32,
    /// The aircraft as it was named in the call.
    pub aircraft: String,
    /// How many errors.
    pub errors: usize,
    /// How many warnings.
    pub warnings: usize,
    /// What the chapters say in their own words.
    pub sentences: SentenceCount,
    /// All findings: by file, then place.
    pub diagnostics: Vec<Finding>,
}

impl CheckAnswer {
    /// The findings of a run.
    pub fn new(aircraft: &str, findings: &Diagnostics, prose: &Prose, sources: &Sources) -> Self {
        let count = |severity| findings.iter().filter(|d| d.severity == severity).count();
        Self {
            ribstitch: VERSION,
            aircraft: aircraft.to_owned(),
            errors: count(Severity::Error),
            warnings: count(Severity::Warning),
            sentences: SentenceCount::new(prose),
            diagnostics: findings.iter().map(|d| Finding::new(d, sources)).collect(),
        }
    }
}

/// Free sentences of the chapters, counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SentenceCount {
    /// All of them.
    pub all: usize,
    /// Those that hold a name or a number pulled from the model, or a proved claim.
    pub tied: usize,
    /// Those that nothing holds to the model; a person must read them.
    pub untied: usize,
}

impl SentenceCount {
    /// Counts them.
    pub fn new(prose: &Prose) -> Self {
        let (all, tied) = (prose.sentences.len(), prose.tied());
        Self { all, tied, untied: all - tied }
    }
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Finding {
    /// Its code; `explain CODE` says more.
    pub code: String,
    /// `error` or `warning`.
    pub severity: String,
    /// What is wrong.
    pub message: String,
    /// Where.
    #[serde(flatten)]
    pub place: FindingPlace,
    /// What is said at the place; may be empty.
    pub label: String,
    /// Other places that matter.
    pub also: Vec<OtherPlace>,
    /// What would mend it.
    pub help: Option<String>,
}

/// A stretch of a file. Lines and columns are counted from one, columns in characters; the end is the character after the last.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FindingPlace {
    /// Name of the file.
    pub file: String,
    /// First line.
    pub line: usize,
    /// First column.
    pub column: usize,
    /// Last line.
    pub end_line: usize,
    /// Column after the last character.
    pub end_column: usize,
}

/// Another place that matters.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OtherPlace {
    /// Where.
    #[serde(flatten)]
    pub place: FindingPlace,
    /// What is said there.
    pub label: String,
}

impl FindingPlace {
    fn new(label: &Label, sources: &Sources) -> Self {
        let Extent { line, column, end_line, end_column } = Extent::of(label.span, sources);
        Self { file: sources.name(label.span.file).to_owned(), line, column, end_line, end_column }
    }
}

impl Finding {
    fn new(finding: &Diagnostic, sources: &Sources) -> Self {
        let other = |l: &Label| OtherPlace { place: FindingPlace::new(l, sources), label: l.text.clone() };
        Self {
            code: finding.code.to_owned(),
            severity: finding.severity.word().to_owned(),
            message: finding.message.clone(),
            place: FindingPlace::new(&finding.primary, sources),
            label: finding.primary.text.clone(),
            also: finding.secondary.iter().map(other).collect(),
            help: finding.help.clone(),
        }
    }
}
