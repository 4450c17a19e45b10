//! pipeline
mod bundle;
mod shelf;

pub use bundle::{Bundle, MANIFEST};
pub use shelf::{ShelfError, put};
