//! What works in which state: every row and every cell.

use super::Desk;
use crate::audit::page::{Cell, Grid};
use crate::audit::states::StateAnswer;
use std::collections::BTreeSet;
use std::sync::Arc;

impl Desk<'_> {
    pub(super) fn check_matrix(&mut self, grid: &Grid) {
        let place = grid.name();
        let Some(system) = self.system_in(grid) else {
            return self.unreadable(&place, &grid.caption, "What works in which state: a system");
        };
        let states = self.states_of(grid, &place);
        let expected: BTreeSet<String> = self
            .words
            .items()
            .filter(|(id, t)| t.system == system && self.has_a_row(id))
            .map(|(id, _)| id.clone())
            .collect();
        let mut listed = Vec::new();
        for row in &grid.rows {
            let name = row.first().map(|cell| cell.join(" ")).unwrap_or_default();
            match self.nodes.find(&name) {
                Some(id) => {
                    self.check_row(grid, row, (&id, &states));
                    listed.push(id);
                }
                None => self.unreadable(&place, name, "the name of an item"),
            }
        }
        self.compare(&place, (&listed, &expected));
    }

    /// The states of the columns; every state of the model has one.
    fn states_of(&mut self, grid: &Grid, place: &str) -> Vec<Option<Arc<StateAnswer>>> {
        let names: BTreeSet<&String> = grid.headings.iter().skip(1).collect();
        for name in self.words.states.values().filter(|name| !names.contains(name)) {
            self.notes.find("state-missing", place, "no column for it", name);
        }
        if names.len() + 1 < grid.headings.len() {
            self.notes.find("name-twice", place, "a state twice", "each state once");
        }
        let mut found = Vec::new();
        for heading in grid.headings.iter().skip(1) {
            let id = self.words.states.iter().find(|(_, name)| *name == heading).map(|(id, _)| id);
            if id.is_none() {
                self.notes.find("unreadable", place, heading, "the name of a state");
            }
            found.push(id.and_then(|id| self.answer(id)));
        }
        found
    }

    /// Items that need or sense something, themselves or in a function, and do not merely conduct.
    fn has_a_row(&self, item: &str) -> bool {
        let nodes = self.words.with_functions(item);
        let needs = |id: &String| {
            let node = self.model.number.get(id).and_then(|n| self.model.nodes.get(*n));
            node.is_some_and(|n| !n.needs.is_empty() || !n.senses.is_empty())
        };
        !self.words.conducts(item) && nodes.iter().any(needs)
    }

    /// The systems that have such a table.
    pub(in crate::audit) fn systems_in_matrix(&self) -> Vec<String> {
        let all: BTreeSet<&String> =
            self.words.items().filter(|(id, _)| self.has_a_row(id)).map(|(_, thing)| &thing.system).collect();
        all.into_iter().cloned().collect()
    }

    fn check_row(&mut self, grid: &Grid, row: &[Cell], (item, states): (&str, &[Option<Arc<StateAnswer>>])) {
        let cells = row.iter().skip(1).zip(states).zip(grid.headings.iter().skip(1));
        for ((cell, state), heading) in cells {
            let Some(state) = state else { continue };
            let (says, expected) = (cell.join(" "), self.word_for(item, state));
            if says == expected || in_one_order(&says).is_some_and(|names| Some(names) == in_one_order(&expected)) {
                continue;
            }
            let place = format!("{}, column “{heading}”", grid.row_name(row));
            let known = ["works", "dead", "false", "not reached"].contains(&says.as_str());
            let code = if known || says.starts_with("partly without ") { "cell-wrong" } else { "unreadable" };
            self.notes.find(code, place, says, expected);
        }
    }

    fn word_for(&self, item: &str, state: &StateAnswer) -> String {
        if !state.reached {
            return "not reached".to_owned();
        }
        if state.false_nodes.contains(item) {
            return "false".to_owned();
        }
        if !state.works.contains(item) {
            return "dead".to_owned();
        }
        let functions = self.words.with_functions(item).into_iter().skip(1).filter(|id| !state.works.contains(id));
        let own: Vec<String> =
            functions.filter_map(|id| self.words.things.get(&id)).map(|thing| thing.own.clone()).collect();
        if own.is_empty() { "works".to_owned() } else { format!("partly without {}", own.join(", ")) }
    }
}

/// `partly without a, b` says the same in any order.
fn in_one_order(says: &str) -> Option<Vec<&str>> {
    let mut names: Vec<&str> = says.strip_prefix("partly without ")?.split(", ").collect();
    names.sort_unstable();
    Some(names)
}
