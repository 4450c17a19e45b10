//! `explain`: what a code means, and what mends it.

use super::arguments::ExplainArguments;
use super::console::{Console, Stop};
use crate::base::text::did_you_mean;
use crate::check;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Usage`] where there is no such code.
pub fn run(arguments: &ExplainArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let code = arguments.code.trim_start_matches("error[").trim_start_matches("warning[").trim_end_matches(']');
    match text(code) {
        Some(text) => console.answer(&text),
        None => Err(Stop::Usage(unknown(code))),
    }
}

/// The long text of a code.
pub(super) fn text(code: &str) -> Option<String> {
    check::explain(code)
}

fn unknown(code: &str) -> String {
    match did_you_mean(code, check::codes()) {
        Some(near) => format!("there is no code `{code}`; did you mean `{near}`?"),
        None => format!("there is no code `{code}`"),
    }
}
