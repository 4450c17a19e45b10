//! One raw tree to one model.

use super::names::Names;
use super::{control, fault, item, media, numbers, rest, state};
use crate::base::{Diagnostics, Quantity, Spanned};
use crate::model::{Change, Model};
use crate::parse::need::name_of;
use crate::parse::printed::one_line;
use crate::parse::{RawTable, RawValue};

/// What is at hand while a model is built.
pub struct Builder<'a, 'd> {
    pub names: Names<'a>,
    pub diagnostics: &'d mut Diagnostics,
}

/// Builds the model. Where an error was told, what is given back stands in for what could not be understood.
pub fn build(whole: &RawTable, changes: Vec<Change>, diagnostics: &mut Diagnostics) -> Option<Model> {
    let names = Names::collect(whole, diagnostics);
    let mut b = Builder { names, diagnostics };
    control::collect_positions(&mut b);
    let mut nodes = item::nodes(&mut b);
    media::inherit(&mut nodes, &mut b);
    let items = item::items(&mut b);
    let faults = fault::faults(&nodes, &mut b);
    let alerts = rest::alerts(&mut b);
    let states = state::states(&mut b);
    let (aircraft, reference_state) = rest::aircraft(whole, &mut b)?;
    Some(Model {
        aircraft,
        display: rest::display(whole),
        media: rest::media(&b),
        systems: rest::systems(&b),
        information: rest::information(&mut b),
        givens: rest::givens(&b),
        items,
        nodes,
        faults,
        alerts,
        states,
        reference_state,
        quantities: rest::quantities(&mut b),
        time: rest::time(whole, &mut b),
        inspections: rest::inspections(whole, &mut b),
        flights: numbers::flights(whole, &mut b),
        endurance: numbers::endurance(whole, &mut b),
        panel: rest::panel(whole, &mut b),
        changes,
    })
}

/// A text of one line.
pub fn text(table: &RawTable, key: &str) -> Option<String> {
    table.text(key).map(one_line)
}

/// A quantity; one that is wrong was told already.
pub fn quantity(table: &RawTable, key: &str) -> Option<Quantity> {
    table.text(key).and_then(|t| Quantity::parse(t).ok())
}

/// A name with its place.
pub fn name(table: &RawTable, key: &str) -> Option<Spanned<String>> {
    table.get(key).and_then(|e| name_of(&e.value))
}

/// The names in a list.
pub fn name_list(table: &RawTable, key: &str) -> Vec<Spanned<String>> {
    list(table, key).iter().filter_map(name_of).collect()
}

/// A list, or nothing.
pub fn list<'t>(table: &'t RawTable, key: &str) -> &'t [RawValue] {
    table.get(key).and_then(|e| e.value.as_list()).unwrap_or(&[])
}

/// True where the key says so.
pub fn flag(table: &RawTable, key: &str) -> bool {
    table.get(key).and_then(|e| e.value.as_bool()).unwrap_or(false)
}
