//! Diagnostics for a person at a terminal.
//!
//! Lines of an author can be a megabyte long; what is drawn of a line is cut, never what is said of its place.

use crate::base::text::join_list;
use crate::base::{Diagnostic, Diagnostics, FileId, Label, Severity, Sources, Span};
use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Origin, Renderer, Snippet};

/// More than so many are counted and not drawn.
const MOST_DRAWN: usize = 200;
/// Bytes that are drawn of one line.
const LONGEST_LINE: usize = 200;
/// Characters that are drawn of one message.
const LONGEST_MESSAGE: usize = 600;

/// All findings, one after the other; after the first 200, errors before warnings, how many more there are.
pub fn write(findings: &Diagnostics, sources: &Sources, colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let mut text = String::new();
    for finding in drawn(findings) {
        text.push_str(&draw(finding, sources, &renderer));
        text.push_str("\n\n");
    }
    if let Some(more) = findings.len().checked_sub(MOST_DRAWN).filter(|n| *n > 0) {
        text.push_str(&format!("and {more} more, which `check --json` lists\n\n"));
    }
    text
}

/// All, or the first 200; where there are more, errors are not crowded out by warnings.
fn drawn(findings: &Diagnostics) -> Vec<&Diagnostic> {
    if findings.len() <= MOST_DRAWN {
        return findings.iter().collect();
    }
    let of = |severity| findings.iter().filter(move |d| d.severity == severity);
    of(Severity::Error).chain(of(Severity::Warning)).take(MOST_DRAWN).collect()
}

/// `2 errors and 1 warning`; nothing where there is none.
pub fn summary(findings: &Diagnostics) -> Option<String> {
    let count = |severity| findings.iter().filter(|d| d.severity == severity).count();
    let counted = [(count(Severity::Error), "error"), (count(Severity::Warning), "warning")];
    let said: Vec<String> = counted
        .into_iter()
        .filter(|(n, _)| *n > 0)
        .map(|(n, word)| format!("{n} {word}{}", if n == 1 { "" } else { "s" }))
        .collect();
    (!said.is_empty()).then(|| join_list(&said, "and"))
}

fn draw(finding: &Diagnostic, sources: &Sources, renderer: &Renderer) -> String {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let message = shorten(&finding.message);
    let mut group = level.primary_title(message).id(finding.code).elements(Vec::<Snippet<'_, Annotation<'_>>>::new());
    for file in files_of(finding) {
        group = draw_file(group, finding, file, sources);
    }
    if let Some(help) = &finding.help {
        group = group.element(Level::HELP.message(shorten(help)));
    }
    renderer.render(&[group])
}

/// Files that the finding speaks of, the one of its primary place first.
fn files_of(finding: &Diagnostic) -> Vec<FileId> {
    let mut files = vec![finding.primary.span.file];
    for label in &finding.secondary {
        if !files.contains(&label.span.file) {
            files.push(label.span.file);
        }
    }
    files
}

fn draw_file<'a>(group: Group<'a>, finding: &'a Diagnostic, file: FileId, sources: &'a Sources) -> Group<'a> {
    let mut labels: Vec<(AnnotationKind, &Label)> = Vec::new();
    if finding.primary.span.file == file {
        labels.push((AnnotationKind::Primary, &finding.primary));
    }
    labels
        .extend(finding.secondary.iter().filter(|l| l.span.file == file).map(|label| (AnnotationKind::Context, label)));
    let Some(first) = labels.first().map(|(_, label)| label.span) else { return group };
    let spans: Vec<Span> = labels.iter().map(|(_, label)| label.span).collect();
    let Some(view) = View::of(&spans, sources) else {
        let (line, column) = sources.line_column(first);
        return group.element(Origin::path(sources.name(file)).line(line).char_column(column));
    };
    let marks = labels.iter().zip(&view.marks).map(|((kind, label), mark)| {
        let text = (!label.text.is_empty()).then(|| shorten(&label.text));
        kind.span(mark.clone()).label(text)
    });
    let marks: Vec<Annotation<'_>> = marks.collect();
    let name = sources.name(file).to_owned();
    group.element(Snippet::source(view.text).line_start(view.line).path(name).annotations(marks))
}

/// The lines of one file that labels speak of, long ones cut, and where the labels stand in them.
struct View {
    text: String,
    line: usize,
    marks: Vec<std::ops::Range<usize>>,
}

impl View {
    /// Nothing where a label begins beyond what is drawn of a line, or the file is not known.
    fn of(spans: &[Span], sources: &Sources) -> Option<Self> {
        let text = &sources.get(spans.first()?.file)?.text;
        let clip = |at: usize| on_border(text, at);
        let ranges: Vec<_> = spans.iter().map(|s| clip(s.start as usize)..clip(s.end.max(s.start) as usize)).collect();
        let first = ranges.iter().map(|r| r.start).min()?;
        let last = ranges.iter().map(|r| r.start).max()?;
        let begin = line_start(text, first);
        let end = line_end(text, last);
        let (line, _) = sources.line_column(*spans.iter().min_by_key(|s| s.start)?);
        let (view, kept) = cut_lines(&text[begin..end]);
        let marks: Option<Vec<_>> = ranges.iter().map(|r| place(&kept, r, begin, text)).collect();
        Some(Self { text: view, line, marks: marks? })
    }
}

/// One line that was kept: where it began in the whole, where it stands now, how much of it is there.
struct Kept {
    was: usize,
    is: usize,
    len: usize,
}

fn cut_lines(text: &str) -> (String, Vec<Kept>) {
    let (mut view, mut kept, mut was) = (String::new(), Vec::new(), 0);
    for line in text.split_inclusive('\n') {
        let body = line.trim_end_matches(['\n', '\r']);
        let len = on_border(body, LONGEST_LINE);
        kept.push(Kept { was, is: view.len(), len });
        view.push_str(&body[..len]);
        view.push_str(if len < body.len() { " …\n" } else { "\n" });
        was += line.len();
    }
    if kept.is_empty() {
        kept.push(Kept { was: 0, is: 0, len: 0 });
    }
    (view, kept)
}

/// Where a range of the file stands in the view; it ends with its first line.
fn place(kept: &[Kept], range: &std::ops::Range<usize>, begin: usize, text: &str) -> Option<std::ops::Range<usize>> {
    let start = range.start - begin;
    let line = kept.iter().rev().find(|k| k.was <= start)?;
    let column = start - line.was;
    if column > line.len {
        return None;
    }
    let end = range.end.min(line_end(text, range.start)) - begin;
    let end_column = end.saturating_sub(line.was).clamp(column, line.len);
    Some(line.is + column..line.is + end_column)
}

/// The last border of characters at or before a byte.
fn on_border(text: &str, at: usize) -> usize {
    let at = at.min(text.len());
    (0..=at).rev().find(|i| text.is_char_boundary(*i)).unwrap_or(0)
}

fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |i| i + 1)
}

fn line_end(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |i| at + i)
}

fn shorten(text: &str) -> String {
    let visible = text.replace(|c: char| c.is_control() && c != '\n', "\u{fffd}");
    if visible.chars().count() <= LONGEST_MESSAGE {
        return visible;
    }
    let head: String = visible.chars().take(LONGEST_MESSAGE).collect();
    format!("{head} …")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(text: &str, spans: &[(usize, usize)]) -> String {
        let mut sources = Sources::default();
        let file = sources.add("a.toml", text);
        let mut finding =
            Diagnostic::error("some-code", Span::new(file, spans[0].0..spans[0].1), "wrong").help("mend it");
        for span in &spans[1..] {
            finding = finding.also(Span::new(file, span.0..span.1), "first here");
        }
        let mut findings = Diagnostics::default();
        findings.push(finding);
        write(&findings, &sources, false)
    }

    #[test]
    fn the_place_its_line_and_the_help_are_shown() {
        let text = drawn("a = 1\nbb = 22\nc = 3\n", &[(11, 13), (0, 1)]);
        assert!(text.contains("error[some-code]: wrong"), "{text}");
        assert!(text.contains("a.toml:2:6"), "{text}");
        assert!(text.contains("bb = 22") && text.contains("^^"), "{text}");
        assert!(text.contains("first here") && text.contains("help: mend it"), "{text}");
    }

    #[test]
    fn a_line_of_a_megabyte_is_cut_and_its_place_still_said() {
        let long = format!("x = \"{}\"\n", "é".repeat(500_000));
        let text = drawn(&long, &[(4, long.len() - 1)]);
        assert!(text.len() < 2_000 && text.contains("a.toml:1:5"), "{}", text.len());
        let late = drawn(&long, &[(500_005, 500_007)]);
        assert!(late.len() < 2_000 && late.contains("a.toml:1:2500"), "{late}");
    }

    #[test]
    fn after_two_hundred_the_rest_is_counted_and_the_one_error_is_shown() {
        let mut sources = Sources::default();
        let file = sources.add("a.md", "word ".repeat(10_000));
        let mut findings = Diagnostics::default();
        for i in 0..10_000_usize {
            let place = Span::new(file, i * 5..i * 5 + 4);
            findings.push(Diagnostic::warning("a-warning", place, "odd"));
        }
        findings.push(Diagnostic::error("an-error", Span::new(file, 9..9), "wrong"));
        let text = write(&findings, &sources, false);
        assert_eq!(text.matches("warning[").count(), 199);
        assert!(text.contains("error[an-error]") && text.contains("and 9801 more"), "{}", text.len());
    }

    #[test]
    fn places_that_are_no_places_do_not_stop_the_report() {
        let places = [
            ("", (0, 0)),
            ("", (5, 9)),
            ("ab", (2, 2)),
            ("é", (1, 2)),
            ("a\r\nb", (1, 4)),
            ("a\n", (2, 2)),
            ("abc", (2, 1)),
        ];
        for (text, span) in places {
            assert!(drawn(text, &[span]).contains("some-code"));
        }
    }

    #[test]
    fn control_characters_do_not_reach_the_terminal() {
        let mut sources = Sources::default();
        let file = sources.add("a.toml", "x = \u{1b}[31m");
        let mut findings = Diagnostics::default();
        findings.push(Diagnostic::error("c", Span::new(file, 0..8), "\u{1b}[2J"));
        assert!(!write(&findings, &sources, false).contains('\u{1b}'));
    }
}
