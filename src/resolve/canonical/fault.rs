//! Faults.

use super::item::put_likely;
use super::need::put_when;
use super::tree::{Table, Value};
use crate::model::{AlertIx, Asked, Entry, Fault, Model, NodeIx};

/// The faults of a node, under `fault`.
pub fn put_faults(table: &mut Table, model: &Model, of: NodeIx) {
    let mut faults = Table::default();
    let first = model.faults.partition_point(|f| f.of < of);
    for of in model.faults.iter().skip(first).take_while(|f| f.of == of) {
        let mut entry = fault(model, of);
        if of.loses.is_empty() && of.misleads.is_empty() && of.id.as_str() == "fails" {
            entry.put("loses", Value::List(Vec::new()));
        }
        faults.put(of.id.as_str(), Value::Table(entry));
    }
    table.table("fault", faults);
}

fn fault(model: &Model, of: &Fault) -> Table {
    let mut table = Table::default();
    table.maybe("said", of.said.as_ref());
    let own = |e: &&Entry<NodeIx>| e.what == of.of || model.item_of(e.what).is_some_and(|i| model[i].node == of.of);
    let nodes = |entries: Vec<&Entry<NodeIx>>| entries.iter().map(|e| node_entry(model, e)).collect::<Vec<_>>();
    table.list("loses", nodes(of.loses.iter().filter(own).collect()));
    table.list("takes", nodes(of.loses.iter().filter(|e| !own(e)).collect()));
    table.list("weakens", nodes(of.weakens.iter().collect()));
    table.list("misleads", nodes(of.misleads.iter().collect()));
    table.list("traps", nodes(of.traps.iter().collect()));
    table.list("trips", nodes(of.trips.iter().collect()));
    put_ignores(&mut table, model, of);
    put_leads_to(&mut table, model, of);
    put_alerts(&mut table, "shows", model, &of.shows);
    put_alerts(&mut table, "hides", model, &of.hides);
    put_hazards(&mut table, model, of);
    table.maybe("found-by", of.found_by.map(crate::model::FoundBy::word));
    put_cue(&mut table, model, of);
    table.maybe("see", of.see.as_ref());
    put_likely(&mut table, of.likely);
    table.flag("transient", of.transient);
    table.flag("restorable", of.restorable);
    if of.asked != Asked::Always {
        table.text("asked", of.asked.word());
    }
    table
}

fn node_entry(model: &Model, of: &Entry<NodeIx>) -> Value {
    let id = model[of.what].id.as_str();
    if of.when.is_always() && of.text.is_none() {
        return Value::from(id);
    }
    let mut entry = Table::default();
    entry.text("what", id);
    entry.maybe("text", of.text.as_ref());
    put_when(&mut entry, model, &of.when);
    entry.inline()
}

fn put_ignores(table: &mut Table, model: &Model, of: &Fault) {
    let entries = of.ignores.iter().map(|e| {
        let mut entry = Table::default();
        entry.text("what", model[e.what.what].id.as_str());
        entry.put("for", Value::texts(e.what.nodes.iter().map(|n| model[*n].id.as_str())));
        put_when(&mut entry, model, &e.when);
        entry.inline()
    });
    table.list("ignores", entries.collect());
}

fn put_leads_to(table: &mut Table, model: &Model, of: &Fault) {
    let entries = of.leads_to.iter().map(|l| {
        let mut entry = Table::default();
        entry.text("what", &model.fault_id(l.fault));
        entry.maybe("in", l.after.as_ref());
        entry.inline()
    });
    table.list("leads-to", entries.collect());
}

fn put_alerts(table: &mut Table, key: &str, model: &Model, of: &[Entry<AlertIx>]) {
    let entries = of.iter().map(|e| {
        let mut entry = Table::default();
        entry.text("what", model[e.what].id.as_str());
        put_when(&mut entry, model, &e.when);
        if e.when.is_always() { Value::from(model[e.what].id.as_str()) } else { entry.inline() }
    });
    table.list(key, entries.collect());
}

fn put_cue(table: &mut Table, model: &Model, of: &Fault) {
    let Some(cue) = &of.cue else { return };
    if cue.when.is_always() {
        return table.text("cue", &cue.text);
    }
    let mut entry = Table::default();
    entry.text("text", &cue.text);
    put_when(&mut entry, model, &cue.when);
    table.put("cue", entry.inline());
}

fn put_hazards(table: &mut Table, model: &Model, of: &Fault) {
    let entries = of.hazards.iter().map(|h| {
        let mut entry = Table::default();
        entry.text("text", &h.text);
        entry.text("level", h.level.word());
        put_when(&mut entry, model, &h.when);
        entry.inline()
    });
    table.list("hazard", entries.collect());
}
