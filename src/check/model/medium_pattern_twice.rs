//! `medium-pattern-twice`: two media have one line pattern

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "medium-pattern-twice",
    summary: "two media have one line pattern",
    long: "The pattern of a line tells its medium on a grey print. Built-in media count too.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let mut known = std::collections::BTreeMap::new();
    for medium in &model.media {
        if let Some(before) = known.insert(&medium.line, medium) {
            let at = sources.place(&format!("medium.{}.line", medium.id));
            let message = format!("the line of `{}` has the pattern of `{}`", medium.id, before.id);
            found.push(Diagnostic::error(RULE.code, at, message).help("choose another pattern"));
        }
    }
}
