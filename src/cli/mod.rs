//! Arguments to a request, answers to text or JSON; one file a verb.
//!
//! This is the only place that looks at what surrounds the program: arguments, the folder it runs in, terminals.
pub mod answers;
mod console;
pub mod findings;
pub mod text;

pub use console::{ALL_WELL, Console, FINDINGS, MACHINE_FAILED, Stop, WRONG_USAGE};
mod arguments;
mod asked;
mod place;
