//! The house rules.
