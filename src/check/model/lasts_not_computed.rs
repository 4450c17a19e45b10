//! `lasts-not-computed`: a time that is to be computed cannot be

use super::Model;
use crate::analyse::battery::time_alone;
use crate::analyse::network::Analysis;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use crate::model::{ItemIx, Lasts};

/// The rule.
pub const RULE: Rule = Rule {
    code: "lasts-not-computed",
    summary: "a time that is to be computed cannot be",
    long: "`lasts = { result = \"endurance\" }` is the time that the battery of `[endurance]` gets from its phases. So it stands at that battery, which needs a `capacity`, and whose phases need a current in the one that gets what is left.",
};

/// Applies it.
pub fn check(model: &Model, analysis: &Analysis<'_>, sources: &Sources, found: &mut Diagnostics) {
    let battery: Option<ItemIx> = model.endurance.as_ref().map(|plan| plan.battery);
    for node in model.nodes.iter().filter(|n| matches!(n.lasts, Some(Lasts::Result(_)))) {
        let is_battery = battery.is_some_and(|b| model[b].id.as_str() == node.id);
        let (why, help) = match is_battery.then(|| time_alone(model, analysis)) {
            Some(Ok(_)) => continue,
            Some(Err(error)) => (error.to_string(), "mend the battery or the phases of `[endurance]`"),
            None => (
                format!("`{}` is not the battery of `[endurance]`", node.id),
                "name it in `[endurance]`, or write the time, like \"30 min\"",
            ),
        };
        let at = super::place_of(model, sources, node, "lasts");
        found.push(Diagnostic::error(RULE.code, at, format!("this time cannot be computed: {why}")).help(help));
    }
}
