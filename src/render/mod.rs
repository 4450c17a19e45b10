//! Document tree and drawings to bytes.
//!
//! Renderers get the tree and the drawings, and nothing of the model. The training-aid notice is put on every page here.
mod entries;
pub mod html;
pub mod pdf;
pub mod png;

/// What a guide is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 mm by 297 mm.
    #[default]
    A4,
    /// 8.5 in by 11 in.
    Letter,
    /// 148 mm by 210 mm.
    A5,
}
