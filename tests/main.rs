//! All tests but the house rules.
