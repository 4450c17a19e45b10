//! parse
