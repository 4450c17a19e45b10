//! Which medium each node gives, where it is not said: kinds that conduct pass on that of their first feed.

use super::build::Builder;
use super::control::kind_of;
use crate::base::{Diagnostic, Span};
use crate::model::{MediumIx, Need, Node, NodeIx, NodeKind};

/// Fills in what conducting nodes inherit.
///
/// # Errors
/// `gives-missing` for a node that others are fed from and that has no medium.
pub fn inherit(nodes: &mut [Node], b: &mut Builder<'_, '_>) {
    let first: Vec<Option<NodeIx>> = nodes.iter().map(|n| first_feed(n, b)).collect();
    for at in 0..nodes.len() {
        if nodes[at].gives.is_none() {
            nodes[at].gives = follow(nodes, &first, at);
        }
    }
    refuse_missing(nodes, b);
}

/// The node that the first feed of a conducting node comes from.
fn first_feed(node: &Node, b: &Builder<'_, '_>) -> Option<NodeIx> {
    let NodeKind::Item(item) = node.kind else { return None };
    let conducts = kind_of(b.names.items[item.usize()].table).is_some_and(crate::model::Kind::conducts);
    let feeds = node.needs.iter().flat_map(Need::feeds);
    feeds.map(|f| f.from).next().filter(|_| conducts)
}

/// Goes up the first feeds until one says what it gives.
fn follow(nodes: &[Node], first: &[Option<NodeIx>], start: usize) -> Option<MediumIx> {
    let mut at = start;
    for _ in 0..nodes.len() {
        at = first.get(at).copied().flatten()?.usize();
        if let Some(medium) = nodes[at].gives {
            return Some(medium);
        }
    }
    None
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
