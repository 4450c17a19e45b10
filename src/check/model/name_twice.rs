//! `name-twice`: two things are printed under one name

use super::Model;
use crate::base::Span;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use std::collections::BTreeMap;

/// The rule.
pub const RULE: Rule = Rule {
    code: "name-twice",
    summary: "two things are printed under one name",
    long: "A reader of the guide knows a thing by its printed name alone. Items, givens and inspections have each a name of their own; so has each function within its item. Capitals make no difference.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let mut names: BTreeMap<String, Span> = BTreeMap::new();
    for node in &model.nodes {
        let around = match node.kind {
            crate::model::NodeKind::Function(item, _) => model[item].id.as_str(),
            _ => "",
        };
        let key = format!("{around}/{}", node.noun.name.to_lowercase());
        match names.get(&key) {
            Some(first) => found.push(twice(&node.noun.name, super::place_of(model, sources, node, "name"), *first)),
            None => {
                names.insert(key, super::place_of(model, sources, node, "name"));
            }
        }
    }
}

fn twice(name: &str, second: Span, first: Span) -> Diagnostic {
    Diagnostic::error(RULE.code, second, format!("another thing is called `{name}` already"))
        .also(first, "here it is called so")
        .help("give one of the two a name that tells them apart")
}
