//! Drawings of the panel: each sign on each face, each needle, the legend and the words beside it, against what follows from the
//! model. The place of a sign on the plate says of what face it is; ids of elements are not read.

use super::{Desk, Sort};
use crate::audit::board::{Board, BoardFace};
use crate::audit::page::{Drawn, DrawnPanel, Page, Spot};
use crate::audit::parts::FaultName;
use crate::audit::situation::all_met;
use crate::audit::speech::{bare, capital};
use std::collections::{BTreeMap, BTreeSet};

/// Words of signs, with the class of what is drawn.
const SIGNS: &[(&str, &str)] = &[
    ("Gone", "gone"),
    ("Gone in part", "in-part"),
    ("Misleading", "false"),
    ("Still tells", "still"),
    ("Shows the loss", "shows"),
    ("Not working before", "before"),
    ("Lit", "lit"),
    ("Opened", "opened"),
    ("Set", "set"),
];
const STILL: &str = "Still tells ";
const STOPPED: &str = "Gone, off the panel";
const UNTOLD: &str = "Nothing tells";
/// Heads of the lists below the panel in a state, with the sign of each.
const LISTS: &[(&str, &str)] = &[
    ("Away from rest: ", "Set"),
    ("Lit: ", "Lit"),
    ("Does not work: ", "Gone"),
    ("Some of it is off or not fed: ", "Gone in part"),
    ("Misleading: ", "Misleading"),
];
const AFTER: &str = "The panel if ";
const PANEL: &str = "The panel";
const STATES: &str = "The panel in each state";
/// A sign or number stands no farther from its face, pt.
const BESIDE: f64 = 14.0;
/// How far a mark may stand from its place, pt.
const NEAR: f64 = 0.6;

/// For each sign that is there, the items that wear it.
type Worn = BTreeMap<&'static str, BTreeSet<String>>;

impl Desk<'_> {
    /// Every drawing of the panel in a situation, and that none is missing.
    pub(in crate::audit) fn check_figures(&mut self, page: &Page, board: &Board) {
        for drawn in &page.drawn {
            if let Some(rest) = drawn.title.strip_prefix(AFTER) {
                match self.faults_in(&format!("If {rest}")) {
                    Some((faults, state)) if faults.len() == 1 => self.check_after(drawn, board, (&faults[0], &state)),
                    _ => self.unreadable(&drawn.name(), &drawn.title, "The panel if … fails (state)"),
                }
                self.check_outlines(drawn, page, board);
            } else if drawn.title == PANEL {
                self.check_positions_drawn(drawn, board);
            } else if drawn.title == STATES {
                self.check_states_drawn(drawn, board);
                self.check_outlines(drawn, page, board);
            }
        }
        self.check_none_missing(page, board);
    }

    fn check_none_missing(&mut self, page: &Page, board: &Board) {
        let drawn: Vec<(String, FaultName, String)> = page.drawn.iter().filter_map(|d| self.drawn_after(d)).collect();
        for grid in &page.grids {
            if self.sort_of(grid) != Some(Sort::Failure) {
                continue;
            }
            let Some((faults, state)) = self.faults_in(&grid.caption) else { continue };
            let Some(fault) = faults.first().cloned() else { continue };
            let worn = self.worn_after(board, (&fault, &state));
            let alerts = self.effects(&state, &fault).alerts.clone();
            let takes = !self.lights_of(board, &alerts).is_empty()
                || ["Gone", "Gone in part", "Misleading", "Opened"].iter().any(|sign| worn.contains_key(sign));
            let key = (grid.chapter.clone(), fault, state);
            let there = drawn.iter().filter(|one| **one == key).count();
            if takes != (there > 0) {
                let says = format!("{there} drawings of the panel after it");
                self.notes.find("drawing-missing", grid.name(), says, if takes { "one" } else { "none" });
            }
        }
    }

    /// The chapter, the fault and the state of a drawing of the panel after a failure.
    fn drawn_after(&self, drawn: &Drawn) -> Option<(String, FaultName, String)> {
        let (faults, state) = self.faults_in(&format!("If {}", drawn.title.strip_prefix(AFTER)?))?;
        Some((drawn.chapter.clone(), faults.first()?.clone(), state))
    }

    fn check_after(&mut self, drawn: &Drawn, board: &Board, (fault, state): (&FaultName, &str)) {
        let expected = self.worn_after(board, (fault, state));
        let [panel] = drawn.panels.as_slice() else {
            return self.unreadable(&drawn.name(), format!("{} panels", drawn.panels.len()), "one panel");
        };
        self.compare_worn(drawn, "on the panel", (&signs_on(panel, board), &expected));
        self.check_numbers(drawn, panel, board, &expected);
        let lines = self.lines_after(&expected, (fault, state));
        self.compare_entries(drawn, "in words", (&drawn.alternative, &lines));
        let mut legend: Vec<String> = Vec::new();
        for line in &drawn.legend {
            let begins = [STILL, STOPPED, UNTOLD].iter().any(|head| line.starts_with(head));
            let begins = begins || SIGNS.iter().any(|(word, _)| line.starts_with(&format!("{word}: ")));
            match legend.last_mut() {
                Some(entry) if !begins => *entry = format!("{entry} {line}"),
                _ => legend.push(line.clone()),
            }
        }
        self.compare_entries(drawn, "in the legend", (&legend, &lines));
        self.check_needles(drawn, board, (fault, state));
    }

    /// A number is that of the nearest face that wears a sign.
    fn check_numbers(&mut self, drawn: &Drawn, panel: &DrawnPanel, board: &Board, worn: &Worn) {
        let numbers = self.round_numbers();
        let marked: BTreeSet<&String> =
            worn.iter().filter(|(word, _)| **word != "Not working before").flat_map(|(_, ids)| ids).collect();
        let scale = panel.width / board.width.max(1.0);
        for (number, at) in &panel.numbers {
            let on = ((at.0 - panel.corner.0) / scale, (at.1 - panel.corner.1) / scale);
            let far = |id: &&&String| board.faces.get(**id).map_or(f64::MAX, |face| from_face(face, on) * scale);
            let near = marked.iter().min_by(|a, b| far(a).total_cmp(&far(b))).filter(|id| far(id) <= BESIDE);
            let wanted = near.and_then(|id| numbers.get(*id));
            if wanted != Some(number) {
                let wants = wanted.map_or_else(|| "no number".to_owned(), ToString::to_string);
                self.notes.find(
                    "drawing-wrong",
                    format!("{}, number on the panel", drawn.name()),
                    number.to_string(),
                    wants,
                );
            }
        }
    }

    /// What legend and words say: heads, and what stands after each.
    fn lines_after(&mut self, worn: &Worn, case: (&FaultName, &str)) -> BTreeMap<String, String> {
        let numbers = self.round_numbers();
        let mut lines = self.still_entries(&numbers, case);
        for (word, ids) in worn.iter().filter(|(word, _)| **word != "Still tells") {
            let named = self.in_walk(ids, &numbers);
            let named: Vec<String> = named.iter().map(|(n, id)| format!("{n} {}", self.words.name(id))).collect();
            lines.insert((*word).to_owned(), named.join(", "));
        }
        let stopped: Vec<String> = self.stopped(case).iter().map(|id| self.words.name(id)).collect();
        if !stopped.is_empty() {
            lines.insert(STOPPED.to_owned(), stopped.join(", "));
        }
        lines
    }

    fn in_walk(&self, ids: &BTreeSet<String>, numbers: &BTreeMap<String, usize>) -> Vec<(usize, String)> {
        let mut all: Vec<(usize, String)> =
            ids.iter().map(|id| (numbers.get(id).copied().unwrap_or_default(), id.clone())).collect();
        all.sort();
        all
    }

    /// What the words say of a state: of a control also where it stands.
    fn lines_in(&self, worn: &Worn, state: &str) -> BTreeMap<String, String> {
        let numbers = self.round_numbers();
        let (positions, _) = self.model.setting(state);
        let said = |word: &str, (number, id): &(usize, String)| match positions.get(id).filter(|_| word == "Set") {
            Some(at) => format!("{number} {} {}", self.words.name(id), super::engraved(at)),
            None => format!("{number} {}", self.words.name(id)),
        };
        let line = |(word, ids): (&&str, &BTreeSet<String>)| {
            let named: Vec<String> = self.in_walk(ids, &numbers).iter().map(|one| said(word, one)).collect();
            ((*word).to_owned(), named.join(", "))
        };
        worn.iter().map(line).collect()
    }

    /// What is listed below the panel in a state: its note, then a list a sign.
    fn lists_in(&self, worn: &Worn, state: &str) -> Vec<String> {
        let numbers = self.round_numbers();
        let (positions, _) = self.model.setting(state);
        let mut lists: Vec<String> = self.words.state_notes.get(state).cloned().into_iter().collect();
        for (head, word) in LISTS {
            let Some(ids) = worn.get(word) else { continue };
            let one = |(number, id): &(usize, String)| match positions.get(id).filter(|_| *word == "Set") {
                Some(at) => {
                    let label = self.words.things.get(id).and_then(|t| t.label.clone());
                    format!("{number} {} {}", label.unwrap_or_else(|| self.words.name(id)), super::engraved(at))
                }
                None => number.to_string(),
            };
            let named: Vec<String> = self.in_walk(ids, &numbers).iter().map(one).collect();
            lists.push(format!("{head}{}", named.join(", ")));
        }
        lists
    }

    fn compare_lists(&mut self, drawn: &Drawn, name: &str, (found, wanted): (&[String], &[String])) {
        for at in 0..found.len().max(wanted.len()) {
            let (says, wants) = (found.get(at), wanted.get(at));
            if says != wants {
                let place = format!("{}, list below {name}", drawn.name());
                let text = |of: Option<&String>| of.cloned().unwrap_or_default();
                self.notes.find("drawing-wrong", place, text(says), text(wants));
            }
        }
    }

    fn compare_entries(&mut self, drawn: &Drawn, place: &str, (found, wanted): (&[String], &BTreeMap<String, String>)) {
        let mut said: BTreeMap<String, String> = BTreeMap::new();
        for line in found {
            match line.split_once(": ") {
                Some((head, rest)) => {
                    if let Some(twice) = said.insert(head.to_owned(), rest.to_owned()) {
                        self.unreadable(&drawn.name(), twice, "each head once");
                    }
                }
                None => self.unreadable(&drawn.name(), line, "Sign: numbers and names"),
            }
        }
        let heads: BTreeSet<&String> = said.keys().chain(wanted.keys()).collect();
        for head in heads {
            let (says, wants) = (said.get(head), wanted.get(head));
            if says.map(|s| bare(s)) != wants.map(|s| bare(s)) {
                let text = |of: Option<&String>| of.cloned().unwrap_or_default();
                let place = format!("{}, “{head}” {place}", drawn.name());
                self.notes.find("drawing-wrong", place, text(says), text(wants));
            }
        }
    }

    fn compare_worn(&mut self, drawn: &Drawn, place: &str, (found, expected): (&Worn, &Worn)) {
        for (word, _) in SIGNS {
            let (found, expected) = (found.get(word), expected.get(word));
            if found != expected {
                let names = |all: Option<&BTreeSet<String>>| {
                    let names = all.into_iter().flatten().map(|id| self.words.name(id));
                    names.collect::<Vec<_>>().join(", ")
                };
                let (says, wants) = (names(found), names(expected));
                self.notes.find("drawing-wrong", format!("{}, “{word}” {place}", drawn.name()), says, wants);
            }
        }
    }

    /// What each face of the panel wears after a fault.
    pub(super) fn worn_after(&mut self, board: &Board, (fault, state): (&FaultName, &str)) -> Worn {
        let effects = self.effects(state, fault);
        let (named, opened) = self.taken_and_opened(fault, state);
        let told = |id: &String| named.contains(id) || self.words.in_sight(id);
        let gone = |id: &String| (effects.lost.contains(id) || effects.gone_itself.contains(id)) && told(id);
        let sources: BTreeSet<String> = self.still_told((fault, state)).into_iter().flat_map(|t| t.items).collect();
        let before = self.idle_before(board, state);
        let mut worn = Worn::new();
        for id in board.faces.keys() {
            let all = self.words.with_functions(id);
            let mut wear = |word: &'static str, wears: bool| {
                if wears {
                    worn.entry(word).or_default().insert(id.clone());
                }
            };
            let breaker = self.words.things.get(id).is_some_and(|t| matches!(t.kind.as_str(), "breaker" | "fuse"));
            let open = opened.contains(id) || breaker && gone(id);
            let dead = !open && gone(id);
            wear("Gone", dead);
            wear("Gone in part", !dead && all.iter().any(|n| n != id && gone(n)));
            wear("Misleading", !dead && all.iter().any(|n| effects.misleading.contains(n) && told(n)));
            wear("Still tells", sources.contains(id));
            wear("Shows the loss", effects.gauges.contains(id));
            wear("Opened", open);
            wear("Not working before", before.contains(id) && !effects.runs_unasked.contains(id));
        }
        let lit = self.lit(board, state, Some(fault));
        if !lit.is_empty() {
            worn.insert("Lit", lit);
        }
        worn
    }

    /// What hangs on something and did not work before the fault.
    fn idle_before(&mut self, board: &Board, state: &str) -> BTreeSet<String> {
        let Some(answer) = self.answer(state) else { return BTreeSet::new() };
        let idle = |id: &&String| self.hangs(id) && !answer.works.contains(*id);
        board.faces.keys().filter(idle).cloned().collect()
    }

    /// It, or a function of it, needs or senses something; it is of no conducting kind.
    fn hangs(&self, id: &str) -> bool {
        let asks = |n: &String| {
            let node = self.model.number.get(n).map(|n| &self.model.nodes[*n]);
            node.is_some_and(|n| !n.needs.is_empty() || !n.senses.is_empty())
        };
        !self.words.conducts(id) && self.words.with_functions(id).iter().any(asks)
    }

    /// What a fault takes by itself, and what it opens.
    fn taken_and_opened(&self, fault: &FaultName, state: &str) -> (BTreeSet<String>, BTreeSet<String>) {
        let Some(of) = self.model.faults.get(fault) else { return Default::default() };
        let (positions, givens) = self.model.setting(state);
        let met = self.model.situation(&self.model.numbered(&positions), &givens, &BTreeSet::new()).met;
        let ids = |entries: &mut dyn Iterator<Item = &crate::audit::parts::Entry<usize>>| -> BTreeSet<String> {
            entries.filter(|e| all_met(&e.when, &met)).map(|e| self.model.nodes[e.what].id.clone()).collect()
        };
        (ids(&mut of.loses.iter().chain(&of.takes)), ids(&mut of.trips.iter()))
    }

    /// The lamps and lights of the panel that show an alert.
    fn lit(&mut self, board: &Board, state: &str, fault: Option<&FaultName>) -> BTreeSet<String> {
        let showing = self.inquiry(state).map(|i| i.showing(fault)).unwrap_or_default();
        self.lights_of(board, &showing)
    }

    /// The lamps and lights of the panel on which these alerts show.
    fn lights_of(&self, board: &Board, alerts: &BTreeSet<String>) -> BTreeSet<String> {
        let on = |alert: &String| self.words.alerts.get(alert).map(|a| a.on.clone());
        let light = |id: &String| {
            let kind = self.words.things.get(id).map(|t| t.kind.as_str());
            board.faces.contains_key(id) && matches!(kind, Some("lamp" | "light"))
        };
        alerts.iter().filter_map(on).filter(light).collect()
    }

    /// What each face wears in a state; nothing where that is not reached.
    fn worn_in(&mut self, board: &Board, state: &str) -> Worn {
        let mut worn = Worn::new();
        let Some(answer) = self.answer(state).filter(|a| a.reached) else { return worn };
        let (positions, _) = self.model.setting(state);
        for id in board.faces.keys() {
            let all = self.words.with_functions(id);
            let node = |n: &String| self.model.number.get(n).map(|n| &self.model.nodes[*n]);
            let mut wear = |word: &'static str| worn.entry(word).or_default().insert(id.clone());
            if self.hangs(id) {
                match (answer.false_nodes.contains(id), answer.works.contains(id)) {
                    (true, _) => drop(wear("Misleading")),
                    (_, false) => drop(wear("Gone")),
                    _ if all.iter().any(|n| !answer.works.contains(n)) => drop(wear("Gone in part")),
                    _ => {}
                }
            }
            let control = node(id).and_then(|n| n.control.as_ref());
            let off = self.is_off_with(id, &positions, &mut Vec::new());
            if control.is_some_and(|c| !off && positions.get(id).is_some_and(|at| *at != c.rest)) {
                wear("Set");
            }
        }
        let lit = self.lit(board, state, None);
        if !lit.is_empty() {
            worn.insert("Lit", lit);
        }
        worn
    }

    /// A control that it is off with stands where it does not conduct, or is off with another that does.
    fn is_off_with(&self, id: &str, positions: &BTreeMap<String, String>, seen: &mut Vec<String>) -> bool {
        let control = |id: &str| self.model.number.get(id).and_then(|n| self.model.nodes[*n].control.as_ref());
        let Some(parent) = control(id).and_then(|c| c.off_with.clone()).filter(|p| !seen.contains(p)) else {
            return false;
        };
        seen.push(parent.clone());
        let open =
            control(&parent).is_some_and(|c| positions.get(&parent).is_some_and(|at| !c.conducts_in.contains(at)));
        open || self.is_off_with(&parent, positions, seen)
    }

    fn check_states_drawn(&mut self, drawn: &Drawn, board: &Board) {
        let mut left: BTreeMap<String, String> =
            self.words.states.iter().map(|(id, n)| (n.clone(), id.clone())).collect();
        for (at, panel) in drawn.panels.iter().enumerate() {
            let name = panel.heading.strip_suffix(": not reached").unwrap_or(&panel.heading);
            let Some(state) = left.remove(name) else {
                self.unreadable(&drawn.name(), &panel.heading, "the name of a state, once");
                continue;
            };
            let reached = self.answer(&state).is_some_and(|a| a.reached);
            if reached != (name == panel.heading) {
                self.notes.find(
                    "drawing-wrong",
                    drawn.name(),
                    &panel.heading,
                    if reached { "reached" } else { "not reached" },
                );
            }
            let expected = self.worn_in(board, &state);
            self.compare_worn(drawn, &format!("in {name}"), (&signs_on(panel, board), &expected));
            let begin = format!("{}, ", panel.heading);
            let lines: Vec<String> =
                drawn.alternative.iter().filter_map(|l| l.strip_prefix(&begin)).map(str::to_owned).collect();
            let lines: Vec<String> = lines.iter().map(|line| capital(line)).collect();
            let wanted = self.lines_in(&expected, &state);
            self.compare_entries(drawn, &format!("in words of {name}"), (&lines, &wanted));
            let wanted = self.lists_in(&expected, &state);
            let found = lists_below(panel_words(drawn, at));
            self.compare_lists(drawn, name, (&found, &wanted));
        }
        for name in left.keys() {
            self.notes.find("drawing-missing", drawn.name(), "no panel", name);
        }
    }

    /// Each face has its outline at its place.
    fn check_outlines(&mut self, drawn: &Drawn, page: &Page, board: &Board) {
        for panel in &drawn.panels {
            let scale = panel.width / board.width.max(1.0);
            let stands = |face: &BoardFace| {
                let there = (panel.corner.0 + face.at.0 * scale, panel.corner.1 + face.at.1 * scale);
                let size = face.size.0.min(face.size.1) * scale;
                panel.outlines.iter().any(|(to, more)| {
                    let placed = |(at, _): &&(Spot, Spot)| near((to.0 + at.0 * more, to.1 + at.1 * more), there);
                    let sized = |(_, wide): &(Spot, Spot)| (wide.0.min(wide.1) * more - size).abs() < NEAR;
                    page.outlines.iter().filter(placed).any(sized)
                })
            };
            if let Some((id, _)) = board.faces.iter().find(|(_, face)| !stands(face)) {
                let wants = format!("a face for the {}", self.words.name(id));
                self.notes.find("drawing-wrong", drawn.name(), "no face at its place", wants);
            }
        }
    }
}

/// Lettering below a panel; what comes after the last one ends where the samples of signs begin.
fn panel_words(drawn: &Drawn, at: usize) -> Vec<String> {
    if at + 1 < drawn.panels.len() {
        return drawn.panels.get(at).map_or_else(Vec::new, |panel| panel.words.clone());
    }
    let sample = |line: &&String| !LISTS.iter().any(|(head, _)| capital(line) == head.trim_end_matches(": "));
    drawn.legend.iter().take_while(sample).cloned().collect()
}

/// Lines put together to lists: each begins with its head, the first with the note.
fn lists_below(lines: Vec<String>) -> Vec<String> {
    let mut lists: Vec<String> = Vec::new();
    for line in lines {
        match lists.last_mut() {
            Some(list) if !LISTS.iter().any(|(head, _)| line.starts_with(head)) => *list = format!("{list} {line}"),
            _ => lists.push(line),
        }
    }
    lists
}

pub(super) fn near(a: Spot, b: Spot) -> bool {
    (a.0 - b.0).abs() <= NEAR && (a.1 - b.1).abs() <= NEAR
}

/// A place on the panel, on the page.
pub(super) fn on_page(panel: &DrawnPanel, board: &Board, at: Spot) -> Spot {
    let scale = panel.width / board.width.max(1.0);
    (panel.corner.0 + at.0 * scale, panel.corner.1 + at.1 * scale)
}

/// What is drawn on each face, or beside it, by where it stands. A mark off the plate counts for nothing: it is a sample of the legend.
fn signs_on(panel: &DrawnPanel, board: &Board) -> Worn {
    let scale = panel.width / board.width.max(1.0);
    let mut worn = Worn::new();
    for (classes, at) in &panel.marks {
        let on = ((at.0 - panel.corner.0) / scale, (at.1 - panel.corner.1) / scale);
        let Some((word, _)) = SIGNS.iter().find(|(_, class)| classes.split(' ').any(|c| c == *class)) else { continue };
        let near = board.faces.iter().map(|(id, face)| (from_face(face, on) * scale, id));
        let near = near.filter(|_| panel.holds(*at)).min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((_, id)) = near.filter(|(far, _)| *far <= BESIDE) {
            worn.entry(word).or_default().insert(id.clone());
        }
    }
    worn
}

/// How far a spot is from a face, mm; nothing on it.
fn from_face(face: &BoardFace, at: Spot) -> f64 {
    let beyond = |at: f64, middle: f64, size: f64| ((at - middle).abs() - size / 2.0).max(0.0);
    libm::hypot(beyond(at.0, face.at.0, face.size.0), beyond(at.1, face.at.1, face.size.1))
}
