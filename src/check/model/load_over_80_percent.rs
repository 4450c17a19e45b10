//! `load-over-80-percent`: a continuous load takes more than four fifths of the alternator's rating

use super::Model;
use crate::analyse::load;
use crate::analyse::network::Analysis;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "load-over-80-percent",
    summary: "a continuous load takes more than four fifths of the alternator's rating",
    long: "AC 43.13-1B, paragraph 11-35: the continuous load is at most 80 % of the alternator's rating, unless the aircraft is placarded or the load is monitored; the rest charges the battery. The load is the sum of `draws` of all that works in the state and is not `intermittent`.",
};

/// Applies it: told once, for the state with the greatest load.
pub fn check(model: &Model, analysis: &Analysis<'_>, sources: &Sources, found: &mut Diagnostics) {
    let over = load::by_state(model, analysis).into_iter().filter(load::StateLoad::is_over);
    let Some(worst) = over.max_by(|a, b| a.continuous.0.total_cmp(&b.continuous.0).then(b.state.cmp(&a.state))) else {
        return;
    };
    let Some(alternator) = load::makers(model).into_iter().find(|m| model[*m].rating.is_some()) else { return };
    let at = sources.place(&format!("item.{}.rating", model[alternator].id));
    let (load, allowed) = (worst.continuous.0, worst.allowed().0);
    let message = format!(
        "in `{}` the continuous load is {load:.1} A, more than {allowed:.1} A, which is 80 % of this rating",
        model[worst.state].id
    );
    found.push(
        Diagnostic::warning(RULE.code, at, message)
            .help("mend `draws`, mark what draws for moments `intermittent = true`, or mend the rating"),
    );
}
