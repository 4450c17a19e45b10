//! parse
pub mod book;
