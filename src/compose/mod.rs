//! compose
pub mod composer;
pub mod phrase;
pub mod say;
pub mod words;
