//! The answer of `suspect`.

use super::{Names, VERSION};
use crate::analyse::answer::{Indication, Seen, Start, Suspects};
use schemars::JsonSchema;
use serde::Serialize;

/// The smallest sets of faults that explain what is seen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SuspectAnswer {
    /// Version of this interface.
    pub ribstitch: u32,
    /// Name of the type, with the registration where there is one.
    pub aircraft: String,
    /// The state in which it is seen.
    pub state: String,
    /// `running`: the faults struck while the state stood. `cold`: they were there from the cold aircraft on.
    pub from: String,
    /// Seen dead.
    pub lost: Vec<String>,
    /// Seen to be false.
    pub wrong: Vec<String>,
    /// Seen to work.
    pub working: Vec<String>,
    /// Alerts that show, and gauges that show a loss.
    pub shows: Vec<String>,
    /// Alerts and gauges that do not.
    pub not_shows: Vec<String>,
    /// Sets of faults, `item:fault`, each of the size `order`, the likeliest first. One empty set where nothing needs to have failed.
    pub explanations: Vec<Vec<String>>,
    /// The size of the smallest sets that explain it; where none does, the size up to which all were tried.
    pub order: usize,
    /// False where there were too many sets of that size to try them all.
    pub complete: bool,
}

impl SuspectAnswer {
    /// The answer, from what the analysis found.
    pub fn new(names: Names<'_>, seen: &Seen, suspects: &Suspects) -> Self {
        let shown = |list: &[Indication]| list.iter().map(|i| indication(names, *i)).collect();
        let explanation = |set: &Vec<_>| set.iter().map(|f| names.model.fault_id(*f)).collect();
        Self {
            ribstitch: VERSION,
            aircraft: super::whatif::aircraft(names),
            state: names.model[seen.state].id.to_string(),
            from: if seen.start == Start::Cold { "cold" } else { "running" }.to_owned(),
            lost: names.ids(seen.lost.iter().copied()),
            wrong: names.ids(seen.wrong.iter().copied()),
            working: names.ids(seen.working.iter().copied()),
            shows: shown(&seen.shows),
            not_shows: shown(&seen.not_shows),
            explanations: suspects.explanations.iter().map(explanation).collect(),
            order: suspects.order,
            complete: suspects.complete,
        }
    }
}

fn indication(names: Names<'_>, of: Indication) -> String {
    match of {
        Indication::Alert(alert) => names.model[alert].id.to_string(),
        Indication::Gauge(node) => names.id(node),
    }
}
