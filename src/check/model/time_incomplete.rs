//! `time-incomplete`: a recording tachometer without its reference speed

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "time-incomplete",
    summary: "a recording tachometer without its reference speed",
    long: "A recording tachometer counts an hour in an hour only at its reference speed. Without that speed nothing can be worked out; and a reference without a tachometer is of nothing.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let Some(time) = &model.time else { return };
    let message = match (time.tachometer, &time.reference) {
        (Some(_), None) => "the tachometer has no reference speed",
        (None, Some(_)) => "the reference speed is of no tachometer",
        _ => return,
    };
    let at = sources.place("time");
    found.push(Diagnostic::error(RULE.code, at, message).help("add both `tachometer` and `reference`, or neither"));
}
