//! render
