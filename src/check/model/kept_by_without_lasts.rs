//! `kept-by-without-lasts`: what does not last is kept by something

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "kept-by-without-lasts",
    summary: "what does not last is kept by something",
    long: "`kept-by` says while what a store is not being spent, `spent-by` while what it is. They have a meaning only beside `lasts`.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for node in model.nodes.iter().filter(|n| n.lasts.is_none()) {
        for (key, needs) in [("kept-by", &node.kept_by), ("spent-by", &node.spent_by)] {
            if !needs.is_empty() {
                let at = super::place_of(model, sources, node, key);
                let message = format!("`{}` has `{key}` and no `lasts`", node.id);
                found.push(Diagnostic::error(RULE.code, at, message).help(format!("add `lasts`, or take `{key}` out")));
            }
        }
    }
}
