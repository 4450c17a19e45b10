//! Which medium each node gives, where it is not said: kinds that conduct pass on that of their first feed.

use super::build::Builder;
use super::control::kind_of;
use crate::base::{Diagnostic, Span};
use crate::model::{Need, Node, NodeIx, NodeKind};

/// Fills in what conducting nodes inherit.
///
/// # Errors
/// `gives-missing` for a node that others are fed from and that has no medium.
pub fn inherit(nodes: &mut [Node], b: &mut Builder<'_, '_>) {
    let first: Vec<Option<NodeIx>> = nodes.iter().map(|n| first_feed(n, b)).collect();
    let mut seen = vec![false; nodes.len()];
    (0..nodes.len()).for_each(|at| follow(nodes, &first, at, &mut seen));
    refuse_missing(nodes, b);
}

/// The node that the first feed of a conducting node comes from.
fn first_feed(node: &Node, b: &Builder<'_, '_>) -> Option<NodeIx> {
    let NodeKind::Item(item) = node.kind else { return None };
    let conducts = kind_of(b.names.items[item.usize()].table).is_some_and(crate::model::Kind::conducts);
    let feeds = node.needs.iter().flat_map(Need::feeds);
    feeds.map(|f| f.from).next().filter(|_| conducts)
}

/// Goes up the first feeds until one says what it gives; all on the way give the same.
fn follow(nodes: &mut [Node], first: &[Option<NodeIx>], start: usize, seen: &mut [bool]) {
    let mut path = Vec::new();
    let mut at = Some(start);
    while let Some(here) = at.filter(|h| nodes[*h].gives.is_none() && !seen[*h]) {
        seen[here] = true;
        path.push(here);
        at = first[here].map(NodeIx::usize);
    }
    let medium = at.and_then(|here| nodes[here].gives);
    for here in path {
        nodes[here].gives = medium;
    }
}

fn refuse_missing(nodes: &[Node], b: &mut Builder<'_, '_>) {
    let mut missing: std::collections::BTreeMap<NodeIx, Span> = std::collections::BTreeMap::new();
    for node in nodes {
        for feed in node.needs.iter().chain(&node.senses).flat_map(Need::feeds) {
            if nodes[feed.from.usize()].gives.is_none() {
                missing.entry(feed.from).or_insert(feed.span);
            }
        }
    }
    for (node, feed) in missing {
        let node = &nodes[node.usize()];
        let message = format!("it is not said what others get from `{}`", node.id);
        b.diagnostics.push(
            Diagnostic::error("gives-missing", node.span, message)
                .also(feed, "this is fed from it")
                .help("add `gives` with a medium: electricity, suction, fuel, rotation, …"),
        );
    }
}
