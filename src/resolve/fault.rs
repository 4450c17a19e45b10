//! Faults, written and by default.

use super::build::{Builder, flag, list, name, quantity, text};
use super::control::kind_of;
use super::names::DeclaredFault;
use super::need::when;
use crate::base::{Diagnostic, Spanned};
use crate::model::{
    Asked, Cue, Entry, Fault, FoundBy, Hazard, HazardLevel, Ignores, Kind, LeadsTo, Node, NodeIx, NodeKind, When,
};
use crate::parse::need::{name_of, parse_when};
use crate::parse::printed::one_line;
use crate::parse::{RawKind, RawTable, RawValue};

/// All faults, in the order of their nodes.
pub fn faults(nodes: &[Node], b: &mut Builder<'_, '_>) -> Vec<Fault> {
    let declared = b.names.faults.clone();
    declared.iter().map(|f| fault(nodes, b, f)).collect()
}

fn fault(nodes: &[Node], b: &mut Builder<'_, '_>, declared: &DeclaredFault<'_>) -> Fault {
    let empty = RawTable::default();
    let t = declared.table.unwrap_or(&empty);
    let mut fault = Fault {
        id: declared.id.clone(),
        of: declared.of,
        said: text(t, "said"),
        loses: entries(b, t, "loses", declared.of),
        weakens: entries(b, t, "weakens", declared.of),
        misleads: entries(b, t, "misleads", declared.of),
        traps: entries(b, t, "traps", declared.of),
        trips: entries(b, t, "trips", declared.of),
        ignores: ignores(b, t, declared.of),
        leads_to: leads_to(b, t),
        shows: alerts(b, t, "shows"),
        hides: alerts(b, t, "hides"),
        found_by: t.text("found-by").and_then(FoundBy::find),
        cue: cue(b, t),
        hazards: hazards(b, t),
        see: text(t, "see"),
        likely: t.get("likely").and_then(|e| e.value.as_number()),
        transient: flag(t, "transient"),
        restorable: flag(t, "restorable"),
        asked: t.text("asked").and_then(Asked::find).unwrap_or(Asked::Always),
        span: declared.span,
        written: declared.table.is_some(),
    };
    refuse_foreign(b, t, &fault);
    refuse_own(b, t, &fault);
    fault.loses.extend(entries(b, t, "takes", declared.of));
    fill_default(nodes, b, t, &mut fault);
    fault
}

/// `fails` that does not say what it takes: the whole item, or the trapped pressure of a static or pitot line.
fn fill_default(nodes: &[Node], b: &Builder<'_, '_>, t: &RawTable, fault: &mut Fault) {
    if fault.id.as_str() != "fails" || t.get("loses").is_some() || t.get("misleads").is_some() {
        return;
    }
    let own = Entry { what: fault.of, when: When::default(), text: None };
    let node = &nodes[fault.of.usize()];
    if traps_pressure(node, b) {
        fault.misleads.push(own);
        fault.said.get_or_insert_with(|| "is blocked".to_owned());
        return;
    }
    if matches!(node.kind, NodeKind::Given(_)) {
        fault.said.get_or_insert_with(|| "is gone".to_owned());
    }
    fault.loses.insert(0, own);
}

fn traps_pressure(node: &Node, b: &Builder<'_, '_>) -> bool {
    let NodeKind::Item(item) = node.kind else { return false };
    let kind = kind_of(b.names.items[item.usize()].table);
    let media = [b.names.peek_medium("static-pressure"), b.names.peek_medium("pitot-pressure")];
    matches!(kind, Some(Kind::Line | Kind::Port)) && node.gives.is_some() && media.contains(&node.gives)
}

/// What an entry names and when: a bare name, or `{ what, when }`.
fn what_when(b: &mut Builder<'_, '_>, value: &RawValue) -> Option<(Spanned<String>, When)> {
    match &value.kind {
        RawKind::Table(t) => {
            let when = t.get("when").map(|e| when(b, &parse_when(&e.value))).unwrap_or_default();
            Some((name(t, "what")?, when))
        }
        _ => Some((name_of(value)?, When::default())),
    }
}

fn entries(b: &mut Builder<'_, '_>, t: &RawTable, key: &str, own: NodeIx) -> Vec<Entry<NodeIx>> {
    let mut found = Vec::new();
    for value in list(t, key) {
        let Some((name, when)) = what_when(b, value) else { continue };
        let function = format!("{}.{}", b.names.nodes[own.usize()].id, name.value);
        let of_own =
            b.names.peek_node(&function).filter(|_| key == "loses" || b.names.peek_node(&name.value).is_none());
        let what = of_own.or_else(|| b.names.node(&name, b.diagnostics));
        let told = value.as_table().and_then(|t| text(t, "text"));
        found.extend(what.map(|what| Entry { what, when, text: told }));
    }
    found
}

/// `takes` is for what is not of the item. It means the same, so it only reads wrong.
fn refuse_own(b: &mut Builder<'_, '_>, t: &RawTable, fault: &Fault) {
    let own = b.names.nodes[fault.of.usize()].id.clone();
    for value in list(t, "takes") {
        let Some(name) = name_of(value).or_else(|| value.as_table().and_then(|t| self::name(t, "what"))) else {
            continue;
        };
        if name.value == own || name.value.starts_with(&format!("{own}.")) {
            let message = format!("`takes` is for what is not of `{own}`, and `{}` is of it", name.value);
            b.diagnostics
                .push(Diagnostic::warning("fault-entry-foreign", name.span, message).help("write it under `loses`"));
        }
    }
}

/// `loses` names the item or its functions and nothing else.
fn refuse_foreign(b: &mut Builder<'_, '_>, t: &RawTable, fault: &Fault) {
    let own = b.names.nodes[fault.of.usize()].id.clone();
    for value in list(t, "loses") {
        let Some(name) = name_of(value).or_else(|| value.as_table().and_then(|t| self::name(t, "what"))) else {
            continue;
        };
        let Some(node) = b.names.peek_node(&name.value) else { continue };
        let of_item = b.names.nodes[node.usize()].id == own || name.value.starts_with(&format!("{own}."));
        let short = b.names.peek_node(&format!("{own}.{}", name.value)).is_some();
        if !of_item && !short {
            let message = format!("`loses` is for functions of `{own}`, and `{}` is not of it", name.value);
            let help = "write it under `takes`";
            b.diagnostics.push(Diagnostic::error("fault-entry-foreign", name.span, message).help(help));
        }
    }
}

fn alerts(b: &mut Builder<'_, '_>, t: &RawTable, key: &str) -> Vec<Entry<crate::model::AlertIx>> {
    let mut found = Vec::new();
    for value in list(t, key) {
        let Some((name, when)) = what_when(b, value) else { continue };
        found.extend(b.names.alert(&name, b.diagnostics).map(|what| Entry { what, when, text: None }));
    }
    found
}

fn ignores(b: &mut Builder<'_, '_>, t: &RawTable, own: NodeIx) -> Vec<Entry<Ignores>> {
    let mut found = Vec::new();
    for value in list(t, "ignores") {
        let Some((name, when)) = what_when(b, value) else { continue };
        let Some(what) = b.names.item(&name, b.diagnostics) else { continue };
        let told = value.as_table().filter(|t| t.get("for").is_some());
        let names: Vec<NodeIx> = match told {
            Some(t) => {
                super::build::name_list(t, "for").iter().filter_map(|n| b.names.node(n, b.diagnostics)).collect()
            }
            None => vec![own],
        };
        let nodes = with_functions(b, &names);
        found.push(Entry { what: Ignores { what, nodes }, when, text: None });
    }
    found
}

/// Nodes, and with each item its functions; sorted.
fn with_functions(b: &Builder<'_, '_>, of: &[NodeIx]) -> Vec<NodeIx> {
    let mut all: Vec<NodeIx> = of.to_vec();
    for node in of {
        if let NodeKind::Item(item) = b.names.nodes[node.usize()].kind {
            all.extend(&b.names.functions[item.usize()]);
        }
    }
    all.sort();
    all.dedup();
    all
}

/// A list, or its one element written without brackets.
fn one_or_many<'t>(t: &'t RawTable, key: &str) -> &'t [RawValue] {
    let Some(entry) = t.get(key) else { return &[] };
    entry.value.as_list().unwrap_or(std::slice::from_ref(&entry.value))
}

fn leads_to(b: &mut Builder<'_, '_>, t: &RawTable) -> Vec<LeadsTo> {
    let mut found = Vec::new();
    for value in one_or_many(t, "leads-to") {
        let (name, after) = match value.as_table() {
            Some(t) => (name(t, "what"), quantity(t, "in")),
            None => (name_of(value), None),
        };
        let fault = name.and_then(|n| b.names.fault(&n, b.diagnostics));
        found.extend(fault.map(|fault| LeadsTo { fault, after }));
    }
    found
}

fn cue(b: &mut Builder<'_, '_>, t: &RawTable) -> Option<Cue> {
    let Some(table) = t.get("cue")?.value.as_table() else {
        return Some(Cue { text: text(t, "cue")?, when: When::default() });
    };
    let when = table.get("when").map(|e| when(b, &parse_when(&e.value))).unwrap_or_default();
    Some(Cue { text: text(table, "text")?, when })
}

fn hazards(b: &mut Builder<'_, '_>, t: &RawTable) -> Vec<Hazard> {
    one_or_many(t, "hazard").iter().filter_map(|v| hazard(b, v)).collect()
}

fn hazard(b: &mut Builder<'_, '_>, value: &RawValue) -> Option<Hazard> {
    let Some(t) = value.as_table() else {
        let text = one_line(value.as_text()?);
        return Some(Hazard { text, level: HazardLevel::Warning, when: When::default() });
    };
    let level = t.text("level").and_then(HazardLevel::find).unwrap_or(HazardLevel::Warning);
    let when = t.get("when").map(|e| when(b, &parse_when(&e.value))).unwrap_or_default();
    Some(Hazard { text: text(t, "text")?, level, when })
}
