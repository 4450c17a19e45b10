//! Failure tables, and the list of faults that take nothing.

use super::{Desk, Sort, Told, matters};
use crate::audit::effects::Effects;
use crate::audit::page::{Cell, Grid};
use crate::audit::parts::FaultName;
use crate::audit::speech::list_of;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

const ASPECTS: &[&str] = &[
    "False",
    "Gone itself",
    "Lost",
    "Opens",
    "Lost later",
    "Weakened",
    "No backup left",
    "Still tells you",
    "How you know",
    "No longer warns of",
    "Works unasked",
    "Stops with",
    "Works again with",
    "Hazard",
    "Handbook",
];

/// One failure table: its place, its rows, and what each of its faults does.
pub(super) struct Case {
    pub(super) place: String,
    pub(super) state: String,
    pub(super) rows: BTreeMap<String, Cell>,
    pub(super) faults: Vec<FaultName>,
    pub(super) effects: Vec<Arc<Effects>>,
    /// Which conditions on controls are met in its state.
    pub(super) met: Vec<bool>,
}

impl Case {
    /// The lines of a row; none where there is no such row.
    pub(super) fn row(&self, aspect: &str) -> &[String] {
        self.rows.get(aspect).map_or(&[], Vec::as_slice)
    }

    /// A row as a reader would name it.
    pub(super) fn at(&self, aspect: &str) -> String {
        format!("{}, row “{aspect}”", self.place)
    }

    /// What every fault of the table has in common.
    pub(super) fn common(&self, pick: fn(&Effects) -> &BTreeSet<String>) -> BTreeSet<String> {
        let mut sets = self.effects.iter().map(|e| pick(e));
        let first = sets.next().cloned().unwrap_or_default();
        sets.fold(first, |all, set| &all & set)
    }
}

impl Desk<'_> {
    pub(super) fn check_failure(&mut self, grid: &Grid) {
        let place = grid.name();
        let Some((faults, state)) = self.faults_in(&grid.caption) else {
            return self.unreadable(&place, &grid.caption, "If … fails (state)");
        };
        for fault in &faults {
            let (chapter, caption) = (grid.chapter.clone(), grid.caption.clone());
            self.told.push(Told { chapter, sort: Sort::Failure, state: state.clone(), fault: fault.clone(), caption });
        }
        let effects: Vec<Arc<Effects>> = faults.iter().map(|fault| self.effects(&state, fault)).collect();
        for (fault, _) in faults.iter().zip(&effects).filter(|(_, e)| !matters(e)) {
            let says = format!("a table for “{}”", self.words.clause(fault));
            self.notes.find("fault-misplaced", &place, says, "this fault takes nothing");
        }
        let rows = self.rows_of(grid, &place);
        let (positions, givens) = self.model.setting(&state);
        let met = self.model.situation(&self.model.numbered(&positions), &givens, &BTreeSet::new()).met;
        self.check_aspects(&Case { place, state, rows, faults, effects, met });
    }

    fn rows_of(&mut self, grid: &Grid, place: &str) -> BTreeMap<String, Cell> {
        let mut rows = BTreeMap::new();
        for row in &grid.rows {
            let name = row.first().map(|cell| cell.join(" ")).unwrap_or_default();
            let lines = row.get(1).cloned().unwrap_or_default();
            if !ASPECTS.contains(&name.as_str()) || lines.is_empty() || rows.contains_key(&name) {
                self.unreadable(
                    &format!("{place}, row “{name}”"),
                    name.as_str(),
                    "a row of a known name, once, with lines",
                );
            }
            rows.insert(name, lines);
        }
        rows
    }

    /// `If the pump fails, or if the hose comes off (cruise)`.
    pub(super) fn faults_in(&self, caption: &str) -> Option<(Vec<FaultName>, String)> {
        let (clauses, state) = self.in_state(caption)?;
        let clauses = clauses.strip_prefix("If ")?;
        let faults = list_of(clauses, &[", or if "], &|text| self.clauses.find(text))?;
        let once: BTreeSet<&FaultName> = faults.iter().collect();
        (once.len() == faults.len()).then_some((faults, state))
    }

    pub(super) fn check_nothing_lost(&mut self, grid: &Grid) {
        let state = self.in_state(&grid.caption).filter(|(text, _)| text.starts_with("Faults that take nothing"));
        let Some((_, state)) = state else {
            return self.unreadable(&grid.name(), &grid.caption, "Faults that take nothing … (state)");
        };
        for row in &grid.rows {
            self.check_quiet(grid, row, &state);
        }
    }

    fn check_quiet(&mut self, grid: &Grid, row: &[Cell], state: &str) {
        let place = grid.row_name(row);
        let [clause, how] = row else { return };
        let Some(fault) = self.clauses.find(&clause.join(" ")) else {
            return self.unreadable(&place, clause.join(" "), "a fault of the model");
        };
        let told = Told {
            chapter: grid.chapter.clone(),
            sort: Sort::NothingLost,
            state: state.to_owned(),
            fault: fault.clone(),
            caption: grid.caption.clone(),
        };
        self.told.push(told);
        let effects = self.effects(state, &fault);
        if matters(&effects) {
            self.notes.find(
                "fault-misplaced",
                &place,
                "takes nothing",
                "a table of its own: this fault takes something",
            );
        }
        self.check_knowing(how, &effects, &format!("{place}, column “How you know”"));
    }
}
