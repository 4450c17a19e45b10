//! The answer of `trace`.

use super::{Names, VERSION};
use crate::analyse::answer::Trace;
use schemars::JsonSchema;
use serde::Serialize;

/// What a thing hangs on, up to its sources, and what hangs on it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TraceAnswer {
    /// Version of this interface.
    pub ribstitch: u32,
    /// Name of the type, with the registration where there is one.
    pub aircraft: String,
    /// `item`, `item.function` or an outside fact.
    pub id: String,
    /// Its printed name.
    pub name: String,
    /// Media of its own feeds and of what it senses.
    pub media: Vec<String>,
    /// Upstream things that need nothing themselves.
    pub sources: Vec<String>,
    /// All that it hangs on, passed devices included.
    pub upstream: Vec<String>,
    /// All that hangs on it.
    pub downstream: Vec<String>,
}

impl TraceAnswer {
    /// The answer, from what the analysis found.
    pub fn new(names: Names<'_>, trace: &Trace) -> Self {
        Self {
            ribstitch: VERSION,
            aircraft: super::whatif::aircraft(names),
            id: names.id(trace.node),
            name: names.node(trace.node),
            media: trace.media.iter().map(|m| names.model[*m].id.to_string()).collect(),
            sources: names.ids(trace.sources.iter().copied()),
            upstream: names.ids(trace.upstream.iter().copied()),
            downstream: names.ids(trace.downstream.iter().copied()),
        }
    }
}
