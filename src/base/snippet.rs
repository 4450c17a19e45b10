//! Diagnostics as text for a person.

use super::diagnostic::{Diagnostic, Diagnostics, Severity};
use super::span::{Sources, Span};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

/// More than so many are counted and not shown.
const MOST_SHOWN: usize = 200;

/// Diagnostics with their lines of the file, labels and help, one after the other; after the first 200, how many more there are.
pub fn render(diagnostics: &Diagnostics, sources: &Sources, colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let mut out = String::new();
    for diagnostic in diagnostics.iter().take(MOST_SHOWN) {
        out.push_str(&renderer.render(&[group(diagnostic, sources)]));
        out.push_str("\n\n");
    }
    if let Some(more) = diagnostics.len().checked_sub(MOST_SHOWN).filter(|n| *n > 0) {
        out.push_str(&format!("and {more} more"));
    }
    out.trim_end().to_owned() + if out.is_empty() { "" } else { "\n" }
}

fn group<'a>(diagnostic: &'a Diagnostic, sources: &'a Sources) -> Group<'a> {
    let level = match diagnostic.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let mut group = Group::with_title(level.primary_title(diagnostic.message.as_str()).id(diagnostic.code));
    let mut places: Vec<(Span, &str, AnnotationKind)> =
        vec![(diagnostic.primary.span, diagnostic.primary.text.as_str(), AnnotationKind::Primary)];
    places.extend(diagnostic.secondary.iter().map(|l| (l.span, l.text.as_str(), AnnotationKind::Context)));
    let mut files: Vec<_> = Vec::new();
    for (span, _, _) in &places {
        if !files.contains(&span.file) {
            files.push(span.file);
        }
    }
    for file in files {
        let of_file = places.iter().filter(|p| p.0.file == file).copied().collect();
        group = elements(group, sources, of_file);
    }
    match &diagnostic.help {
        Some(help) => group.element(Level::HELP.message(help.as_str())),
        None => group,
    }
}

/// The lines of one file, with what is said beside them. A file without text has only its name to show.
fn elements<'a>(group: Group<'a>, sources: &'a Sources, places: Vec<(Span, &'a str, AnnotationKind)>) -> Group<'a> {
    let Some(file) = places.first().and_then(|p| sources.get(p.0.file)) else { return group };
    if file.text.is_empty() {
        return group.element(annotate_snippets::Origin::path(file.name.as_str()));
    }
    let annotations = places.into_iter().map(|(span, text, kind)| {
        let range = on_borders(&file.text, span);
        let annotation = kind.span(range);
        if text.is_empty() { annotation } else { annotation.label(text) }
    });
    group.element(Snippet::source(file.text.as_str()).path(file.name.as_str()).annotations(annotations))
}

/// The span, within the text and on borders of characters.
fn on_borders(text: &str, span: Span) -> std::ops::Range<usize> {
    let clip = |at: u32| {
        let mut at = (at as usize).min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = clip(span.start);
    start..clip(span.end).max(start)
}
