//! `arc-outside`: an arc or a mark leaves its scale

use super::Model;
use crate::base::Quantity;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use crate::model::{Item, StateIx};

/// The rule.
pub const RULE: Rule = Rule {
    code: "arc-outside",
    summary: "an arc or a mark leaves its scale",
    long: "Arcs, radial lines, the rest and the usual place of the needle lie on the scale from end to end, in its dimension. `usual` tells of the reference state, `usual-in` of others.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for item in &model.items {
        let Some(scale) = &item.scale else { continue };
        let arcs = scale.arcs.iter().enumerate().map(|(i, a)| (format!("arcs.{i}.over"), &a.over));
        let marks = [("rests", &scale.rests), ("usual", &scale.usual)];
        let marks = marks.into_iter().filter_map(|(key, q)| q.as_ref().map(|q| (key.to_owned(), q)));
        let key_of = |state: &StateIx| format!("usual-in.{}", model[*state].id);
        let by_state = scale.usual_in.iter().map(|(state, q)| (key_of(state), q));
        for (key, quantity) in arcs.chain(marks).chain(by_state) {
            if let Some(why) = leaves(quantity, &scale.span) {
                found.push(tell(item, &key, &why, sources));
            }
        }
        for (state, _) in scale.usual_in.iter().filter(|(state, _)| Some(*state) == model.reference_state) {
            let at = sources.place(&format!("item.{}.scale.{}", item.id, key_of(state)));
            let message = format!("`{}` is the reference state, of which `usual` tells", model[*state].id);
            found.push(Diagnostic::error(RULE.code, at, message).help("say it with `usual`"));
        }
    }
}

fn leaves(quantity: &Quantity, span: &Quantity) -> Option<String> {
    if quantity.unit.dimension != span.unit.dimension {
        let (is, wanted) = (quantity.unit.dimension.name(), span.unit.dimension.name());
        return Some(format!("{quantity} is a {is}, and the scale is one of {wanted}"));
    }
    let (low, high) = (quantity.si(), quantity.unit.to_si(quantity.upper.unwrap_or(quantity.number)));
    let (first, last) = (span.si(), span.unit.to_si(span.upper.unwrap_or(span.number)));
    let play = (last - first).abs() * 1e-9;
    (low < first - play || high > last + play).then(|| format!("{quantity} leaves the scale of {span}"))
}

fn tell(item: &Item, key: &str, why: &str, sources: &Sources) -> Diagnostic {
    let path = format!("item.{}.scale", item.id);
    Diagnostic::error(RULE.code, sources.place(&format!("{path}.{key}")), why)
        .also(sources.place(&format!("{path}.span")), "the scale")
        .help("keep it between the ends of the scale")
}
