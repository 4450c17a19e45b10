//! Document tree and drawings to bytes.
//!
//! Renderers get the tree and the drawings, and nothing of the model. The training-aid notice is put on every page here.
pub mod html;
pub mod pdf;
pub mod png;
