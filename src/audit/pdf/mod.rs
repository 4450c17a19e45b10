//! A PDF file read back: its pages as text, its structure as headings, paragraphs and tables, the text that is attached.
//!
//! Written from ISO 32000-1 alone, for files of one revision, as far as a file without pictures and without
//! encryption needs it. What cannot be read is an error; nothing is passed over.
//!
//! # Source
//! ISO 32000-1:2008: 7.2 and 7.3 objects, 7.5.4 and 7.5.8 tables of places, 7.5.7 objects that stand together, 9.4 text, 9.10.3 maps to Unicode, 14.6 marked content, 14.7
//! and 14.8 structure, 7.11.4 embedded files; numbers of clauses from memory.

mod content;
mod file;
mod letters;
mod object;
mod structure;

pub(super) use file::File;
pub(super) use structure::Element;

use content::Marked;
use std::collections::BTreeMap;

/// A page as it is read.
#[derive(Debug, Default)]
pub(super) struct Page {
    /// Texts by the number of their marked content.
    marked: BTreeMap<i64, String>,
    /// Everything on it in the order in which it is drawn; pieces of marked content stand in lines of their own.
    pub(super) lines: Vec<String>,
}

/// A file that was read.
#[derive(Debug)]
pub(super) struct Printed {
    /// Its pages.
    pub(super) pages: Vec<Page>,
    /// The root of its structure.
    pub(super) root: Element,
    /// The text that is attached to it.
    pub(super) attached: Option<String>,
}

impl Printed {
    /// Reads a file.
    ///
    /// # Errors
    /// What cannot be read, in words.
    pub(super) fn read(bytes: &[u8]) -> Result<Self, String> {
        let file = File::read(bytes)?;
        let numbers = file.pages()?;
        let mut pages = Vec::new();
        for number in &numbers {
            let Marked { texts, lines } = content::read(&file, *number)?;
            pages.push(Page { marked: texts, lines });
        }
        let text = |page: u32, mark: i64| {
            let at = numbers.iter().position(|n| *n == page)?;
            pages.get(at)?.marked.get(&mark).cloned()
        };
        let root = structure::read(&file, &text)?;
        let attached = file.attached()?;
        Ok(Self { pages, root, attached })
    }
}
