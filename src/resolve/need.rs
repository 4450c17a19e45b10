//! Raw needs to needs: names to indices.

use super::build::Builder;
use crate::base::Diagnostic;
use crate::model::{Condition, Feed, ItemIx, Need, NodeIx, When};
use crate::parse::RawTable;
use crate::parse::need::{RawFeed, RawNeed, RawWhen, parse_needs};

/// The needs under a key of a node, which must not feed itself.
pub fn needs(b: &mut Builder<'_, '_>, table: &RawTable, key: &str, of: Option<NodeIx>) -> Vec<Need> {
    let Some(entry) = table.get(key) else { return Vec::new() };
    let raw = parse_needs(&entry.value, b.diagnostics);
    raw.iter().filter_map(|n| need(b, n, of)).collect()
}

fn need(b: &mut Builder<'_, '_>, raw: &RawNeed, of: Option<NodeIx>) -> Option<Need> {
    let mut all = |parts: &[RawNeed]| parts.iter().filter_map(|p| need(b, p, of)).collect::<Vec<Need>>();
    match raw {
        RawNeed::Any(parts, span) => Some(Need::Any(all(parts), *span)),
        RawNeed::All(parts, span) => Some(Need::All(all(parts), *span)),
        RawNeed::AtLeast(count, parts, span) => Some(Need::AtLeast { count: *count, of: all(parts), span: *span }),
        RawNeed::When(when, span) => Some(Need::When(self::when(b, when), *span)),
        RawNeed::Feed(feed) => self::feed(b, feed, of).map(Need::Feed),
    }
}

fn feed(b: &mut Builder<'_, '_>, raw: &RawFeed, of: Option<NodeIx>) -> Option<Feed> {
    let from = b.names.node(&raw.from, b.diagnostics);
    let through: Vec<Option<NodeIx>> = raw.through.iter().map(|n| b.names.node(n, b.diagnostics)).collect();
    let when = self::when(b, &raw.when);
    let itself = of.is_some() && (from == of || through.contains(&of));
    if itself && (!raw.sustained || from != of) {
        let name = of.map(|n| b.names.nodes[n.usize()].id.clone()).unwrap_or_default();
        let message = format!("`{name}` is fed by itself here");
        b.diagnostics.push(
            Diagnostic::error("self-feed", raw.span, message)
                .help("name what feeds it; write `(sustained)` only if its own output keeps it running once it runs"),
        );
        return None;
    }
    let through = through.into_iter().collect::<Option<Vec<NodeIx>>>()?;
    let approximate = raw.approximate.clone();
    Some(Feed { from: from?, through, when, sustained: raw.sustained, approximate, span: raw.span })
}

/// Conditions, sorted by control.
pub fn when(b: &mut Builder<'_, '_>, raw: &RawWhen) -> When {
    let mut conditions = Vec::new();
    for (control, positions) in raw {
        let Some(item) = b.names.control(control, b.diagnostics) else { continue };
        if positions.is_empty() {
            let message = format!("no position of `{}` is named, so this can never hold", control.value);
            b.diagnostics
                .push(Diagnostic::error("empty-need", control.span, message).help("name the positions that will do"));
        }
        let mut positions: Vec<_> = positions.iter().filter_map(|p| b.names.position(item, p, b.diagnostics)).collect();
        positions.sort();
        positions.dedup();
        conditions.push(Condition { control: item, positions });
    }
    conditions.sort();
    for pair in conditions.windows(2) {
        if let [first, second] = pair
            && first.control == second.control
        {
            refuse_twice(b, raw, first.control);
        }
    }
    When(conditions)
}

fn refuse_twice(b: &mut Builder<'_, '_>, raw: &RawWhen, control: ItemIx) {
    let id = b.names.items[control.usize()].id.clone();
    let mut named = raw.iter().map(|(c, _)| c).filter(|c| c.value == id.as_str());
    let (Some(first), Some(second)) = (named.next(), named.next()) else { return };
    b.diagnostics.push(
        Diagnostic::error("control-twice", second.span, format!("`{id}` stands twice in one condition"))
            .also(first.span, "here it stands first")
            .help("join its positions by `or`"),
    );
}
