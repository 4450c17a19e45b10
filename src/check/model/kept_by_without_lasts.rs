//! `kept-by-without-lasts`: what does not last is kept by something

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "kept-by-without-lasts",
    summary: "what does not last is kept by something",
    long: "`kept-by` says while what a store is not being spent. It has a meaning only beside `lasts`.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for node in model.nodes.iter().filter(|n| !n.kept_by.is_empty() && n.lasts.is_none()) {
        let at = super::place_of(model, sources, node, "kept-by");
        let message = format!("`{}` has `kept-by` and no `lasts`", node.id);
        found.push(Diagnostic::error(RULE.code, at, message).help("add `lasts`, or take `kept-by` out"));
    }
}
