//! `draws-without-electricity`: what draws current is fed with no electricity

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use crate::model::{MediumIx, Node};

/// The rule.
pub const RULE: Rule = Rule {
    code: "draws-without-electricity",
    summary: "what draws current is fed with no electricity",
    long: "An item or function that draws current or power hangs on something that gives electricity: itself, or its item. Where none does, its feed or its `draws` is wrong.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let electricity = model.find_medium("electricity");
    for ix in model.node_indices().filter(|n| model[*n].draws.is_some()) {
        let node = &model[ix];
        let around: Vec<&Node> = match model.item_of(ix) {
            Some(item) => {
                std::iter::once(&model[item].node).chain(&model[item].functions).map(|n| &model[*n]).collect()
            }
            None => vec![node],
        };
        if !around.into_iter().any(|n| fed_with(model, n, electricity)) {
            let at = super::place_of(model, sources, node, "draws");
            let message = format!("`{}` draws current and is fed with no electricity", node.id);
            found.push(
                Diagnostic::warning(RULE.code, at, message)
                    .help("add the bus that feeds it to `needs`, or take `draws` out"),
            );
        }
    }
}

fn fed_with(model: &Model, node: &Node, medium: Option<MediumIx>) -> bool {
    node.needs.iter().flat_map(|n| n.feeds()).any(|f| model[f.from].gives == medium)
}
