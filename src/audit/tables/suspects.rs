//! What is seen, and which single fault it can be: the rows worked out afresh from the effects of every fault.

use super::Desk;
use crate::audit::effects::Effects;
use crate::audit::page::{Cell, Grid};
use crate::audit::parts::FaultName;
use crate::audit::speech::list_of;
use std::collections::{BTreeMap, BTreeSet};

const DEAD: &str = "Looks dead or flagged: ";
const FALSE: &str = "Shows falsely: ";
const ALIVE: &str = "Gone, though it can look alive: ";
const GONE_TOO: &str = ", gone too: ";
const ALONE: &str = "No other single fault shows just so.";
const NOTHING: &str = "Nothing in sight.";

/// What is seen of a fault.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Signs {
    /// Lines of alerts and gauges.
    shows: BTreeSet<String>,
    dead: BTreeSet<String>,
    wrong: BTreeSet<String>,
    /// Only where there is nothing of these.
    cue: Option<String>,
    alive: BTreeSet<String>,
}

/// Faults of one row, each with what is gone in sight and can look alive.
type Alike = BTreeMap<FaultName, BTreeSet<String>>;

/// What belongs in one row.
struct Wanted {
    signs: Signs,
    faults: Alike,
    /// What is noticed of them.
    cues: BTreeMap<FaultName, String>,
    /// What is gone with each fault and can look alive.
    common: BTreeSet<String>,
}

impl Desk<'_> {
    pub(super) fn check_suspects(&mut self, grid: &Grid) {
        let place = grid.name();
        let state = self.in_state(&grid.caption).map(|(_, state)| state);
        let Some(state) = state.filter(|state| Some(state) == self.reference.as_ref()) else {
            return self.unreadable(&place, &grid.caption, "What is seen … (the reference state)");
        };
        let mut wanted = self.pictures(&state);
        for row in &grid.rows {
            self.check_picture(grid, row, &mut wanted);
        }
        for missing in wanted {
            let faults: Vec<String> = missing.faults.keys().map(|f| self.words.clause(f)).collect();
            self.notes.find("row-missing", &place, "no such row", faults.join(", or "));
        }
    }

    fn pictures(&mut self, state: &str) -> Vec<Wanted> {
        let mut found: BTreeMap<Signs, Alike> = BTreeMap::new();
        let mut noticed: BTreeMap<FaultName, String> = BTreeMap::new();
        for fault in self.model.all_faults(state).unwrap_or_default() {
            let effects = self.effects(state, &fault);
            let (signs, alive) = self.signs(&effects);
            noticed.extend(effects.cues.iter().next().map(|cue| (fault.clone(), cue.clone())));
            let nothing = [&signs.shows, &signs.dead, &signs.wrong, &signs.alive].iter().all(|s| s.is_empty());
            if !nothing || signs.cue.is_some() {
                found.entry(signs).or_default().insert(fault, alive);
            }
        }
        let wanted = |(signs, faults): (Signs, Alike)| {
            let mut sets = faults.values().cloned();
            let first = sets.next().unwrap_or_default();
            let common = sets.fold(first, |all, set| &all & &set);
            let cue = |f: &FaultName| Some((f.clone(), noticed.get(f)?.clone()));
            let cues = faults.keys().filter_map(cue).collect();
            Wanted { signs, faults, cues, common }
        };
        found.into_iter().map(wanted).collect()
    }

    fn signs(&self, effects: &Effects) -> (Signs, BTreeSet<String>) {
        let shows: BTreeSet<String> = effects
            .alerts
            .iter()
            .map(|id| self.alert_line(id))
            .chain(effects.gauges.iter().map(|id| self.gauge_line(id)))
            .collect();
        let gone = self.speaking_in_sight(&(&effects.lost | &effects.gone_itself));
        let looks_dead = |id: &String| {
            let own =
                || self.words.things.get(id).is_some_and(|t| t.on_loss.iter().any(|(_, looks, _)| is_seen(looks)));
            if effects.lost.contains(id) { effects.instruments.contains(id) } else { own() }
        };
        let (dead, alive): (BTreeSet<String>, BTreeSet<String>) = gone.into_iter().partition(looks_dead);
        let wrong = self.speaking_in_sight(&effects.misleading);
        let plain = shows.is_empty() && dead.is_empty() && wrong.is_empty();
        let cue = effects.cues.iter().next().filter(|_| plain).cloned();
        let alone = if plain { alive.clone() } else { BTreeSet::new() };
        (Signs { shows, dead, wrong, cue, alive: alone }, alive)
    }

    /// Of these, what is in sight; a function is told by its item where that is among them.
    fn speaking_in_sight(&self, ids: &BTreeSet<String>) -> BTreeSet<String> {
        let by_item = |id: &String| {
            let item = self.words.things.get(id).and_then(|t| t.item.as_ref());
            item.is_some_and(|item| ids.contains(item))
        };
        ids.iter().filter(|id| self.words.in_sight(id) && !by_item(id)).cloned().collect()
    }

    fn check_picture(&mut self, grid: &Grid, row: &[Cell], wanted: &mut Vec<Wanted>) {
        let place = grid.row_name(row);
        let [seen, can_be, apart] = row else { return };
        let mut faults = Vec::new();
        for line in can_be {
            match self.clauses.find(line) {
                Some(fault) => faults.push(fault),
                None => return self.unreadable(&place, line, "a fault of the model"),
            }
        }
        let at = wanted.iter().position(|w| faults.first().is_some_and(|f| w.faults.contains_key(f)));
        let Some(at) = at else {
            return self.notes.find("row-extra", &place, can_be.join(" / "), "no such row, or one that stands already");
        };
        let wanted = wanted.remove(at);
        self.check_causes(&faults, &wanted, &format!("{place}, column “What it can be”"));
        self.check_seen(seen, &wanted, &format!("{place}, column “What you see”"));
        self.check_apart(apart, &wanted, &format!("{place}, column “What tells them apart”"));
    }

    /// Each fault of the picture once, the likeliest first.
    fn check_causes(&mut self, faults: &[FaultName], wanted: &Wanted, place: &str) {
        let printed: Vec<String> = faults.iter().map(|f| self.words.clause(f)).collect();
        let expected: Vec<String> = wanted.faults.keys().map(|f| self.words.clause(f)).collect();
        self.compare_lines(place, &printed, &expected);
        let likely = |f: &FaultName| self.words.faults.get(f).and_then(|w| w.likely).unwrap_or(0.0);
        if let Some(pair) = faults.windows(2).find(|pair| likely(&pair[0]) < likely(&pair[1])) {
            let says = format!("{} before {}", self.words.clause(&pair[0]), self.words.clause(&pair[1]));
            self.notes.find("order-wrong", place, says, "the likeliest first");
        }
    }

    fn check_seen(&mut self, lines: &[String], wanted: &Wanted, place: &str) {
        let lists = [(DEAD, &wanted.signs.dead), (FALSE, &wanted.signs.wrong), (ALIVE, &wanted.common)];
        for (head, expected) in lists {
            let named = self.named_after(lines, head, place);
            self.compare(place, (&named, expected));
        }
        let is_list = |line: &String| [DEAD, FALSE, ALIVE].iter().any(|head| line.starts_with(head));
        let others: Vec<String> = lines.iter().filter(|line| !is_list(line)).cloned().collect();
        let mut expected: Vec<String> = wanted.signs.shows.iter().cloned().collect();
        expected.extend(wanted.signs.cue.iter().map(|cue| format!("Noticed: {cue}")));
        self.compare_lines(place, &others, &expected);
    }

    fn named_after(&mut self, lines: &[String], head: &str, place: &str) -> Vec<String> {
        let mut named = Vec::new();
        for rest in lines.iter().filter_map(|line| line.strip_prefix(head)) {
            match self.nodes.list(rest, &[", "]) {
                Some(ids) => named.extend(ids),
                None => self.unreadable(place, rest, "names of things"),
            }
        }
        named
    }

    fn check_apart(&mut self, lines: &[String], wanted: &Wanted, place: &str) {
        let mut differs: BTreeMap<FaultName, BTreeSet<String>> = BTreeMap::new();
        let mut others = Vec::new();
        for line in lines {
            match self.gone_too(line) {
                Some((faults, gone)) => faults.into_iter().for_each(|f| {
                    differs.entry(f).or_default().extend(gone.iter().cloned());
                }),
                None => others.push(line.clone()),
            }
        }
        let mut expected = self.cues_of(wanted);
        for (fault, alive) in &wanted.faults {
            let more = alive - &wanted.common;
            let printed = differs.remove(fault).unwrap_or_default().into_iter().collect::<Vec<_>>();
            self.compare(&format!("{place}, “{}”", self.words.clause(fault)), (&printed, &more));
        }
        if let Some(fault) = differs.keys().next() {
            self.notes.find("line-extra", place, self.words.clause(fault), "faults of this row");
        }
        let even = wanted.faults.values().all(|alive| *alive == wanted.common);
        if wanted.faults.len() == 1 {
            expected = vec![ALONE.to_owned()];
        } else if even && expected.is_empty() {
            expected.push(NOTHING.to_owned());
        }
        self.compare_lines(place, &others, &expected);
    }

    /// What is noticed of each fault, where that is no sign of the row itself.
    fn cues_of(&self, wanted: &Wanted) -> Vec<String> {
        let of = |(fault, cue): (&FaultName, &String)| format!("If {}: Noticed: {cue}", self.words.clause(fault));
        if wanted.signs.cue.is_some() { Vec::new() } else { wanted.cues.iter().map(of).collect() }
    }

    /// `If the pump fails, or if the hose comes off, gone too: attitude indicator`.
    fn gone_too(&self, line: &str) -> Option<(Vec<FaultName>, Vec<String>)> {
        let (clauses, names) = line.strip_prefix("If ")?.split_once(GONE_TOO)?;
        let faults = list_of(clauses, &[", or if "], &|text| self.clauses.find(text))?;
        Some((faults, self.nodes.list(names, &[", "])?))
    }
}

fn is_seen(looks: &str) -> bool {
    matches!(looks, "dark" | "flag" | "zero" | "full")
}
