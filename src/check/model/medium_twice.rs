//! `medium-twice`: two media have one name

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "medium-twice",
    summary: "two media have one name",
    long: "A medium is told from others by its name in legends and text. Built-in media count too.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let mut known = std::collections::BTreeMap::new();
    for medium in &model.media {
        if let Some(before) = known.insert(&medium.name, medium) {
            let at = sources.place(&format!("medium.{}.name", medium.id));
            let message = format!("the medium `{}` is called like `{}`", medium.id, before.id);
            found.push(Diagnostic::error(RULE.code, at, message).help("give it another name"));
        }
    }
}
