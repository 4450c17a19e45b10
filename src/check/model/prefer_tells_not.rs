//! `prefer-tells-not`: a preferred source does not tell it

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use crate::model::{InformationIx, NodeIx};

/// The rule.
pub const RULE: Rule = Rule {
    code: "prefer-tells-not",
    summary: "a preferred source does not tell it",
    long: "`prefer` ranks sources of a piece of information. A node that does not tell it, and has no function that does, is no source.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for (at, information) in model.information.iter().enumerate() {
        for (rank, node) in information.prefer.iter().enumerate() {
            if !tells(model, *node, InformationIx::new(at)) {
                let at = sources.place(&format!("information.{}.prefer.{rank}", information.id));
                let message = format!("`{}` does not tell `{}`", model[*node].id, information.id);
                found.push(
                    Diagnostic::error(RULE.code, at, message).help("add it to `tells` there, or take it out here"),
                );
            }
        }
    }
}

fn tells(model: &Model, node: NodeIx, information: InformationIx) -> bool {
    let told = |n: NodeIx| model[n].tells.iter().any(|t| t.information == information);
    let functions = model.item_of(node).filter(|i| model[*i].node == node).map(|i| model[i].functions.clone());
    told(node) || functions.unwrap_or_default().into_iter().any(told)
}
