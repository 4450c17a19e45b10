//! `reads-without-senses`: what senses nothing reads something when it is absent

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "reads-without-senses",
    summary: "what senses nothing reads something when it is absent",
    long: "`reads-when-absent` is what a gauge shows when what it senses is gone. How an instrument looks when its own feed is gone stands in `on-loss`.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for node in model.nodes.iter().filter(|n| n.reads_when_absent.is_some() && n.senses.is_empty()) {
        let at = super::place_of(model, sources, node, "reads-when-absent");
        let message = format!("`{}` senses nothing", node.id);
        found.push(Diagnostic::error(RULE.code, at, message).help("add `senses`, or say it in `on-loss`"));
    }
}
