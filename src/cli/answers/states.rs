//! The answer of `states`.

use super::{Names, VERSION};
use crate::analyse::answer::StateSolution;
use crate::model::NodeKind;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// What works in which cockpit state.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StatesAnswer {
    /// Version of this interface.
    pub ribstitch: u32,
    /// Name of the type, with the registration where there is one.
    pub aircraft: String,
    /// State to item or `item.function` to `works` or `dead`.
    pub states: BTreeMap<String, BTreeMap<String, String>>,
    /// States that are not reached; what is said of them is what the last state before leaves.
    pub not_reached: Vec<String>,
}

impl StatesAnswer {
    /// The answer, from what the analysis found for each state.
    pub fn new(names: Names<'_>, solved: &[&StateSolution]) -> Self {
        let states = solved.iter().map(|s| (names.model[s.state].id.to_string(), one(names, s))).collect();
        let missed = solved.iter().filter(|s| !s.reached);
        Self {
            ribstitch: VERSION,
            aircraft: super::whatif::aircraft(names),
            states,
            not_reached: missed.map(|s| names.model[s.state].id.to_string()).collect(),
        }
    }
}

fn one(names: Names<'_>, solved: &StateSolution) -> BTreeMap<String, String> {
    let nodes = names.model.node_indices().filter(|n| !matches!(names.model[*n].kind, NodeKind::Given(_)));
    nodes
        .map(|node| {
            let word = if solved.solution.works.contains(&node) { "works" } else { "dead" };
            (names.id(node), word.to_owned())
        })
        .collect()
}
