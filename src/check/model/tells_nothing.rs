//! `tells-nothing`: an instrument tells nothing

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use crate::model::Kind;

/// The rule.
pub const RULE: Rule = Rule {
    code: "tells-nothing",
    summary: "an instrument tells nothing",
    long: "An instrument or gauge on the panel is there to tell the pilot something: it tells information, senses something, or shows an alert. One that does none of these is not yet described.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for item in model.items.iter().filter(|i| i.panel.is_some()) {
        let node = &model[item.node];
        let tells = std::iter::once(&item.node).chain(&item.functions).map(|n| &model[*n]);
        let told = tells.into_iter().any(|n| !n.tells.is_empty() || !n.senses.is_empty() || n.gives.is_some());
        let shows = model.alerts.iter().any(|a| model[a.on].node == item.node);
        let meant = matches!(item.kind, Kind::Instrument | Kind::Gauge | Kind::Display);
        if meant && !told && !shows {
            let at = super::place_of(model, sources, node, "name");
            let message = format!("the {} `{}` tells nothing", item.kind.word(), item.id);
            found.push(
                Diagnostic::warning(RULE.code, at, message)
                    .help("add `tells` with what the pilot reads from it, or `senses` with what it measures"),
            );
        }
    }
}
