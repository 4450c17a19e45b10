//! What is said to an author about a place in a file.

use super::span::{Sources, Span};

/// How much a diagnostic weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The guide is not written.
    Error,
    /// The guide is written, unless `--strict`.
    Warning,
}

impl Severity {
    /// The word that is printed.
    pub fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
        }
    }
}

/// A place and what is to be said there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// The exact characters.
    pub span: Span,
    /// What is said beside them; may be empty for the primary place.
    pub text: String,
}

/// One finding, with its place and a way to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// Stable code, lower-case words joined by `-`.
    pub code: &'static str,
    /// Error or warning.
    pub severity: Severity,
    /// What is wrong, naming the thing as its author wrote it.
    pub message: String,
    /// Where.
    pub primary: Label,
    /// Other places that matter.
    pub secondary: Vec<Label>,
    /// An imperative that would mend it.
    pub help: Option<String>,
}

impl Diagnostic {
    /// An error at a place.
    pub fn error(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Error, span, message.into())
    }

    /// A warning at a place.
    pub fn warning(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Warning, span, message.into())
    }

    fn new(code: &'static str, severity: Severity, span: Span, message: String) -> Self {
        let primary = Label { span, text: String::new() };
        Self { code, severity, message, primary, secondary: Vec::new(), help: None }
    }

    /// Says something beside the primary place.
    #[must_use]
    pub fn here(mut self, text: impl Into<String>) -> Self {
        self.primary.text = text.into();
        self
    }

    /// Shows another place.
    #[must_use]
    pub fn also(mut self, span: Span, text: impl Into<String>) -> Self {
        self.secondary.push(Label { span, text: text.into() });
        self
    }

    /// Says what would mend it.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

/// All diagnostics of a run.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Diagnostics {
    all: Vec<Diagnostic>,
}

impl Diagnostics {
    /// Keeps one more.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        self.all.push(diagnostic);
    }

    /// Keeps all of another.
    pub fn append(&mut self, mut other: Self) {
        self.all.append(&mut other.all);
    }

    /// True if one of them is an error.
    pub fn has_errors(&self) -> bool {
        self.all.iter().any(|d| d.severity == Severity::Error)
    }

    /// True if there is none.
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// How many.
    pub fn len(&self) -> usize {
        self.all.len()
    }

    /// In the order they are shown, once [`Self::sort`] was called.
    pub fn iter(&self) -> impl Iterator<Item = &Diagnostic> {
        self.all.iter()
    }

    /// Sorts by file name, offset and code, and drops repeats, so that the order of work never shows.
    pub fn sort(&mut self, sources: &Sources) {
        self.all.sort_by(|a, b| {
            let key = |d: &Diagnostic| {
                (sources.name(d.primary.span.file).to_owned(), d.primary.span.start, d.primary.span.end, d.code)
            };
            key(a).cmp(&key(b)).then_with(|| a.message.cmp(&b.message))
        });
        self.all.dedup();
    }
}
