//! The canonical text and the two fingerprints of a guide.

use crate::base::Sources;
use crate::parse::book::Book;
use sha2::{Digest, Sha256};

/// What a guide was made from and by.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Prints {
    /// The resolved model, then the chapters.
    pub canonical: String,
    /// SHA-256 of the canonical text, hexadecimal.
    pub facts: String,
    /// SHA-256 of the program's version, the phrases and the templates, hexadecimal.
    pub made_by: String,
}

impl Prints {
    /// Puts the canonical text together: the model as `resolve` writes it, then each chapter under a line with its file name.
    /// `templates` are the texts that renderers fill.
    pub fn new(canonical_model: &str, book: &Book, sources: &Sources, templates: &[&str]) -> Self {
        let mut canonical = canonical_model.replace("\r\n", "\n");
        end_line(&mut canonical);
        for chapter in &book.chapters {
            canonical.push_str(&format!("+++ chapter {} +++\n", chapter.file_name));
            canonical.push_str(&sources.get(chapter.file).map_or("", |f| &f.text).replace("\r\n", "\n"));
            end_line(&mut canonical);
        }
        let facts = hex(&[&canonical]);
        let mut made = vec![env!("CARGO_PKG_VERSION"), super::phrase::PHRASES];
        made.extend(templates);
        Self { facts, made_by: hex(&made), canonical }
    }
}

fn end_line(text: &mut String) {
    if !text.is_empty() && !text.ends_with('\n') {
        text.push('\n');
    }
}

/// The digest of texts, each with its length before it, so that no two lists give the same.
fn hex(texts: &[&str]) -> String {
    let mut hasher = Sha256::new();
    for text in texts {
        if texts.len() > 1 {
            hasher.update((text.len() as u64).to_be_bytes());
        }
        hasher.update(text.as_bytes());
    }
    hasher.finalize().iter().fold(String::new(), |hex, b| hex + &format!("{b:02x}"))
}
