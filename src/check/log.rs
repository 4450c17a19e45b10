//! What can be wrong in the log of an aircraft: the explanations of its codes. It is told where the log is read.

use crate::analyse::due::CODES;

/// Code and explanation of each.
pub fn explanations() -> impl Iterator<Item = (&'static str, &'static str)> {
    CODES.iter().copied()
}
