//! `system-empty`: a system has no item

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use std::collections::BTreeSet;

/// The rule.
pub const RULE: Rule = Rule {
    code: "system-empty",
    summary: "a system has no item",
    long: "Each system gets its part of the guide. One without items would be an empty part.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let used: BTreeSet<usize> = model.items.iter().map(|i| i.system.usize()).collect();
    for (at, system) in model.systems.iter().enumerate() {
        if !used.contains(&at) {
            let span = sources.place(&format!("system.{}", system.id));
            let message = format!("no item belongs to the system `{}`", system.id);
            found.push(
                Diagnostic::warning(RULE.code, span, message).help("give its items `system`, or take the table out"),
            );
        }
    }
}
