//! The walk round: every item once, under its group, numbered as the panel is walked, with all that is told of it.

use super::{Desk, heading};
use crate::audit::amount::Amount;
use crate::audit::page::{Cell, Grid};
use crate::audit::words::Thing;
use std::collections::{BTreeMap, BTreeSet};

const ON: &str = "On the panel: ";
const OFF: &str = "Off the panel: ";

/// Groups as they are walked where the model says nothing, each with its kinds.
const GROUPS: &[(&str, &str)] = &[
    ("instruments", "instrument gauge horn display clock hour-meter probe sensor"),
    ("radios", "radio receiver navigator transmitter intercom audio-panel computer antenna encoder"),
    ("switches", "switch key-switch button selector"),
    ("breakers", "breaker fuse"),
    ("levers", "lever knob wheel yoke valve primer"),
    ("lights", "lamp light"),
    (
        "sources",
        "battery alternator generator bus contactor relay regulator starter outlet connector motor heater pump filter line port \
         mast tank strainer carburettor vent magneto lead plug shaft engine exhaust servo structure",
    ),
];

/// A place on the panel, to be sorted: row of 40 mm, millimetres from the left.
type PlaceKey = (i64, i64);

impl Desk<'_> {
    /// Captions of all tables of the walk round.
    pub(in crate::audit) fn round_captions(&self) -> Vec<String> {
        let each = |(group, _): &(&str, &str)| {
            let there = [(ON, true), (OFF, false)].into_iter();
            let there = there.filter(|(_, placed)| !self.in_round(group, *placed).is_empty());
            there.map(|(head, _)| format!("{head}{group}")).collect::<Vec<_>>()
        };
        GROUPS.iter().flat_map(each).collect()
    }

    fn in_round(&self, group: &str, placed: bool) -> BTreeSet<String> {
        let fits = |t: &Thing| group_of(&t.kind) == group && t.on_panel == placed;
        self.words.items().filter(|(_, t)| fits(t)).map(|(id, _)| id.clone()).collect()
    }

    /// The number of each thing on the panel.
    pub(in crate::audit) fn round_numbers(&self) -> BTreeMap<String, usize> {
        let rank = |group: &str| {
            let walk = &self.words.walk;
            let usual = GROUPS.iter().position(|(g, _)| *g == group).unwrap_or(GROUPS.len());
            walk.iter().position(|g| g == group).unwrap_or(walk.len() + usual)
        };
        let placed = self.words.items().filter(|(_, t)| t.on_panel);
        let mut all: Vec<(usize, PlaceKey, &String)> =
            placed.map(|(id, t)| (rank(group_of(&t.kind)), place_key(&t.at), id)).collect();
        all.sort();
        all.into_iter().zip(1..).map(|((.., id), number)| (id.clone(), number)).collect()
    }

    pub(super) fn check_round(&mut self, grid: &Grid) {
        let place = grid.name();
        let caption =
            |head: &str| grid.caption.strip_prefix(head).filter(|g| GROUPS.iter().any(|(known, _)| known == g));
        let (group, placed) = match (caption(ON), caption(OFF)) {
            (Some(group), _) => (group, true),
            (_, Some(group)) => (group, false),
            _ => return self.unreadable(&place, &grid.caption, "On the panel: a walking group, or Off the panel: one"),
        };
        let expected = self.in_round(group, placed);
        let numbers = self.round_numbers();
        let mut listed = Vec::new();
        for row in &grid.rows {
            let (number, rest) = if placed { row.split_first().unzip() } else { (None, Some(row.as_slice())) };
            let rest = rest.unwrap_or_default();
            let name = rest.first().and_then(|cell| cell.first()).cloned().unwrap_or_default();
            let Some(id) = self.nodes.find(&name) else {
                self.unreadable(&place, name, "the name of an item");
                continue;
            };
            if let Some(number) = number {
                let at = format!("{place}, row “{}”, column “No.”", heading(&self.words.name(&id)));
                let counted: Vec<String> = numbers.get(&id).map(ToString::to_string).into_iter().collect();
                self.notes.report.proved.numbers += 1;
                self.compare_lines(&at, number, &counted);
            }
            self.check_round_row(&place, rest, &id);
            listed.push(id);
        }
        self.compare(&place, (&listed, &expected));
    }

    fn check_round_row(&mut self, table: &str, row: &[Cell], id: &str) {
        let [name, does, driven] = row else { return };
        let Some(thing) = self.words.things.get(id) else { return };
        let place = |column: &str| format!("{table}, row “{}”, column “{column}”", heading(&thing.name));
        let system = self.words.systems.get(&thing.system).cloned().unwrap_or_default();
        let below = match &thing.label {
            Some(label) if thing.on_panel => Some(format!("Engraved: {label}")),
            _ => (!thing.on_panel).then(|| format!("System: {system}")),
        };
        let below: Vec<String> = below.into_iter().collect();
        self.compare_lines(&place("Item"), name.get(1..).unwrap_or_default(), &below);
        self.compare_lines(&place("What it does"), does, &self.lines_of(id, &Self::does_lines));
        self.check_round_driven(&place("What drives it, and what is seen without it"), driven, id);
    }

    /// What drives it, what it shows when that is gone, what it draws, its rating, its breaker: each line by how it begins.
    fn check_round_driven(&mut self, place: &str, lines: &[String], id: &str) {
        let begins = |line: &&String, words: &[&str]| {
            words.iter().any(|w| line.starts_with(w) || line.contains(&format!(": {w}")) && !line.contains(". "))
        };
        let (draws, rest): (Vec<&String>, Vec<&String>) = lines.iter().partition(|l| begins(l, &["Draws "]));
        let (rated, rest): (Vec<&String>, Vec<&String>) = rest.into_iter().partition(|l| l.starts_with("Rated "));
        let (breaker, rest): (Vec<&String>, Vec<&String>) = rest.into_iter().partition(|l| l.starts_with("Breaker: "));
        let seen = ["Without ", "When what it senses is gone: "];
        let is_gone = |l: &&String| seen.iter().any(|w| l.starts_with(w) || l.contains(&format!(": {w}")));
        let (gone, driven): (Vec<&String>, Vec<&String>) = rest.into_iter().partition(is_gone);
        let owned = |lines: Vec<&String>| lines.into_iter().cloned().collect::<Vec<String>>();
        let drives = self.lines_of(id, &Self::drive_lines);
        self.check_drives(place, &owned(driven), (id, &drives));
        self.compare_lines(place, &owned(gone), &self.lines_of(id, &Self::gone_lines));
        let bare = |l: &String, word: &str| l.replacen(word, "", 1).trim_end_matches('.').to_owned();
        let draws: Vec<String> = draws.into_iter().map(|l| bare(l, "Draws ")).collect();
        self.check_draws(place, &draws, id);
        let rated: Vec<String> = rated.into_iter().map(|l| bare(l, "Rated ")).collect();
        self.check_amount(place, &rated, self.words.things.get(id).and_then(|t| t.rating.as_ref()));
        let breaker: Vec<String> = breaker.into_iter().map(|l| bare(l, "Breaker: ")).collect();
        let expected = self.breakers_of(&self.words.with_functions(id));
        self.check_names_cell(place, &breaker, &expected);
    }
}

fn group_of(kind: &str) -> &'static str {
    GROUPS.iter().find(|(_, kinds)| kinds.split(' ').any(|k| k == kind)).map_or("", |(group, _)| *group)
}

fn place_key(at: &[String]) -> PlaceKey {
    let millimetres = |text: Option<&String>| text.and_then(|t| Amount::read(t)?.number_in("mm")).unwrap_or_default();
    let (across, down) = (millimetres(at.first()), millimetres(at.get(1)));
    ((down / 40.0).floor() as i64, across.floor() as i64)
}
