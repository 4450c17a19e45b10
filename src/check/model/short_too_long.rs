//! `short-too-long`: a short name is too long for a drawing

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "short-too-long",
    summary: "a short name is too long for a drawing",
    long: "Drawings have room for 14 characters beside a symbol. A longer `short` would run into its neighbour.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for node in &model.nodes {
        let length = node.noun.short.as_ref().map_or(0, |s| s.chars().count());
        if length > LONGEST {
            let at = super::place_of(model, sources, node, "short");
            let message = format!("the short name of `{}` has {length} characters", node.id);
            found.push(Diagnostic::error(RULE.code, at, message).help("shorten it to 14 characters"));
        }
    }
}

/// As many characters as a drawing has room for.
const LONGEST: usize = 14;
