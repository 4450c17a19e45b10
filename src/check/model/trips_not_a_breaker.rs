//! `trips-not-a-breaker`: a fault trips what cannot trip

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use crate::model::{FaultIx, NodeIx};

/// The rule.
pub const RULE: Rule = Rule {
    code: "trips-not-a-breaker",
    summary: "a fault trips what cannot trip",
    long: "What trips is a breaker, a fuse, or a device that some control resets. Anything else is lost or taken, not tripped.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for ix in model.fault_indices() {
        for (at, entry) in model[ix].trips.iter().enumerate() {
            if !can_trip(model, entry.what) {
                found.push(tell(model, sources, ix, at));
            }
        }
    }
}

fn can_trip(model: &Model, node: NodeIx) -> bool {
    let Some(item) = model.item_of(node) else { return false };
    model[item].kind.protects() || model.controls().any(|(_, c)| c.resets.contains(&item))
}

fn tell(model: &Model, sources: &Sources, ix: FaultIx, at: usize) -> Diagnostic {
    let fault = &model[ix];
    let what = fault.trips.get(at).map_or("", |e| model[e.what].id.as_str());
    let span = sources.place(&format!("{}.trips.{at}", super::fault_path(model, fault)));
    let message = format!("`{what}` cannot trip: it is no breaker, and no control resets it");
    Diagnostic::error(RULE.code, span, message)
        .help("write it under `takes`, or name it in `resets` of the control that resets it")
}
