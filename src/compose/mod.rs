//! compose
