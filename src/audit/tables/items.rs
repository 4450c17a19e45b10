//! Items of a system, breakers, alerts and the walk: every row and every cell.

use super::{Desk, heading};
use crate::audit::page::{Cell, Grid};
use crate::audit::speech::{capital, ordered};
use crate::audit::words::look_sentence;
use std::collections::BTreeSet;

impl Desk<'_> {
    pub(super) fn check_items(&mut self, grid: &Grid) {
        let place = grid.name();
        let Some(system) = self.system_in(grid) else {
            return self.unreadable(&place, &grid.caption, "Items: a system");
        };
        let expected: BTreeSet<String> =
            self.words.items().filter(|(_, t)| t.system == system).map(|(id, _)| id.clone()).collect();
        let listed = self.rows_named(grid, 0, |desk, row, id| desk.check_item(grid, row, id));
        self.compare(&place, (&listed, &expected));
    }

    /// Reads each row by the name in one of its cells.
    pub(super) fn rows_named(
        &mut self,
        grid: &Grid,
        column: usize,
        mut each: impl FnMut(&mut Self, &[Cell], &str),
    ) -> Vec<String> {
        let mut listed = Vec::new();
        for row in &grid.rows {
            let name = row.get(column).map(|cell| cell.join(" ")).unwrap_or_default();
            match self.nodes.find(&name) {
                Some(id) => {
                    each(self, row, &id);
                    listed.push(id);
                }
                None => self.unreadable(&grid.name(), name, "the name of an item"),
            }
        }
        listed
    }

    fn check_item(&mut self, grid: &Grid, row: &[Cell], item: &str) {
        let [_, does, driven, gone, draws, breakers] = row else { return };
        let place = |column: &str| format!("{}, column “{column}”", grid.row_name(row));
        let nodes = self.words.with_functions(item);
        let does_lines = self.lines_of(item, &Self::does_lines);
        self.compare_lines(&place("What it does"), does, &does_lines);
        let drives = self.lines_of(item, &Self::drive_lines);
        self.check_drives(&place("What drives it"), driven, (item, &drives));
        let gone_lines = self.lines_of(item, &Self::gone_lines);
        self.compare_lines(&place("What it shows when that is gone"), gone, &gone_lines);
        self.check_draws(&place("Draws"), draws, item);
        let expected = self.breakers_of(&nodes);
        self.check_names_cell(&place("Breaker"), breakers, &expected);
    }

    /// Lines of an item and its functions; one of a function begins with its own name.
    pub(super) fn lines_of(&self, item: &str, pick: &dyn Fn(&Self, &str) -> Vec<String>) -> Vec<String> {
        let lines = |id: &String| {
            let own = self.words.things.get(id).map_or("", |t| t.own.as_str());
            let named = |line: String| if id == item { line } else { format!("{}: {line}", capital(own)) };
            pick(self, id).into_iter().map(named).collect::<Vec<_>>()
        };
        self.words.with_functions(item).iter().flat_map(lines).collect()
    }

    pub(super) fn does_lines(&self, id: &str) -> Vec<String> {
        self.words.things.get(id).and_then(|t| t.does.clone()).into_iter().collect()
    }

    /// What drives an item, against its needs; where it has none, what it carries and gives.
    pub(super) fn check_drives(&mut self, place: &str, driven: &[String], (item, drives): (&str, &[String])) {
        let tidy = |lines: &[String]| -> Vec<String> { lines.iter().map(|l| ordered(l)).collect() };
        if drives.is_empty() {
            self.check_undriven(place, driven, item);
        } else {
            self.compare_lines(place, &tidy(driven), &tidy(drives));
        }
    }

    pub(super) fn drive_lines(&self, id: &str) -> Vec<String> {
        let Some(node) = self.model.number.get(id).and_then(|n| self.model.nodes.get(*n)) else { return Vec::new() };
        let needs = node.needs.iter().map(|need| self.need_text(need));
        needs.chain(node.senses.iter().map(|need| format!("Senses {}", self.need_text(need)))).collect()
    }

    pub(super) fn gone_lines(&self, id: &str) -> Vec<String> {
        let Some(thing) = self.words.things.get(id) else { return Vec::new() };
        let line = |(what, looks, text): &(String, String, Option<String>)| {
            let sentence = text.clone().unwrap_or_else(|| look_sentence(looks, thing.plural));
            format!("Without {}: {sentence}", self.words.cause(what))
        };
        let mut lines: Vec<String> = thing.on_loss.iter().map(line).collect();
        lines.extend(thing.reads_when_absent.iter().map(|text| format!("When what it senses is gone: {text}")));
        lines
    }

    /// What an item and its functions draw, each number in its line.
    pub(super) fn check_draws(&mut self, place: &str, lines: &[String], item: &str) {
        let words = self.words;
        let all = words.with_functions(item);
        let mut expected: Vec<(String, &String)> = Vec::new();
        for thing in all.iter().filter_map(|id| words.things.get(id)) {
            let head = if thing.item.is_some() { format!("{}: ", capital(&thing.own)) } else { String::new() };
            expected.extend(thing.draws.as_ref().map(|draws| (head, draws)));
        }
        for line in lines {
            let fits = |(head, _): &(String, &String)| {
                if head.is_empty() { !line.contains(": ") } else { line.starts_with(head) }
            };
            match expected.iter().position(fits) {
                Some(at) => {
                    let (head, draws) = expected.remove(at);
                    self.chosen.clone().check(&line[head.len()..], draws, place, &mut self.notes);
                }
                None => self.notes.find("line-extra", place, line, "no such number here"),
            }
        }
        for (head, draws) in expected {
            self.notes.find("number-missing", place, "no number", format!("{head}{draws}"));
        }
    }

    /// Breakers and fuses that feeds of these nodes pass or come from.
    pub(super) fn breakers_of(&self, ids: &[String]) -> BTreeSet<String> {
        let nodes = ids.iter().filter_map(|id| self.model.number.get(id)).filter_map(|n| self.model.nodes.get(*n));
        let mut feeds = Vec::new();
        nodes.flat_map(|node| &node.needs).for_each(|need| need.feeds(&mut feeds));
        let passed = feeds.iter().flat_map(|feed| feed.through.iter().chain([&feed.from]));
        passed.map(|n| self.model.nodes[*n].id.clone()).filter(|id| self.words.protects(id)).collect()
    }

    /// A cell of names with commas.
    pub(super) fn check_names_cell(&mut self, place: &str, cell: &[String], expected: &BTreeSet<String>) {
        let text = cell.join(" ");
        let listed = if text.is_empty() { Some(Vec::new()) } else { self.nodes.list(&text, &[", "]) };
        match listed {
            Some(ids) => self.compare(place, (&ids, expected)),
            None => self.unreadable(place, text, "names of things"),
        }
    }

    pub(super) fn check_breakers(&mut self, grid: &Grid) {
        let expected: BTreeSet<String> =
            self.words.items().filter(|(id, _)| self.words.protects(id)).map(|(id, _)| id.clone()).collect();
        let listed = self.rows_named(grid, 0, |desk, row, id| desk.check_breaker(grid, row, id));
        self.compare(&grid.name(), (&listed, &expected));
    }

    fn check_breaker(&mut self, grid: &Grid, row: &[Cell], id: &str) {
        let [_, rating, carries] = row else { return };
        let (words, place) = (self.words, grid.row_name(row));
        self.check_amount(
            &format!("{place}, column “Rating”"),
            rating,
            words.things.get(id).and_then(|t| t.rating.as_ref()),
        );
        let own = |node: &crate::audit::parts::Node| {
            self.breakers_of(std::slice::from_ref(&node.id)).contains(id).then(|| node.id.clone())
        };
        let expected: BTreeSet<String> = self.model.nodes.iter().filter_map(own).collect();
        self.check_names_cell(&format!("{place}, column “Carries”"), carries, &expected);
    }

    /// A cell of one number, or none.
    pub(super) fn check_amount(&mut self, place: &str, cell: &[String], model: Option<&String>) {
        let text = cell.join(" ");
        match model {
            Some(model) if !text.is_empty() => self.chosen.clone().check(&text, model, place, &mut self.notes),
            Some(model) => self.notes.find("number-missing", place, "no number", model),
            None if !text.is_empty() => self.notes.find("line-extra", place, text, "no number here"),
            None => {}
        }
    }

    pub(super) fn check_alerts(&mut self, grid: &Grid) {
        let words = self.words;
        let mut left: BTreeSet<&String> = words.alerts.keys().collect();
        for row in &grid.rows {
            let [name, on, watched, looks] = row.as_slice() else { continue };
            let place = grid.row_name(row);
            let Some(id) = self.alerts.find(&name.join(" ")) else {
                self.unreadable(&place, name.join(" "), "the name of an alert");
                continue;
            };
            if !left.remove(&id) {
                self.notes.find("name-twice", &place, "an alert twice", "each alert once");
            }
            let Some(alert) = words.alerts.get(&id) else { continue };
            self.compare_lines(&format!("{place}, column “Item”"), on, &[heading(&words.name(&alert.on))]);
            let expected = self.watched(&id).join(", ");
            self.compare_lines(&format!("{place}, column “Shows when this is lost”"), watched, &[expected]);
            let reads: Vec<String> = alert.reads.iter().cloned().collect();
            self.compare_lines(&format!("{place}, column “What is seen”"), looks, &reads);
        }
        for id in left {
            self.notes.find("name-missing", grid.name(), "nothing of it", id);
        }
    }

    /// The sign-off sheet: every item once, numbered from 1, with what was confirmed.
    pub(super) fn check_walk(&mut self, grid: &Grid) {
        let words = self.words;
        for (index, row) in grid.rows.iter().enumerate() {
            let says = row.first().map(|cell| cell.join(" ")).unwrap_or_default();
            if says != (index + 1).to_string() {
                self.notes.find("number-wrong", grid.name(), says, (index + 1).to_string());
            }
        }
        let listed = self.rows_named(grid, 1, |desk, row, id| {
            let [_, _, place, seen, _] = row else { return };
            let Some(thing) = words.things.get(id) else { return };
            let at = format!("{}, row “{}”", grid.name(), heading(&thing.name));
            let system = words.systems.get(&thing.system).cloned().unwrap_or_default();
            let where_is = if thing.on_panel { "on the panel".to_owned() } else { system };
            desk.compare_lines(&format!("{at}, column “Where”"), place, &[where_is]);
            let confirmed: Vec<String> = thing.seen.iter().map(|seen| confirmed(seen)).collect();
            desk.compare_lines(&format!("{at}, column “Confirmed”"), seen, &confirmed);
        });
        let expected: BTreeSet<String> = words.items().map(|(id, _)| id.clone()).collect();
        self.compare(&grid.name(), (&listed, &expected));
    }
}

/// `AB, 2026-05-02 (walked)`.
fn confirmed(seen: &[String]) -> String {
    match seen {
        [by, on, how] => format!("{by}, {on} ({how})"),
        others => others.join(", "),
    }
}
