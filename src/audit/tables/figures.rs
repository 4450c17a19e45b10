//! Drawings of the panel: each sign on each face, each needle, the legend and the words beside it, against what follows from the
//! model. The place of a sign on the plate says of what face it is; ids of elements are not read.

use super::{Desk, Sort};
use crate::audit::board::{Board, BoardFace, BoardScale};
use crate::audit::page::{Drawn, DrawnPanel, Page, Spot};
use crate::audit::parts::FaultName;
use crate::audit::situation::all_met;
use crate::audit::speech::capital;
use std::collections::{BTreeMap, BTreeSet};

/// Words of signs, with the class of what is drawn.
const SIGNS: &[(&str, &str)] = &[
    ("Gone", "gone"),
    ("Gone in part", "in-part"),
    ("Misleading", "false"),
    ("Still tells", "still"),
    ("Lit", "lit"),
    ("Opened", "opened"),
    ("Set", "set"),
];
const AFTER: &str = "The panel if ";
const STATES: &str = "The panel in each state";
/// A scale begins so many degrees before the top, and runs over so many.
const BEGIN: f64 = -140.0;
const SWEEP: f64 = 280.0;
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
                || ["Gone", "Gone in part", "Misleading"].iter().any(|sign| worn.contains_key(sign));
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
        let said = self.said(&drawn.name(), &drawn.alternative);
        self.compare_worn(drawn, "in words", (&said, &expected));
        let mut legend: Vec<String> = Vec::new();
        for line in &drawn.legend {
            let begins = SIGNS.iter().any(|(word, _)| line.starts_with(&format!("{word}: ")));
            match legend.last_mut() {
                Some(entry) if !begins => *entry = format!("{entry} {line}"),
                _ => legend.push(line.clone()),
            }
        }
        let said = self.said(&drawn.name(), &legend);
        self.compare_worn(drawn, "in the legend", (&said, &expected));
        self.check_needles(drawn, board, (fault, state));
    }

    /// `Gone: attitude indicator, heading indicator`, a line a sign.
    fn said(&mut self, place: &str, lines: &[String]) -> Worn {
        let mut worn = Worn::new();
        for line in lines {
            let sign = line.split_once(": ").and_then(|(word, names)| {
                let (word, _) = SIGNS.iter().find(|(known, _)| capital(word) == *known)?;
                Some((*word, self.nodes.list(names, &[", "])?))
            });
            match sign {
                Some((word, ids)) => worn.entry(word).or_default().extend(ids),
                None => self.unreadable(place, line, "Sign: names"),
            }
        }
        worn
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
    fn worn_after(&mut self, board: &Board, (fault, state): (&FaultName, &str)) -> Worn {
        let effects = self.effects(state, fault);
        let (named, opened) = self.taken_and_opened(fault, state);
        let told = |id: &String| named.contains(id) || self.words.in_sight(id);
        let gone = |id: &String| (effects.lost.contains(id) || effects.gone_itself.contains(id)) && told(id);
        let sources: BTreeSet<&str> = effects.still_tells.values().flatten().map(|s| item_of(&s.node)).collect();
        let mut worn = Worn::new();
        for id in board.faces.keys() {
            let all = self.words.with_functions(id);
            let mut wear = |word: &'static str, wears: bool| {
                if wears {
                    worn.entry(word).or_default().insert(id.clone());
                }
            };
            let dead = gone(id);
            wear("Gone", dead);
            wear("Gone in part", !dead && all.iter().any(|n| n != id && gone(n)));
            wear("Misleading", !dead && all.iter().any(|n| effects.misleading.contains(n) && told(n)));
            wear("Still tells", !dead && sources.contains(id.as_str()));
            wear("Opened", opened.contains(id));
        }
        let lit = self.lit(board, state, Some(fault));
        if !lit.is_empty() {
            worn.insert("Lit", lit);
        }
        worn
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
            let asks = |n: &String| node(n).is_some_and(|n| !n.needs.is_empty() || !n.senses.is_empty());
            let mut wear = |word: &'static str| worn.entry(word).or_default().insert(id.clone());
            if !self.words.conducts(id) && all.iter().any(asks) {
                match (answer.false_nodes.contains(id), answer.works.contains(id)) {
                    (true, _) => drop(wear("Misleading")),
                    (_, false) => drop(wear("Gone")),
                    _ if all.iter().any(|n| !answer.works.contains(n)) => drop(wear("Gone in part")),
                    _ => {}
                }
            }
            let control = node(id).and_then(|n| n.control.as_ref());
            if control.is_some_and(|c| positions.get(id).is_some_and(|at| *at != c.rest)) {
                wear("Set");
            }
        }
        let lit = self.lit(board, state, None);
        if !lit.is_empty() {
            worn.insert("Lit", lit);
        }
        worn
    }

    fn check_states_drawn(&mut self, drawn: &Drawn, board: &Board) {
        let mut left: BTreeMap<String, String> =
            self.words.states.iter().map(|(id, n)| (n.clone(), id.clone())).collect();
        for panel in &drawn.panels {
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
            let said = self.said(&drawn.name(), &lines);
            self.compare_worn(drawn, &format!("in words of {name}"), (&said, &expected));
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

/// Needles.
impl Desk<'_> {
    fn check_needles(&mut self, drawn: &Drawn, board: &Board, case: (&FaultName, &str)) {
        let Some(panel) = drawn.panels.first() else { return };
        let mut left = panel.needles.clone();
        for (id, face) in board.faces.iter().filter(|(_, f)| f.face == "dial") {
            let Some(scale) = &face.scale else { continue };
            let at = on_page(panel, board, face.at);
            let own: Vec<(Spot, Spot)> = left.iter().filter(|(from, _)| near(*from, at)).copied().collect();
            left.retain(|(from, _)| !near(*from, at));
            let shown: Vec<f64> = own.iter().map(|needle| reading(*needle, scale)).collect();
            let expected = self.needle(board, id, case);
            let close = |a: f64, b: f64| (a - b).abs() <= 0.012 * (scale.to - scale.from).abs();
            let right = match (shown.as_slice(), expected) {
                ([], None) => true,
                ([one], Some(wanted)) => close(*one, wanted),
                _ => false,
            };
            if !right {
                let place = format!("{}, needle of the {}", drawn.name(), self.words.name(id));
                let says = shown.iter().map(|n| format!("{n:.1}")).collect::<Vec<_>>().join(", ");
                self.notes.find("needle-wrong", place, says, expected.map_or("none".to_owned(), |n| format!("{n:.1}")));
            }
        }
        if !left.is_empty() {
            self.notes.find("needle-wrong", drawn.name(), format!("{} needles on no dial", left.len()), "none");
        }
    }

    /// Where a needle stands after a fault; none where that is not known, or in a state whose usual readings the model does not tell.
    fn needle(&mut self, board: &Board, id: &str, (fault, state): (&FaultName, &str)) -> Option<f64> {
        if self.reference.as_deref() != Some(state) {
            return None;
        }
        let effects = self.effects(state, fault);
        let worked = self.answer(state)?.works.contains(id);
        let misled = self.worn_after(board, (fault, state)).get("Misleading").is_some_and(|all| all.contains(id));
        let scale = board.faces.get(id)?.scale.as_ref()?;
        if misled || !worked || effects.gone_itself.contains(id) {
            return None;
        }
        if !effects.lost.contains(id) {
            let senses = self.model.number.get(id).map_or(0, |n| self.model.nodes[*n].senses.len());
            let falls = scale.unfed.as_deref() == Some("falls to zero") && senses == 1;
            return if effects.gauges.contains(id) { scale.rests.filter(|_| falls) } else { scale.usual };
        }
        let missed = effects.missed.get(id).cloned().unwrap_or_default();
        let on_loss = self.words.things.get(id).map_or(&[][..], |t| &t.on_loss);
        let looks: BTreeSet<&str> =
            on_loss.iter().filter(|(what, ..)| missed.contains(what)).map(|(_, looks, _)| looks.as_str()).collect();
        match (looks.len(), looks.first().copied(), scale.unfed.as_deref()) {
            (1, Some("zero"), _) => scale.rests.or(Some(scale.from)),
            (1, Some("full"), _) => Some(scale.to),
            (1, Some("centred"), _) => Some(scale.from.midpoint(scale.to)),
            (1, Some("freezes"), _) | (0, _, Some("stays")) => scale.usual,
            (0, _, Some("falls to zero")) => scale.rests,
            _ => None,
        }
    }
}

fn item_of(node: &str) -> &str {
    node.split('.').next().unwrap_or(node)
}

fn near(a: Spot, b: Spot) -> bool {
    (a.0 - b.0).abs() <= NEAR && (a.1 - b.1).abs() <= NEAR
}

/// A place on the panel, on the page.
fn on_page(panel: &DrawnPanel, board: &Board, at: Spot) -> Spot {
    let scale = panel.width / board.width.max(1.0);
    (panel.corner.0 + at.0 * scale, panel.corner.1 + at.1 * scale)
}

/// What a needle reads, from where it points.
fn reading((from, to): (Spot, Spot), scale: &BoardScale) -> f64 {
    let degrees = libm::atan2(to.0 - from.0, from.1 - to.1).to_degrees();
    scale.from + (degrees - BEGIN) / SWEEP * (scale.to - scale.from)
}

/// What is drawn on each face, by where it stands. A mark on no face counts for nothing: it is a sample of the legend.
fn signs_on(panel: &DrawnPanel, board: &Board) -> Worn {
    let scale = panel.width / board.width.max(1.0);
    let mut worn = Worn::new();
    for (classes, at) in &panel.marks {
        let on = ((at.0 - panel.corner.0) / scale, (at.1 - panel.corner.1) / scale);
        let holds = |f: &BoardFace| {
            (on.0 - f.at.0).abs() <= f.size.0 / 2.0 + 0.5 && (on.1 - f.at.1).abs() <= f.size.1 / 2.0 + 0.5
        };
        let Some((word, _)) = SIGNS.iter().find(|(_, class)| classes.split(' ').any(|c| c == *class)) else { continue };
        if let Some((id, _)) = board.faces.iter().find(|(_, face)| holds(face)) {
            worn.entry(word).or_default().insert(id.clone());
        }
    }
    worn
}
