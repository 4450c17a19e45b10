//! `never-works`: something works in no state

use crate::analyse::network::Analysis;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use crate::model::{Model, NodeIx};
use std::collections::BTreeSet;

/// The rule.
pub const RULE: Rule = Rule {
    code: "never-works",
    summary: "something works in no state",
    long: "What works in no cockpit state of the model is wired wrongly, or a state is missing. Most often feeds run in a loop: each member \
           waits for the other, and nothing starts. Where the output of one member keeps its own feed up once it runs (the field of an \
           alternator, a crankshaft kept turning by its engine, a relay that holds itself), that feed is marked `(sustained)`, and \
           something else starts it.",
};

/// Applies it: one finding for each loop, and one for each other node that nothing explains.
pub fn check(model: &Model, analysis: &Analysis<'_>, sources: &Sources, found: &mut Diagnostics) {
    let dead = analysis.never_works();
    let mut told: BTreeSet<Vec<NodeIx>> = BTreeSet::new();
    for node in &dead {
        let mut ring = analysis.ring_of(*node);
        if ring.is_empty() {
            if !hangs_on(model, *node, &dead) {
                found.push(alone(model, *node, sources));
            }
            continue;
        }
        let first = ring.iter().enumerate().min_by_key(|(_, n)| **n).map_or(0, |(i, _)| i);
        ring.rotate_left(first);
        if told.insert(ring.clone()) {
            found.push(in_ring(model, &ring, sources));
        }
    }
}

/// True if a node is fed from, or is a function of, another that never works: that one is told.
fn hangs_on(model: &Model, node: NodeIx, dead: &[NodeIx]) -> bool {
    let item = model.item_of(node).map(|i| model[i].node).filter(|i| *i != node);
    let fed = model[node]
        .needs
        .iter()
        .flat_map(crate::model::Need::feeds)
        .flat_map(|f| std::iter::once(&f.from).chain(&f.through));
    fed.chain(item.as_ref()).any(|n| *n != node && dead.contains(n))
}

fn alone(model: &Model, node: NodeIx, sources: &Sources) -> Diagnostic {
    let at = super::place_of(model, sources, &model[node], "needs");
    Diagnostic::error(RULE.code, at, format!("`{}` works in no state", model[node].id))
        .help("mend its needs, or add a state in which controls and givens let it work")
}

fn in_ring(model: &Model, ring: &[NodeIx], sources: &Sources) -> Diagnostic {
    let id = |n: &NodeIx| model[*n].id.as_str();
    let names: Vec<&str> = ring.iter().chain(ring.first()).map(id).collect();
    let first = ring.first().map_or("", id);
    let at =
        ring.first().map_or_else(crate::base::Span::default, |n| super::place_of(model, sources, &model[*n], "needs"));
    let message = format!("`{first}` works in no state: it waits for itself, {}", names.join(" needs "));
    let help = format!(
        "decide which of {} its own output keeps going once it runs, and mark that feed `(sustained)`; or name what starts it",
        crate::base::text::join_list(&ring.iter().map(|n| format!("`{}`", model[*n].id)).collect::<Vec<_>>(), "and")
    );
    let others = ring.iter().skip(1);
    let place = |n: &NodeIx| super::place_of(model, sources, &model[*n], "needs");
    others.fold(Diagnostic::error(RULE.code, at, message), |d, n| d.also(place(n), "in the loop")).help(help)
}
