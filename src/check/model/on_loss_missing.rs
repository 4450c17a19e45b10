//! `on-loss-missing`: an instrument says nothing of a medium it uses

use super::Model;
use crate::base::Span;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use crate::model::{Item, LossOf, MediumIx, Node, WalkGroup};

/// The rule.
pub const RULE: Rule = Rule {
    code: "on-loss-missing",
    summary: "an instrument says nothing of a medium it uses",
    long: "A pilot must know how an instrument looks when what feeds it is gone: dark, flagged, or still alive to look at. Each instrument on the panel says so for each medium that feeds it, or for the node that it comes from.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let on_panel = |i: &&Item| i.panel.is_some() && i.kind.group() == WalkGroup::Instruments;
    for item in model.items.iter().filter(on_panel) {
        let nodes: Vec<&Node> = std::iter::once(&item.node).chain(&item.functions).map(|n| &model[*n]).collect();
        for (medium, feed) in silent(model, &nodes) {
            let at = super::place_of(model, sources, &model[item.node], "name");
            let message =
                format!("`{}` is fed with {}, and it is not said how it looks without", item.id, model[medium].name);
            found.push(
                Diagnostic::warning(RULE.code, at, message)
                    .also(feed, "the feed")
                    .help(format!("add to `on-loss`: {} = {{ looks = \"…\", text = \"…\" }}", model[medium].id)),
            );
        }
    }
}

/// Media that feed an instrument and of whose loss it says nothing.
fn silent(model: &Model, nodes: &[&Node]) -> Vec<(MediumIx, Span)> {
    let mut found: Vec<(MediumIx, Span)> = Vec::new();
    for feed in nodes.iter().flat_map(|n| &n.needs).flat_map(|n| n.feeds()) {
        let Some(medium) = model[feed.from].gives else { continue };
        let says = |of: LossOf| of == LossOf::Medium(medium) || of == LossOf::Node(feed.from);
        let said = nodes.iter().flat_map(|n| &n.on_loss).any(|l| says(l.of));
        if !said && !found.iter().any(|(m, _)| *m == medium) {
            found.push((medium, feed.span));
        }
    }
    found
}
