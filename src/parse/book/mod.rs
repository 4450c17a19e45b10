//! The chapters of a book: Markdown files to raw trees with spans.
//!
//! This module knows the grammar of chapters. It does not know the aircraft: whether a name or a claim is any good is for
//! `compose` to say.
mod call;
mod tree;

pub use call::{CALLS, Call, CallRule};

use crate::base::{Diagnostic, Diagnostics, FileId, Id, Sources, Span, Spanned};
use std::path::Path;

/// The longest chapter that is taken, in bytes.
pub const LONGEST_CHAPTER: usize = 1 << 18;

/// How deep lists, quotes and emphasis may stand in one another.
pub const DEEPEST: usize = 16;

/// All chapters in the order of their file names.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Book {
    /// The chapters.
    pub chapters: Vec<RawChapter>,
}

/// One chapter, as written.
#[derive(Debug, Clone, PartialEq)]
pub struct RawChapter {
    /// From its file name, without number.
    pub id: Id,
    /// Its file.
    pub file: FileId,
    /// Its file name without folder: `03-suction.md`.
    pub file_name: String,
    /// The first heading.
    pub title: RawHeading,
    /// What follows.
    pub blocks: Vec<RawBlock>,
}

/// One heading.
#[derive(Debug, Clone, PartialEq)]
pub struct RawHeading {
    /// 1 for the title of the chapter.
    pub level: u8,
    /// `{#id}`.
    pub id: Option<Spanned<String>>,
    /// `{has=id}`: only aircraft that have it get what follows.
    pub has: Option<Spanned<String>>,
    /// `{teaches=PA.I.G.K1f,PA.I.G.K2}`: topics of the examination that what follows teaches.
    pub teaches: Vec<Spanned<String>>,
    /// `{leaves-out=PA.I.G.K1l}`: topics of which what follows says why the guide has nothing of them.
    pub leaves_out: Vec<Spanned<String>>,
    /// Its text.
    pub text: Vec<RawInline>,
    /// Where it stands.
    pub span: Span,
}

/// One block of a chapter.
#[derive(Debug, Clone, PartialEq)]
pub enum RawBlock {
    /// A heading below the title.
    Heading(RawHeading),
    /// A paragraph.
    Para(Vec<RawInline>),
    /// A list, each item with blocks of its own.
    List {
        /// Numbered.
        ordered: bool,
        /// The items.
        items: Vec<Vec<RawBlock>>,
    },
    /// A table: its head, then its rows.
    Table {
        /// Cells of the head.
        head: Vec<Vec<RawInline>>,
        /// Cells of each row.
        rows: Vec<Vec<Vec<RawInline>>>,
        /// Where it stands.
        span: Span,
    },
    /// A quote that begins with `[!NOTE]`, `[!CAUTION]` or `[!WARNING]`.
    Notice {
        /// Which of them.
        level: RawLevel,
        /// What it says.
        body: Vec<RawBlock>,
        /// Where it stands.
        span: Span,
    },
    /// A call that gives blocks.
    Call(Call),
}

/// How much a notice weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum RawLevel {
    Note,
    Caution,
    Warning,
}

/// One piece of a line.
#[derive(Debug, Clone, PartialEq)]
pub struct RawInline {
    /// What it is.
    pub kind: RawKind,
    /// Where it stands.
    pub span: Span,
}

/// What a piece of a line is.
#[derive(Debug, Clone, PartialEq)]
pub enum RawKind {
    /// Text as the reader sees it.
    Text(String),
    /// `` `code` ``.
    Code(String),
    /// `*text*`.
    Emph(Vec<RawInline>),
    /// `**text**`.
    Strong(Vec<RawInline>),
    /// `[text](claim:…)`.
    Claim {
        /// What is claimed.
        claim: Spanned<String>,
        /// The sentence.
        text: Vec<RawInline>,
    },
    /// `[text](#id)`.
    Ref {
        /// Where it leads.
        to: Spanned<String>,
        /// Its text.
        text: Vec<RawInline>,
    },
    /// A call that gives inlines.
    Call(Call),
}

/// Reads the chapters `*.md` of a folder.
///
/// # Errors
/// When the folder or a file of it cannot be read. What is wrong with the chapters is told by the diagnostics.
pub fn load(folder: &Path, sources: &mut Sources) -> std::io::Result<(Book, Diagnostics)> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        let path = entry?.path();
        let name = path.file_name().and_then(|n| n.to_str()).unwrap_or("");
        if path.extension().is_some_and(|e| e == "md") && path.is_file() {
            files.push((format!("{}/{name}", folder.display()), std::fs::read(&path)?));
        }
    }
    Ok(read(files, sources))
}

/// Reads chapters from their texts, each with its file name; they are put in order here.
///
/// # Errors
/// Codes: `book-not-utf8`, `book-too-long`, `book-nesting`, `chapter-name`, `chapter-twice`, `chapter-title`, `chapter-empty`,
/// `raw-markup`, `markup-unknown`, `image-refused`, `link-refused`, `heading-level`, `heading-attribute`, `notice-unknown`,
/// `call-grammar`, `call-unknown`, `call-argument`, `call-not-alone`.
pub fn read(mut files: Vec<(String, Vec<u8>)>, sources: &mut Sources) -> (Book, Diagnostics) {
    files.sort_by(|a, b| file_name(&a.0).cmp(file_name(&b.0)));
    let (mut book, mut diagnostics) = (Book::default(), Diagnostics::default());
    for (name, bytes) in files {
        let chapter = read_chapter(&name, bytes, sources, &mut diagnostics);
        let Some(chapter) = chapter else { continue };
        if let Some(first) = book.chapters.iter().find(|c| c.id == chapter.id) {
            let message = format!("two chapters are called `{}`", chapter.id);
            let diagnostic = Diagnostic::error("chapter-twice", chapter.title.span, message);
            let help = "give one of the files another name after its number";
            diagnostics.push(diagnostic.also(first.title.span, "the first one").help(help));
            continue;
        }
        book.chapters.push(chapter);
    }
    (book, diagnostics)
}

fn file_name(name: &str) -> &str {
    name.rsplit('/').next().unwrap_or(name)
}

fn read_chapter(
    name: &str,
    bytes: Vec<u8>,
    sources: &mut Sources,
    diagnostics: &mut Diagnostics,
) -> Option<RawChapter> {
    let text = match String::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let good = error.into_bytes().get(..at).map(|b| String::from_utf8_lossy(b).into_owned());
            let file = sources.add(name, good.unwrap_or_default());
            let message = format!("this chapter is not UTF-8 text: byte {} cannot be read", at + 1);
            let diagnostic = Diagnostic::error("book-not-utf8", Span::new(file, at..at), message);
            diagnostics.push(diagnostic.help("save the file as UTF-8"));
            return None;
        }
    };
    let long = text.len() > LONGEST_CHAPTER;
    let file = sources.add(name, if long { String::new() } else { text.clone() });
    if long {
        let message = format!("this chapter is longer than {LONGEST_CHAPTER} bytes");
        let diagnostic = Diagnostic::error("book-too-long", Span::new(file, 0..0), message);
        diagnostics.push(diagnostic.help("split it into several chapters"));
        return None;
    }
    let id = chapter_id(file_name(name), file, diagnostics);
    let chapter = tree::chapter(file, &text, diagnostics);
    let (title, blocks) = chapter?;
    Some(RawChapter { id: id?, file, file_name: file_name(name).to_owned(), title, blocks })
}

fn chapter_id(name: &str, file: FileId, diagnostics: &mut Diagnostics) -> Option<Id> {
    let stem = name.strip_suffix(".md").unwrap_or(name);
    let (number, rest) = stem.split_once('-').unwrap_or(("", stem));
    let numbered = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
    match Id::new(rest) {
        Ok(id) if numbered => Some(id),
        _ => {
            let message = format!("`{name}` is no name for a chapter");
            let help =
                "name it by number and id, as in `03-suction.md`: chapters stand in the order of their file names";
            diagnostics.push(Diagnostic::error("chapter-name", Span::new(file, 0..0), message).help(help));
            None
        }
    }
}
