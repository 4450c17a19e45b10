//! `information-untold`: nothing tells a piece of information

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "information-untold",
    summary: "nothing tells a piece of information",
    long: "A piece of information that no item tells cannot be lost and appears nowhere.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for (at, information) in model.information.iter().enumerate() {
        let told = model.nodes.iter().flat_map(|n| &n.tells).any(|t| t.information.usize() == at);
        if !told {
            let span = sources.place(&format!("information.{}", information.id));
            let message = format!("nothing tells `{}`", information.id);
            found.push(
                Diagnostic::warning(RULE.code, span, message)
                    .help("add it to `tells` of the instrument that shows it, or take it out"),
            );
        }
    }
}
