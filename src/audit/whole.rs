//! Nothing is left out: every chapter, every table that the chapters call for, and every fault that is asked about, once.

use super::book::{Call, Chapter};
use super::page::{Page, Part};
use super::parts::FaultName;
use super::tables::{Desk, Sort, Stands, Told, matters};
use std::collections::{BTreeMap, BTreeSet};

/// Checks the page against the chapters that it was made from.
pub(super) fn check(page: &Page, book: &[Chapter], desk: &mut Desk<'_>) {
    let shown: Vec<&Part> = page.parts.iter().filter(|p| p.chapter).collect();
    let alone = shown.len() == 1;
    let mut calls: Vec<(String, Call)> = Vec::new();
    for chapter in book {
        match shown.iter().find(|part| part.id == chapter.id) {
            Some(part) => calls.extend(chapter.calls.iter().map(|call| (part.name.clone(), call.clone()))),
            None if alone => {}
            None => desk.notes.find("chapter-missing", "Page", "no such chapter", &chapter.id),
        }
    }
    for part in shown.iter().filter(|part| !book.iter().any(|c| c.id == part.id)) {
        desk.notes.find("chapter-extra", &part.name, "a chapter", "no chapter of the book");
    }
    check_tables(&calls, desk);
    check_faults(&calls, desk);
}

/// The sort of table that a call gives.
fn sort_of(name: &str) -> Option<Sort> {
    Some(match name {
        "items" => Sort::Items,
        "controls" => Sort::Controls,
        "breakers" => Sort::Breakers,
        "alerts" => Sort::Alerts,
        "quantities" => Sort::Quantities,
        "clocks" => Sort::Clocks,
        "inspections" => Sort::Inspections,
        "walk_round" => Sort::Round,
        "index" => Sort::Index,
        "topics" => Sort::Topics,
        "walk" => Sort::Walk,
        "suspects" => Sort::Suspects,
        "loads" => Sort::Loads,
        "circuits" => Sort::Circuits,
        "battery" => Sort::Phases,
        "stages" => Sort::Stages,
        "gains" => Sort::Gains,
        "flight_clocks" => Sort::FlightClocks,
        "months" => Sort::Months,
        "blocked" => Sort::Blocked,
        "encoder" => Sort::Encoder,
        "due" => Sort::Due,
        "tanks" => Sort::Tanks,
        "reserves" => Sort::Reserves,
        "one_tank" => Sort::OneTank,
        "needles" => Sort::Needles,
        _ => return None,
    })
}

fn check_tables(calls: &[(String, Call)], desk: &mut Desk<'_>) {
    for (chapter, call) in calls {
        let systems: Vec<Option<String>> = match call.name.as_str() {
            "states" => desk.systems_in_matrix().into_iter().map(Some).collect(),
            "items" => vec![Some(call.of.clone())],
            "walk_round" => desk.round_captions().into_iter().map(Some).collect(),
            _ => vec![None],
        };
        let sort = if call.name == "states" { Some(Sort::States) } else { sort_of(&call.name) };
        if call.name == "battery" && desk.has_cold() {
            let stands = |s: &&Stands| s.chapter == *chapter && s.sort == Sort::Cold;
            if !desk.stands.iter().any(|s| stands(&s)) {
                desk.notes.find("table-missing", chapter, "no such table", "battery in the cold");
            }
        }
        let Some(sort) = sort.filter(|sort| desk.has_rows(*sort, &call.of)) else { continue };
        for system in systems {
            let wanted =
                |s: &Stands| s.chapter == *chapter && s.sort == sort && (system.is_none() || s.system == system);
            let asked = calls
                .iter()
                .filter(|(c, other)| c == chapter && other.name == call.name && (system.is_none() || *other == *call))
                .count();
            let there = desk.stands.iter().filter(|s| wanted(s)).count();
            if there < asked {
                let what = system.map_or_else(|| call.name.clone(), |id| format!("{} of {id}", call.name));
                desk.notes.find("table-missing", chapter, "no such table", what);
            }
        }
    }
}

fn check_faults(calls: &[(String, Call)], desk: &mut Desk<'_>) {
    let Some(reference) = desk.reference.clone() else { return };
    let mut asked: BTreeMap<String, BTreeSet<FaultName>> = BTreeMap::new();
    for state in calls.iter().filter_map(|(_, call)| call.state.as_ref()).chain([&reference]) {
        let faults = || desk.model.all_faults(state).unwrap_or_default().into_iter().collect();
        asked.entry(state.clone()).or_insert_with(faults);
    }
    let told: Vec<Told> = desk.told.clone();
    let quiet_calls = calls.iter().filter(|(_, call)| call.name == "nothing_lost").count();
    for fault in desk.model.faults.keys() {
        let in_reference = asked.get(&reference).is_some_and(|all| all.contains(fault));
        if in_reference {
            let lists = if matters(&desk.effects(&reference, fault)) { 0 } else { quiet_calls };
            let found =
                told.iter().filter(|t| t.fault == *fault && t.sort == Sort::NothingLost && t.state == reference);
            desk.expect_times((fault, &reference), found.count(), lists);
        }
        let expected = desk.expected_tables(fault, calls, &asked);
        let tables: Vec<&Told> = told.iter().filter(|t| t.fault == *fault && t.sort == Sort::Failure).collect();
        let states = expected.keys().chain(in_reference.then_some(&reference)).collect::<BTreeSet<&String>>();
        for state in &states {
            let found = tables.iter().filter(|t| t.state == **state).count();
            desk.expect_times((fault, state), found, expected.get(*state).copied().unwrap_or(0));
        }
        for told in tables.iter().filter(|t| !states.contains(&t.state)) {
            let says = format!("“{}” in the state {}", desk.words.clause(fault), told.state);
            let wanted = states.iter().map(|s| s.as_str()).collect::<Vec<_>>().join(" or ");
            desk.notes.find("fault-misplaced", &told.chapter, says, format!("in the state {wanted}"));
        }
    }
}

impl Desk<'_> {
    fn is_called(&self, fault: &FaultName, call: &Call) -> bool {
        let system = self.words.things.get(&fault.item).map(|t| t.system.as_str());
        match call.name.as_str() {
            "failures" => system == Some(call.of.as_str()),
            "failure" => fault.item == call.of,
            _ => false,
        }
    }

    /// How many tables of each state should tell of a fault. A call that names a state asks there alone; any other asks in the
    /// reference state, and in the parked state where that says more.
    fn expected_tables(
        &mut self,
        fault: &FaultName,
        calls: &[(String, Call)],
        asked: &BTreeMap<String, BTreeSet<FaultName>>,
    ) -> BTreeMap<String, usize> {
        let reference = self.reference.clone().unwrap_or_default();
        let is_asked = |state: &String| asked.get(state).is_some_and(|all| all.contains(fault));
        let parked = self.parked_table(fault, is_asked(&reference), &reference);
        let mut expected: BTreeMap<String, usize> = BTreeMap::new();
        for (_, call) in calls {
            if !self.is_called(fault, call) {
                continue;
            }
            let open = call.state.as_ref().unwrap_or(&reference);
            let tells = is_asked(open) && matters(&self.effects(open, fault));
            let closed = parked.as_ref().filter(|_| call.state.is_none());
            for state in tells.then_some(open).into_iter().chain(closed) {
                *expected.entry(state.clone()).or_default() += 1;
            }
        }
        expected
    }

    fn expect_times(&mut self, (fault, state): (&FaultName, &str), found: usize, expected: usize) {
        if found != expected {
            let code = if found < expected { "fault-missing" } else { "fault-twice" };
            let place = format!("Failure tables, “{}” ({state})", self.words.clause(fault));
            self.notes.find(code, place, format!("told {found} times"), format!("{expected} times"));
        }
    }

    /// The first state on the ground in which a fault does something that the reference state does not tell: something runs
    /// unasked, or there is a hazard that was not there; of a fault that is not asked about in the reference state, anything.
    fn parked_table(&mut self, fault: &FaultName, in_reference: bool, reference: &str) -> Option<String> {
        let of = self.model.faults.get(fault)?;
        if in_reference && of.hazards.is_empty() && of.ignores.is_empty() {
            return None;
        }
        let known = if in_reference { self.effects(reference, fault).hazards.clone() } else { Vec::new() };
        for state in self.model.on_ground() {
            if !self.model.all_faults(&state).is_ok_and(|asked| asked.contains(fault)) {
                continue;
            }
            let (unasked, hazards) = self.inquiry(&state)?.begins(fault);
            let new = hazards.iter().any(|h| !known.iter().any(|k| k.text == h.text));
            if unasked || new || !in_reference && matters(&self.effects(&state, fault)) {
                return Some(state);
            }
        }
        None
    }

    /// Whether the model has anything for such a table.
    fn has_rows(&self, sort: Sort, of: &str) -> bool {
        let words = self.words;
        match sort {
            Sort::Items => words.items().any(|(_, t)| t.system == of),
            Sort::Loads => self.has_loads(),
            Sort::Phases | Sort::Stages | Sort::Gains => self.battery_plan().is_some(),
            Sort::Breakers => words.items().any(|(id, _)| words.protects(id)),
            Sort::Alerts => !words.alerts.is_empty(),
            Sort::Quantities => !words.quantities.is_empty(),
            Sort::Inspections => !words.inspections.is_empty(),
            Sort::Controls => self.model.nodes.iter().any(|n| n.control.is_some() && !words.protects(&n.id)),
            _ => true,
        }
    }
}
