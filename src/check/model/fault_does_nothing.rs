//! `fault-does-nothing`: a fault has no effect and no sign

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "fault-does-nothing",
    summary: "a fault has no effect and no sign",
    long: "A named fault takes only what it says. One that takes, weakens, misleads, trips, shows and leads to nothing, and has neither cue nor hazard, would be an empty row.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let _ = sources;
    for fault in &model.faults {
        let harms = [fault.loses.len(), fault.weakens.len(), fault.misleads.len(), fault.trips.len()];
        let manners = [fault.ignores.len(), fault.traps.len()];
        let signs = [fault.leads_to.len(), fault.shows.len(), fault.hides.len(), fault.hazards.len()];
        if harms.iter().chain(&manners).chain(&signs).all(|n| *n == 0) && fault.cue.is_none() {
            let message = format!("`{}:{}` takes nothing and shows nothing", model[fault.of].id, fault.id);
            found.push(
                Diagnostic::warning(RULE.code, fault.span, message)
                    .help("say what it takes, weakens or misleads, or how it is felt in `cue`"),
            );
        }
    }
}
