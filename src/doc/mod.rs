//! doc
