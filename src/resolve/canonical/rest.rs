//! The other tables.

use super::item::{lengths, put_noun};
use super::need::put_needs;
use super::numbers;
use super::tree::{Table, Value};
use crate::base::Dimension;
use crate::model::{
    Alert, Information, Inspection, Interval, Medium, Model, NamedQuantity, Place, Start, State, System,
};

/// Everything but items and givens.
pub fn write(model: &Model, top: &mut Table) {
    top.table("aircraft", aircraft(model));
    top.table("display", display(model));
    top.table("medium", by_id(model.media.iter().filter(|m| !m.built_in).map(|m| (m.id.as_str(), medium(m)))));
    top.table("system", by_id(model.systems.iter().map(|s| (s.id.as_str(), system(s)))));
    top.table("information", by_id(model.information.iter().map(|i| (i.id.as_str(), information(model, i)))));
    top.table("alert", by_id(model.alerts.iter().map(|a| (a.id.as_str(), alert(model, a)))));
    top.table("state", by_id(model.states.iter().map(|s| (s.id.as_str(), state(model, s)))));
    top.table("quantity", by_id(model.quantities.iter().map(|q| (q.id.as_str(), quantity(model, q)))));
    top.table("time", time(model));
    if !model.inspections.is_empty() {
        top.put("inspection", Value::Tables(model.inspections.iter().map(inspection).collect()));
    }
    top.table("flight", by_id(model.flights.iter().map(|f| (f.id.as_str(), numbers::flight(model, f)))));
    if let Some(plan) = &model.endurance {
        top.table("endurance", numbers::endurance(model, plan));
    }
    top.table("panel", panel(model));
}

fn by_id<'a>(tables: impl Iterator<Item = (&'a str, Table)>) -> Table {
    let mut all = Table::default();
    tables.for_each(|(id, table)| all.table(id, table));
    all
}

fn aircraft(model: &Model) -> Table {
    let (of, mut table) = (&model.aircraft, Table::default());
    table.text("name", &of.name);
    table.text("maker", &of.maker);
    table.maybe("registration", of.registration.as_ref());
    table.put("revision", Value::whole(of.revision));
    table.put("date", Value::Bare(of.date.clone()));
    table.text("handbook", &of.handbook);
    table.maybe("reference-state", model.reference_state.map(|s| &model[s].id));
    table.maybe("note", of.note.as_ref());
    table
}

fn display(model: &Model) -> Table {
    let mut table = Table::default();
    for (dimension, unit) in &model.display {
        let key = match dimension {
            Dimension::Speed => "speed",
            Dimension::Pressure => "pressure",
            Dimension::Volume => "volume",
            Dimension::Mass => "mass",
            Dimension::Length => "length",
            Dimension::Temperature => "temperature",
            Dimension::VolumeFlow => "consumption",
            _ => continue,
        };
        table.text(key, unit.symbol);
    }
    table
}

fn medium(of: &Medium) -> Table {
    let mut table = Table::default();
    table.text("name", &of.name);
    table.text("tag", &of.tag);
    table.text("colour", &of.colour);
    table.text("line", of.line.word());
    table
}

fn system(of: &System) -> Table {
    let mut table = Table::default();
    table.text("name", &of.name);
    table.text("number", &of.number);
    table.maybe("does", of.does.as_ref());
    table
}

fn information(model: &Model, of: &Information) -> Table {
    let mut table = Table::default();
    put_noun(&mut table, &of.noun);
    table.list("prefer", of.prefer.iter().map(|n| Value::from(model[*n].id.as_str())).collect());
    table
}

fn alert(model: &Model, of: &Alert) -> Table {
    let mut table = Table::default();
    put_noun(&mut table, &of.noun);
    table.text("on", model[of.on].id.as_str());
    put_needs(&mut table, "watches", model, &of.watches);
    put_needs(&mut table, "needs", model, &of.needs);
    table.maybe("reads", of.reads.as_ref());
    table
}

fn state(model: &Model, of: &State) -> Table {
    let mut table = Table::default();
    table.text("name", &of.name);
    match of.start {
        Start::Cold => {}
        Start::Like(before) => table.text("like", model[before].id.as_str()),
        Start::After(before) => table.text("after", model[before].id.as_str()),
    }
    let mut controls = Table::default();
    for (item, position) in &of.controls {
        let name = model.control(*item).map_or("", |c| c.position(*position).as_str());
        controls.text(model[*item].id.as_str(), name);
    }
    let mut givens = Table::default();
    of.givens.iter().for_each(|(given, value)| givens.put(model[*given].id.as_str(), Value::flag(*value)));
    table.table("controls", controls);
    table.table("givens", givens);
    table.list("reached-if", of.reached_if.iter().map(|n| Value::from(model[*n].id.as_str())).collect());
    table.put(if of.place == Place::InFlight { "in-flight" } else { "on-ground" }, Value::flag(true));
    table.maybe("note", of.note.as_ref());
    table
}

fn quantity(model: &Model, of: &NamedQuantity) -> Table {
    let mut table = Table::default();
    table.text("name", &of.name);
    table.text("value", &of.value.typed);
    table.maybe("cite", of.cite.as_ref());
    table.maybe("of", of.of.map(|i| &model[i].id));
    table.maybe("note", of.note.as_ref());
    table.flag("off-card", of.off_card);
    table
}

fn time(model: &Model) -> Table {
    let mut table = Table::default();
    if let Some(of) = &model.time {
        table.maybe("tachometer", of.tachometer.map(|i| &model[i].id));
        table.maybe("hour-meter", of.hour_meter.map(|i| &model[i].id));
        table.maybe("reference", of.reference.as_ref());
    }
    table
}

fn inspection(of: &Inspection) -> Table {
    let mut table = Table::default();
    table.text("name", &of.name);
    let every = match &of.every {
        Interval::Hours(hours) => hours.typed.clone(),
        Interval::CalendarMonths(months) => format!("{months} calendar months"),
        Interval::Days(days) => format!("{days} days"),
    };
    table.text("every", &every);
    table.text("by", of.by.word());
    table.maybe("overrun", of.overrun.as_ref());
    table.maybe("cite", of.cite.as_ref());
    table
}

fn panel(model: &Model) -> Table {
    let mut table = Table::default();
    if let Some(of) = &model.panel {
        table.put("size", lengths(of.width_mm, of.height_mm));
        table.list("walk", of.walk.iter().map(|g| Value::from(g.word())).collect());
    }
    table
}
