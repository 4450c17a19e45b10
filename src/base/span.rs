//! Places in the files of an author: file, first byte, end byte.

use std::collections::BTreeMap;
use std::ops::Range;

/// One file of an author, as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceFile {
    /// The name as the author would say it, relative to where the work began, with `/`.
    pub name: String,
    /// The whole text.
    pub text: String,
    /// Line and column, counted from nought, of the character at or after each [`STEP`] bytes.
    steps: Vec<(usize, usize)>,
}

/// So many bytes lie between two places of which line and column are kept.
const STEP: usize = 1024;

impl SourceFile {
    fn new(name: String, text: String) -> Self {
        let (mut steps, mut line, mut column) = (Vec::new(), 0, 0);
        for (at, c) in text.char_indices() {
            while steps.len() * STEP <= at {
                steps.push((line, column));
            }
            (line, column) = after(c, line, column);
        }
        Self { name, text, steps }
    }

    /// Line and column of the character at or after a byte, counted from nought.
    fn line_column(&self, at: usize) -> (usize, usize) {
        let at = at.min(self.text.len());
        let step = (at / STEP).min(self.steps.len().saturating_sub(1));
        let (line, column) = self.steps.get(step).copied().unwrap_or_default();
        let from = (step * STEP..=at).find(|i| self.text.is_char_boundary(*i)).unwrap_or(at);
        let rest = self.text.get(from..).unwrap_or("").char_indices().take_while(|(i, _)| from + i < at);
        rest.fold((line, column), |(line, column), (_, c)| after(c, line, column))
    }
}

fn after(c: char, line: usize, column: usize) -> (usize, usize) {
    if c == '\n' { (line + 1, 0) } else { (line, column + 1) }
}

/// Which file of a [`Sources`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct FileId(pub u32);

/// All files that were read in one run, in the order of reading.
#[derive(Debug, Clone, Default)]
pub struct Sources {
    files: Vec<SourceFile>,
    places: BTreeMap<String, Span>,
}

impl Sources {
    /// Adds a file and gives its id.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> FileId {
        let id = FileId(u32::try_from(self.files.len()).unwrap_or(u32::MAX));
        self.files.push(SourceFile::new(name.into(), text.into()));
        id
    }

    /// Keeps where the value of a key stands: `item.battery.draws`. The last one said holds.
    pub fn mark(&mut self, path: String, span: Span) {
        self.places.insert(path, span);
    }

    /// Where the value of a key stands, or the nearest table around it that was marked.
    pub fn place(&self, path: &str) -> Span {
        let mut path = path;
        loop {
            if let Some(span) = self.places.get(path) {
                return *span;
            }
            match path.rsplit_once('.') {
                Some((around, _)) => path = around,
                None => return Span::default(),
            }
        }
    }

    /// The file, if the id is one of ours.
    pub fn get(&self, id: FileId) -> Option<&SourceFile> {
        self.files.get(id.0 as usize)
    }

    /// All files with their ids.
    pub fn iter(&self) -> impl Iterator<Item = (FileId, &SourceFile)> {
        self.files.iter().enumerate().map(|(i, f)| (FileId(i as u32), f))
    }

    /// The name of a file, or an empty text.
    pub fn name(&self, id: FileId) -> &str {
        self.get(id).map_or("", |f| f.name.as_str())
    }

    /// The text under a span, or an empty text where the span does not lie on character borders.
    pub fn slice(&self, span: Span) -> &str {
        self.get(span.file).and_then(|f| f.text.get(span.range())).unwrap_or("")
    }

    /// Line and column of the first character of a span, both counted from one, the column in characters.
    pub fn line_column(&self, span: Span) -> (usize, usize) {
        let Some(file) = self.get(span.file) else { return (1, 1) };
        let (line, column) = file.line_column(span.start as usize);
        (line + 1, column + 1)
    }
}

/// A stretch of one file, in bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// The byte after the last.
    pub end: u32,
}

impl Span {
    /// A span from a byte range.
    pub fn new(file: FileId, range: Range<usize>) -> Self {
        let clip = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Self { file, start: clip(range.start), end: clip(range.end) }
    }

    /// The byte range.
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }

    /// The span of `inner`, whose bytes are counted from the start of this one.
    #[must_use]
    pub fn inner(self, inner: Range<usize>) -> Self {
        let start = self.start as usize + inner.start;
        let end = (self.start as usize + inner.end).min(self.end as usize).max(start);
        Self::new(self.file, start..end)
    }
}

/// A value and where its author wrote it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// A value with its place.
    pub fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }

    /// The same place with another value.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> Spanned<U> {
        Spanned { value: f(self.value), span: self.span }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn line_and_column_are_what_counting_from_the_start_gives() {
        let text = "é\nab\r\n".repeat(400) + &"ü".repeat(3000) + "\nz";
        let mut sources = Sources::default();
        let file = sources.add("a", text.clone());
        for at in (0..=text.len()).filter(|i| text.is_char_boundary(*i)) {
            let upto = &text[..at];
            let line = upto.matches('\n').count() + 1;
            let column = upto.rsplit('\n').next().unwrap().chars().count() + 1;
            assert_eq!(sources.line_column(Span::new(file, at..at)), (line, column), "{at}");
        }
    }
}
