//! Items, functions and givens.

use super::fault::put_faults;
use super::need::put_needs;
use super::numbers::{discharge, put_duty, wire};
use super::tree::{Table, Value};
use crate::model::{
    Control, How, Item, Lasts, LossOf, Model, Node, NodeIx, Noun, PanelPlace, PositionIx, Reach, Scale, Tells,
};

/// All items and givens.
pub fn write(model: &Model, top: &mut Table) {
    let mut items = Table::default();
    for of in &model.items {
        items.table(of.id.as_str(), item(model, of));
    }
    top.table("item", items);
    let mut givens = Table::default();
    for of in &model.givens {
        let mut table = Table::default();
        put_node(&mut table, model, of.node);
        table.put("normally", Value::flag(of.normally));
        put_faults(&mut table, model, of.node);
        givens.table(of.id.as_str(), table);
    }
    top.table("given", givens);
}

fn item(model: &Model, of: &Item) -> Table {
    let mut table = Table::default();
    put_node(&mut table, model, of.node);
    table.text("kind", of.kind.word());
    table.text("system", model[of.system].id.as_str());
    table.maybe("rating", of.rating.as_ref());
    table.maybe("capacity", of.capacity.as_ref());
    table.maybe("voltage", of.voltage.as_ref());
    table.maybe("usable", of.usable.as_ref());
    table.maybe("pressure-offset", of.pressure_offset.as_ref());
    of.wire.iter().for_each(|of| table.table("wire", wire(of)));
    of.discharge.iter().for_each(|of| table.table("discharge", discharge(of)));
    table.maybe("cannot-fail", of.cannot_fail.as_ref());
    table.flag("pull", of.pull);
    table.flag("off-card", of.off_card);
    put_likely(&mut table, of.likely);
    put_seen(&mut table, of);
    if let Some(control) = &of.control {
        put_control(&mut table, model, control);
    }
    let mut functions = Table::default();
    for node in &of.functions {
        let mut function = Table::default();
        put_node(&mut function, model, *node);
        let id = model[*node].id.rsplit('.').next().unwrap_or_default();
        functions.table(id, function);
    }
    table.table("function", functions);
    put_faults(&mut table, model, of.node);
    of.panel.iter().for_each(|place| table.table("panel", panel(place)));
    of.scale.iter().for_each(|of| table.table("scale", scale(model, of)));
    table
}

/// The rank of failing.
pub fn put_likely(table: &mut Table, likely: Option<f64>) {
    if let Some(likely) = likely {
        table.put("likely", Value::number(likely));
    }
}

fn put_seen(table: &mut Table, of: &Item) {
    let Some(of) = &of.seen else { return };
    let mut seen = Table::default();
    seen.text("by", &of.by);
    seen.put("on", Value::Bare(of.on.clone()));
    seen.maybe("how", of.how.as_ref());
    table.put("seen", seen.inline());
}

/// A name as phrases need it.
pub fn put_noun(table: &mut Table, noun: &Noun) {
    table.text("name", &noun.name);
    table.maybe("short", noun.short.as_ref());
    table.maybe("said", noun.said.as_ref());
    table.list("aliases", noun.aliases.iter().map(|a| Value::from(a.as_str())).collect());
    table.maybe("article", noun.article.as_ref());
    table.flag("plural", noun.plural);
}

fn put_node(table: &mut Table, model: &Model, ix: NodeIx) {
    let of: &Node = &model[ix];
    put_noun(table, &of.noun);
    table.maybe("does", of.does.as_ref());
    put_needs(table, "needs", model, &of.needs);
    put_needs(table, "senses", model, &of.senses);
    put_needs(table, "kept-by", model, &of.kept_by);
    put_needs(table, "spent-by", model, &of.spent_by);
    table.maybe("gives", of.gives.map(|m| &model[m].id));
    table.maybe("draws", of.draws.as_ref());
    put_duty(table, model, &of.duty);
    table.flag("intermittent", of.intermittent);
    table.list("tells", of.tells.iter().map(|t| told(model, t)).collect());
    put_on_loss(table, model, of);
    put_on_false(table, model, of);
    table.maybe("reads-when-absent", of.reads_when_absent.as_ref());
    match &of.lasts {
        Some(Lasts::Stated(time)) => table.text("lasts", &time.typed),
        Some(Lasts::Result(name)) => {
            let mut result = Table::default();
            result.text("result", name);
            table.put("lasts", result.inline());
        }
        None => {}
    }
    table.maybe("cite", of.cite.as_ref());
    table.maybe("note", of.note.as_ref());
}

fn told(model: &Model, of: &Tells) -> Value {
    let mut table = Table::default();
    table.text("information", model[of.information].id.as_str());
    table.text("how", if of.how == How::Directly { "directly" } else { "indirectly" });
    table.maybe("only", of.only.as_ref());
    table.maybe("note", of.note.as_ref());
    table.inline()
}

fn put_on_loss(table: &mut Table, model: &Model, of: &Node) {
    let mut looks = Table::default();
    for look in &of.on_loss {
        let of = what_of(model, look.of);
        let mut entry = Table::default();
        entry.text("looks", look.looks.word());
        entry.maybe("text", look.text.as_ref());
        looks.put(of, entry.inline());
    }
    if !of.on_loss.is_empty() {
        table.put("on-loss", looks.inline());
    }
}

fn put_on_false(table: &mut Table, model: &Model, of: &Node) {
    let mut looks = Table::default();
    of.on_false.iter().for_each(|look| looks.text(what_of(model, look.of), &look.text));
    if !of.on_false.is_empty() {
        table.put("on-false", looks.inline());
    }
}

fn what_of(model: &Model, of: LossOf) -> &str {
    match of {
        LossOf::Medium(medium) => model[medium].id.as_str(),
        LossOf::Node(node) => model[node].id.as_str(),
    }
}

fn put_control(table: &mut Table, model: &Model, of: &Control) {
    let names = |positions: &[PositionIx]| Value::texts(positions.iter().map(|p| of.position(*p).as_str()));
    table.put("positions", Value::texts(of.positions.iter().map(crate::base::Id::as_str)));
    table.text("rest", of.position(of.rest).as_str());
    table.put("conducts-in", names(&of.conducts_in));
    let reach = match of.reachable {
        Reach::InFlight => "in flight",
        Reach::OnTheGround => "on the ground",
        Reach::No => "no",
    };
    table.text("reachable", reach);
    table.maybe("off-with", of.off_with.map(|c| &model[c].id));
    if !of.never_offer.is_empty() {
        table.put("never-offer", names(&of.never_offer));
    }
    table.list("resets", of.resets.iter().map(|i| Value::from(model[*i].id.as_str())).collect());
    let mut springs = Table::default();
    for (from, to) in &of.springs_to {
        springs.text(of.position(*from).as_str(), of.position(*to).as_str());
    }
    if !of.springs_to.is_empty() {
        table.put("springs-to", springs.inline());
    }
}

/// Two lengths.
pub fn lengths(across_mm: f64, down_mm: f64) -> Value {
    Value::texts([format!("{across_mm} mm"), format!("{down_mm} mm")])
}

fn panel(of: &PanelPlace) -> Table {
    let mut table = Table::default();
    table.put("at", lengths(of.x_mm, of.y_mm));
    table.put("size", lengths(of.width_mm, of.height_mm));
    table.text("face", of.face.word());
    table.maybe("label", of.label.as_ref());
    table
}

fn scale(model: &Model, of: &Scale) -> Table {
    let mut table = Table::default();
    table.text("span", &of.span.typed);
    let arcs = of.arcs.iter().map(|arc| {
        let mut entry = Table::default();
        entry.text("over", &arc.over.typed);
        entry.text("mark", arc.mark.word());
        entry.inline()
    });
    table.list("arcs", arcs.collect());
    table.maybe("rests", of.rests.as_ref());
    table.maybe("usual", of.usual.as_ref());
    if !of.usual_in.is_empty() {
        let mut states = Table::default();
        of.usual_in.iter().for_each(|(state, at)| states.text(model[*state].id.as_str(), &at.typed));
        table.put("usual-in", states.inline());
    }
    table.maybe("unfed", of.unfed.map(crate::model::Unfed::word));
    table.flag("unnumbered", of.unnumbered);
    table
}
