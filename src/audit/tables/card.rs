//! The tables of the quick-reference card: what is lost with each source and bus, numbers, breakers.

use super::failure::Case;
use super::{Desk, heading};
use crate::audit::effects::Effects;
use crate::audit::numbers::says;
use crate::audit::page::{Cell, Grid};
use crate::audit::parts::FaultName;
use crate::audit::speech::{Dictionary, bare};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

const LOSSES: &[&str] = &["If", "Lost or false", "Still tells you"];
const NUMBERS: &[&str] = &["Number", "Value"];
const BREAKERS: &[&str] = &["Breaker", "Rating"];
const BATTERY: &str = "Time on the battery alone, with loads left off as planned";

/// A number of the card.
enum Wanted {
    /// As the model has it.
    Typed(String),
    /// Worked out; it is rounded to its last digit.
    Worked(f64, &'static str),
}

/// Which tables of the card were read, by the first heading.
pub(in crate::audit) type Seen = BTreeSet<&'static str>;

impl Desk<'_> {
    /// One table of the card.
    pub(in crate::audit) fn check_card(&mut self, grid: &Grid) {
        self.notes.report.proved.tables += 1;
        self.notes.report.proved.cells += grid.rows.iter().map(Vec::len).sum::<usize>();
        let headings: Vec<&str> = grid.headings.iter().map(String::as_str).collect();
        let known = [LOSSES, NUMBERS, BREAKERS].into_iter().find(|known| *known == headings.as_slice());
        let Some(known) = known.filter(|known| grid.rows.iter().all(|row| row.len() == known.len())) else {
            return self.unreadable(&grid.name(), grid.headings.join(" | "), "a table of the card");
        };
        if !self.card.insert(known[0]) {
            self.notes.find("table-twice", grid.name(), known[0], "each table once");
        }
        match known[0] {
            "If" => self.check_losses(grid),
            "Number" => self.check_card_numbers(grid),
            _ => self.check_card_breakers(grid),
        }
    }

    /// The tables that have to be there.
    pub(in crate::audit) fn check_card_whole(&mut self) {
        let wanted = [
            ("If", !self.faults_on_card().is_empty()),
            ("Number", self.words.quantities.iter().any(|q| !q.off_card)),
            ("Breaker", !self.breakers_on_card().is_empty()),
        ];
        for (first, _) in wanted.into_iter().filter(|(first, there)| *there && !self.card.contains(first)) {
            self.notes.find("table-missing", "Card", "no such table", format!("a table that begins with “{first}”"));
        }
    }

    fn check_losses(&mut self, grid: &Grid) {
        let state = self.in_state(&grid.caption).filter(|(text, _)| *text == "What is lost with each source and bus");
        let Some((_, state)) = state.filter(|(_, state)| Some(state) == self.reference.as_ref()) else {
            return self.unreadable(&grid.name(), &grid.caption, "What is lost … (the reference state)");
        };
        let mut told = Vec::new();
        for row in &grid.rows {
            let place = grid.row_name(row);
            let [clauses, gone, still] = row.as_slice() else { continue };
            for clause in clauses {
                let Some(fault) = self.clauses.find(clause) else {
                    self.unreadable(&place, clause, "a fault of the model");
                    continue;
                };
                self.check_loss((&place, &state), &fault, (gone, still));
                told.push(fault);
            }
        }
        self.check_all_told(&grid.name(), &told);
    }

    /// Each fault that belongs there, once.
    fn check_all_told(&mut self, place: &str, told: &[FaultName]) {
        let expected = self.faults_on_card();
        let once: BTreeSet<&FaultName> = told.iter().collect();
        if once.len() < told.len() {
            self.notes.find("name-twice", place, "a fault twice", "each fault once");
        }
        for fault in told.iter().filter(|f| !expected.contains(f)) {
            self.notes.find("line-extra", place, self.words.clause(fault), "no such row");
        }
        for fault in expected.iter().filter(|f| !told.contains(f)) {
            self.notes.find("row-missing", place, "nothing of it", self.words.clause(fault));
        }
    }

    /// Sources and buses that simply fail, and what leads pressure, where something in sight, or later, goes with them.
    fn faults_on_card(&mut self) -> Vec<FaultName> {
        let Some(state) = self.reference.clone() else { return Vec::new() };
        let kinds = ["battery", "alternator", "generator", "bus", "engine", "pump"];
        let leads = |id: &str| {
            let node = self.model.number.get(id).and_then(|n| self.model.nodes.get(*n));
            node.and_then(|n| n.gives.as_deref()).is_some_and(|m| m == "static-pressure" || m == "pitot-pressure")
        };
        let is_one = |fault: &&FaultName| {
            let thing = self.words.things.get(&fault.item);
            thing.is_some_and(|t| {
                let pressure = (t.kind == "line" || t.kind == "port") && leads(&fault.item);
                !t.off_card && fault.fault == "fails" && (kinds.contains(&t.kind.as_str()) || pressure)
            })
        };
        let faults: Vec<FaultName> = self.words.faults.keys().filter(is_one).cloned().collect();
        let asked = self.model.all_faults(&state).unwrap_or_default();
        let mut found = Vec::new();
        for fault in faults {
            let effects = self.effects(&state, &fault);
            let gone = self.sight(&effects.misleading).len() + self.sight(&effects.lost).len();
            if asked.contains(&fault) && gone + effects.lost_later.len() > 0 {
                found.push(fault);
            }
        }
        found
    }

    fn sight(&self, ids: &BTreeSet<String>) -> BTreeSet<String> {
        ids.iter().filter(|id| self.words.in_sight(id)).cloned().collect()
    }

    fn check_loss(&mut self, (place, state): (&str, &str), fault: &FaultName, (gone, still): (&Cell, &Cell)) {
        let effects: Arc<Effects> = self.effects(state, fault);
        let of = |prefix: &str| gone.iter().filter_map(|l| l.strip_prefix(prefix)).collect::<Vec<&str>>();
        let later: Vec<String> =
            gone.iter().filter(|l| l.starts_with("After ") || l.starts_with("In time, ")).cloned().collect();
        for (prefix, truth) in [("False: ", &effects.misleading), ("Lost: ", &effects.lost)] {
            let mut printed = Vec::new();
            for names in of(prefix) {
                match self.nodes.list(names, &[", "]) {
                    Some(ids) => printed.extend(ids),
                    None => self.unreadable(place, names, "names of things"),
                }
            }
            let expected = self.sight(truth);
            self.compare(&format!("{place}, {}", prefix.trim_end_matches(": ").to_lowercase()), (&printed, &expected));
        }
        let read = of("False: ").len() + of("Lost: ").len() + later.len();
        if read < gone.len() {
            self.unreadable(place, gone.join(" / "), "False: names, Lost: names, After … min, as …: names");
        }
        self.check_later_alone(&Case {
            place: place.to_owned(),
            state: state.to_owned(),
            rows: BTreeMap::from([("Lost later".to_owned(), later)]),
            faults: vec![fault.clone()],
            effects: vec![Arc::clone(&effects)],
            met: Vec::new(),
        });
        self.check_still(&format!("{place}, column “Still tells you”"), still, &effects);
    }

    /// A line for each piece of information that something tells; what nothing tells in one.
    fn check_still(&mut self, place: &str, lines: &Cell, effects: &Effects) {
        let (untold, told): (Vec<String>, Vec<String>) =
            lines.iter().cloned().partition(|line| line.starts_with("Nothing left for: "));
        let tells = effects.still_tells.iter().filter(|(_, sources)| !sources.is_empty());
        let expected: Vec<String> = tells.map(|(id, _)| self.still_briefly(id, effects)).collect();
        self.compare_lines(place, &told, &expected);
        let name = |id: &String| self.words.information.get(id).cloned().unwrap_or_else(|| id.clone());
        let nothing = effects.still_tells.iter().filter(|(_, sources)| sources.is_empty());
        let mut wanted: Vec<String> = nothing.map(|(id, _)| bare(&name(id))).collect();
        wanted.sort();
        let known = Dictionary::of(self.words.information.values().map(|name| (name.clone(), bare(name))));
        let mut printed = Vec::new();
        for line in &untold {
            match known.list(line.trim_start_matches("Nothing left for: "), &[", "]) {
                Some(names) => printed.extend(names),
                None => self.unreadable(place, line, "names of information"),
            }
        }
        printed.sort();
        if printed != wanted {
            self.notes.find(
                "name-missing",
                place,
                untold.join(" / "),
                format!("Nothing left for: {}", wanted.join(", ")),
            );
        }
    }

    fn check_card_numbers(&mut self, grid: &Grid) {
        let mut left = self.numbers_on_card();
        for row in &grid.rows {
            let (name, place) = (row.first().map(|c| c.join(" ")).unwrap_or_default(), grid.row_name(row));
            let shown = row.get(1).map(|c| c.join(" ")).unwrap_or_default();
            let Some(at) = left.iter().position(|(wanted, _)| bare(wanted) == bare(&name)) else {
                self.notes.find("name-extra", &place, &name, "no such name here, or twice");
                continue;
            };
            match left.remove(at).1 {
                Wanted::Typed(value) => self.chosen.clone().check(&shown, &value, &place, &mut self.notes),
                Wanted::Worked(number, unit) => {
                    self.notes.report.proved.numbers += 1;
                    if !says(&shown, number, unit) {
                        self.notes.find("number-wrong", &place, shown, format!("{number} {unit}"));
                    }
                }
            }
        }
        for (name, _) in left {
            self.notes.find("name-missing", grid.name(), "nothing of it", heading(&name));
        }
    }

    /// Every number that has to be there, by its name.
    fn numbers_on_card(&mut self) -> Vec<(String, Wanted)> {
        let words = self.words;
        let typed = words.quantities.iter().filter(|q| !q.off_card);
        let mut all: Vec<(String, Wanted)> = typed.map(|q| (q.name.clone(), Wanted::Typed(q.value.clone()))).collect();
        all.extend(self.minutes_on_battery().map(|min| (BATTERY.to_owned(), Wanted::Worked(min, "min"))));
        for (id, _, usable) in self.fuel_tanks() {
            if words.things.get(&id).is_none_or(|t| !t.off_card) {
                all.push((format!("{}, usable", words.name(&id)), Wanted::Worked(usable, "gal")));
            }
        }
        all
    }

    fn breakers_on_card(&self) -> BTreeSet<String> {
        let kept = self.words.items().filter(|(id, thing)| self.words.protects(id) && !thing.off_card);
        kept.map(|(id, _)| id.clone()).collect()
    }

    fn check_card_breakers(&mut self, grid: &Grid) {
        let expected = self.breakers_on_card();
        let words = self.words;
        let listed = self.rows_named(grid, 0, |desk, row, id| {
            let place = format!("{}, column “Rating”", grid.row_name(row));
            let rating = words.things.get(id).and_then(|t| t.rating.as_ref());
            desk.check_amount(&place, row.get(1).map_or(&[], Vec::as_slice), rating);
        });
        self.compare(&grid.name(), (&listed, &expected));
    }
}
