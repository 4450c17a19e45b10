//! `pull-not-a-breaker`: what is no breaker can be pulled

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "pull-not-a-breaker",
    summary: "what is no breaker can be pulled",
    long: "`pull` says that a breaker has a collar to pull it by. It is a key of breakers.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for item in model.items.iter().filter(|i| i.pull && i.kind != crate::model::Kind::Breaker) {
        let at = super::place_of(model, sources, &model[item.node], "pull");
        let message = format!("`{}` is a {}, and only breakers are pulled", item.id, item.kind.word());
        found.push(Diagnostic::error(RULE.code, at, message).help("take `pull` out, or make it a breaker"));
    }
}
