//! `rest-does-not-stay`: a control rests where it does not stay

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "rest-does-not-stay",
    summary: "a control rests where it does not stay",
    long: "A position with a spring does not stay, so it cannot be where a control stands in the cold aircraft. Nor does a spring lead to the position it starts from.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for (ix, control) in model.controls() {
        let id = &model[ix].id;
        let wrong = control.springs_to.iter().find(|(from, to)| *from == control.rest || from == to);
        let Some((from, _)) = wrong else { continue };
        let position = control.position(*from);
        let at = sources.place(&format!("item.{id}.springs-to.{position}"));
        let message = format!("`{id}` springs back from `{position}`, and it would stay there");
        found.push(
            Diagnostic::error(RULE.code, at, message).help("name another position in `rest`, or mend `springs-to`"),
        );
    }
}
