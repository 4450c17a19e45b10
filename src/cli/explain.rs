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

/// What is said of a finished guide that does not agree with its model.
const AUDIT: &str = "audit: the finished guide does not agree with its model\n\n\
    After rendering, the guide is read back as a reader would, and what it says is held against answers worked out afresh by a \
    second, plain solver. Where they differ the guide is not written, and the one from before stays. The fault lies in the \
    program, not in the model: keep both and report it.\n";

/// The long text of a code.
pub(super) fn text(code: &str) -> Option<String> {
    if code == "audit" {
        return Some(AUDIT.to_owned());
    }
    check::explain(code)
}

fn unknown(code: &str) -> String {
    match did_you_mean(code, check::codes()) {
        Some(near) => format!("there is no code `{code}`; did you mean `{near}`?"),
        None => format!("there is no code `{code}`"),
    }
}
