//! compose
pub mod phrase;
pub mod words;
