//! base
