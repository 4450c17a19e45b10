//! diagram
