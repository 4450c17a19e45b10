//! `information-untold`: nothing tells a piece of information

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use std::collections::BTreeSet;

/// The rule.
pub const RULE: Rule = Rule {
    code: "information-untold",
    summary: "nothing tells a piece of information",
    long: "A piece of information that no item tells cannot be lost and appears nowhere.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let told: BTreeSet<usize> = model.nodes.iter().flat_map(|n| &n.tells).map(|t| t.information.usize()).collect();
    for (at, information) in model.information.iter().enumerate() {
        if !told.contains(&at) {
            let span = sources.place(&format!("information.{}", information.id));
            let message = format!("nothing tells `{}`", information.id);
            found.push(
                Diagnostic::warning(RULE.code, span, message)
                    .help("add it to `tells` of the instrument that shows it, or take it out"),
            );
        }
    }
}
