//! compose
pub mod composer;
pub mod phrase;
pub mod say;
pub mod tables;
pub mod words;
