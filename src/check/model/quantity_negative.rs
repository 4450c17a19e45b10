//! `quantity-negative`: a quantity that cannot be negative is

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Quantity, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "quantity-negative",
    summary: "a quantity that cannot be negative is",
    long: "What a thing draws, how much it holds, its rating and the time it lasts are amounts. A sign on one of them would turn a load into a source.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for node in &model.nodes {
        let lasts = match &node.lasts {
            Some(crate::model::Lasts::Stated(time)) => Some(time),
            _ => None,
        };
        tell(&[("draws", node.draws.as_ref()), ("lasts", lasts)], &super::path_of(model, node), sources, found);
    }
    for item in &model.items {
        let of = [
            ("rating", item.rating.as_ref()),
            ("capacity", item.capacity.as_ref()),
            ("voltage", item.voltage.as_ref()),
            ("usable", item.usable.as_ref()),
        ];
        tell(&of, &format!("item.{}", item.id), sources, found);
    }
    if let Some(time) = &model.time {
        tell(&[("reference", time.reference.as_ref())], "time", sources, found);
    }
}

fn tell(of: &[(&str, Option<&Quantity>)], path: &str, sources: &Sources, found: &mut Diagnostics) {
    for (key, quantity) in of {
        let Some(quantity) = quantity.filter(|q| q.number < 0.0 || (q.number == 0.0 && *key == "reference")) else {
            continue;
        };
        let message = format!("`{key}` is an amount, and {quantity} is none");
        let at = sources.place(&format!("{path}.{key}"));
        found.push(Diagnostic::error(RULE.code, at, message).help("take the sign off"));
    }
}
