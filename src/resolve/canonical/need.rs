//! Needs and conditions in their table form.

use super::tree::{Table, Value};
use crate::model::{Feed, Model, Need, When};

/// A list of needs under a key, where there are some.
pub fn put_needs(table: &mut Table, key: &str, model: &Model, needs: &[Need]) {
    table.list(key, needs.iter().map(|n| need(model, n)).collect());
}

fn need(model: &Model, of: &Need) -> Value {
    let mut table = Table::default();
    match of {
        Need::Feed(of) => feed(model, of, &mut table),
        Need::When(of, _) => put_when(&mut table, model, of),
        Need::Any(of, _) => table.put("any", all(model, of)),
        Need::All(of, _) => table.put("all", all(model, of)),
        Need::AtLeast { count, of, .. } => {
            table.put("at-least", Value::whole(count));
            table.put("of", all(model, of));
        }
    }
    table.inline()
}

fn all(model: &Model, of: &[Need]) -> Value {
    Value::List(of.iter().map(|n| need(model, n)).collect())
}

fn feed(model: &Model, of: &Feed, table: &mut Table) {
    table.text("from", &model[of.from].id);
    table.list("through", of.through.iter().map(|n| Value::from(model[*n].id.as_str())).collect());
    put_when(table, model, &of.when);
    table.flag("sustained", of.sustained);
    table.maybe("approximate", of.approximate.as_ref());
}

/// Conditions, where there are some. A control that stands twice keeps the positions that match both.
pub fn put_when(table: &mut Table, model: &Model, of: &When) {
    if of.is_always() {
        return;
    }
    let mut entries = Table::default();
    for condition in &of.0 {
        let (item, control) = (&model[condition.control], model.control(condition.control));
        let both = of.0.iter().filter(|c| c.control == condition.control);
        let fits = |p| both.clone().all(|c| c.positions.contains(p));
        let names =
            condition.positions.iter().filter(|p| fits(p)).filter_map(|p| control.map(|c| c.position(*p).as_str()));
        entries.put(item.id.as_str(), Value::texts(names));
    }
    table.put("when", entries.inline());
}
