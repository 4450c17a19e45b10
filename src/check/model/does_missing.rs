//! `does-missing`: it is not said what an item does

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "does-missing",
    summary: "it is not said what an item does",
    long: "The guide says of each item what it does, in words for a student. An item without `does` has an empty place there.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for item in model.items.iter().filter(|i| model[i.node].does.is_none()) {
        let message = format!("it is not said what `{}` does", item.id);
        let at = super::place_of(model, sources, &model[item.node], "name");
        found.push(Diagnostic::warning(RULE.code, at, message).help("add `does`: one or two sentences for a student"));
    }
}
