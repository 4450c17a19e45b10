//! resolve
