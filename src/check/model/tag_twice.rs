//! `tag-twice`: two media have one tag

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "tag-twice",
    summary: "two media have one tag",
    long: "The tag of two capitals at a line tells its medium where colour and pattern cannot be seen. Built-in media count too.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let mut known = std::collections::BTreeMap::new();
    for medium in &model.media {
        if let Some(before) = known.insert(&medium.tag, medium) {
            let at = sources.place(&format!("medium.{}.tag", medium.id));
            let message = format!("the tag of `{}` is the tag of `{}`", medium.id, before.id);
            found.push(Diagnostic::error(RULE.code, at, message).help("choose two other capitals"));
        }
    }
}
