//! What each position of each control changes, seen from the reference state.

use super::Desk;
use crate::audit::page::{Cell, Grid};
use crate::audit::speech::{bare, engraved};
use crate::audit::states::StateAnswer;
use std::collections::{BTreeMap, BTreeSet};

impl Desk<'_> {
    pub(super) fn check_controls(&mut self, grid: &Grid) {
        let state = grid.caption.strip_prefix("Controls, seen from ").map(str::to_owned);
        let state =
            state.and_then(|name| self.words.states.iter().find(|(_, n)| **n == name).map(|(id, _)| id.clone()));
        let Some(state) = state else {
            return self.unreadable(&grid.name(), &grid.caption, "Controls, seen from a state");
        };
        let control = |node: &crate::audit::parts::Node| node.control.is_some() && !self.words.protects(&node.id);
        let expected: BTreeSet<String> = self.model.nodes.iter().filter(|n| control(n)).map(|n| n.id.clone()).collect();
        let mut listed = Vec::new();
        for row in &grid.rows {
            let name = row.first().map(|cell| cell.join(" ")).unwrap_or_default();
            match self.nodes.find(&name).filter(|id| expected.contains(id)) {
                Some(id) => {
                    self.check_control(grid, row, (&id, &state));
                    listed.push(id);
                }
                None => self.unreadable(&grid.name(), name, "the name of a control"),
            }
        }
        self.compare(&grid.name(), (&listed, &expected));
    }

    fn check_control(&mut self, grid: &Grid, row: &[Cell], (id, state): (&str, &str)) {
        let [_, positions, changes] = row else { return };
        let place = grid.row_name(row);
        let control = self.model.number.get(id).and_then(|n| self.model.nodes[*n].control.as_ref());
        let Some(control) = control else { return };
        let engravings: Vec<String> = control.positions.iter().map(|p| engraved(p)).collect();
        self.compare_lines(&format!("{place}, column “Positions”"), positions, &[engravings.join(", ")]);
        let place = format!("{place}, column “What each position changes”");
        let mut left = changes.clone();
        for position in &control.positions {
            let head = format!("{}: ", engraved(position));
            match left.iter().position(|line| line.starts_with(&head)) {
                Some(at) => {
                    let line = left.remove(at);
                    self.check_position(&place, &line[head.len()..], (id, position, state));
                }
                None => self.notes.find("line-missing", &place, "nothing of it", head),
            }
        }
        for line in left {
            self.notes.find("line-extra", &place, line, "no such position");
        }
    }

    fn check_position(&mut self, place: &str, says: &str, (id, position, state): (&str, &str, &str)) {
        let place = format!("{place}, “{}”", engraved(position));
        let (settings, givens) = self.model.setting(state);
        if settings.get(id).is_some_and(|stands| stands == position) {
            let name = self.words.states.get(state).map_or(state, String::as_str);
            return self.compare_lines(&place, &[says.to_owned()], &[format!("as in {name}.")]);
        }
        let Some(before) = self.answer(state) else { return };
        let mut moved: BTreeMap<String, String> = settings;
        moved.insert(id.to_owned(), position.to_owned());
        let Ok(after) = self.model.solve_situation(&moved, &givens, &[], Some(&before.works)) else { return };
        let control = self.model.number.get(id).and_then(|n| self.model.nodes[*n].control.as_ref());
        let back = control.and_then(|c| c.springs_to.get(position));
        let mut says = says.to_owned();
        if let Some(back) = back {
            let sentence = format!(" {} does not stay; it springs back to {}.", engraved(position), engraved(back));
            match says.strip_suffix(&sentence) {
                Some(rest) => says = rest.to_owned(),
                None => self.notes.find("sentence-wrong", &place, &says, sentence.trim()),
            }
        }
        self.check_changes(&place, &says, (&before, &after));
    }

    /// `starts a, b; stops c.`
    fn check_changes(&mut self, place: &str, says: &str, (before, after): (&StateAnswer, &StateAnswer)) {
        let starts = self.told_kinds(&after.works - &before.works);
        let stops = self.told_kinds(&before.works - &after.works);
        if bare(says) == "nothing starts or stops." {
            self.compare(place, (&[], &starts));
            return self.compare(place, (&[], &stops));
        }
        let text = says.trim_end_matches('.');
        let (first, second) = text.split_once("; stops ").map_or((text, None), |(a, b)| (a, Some(b)));
        let (starting, stopping) = match (first.strip_prefix("starts "), first.strip_prefix("stops ")) {
            (Some(names), _) => (Some(names), second),
            (None, Some(names)) => (None, Some(names)),
            (None, None) => return self.unreadable(place, says, "starts …; stops …"),
        };
        for (names, expected) in [(starting, starts), (stopping, stops)] {
            match names.map_or(Some(Vec::new()), |names| self.nodes.list(names, &[", "])) {
                Some(ids) => self.compare(place, (&ids, &expected)),
                None => self.unreadable(place, says, "names of things"),
            }
        }
    }

    /// Lines, switches and other conductors but buses are not told.
    fn told_kinds(&self, ids: BTreeSet<String>) -> BTreeSet<String> {
        let bus = |id: &String| self.words.things.get(id).is_some_and(|t| t.kind == "bus");
        let item = |id: &String| self.words.things.get(id).and_then(|t| t.item.clone()).unwrap_or_else(|| id.clone());
        ids.into_iter().filter(|id| !self.words.conducts(&item(id)) || bus(id)).collect()
    }
}
