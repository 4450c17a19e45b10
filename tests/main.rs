//! All tests but the house rules.
mod outside;
