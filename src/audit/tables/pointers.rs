//! Needles on drawings of the panel after a failure: where each points, against where it certainly stands.

use super::Desk;
use super::figures::{near, on_page};
use crate::audit::board::{Board, BoardFace, BoardScale};
use crate::audit::page::{Drawn, Spot};
use crate::audit::parts::FaultName;
use std::collections::BTreeSet;

/// A scale begins so many degrees before the top, and runs over so many.
const BEGIN: f64 = -140.0;
const SWEEP: f64 = 280.0;

/// Needles.
impl Desk<'_> {
    pub(super) fn check_needles(&mut self, drawn: &Drawn, board: &Board, case: (&FaultName, &str)) {
        let Some(panel) = drawn.panels.first() else { return };
        let mut left = panel.needles.clone();
        for (id, face) in board.faces.iter().filter(|(_, f)| ["dial", "altimeter"].contains(&f.face.as_str())) {
            let Some(scale) = &face.scale else { continue };
            let at = on_page(panel, board, face.at);
            let own: Vec<(Spot, Spot)> = left.iter().filter(|(from, _)| near(*from, at)).copied().collect();
            left.retain(|(from, _)| !near(*from, at));
            if face.face == "altimeter" {
                self.check_altimeter(drawn, board, (id, &own), case);
                continue;
            }
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

    /// In the drawing of the panel, where each control stands in the reference state: in its list, and in the words beside it.
    pub(super) fn check_positions_drawn(&mut self, drawn: &Drawn, board: &Board) {
        let Some(reference) = self.reference.clone() else { return };
        let (positions, _) = self.model.setting(&reference);
        let numbers = self.round_numbers();
        let listed =
            drawn.panels.iter().flat_map(|p| &p.words).chain(&drawn.legend).cloned().collect::<Vec<_>>().join(" ");
        let listed = listed.replace('\u{a0}', " ");
        for (id, face) in &board.faces {
            let Some((stands, names)) = positions.get(id).zip(self.names_to_tell(id, face)) else { continue };
            let (number, name) = (numbers.get(id).copied().unwrap_or_default(), self.words.name(id));
            let at = format!("at {}", super::engraved(stands));
            let way = match face.face.as_str() {
                "rocker" | "toggle" => "from below: ",
                "lever" => "from above: ",
                _ => "",
            };
            let entries =
                [format!("{number} {name}: {at}"), format!("{number} {name}: {way}{}; {at}", names.join(", "))];
            if !entries.iter().any(|entry| listed.contains(entry)) {
                self.notes.find(
                    "drawing-wrong",
                    format!("{}, list", drawn.name()),
                    "no such entry",
                    entries[1].clone(),
                );
            }
            let begin = format!("{number}: {name}");
            let said = drawn.alternative.iter().find(|line| line.starts_with(&begin)).cloned().unwrap_or_default();
            if !said.ends_with(&format!(", {at}")) {
                self.notes.find(
                    "drawing-wrong",
                    format!("{}, in words", drawn.name()),
                    said,
                    format!("{begin} … {at}"),
                );
            }
        }
    }

    /// What is engraved at a control whose positions are told in words: signs tell off and on of a rocker, a button springs back, and
    /// breakers stand in.
    fn names_to_tell(&self, id: &str, face: &BoardFace) -> Option<Vec<String>> {
        let control = self.model.nodes[*self.model.number.get(id)?].control.as_ref()?;
        let kind = self.words.things.get(id).map_or("", |t| t.kind.as_str());
        let signs = face.face == "rocker" && control.positions == ["off", "on"];
        let told = !signs && face.face != "button" && !["breaker", "fuse"].contains(&kind);
        told.then(|| control.positions.iter().map(|p| super::engraved(p)).collect())
    }

    /// A turn of the long pointer is 1,000 of its unit, one of the short pointer 10,000; both begin at the top.
    fn check_altimeter(
        &mut self,
        drawn: &Drawn,
        board: &Board,
        (id, own): (&str, &[(Spot, Spot)]),
        case: (&FaultName, &str),
    ) {
        let expected = self.needle(board, id, case);
        let long = |(from, to): &(Spot, Spot)| libm::hypot(to.0 - from.0, to.1 - from.1);
        let mut sorted = own.to_vec();
        sorted.sort_by(|a, b| long(b).total_cmp(&long(a)));
        let part = |(from, to): (Spot, Spot)| (turned(from, to) / 360.0).rem_euclid(1.0);
        let off = |a: f64, b: f64| {
            let apart = (a - b).rem_euclid(1.0);
            apart.min(1.0 - apart)
        };
        let right = match (sorted.as_slice(), expected) {
            ([], None) => true,
            ([first, second], Some(feet)) => {
                off(part(*first), feet / 1000.0) < 0.012 && off(part(*second), feet / 10_000.0) < 0.012
            }
            _ => false,
        };
        if !right {
            let turns: Vec<String> = sorted.iter().map(|n| format!("{:.3} of a turn", part(*n))).collect();
            let place = format!("{}, needle of the {}", drawn.name(), self.words.name(id));
            self.notes.find(
                "needle-wrong",
                place,
                turns.join(", "),
                expected.map_or("none".to_owned(), |n| format!("{n:.1}")),
            );
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
            let falls = scale.unfed.as_deref() == Some("falls to zero");
            let flies_on = self.stopped((fault, state)).is_empty();
            return if effects.gauges.contains(id) {
                scale.rests.filter(|_| falls)
            } else {
                scale.usual.filter(|_| flies_on)
            };
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

    /// Engines that a fault stops.
    pub(super) fn stopped(&mut self, (fault, state): (&FaultName, &str)) -> Vec<String> {
        let effects = self.effects(state, fault);
        let engine = |id: &&String| self.words.things.get(*id).is_some_and(|t| t.kind == "engine");
        let stopped: BTreeSet<String> =
            effects.lost.iter().chain(&effects.gone_itself).filter(engine).cloned().collect();
        stopped.into_iter().collect()
    }
}

/// What a needle reads, from where it points.
fn reading((from, to): (Spot, Spot), scale: &BoardScale) -> f64 {
    scale.from + (turned(from, to) - BEGIN) / SWEEP * (scale.to - scale.from)
}

/// Degrees from the top, clockwise.
fn turned(from: Spot, to: Spot) -> f64 {
    libm::atan2(to.0 - from.0, from.1 - to.1).to_degrees()
}
