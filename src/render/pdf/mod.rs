//! Pages: the same document tree and the same scenes as PDF.
pub mod fonts;
mod words;
