//! What makes an item a control.

use super::build::{Builder, name, name_list};
use crate::base::{Diagnostic, Id, Spanned};
use crate::model::{Control, ItemIx, Kind, PositionIx, Reach};
use crate::parse::RawTable;
use crate::parse::need::name_of;

/// The positions of every item, before any name of a position is looked up.
pub fn collect_positions(b: &mut Builder<'_, '_>) {
    for at in 0..b.names.items.len() {
        let table = b.names.items[at].table;
        let positions = match table.get("positions") {
            Some(_) => Some(written(b, table)),
            None => default_positions(kind_of(table)),
        };
        b.names.positions.push(positions);
    }
}

/// The kind that a table says.
pub fn kind_of(table: &RawTable) -> Option<Kind> {
    table.text("kind").and_then(Kind::find)
}

fn default_positions(kind: Option<Kind>) -> Option<Vec<Id>> {
    let words: [&str; 2] = match kind? {
        Kind::Switch => ["off", "on"],
        Kind::Breaker => ["in", "out"],
        _ => return None,
    };
    words.iter().map(|w| Id::new(w).ok()).collect()
}

fn written(b: &mut Builder<'_, '_>, table: &RawTable) -> Vec<Id> {
    let mut ids: Vec<Id> = Vec::new();
    for word in name_list(table, "positions") {
        match Id::new(&word.value) {
            Ok(id) if ids.contains(&id) => b.diagnostics.push(
                Diagnostic::error("position-twice", word.span, format!("the position `{id}` stands twice"))
                    .help("name each position once"),
            ),
            Ok(id) => ids.push(id),
            Err(why) => b.diagnostics.push(
                Diagnostic::error("bad-id", word.span, format!("a position cannot be called so: {why}"))
                    .help("use lower-case words joined by `-`"),
            ),
        }
    }
    if let Some(entry) = table.get("positions").filter(|_| ids.len() < 2) {
        b.diagnostics.push(
            Diagnostic::error("too-few-positions", entry.value.span, "a control has at least two positions")
                .help("name both positions, or take the key out if it is no control"),
        );
    }
    ids
}

/// The control that an item is, if it has positions.
pub fn control(b: &mut Builder<'_, '_>, item: ItemIx, kind: Kind) -> Option<Control> {
    let table = b.names.items[item.usize()].table;
    let Some(positions) = b.names.positions[item.usize()].clone() else {
        refuse_strays(b, item);
        return None;
    };
    let find = |word: &str| positions.iter().position(|p| p.as_str() == word).map(PositionIx::new);
    let rest = match name(table, "rest") {
        Some(word) => b.names.position(item, &word, b.diagnostics),
        None if kind == Kind::Breaker => find("in"),
        None => None,
    };
    Some(Control {
        rest: rest.unwrap_or(PositionIx::new(0)),
        conducts_in: conducts_in(b, item, kind),
        springs_to: springs_to(b, item),
        off_with: name(table, "off-with").and_then(|n| b.names.control(&n, b.diagnostics)),
        never_offer: positions_of(b, item, "never-offer"),
        resets: name_list(table, "resets").iter().filter_map(|n| b.names.item(n, b.diagnostics)).collect(),
        reachable: reachable(table),
        positions,
    })
}

const OF_CONTROLS: [&str; 7] = ["rest", "conducts-in", "springs-to", "off-with", "never-offer", "resets", "reachable"];

fn refuse_strays(b: &mut Builder<'_, '_>, item: ItemIx) {
    let declared = &b.names.items[item.usize()];
    for key in OF_CONTROLS.iter().filter_map(|k| declared.table.get(k)) {
        let message = format!("`{}` is of controls, and `{}` has no positions", key.key, declared.id);
        b.diagnostics.push(
            Diagnostic::error("not-a-control", key.key_span, message).help("give it `positions`, or take this key out"),
        );
    }
}

fn positions_of(b: &mut Builder<'_, '_>, item: ItemIx, key: &str) -> Vec<PositionIx> {
    let names = name_list(b.names.items[item.usize()].table, key);
    let mut found: Vec<_> = names.iter().filter_map(|n| b.names.position(item, n, b.diagnostics)).collect();
    found.sort();
    found.dedup();
    found
}

fn conducts_in(b: &mut Builder<'_, '_>, item: ItemIx, kind: Kind) -> Vec<PositionIx> {
    let declared = b.names.items[item.usize()].clone();
    if declared.table.get("conducts-in").is_some() {
        return positions_of(b, item, "conducts-in");
    }
    let positions = b.names.positions[item.usize()].clone().unwrap_or_default();
    let find = |word: &str| positions.iter().position(|p| p.as_str() == word).map(PositionIx::new);
    let by_default = match (find("on"), find("off"), find("in")) {
        (Some(on), Some(_), _) if positions.len() == 2 => Some(on),
        (_, _, Some(is_in)) if kind == Kind::Breaker => Some(is_in),
        _ => None,
    };
    if by_default.is_none() && positions.len() > 1 {
        let words: Vec<&str> = positions.iter().map(Id::as_str).collect();
        let message = format!("it is not said in which of {} `{}` conducts", words.join(", "), declared.id);
        b.diagnostics.push(Diagnostic::error("conducts-in-missing", declared.span, message).help(
            "add `conducts-in` with the positions in which it passes a feed; all of them, if every position does",
        ));
    }
    by_default.into_iter().collect()
}

fn springs_to(b: &mut Builder<'_, '_>, item: ItemIx) -> Vec<(PositionIx, PositionIx)> {
    let Some(table) = b.names.items[item.usize()].table.table("springs-to") else { return Vec::new() };
    let mut found = Vec::new();
    for entry in &table.entries {
        let from = Spanned::new(entry.key.clone(), entry.key_span);
        let from = b.names.position(item, &from, b.diagnostics);
        let to = name_of(&entry.value).and_then(|n| b.names.position(item, &n, b.diagnostics));
        found.extend(from.zip(to));
    }
    found.sort();
    found
}

fn reachable(table: &RawTable) -> Reach {
    match table.text("reachable") {
        Some("in flight") => Reach::InFlight,
        Some("on the ground") => Reach::OnTheGround,
        None if table.get("panel").is_some() => Reach::InFlight,
        _ => Reach::No,
    }
}
