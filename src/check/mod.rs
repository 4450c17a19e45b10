//! check
pub mod book;
