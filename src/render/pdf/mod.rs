//! Pages: the same document tree and the same scenes as PDF.
pub mod card;
pub mod fonts;
pub mod scene;
mod words;
