//! How you know, what still tells you, hazards, and where the handbook speaks of it.

use super::failure::Case;
use super::{Desk, heading};
use crate::audit::effects::Effects;
use crate::audit::parts::{FaultName, Hazard, Lapse};
use crate::audit::speech::{bare, list_of, ordered};
use std::collections::BTreeSet;

impl Desk<'_> {
    /// Alerts and gauges that show it, what looks dead, what is noticed; else how it is found; else that nothing tells.
    pub(super) fn check_knowing(&mut self, lines: &[String], effects: &Effects, place: &str) {
        let dead: BTreeSet<String> = effects.instruments.iter().filter(|id| self.words.in_sight(id)).cloned().collect();
        let mut expected: Vec<String> = effects.alerts.iter().map(|id| self.alert_line(id)).collect();
        expected.extend(effects.gauges.iter().map(|id| self.gauge_line(id)));
        expected.extend(effects.cues.iter().map(|cue| format!("Noticed: {cue}")));
        if expected.is_empty() && dead.is_empty() {
            let by = effects.found_by.iter().next().map_or("", String::as_str);
            let silent = if effects.silent && !by.is_empty() { "Nothing tells you in flight. " } else { "" };
            expected.push(format!("{silent}{}", found_only(by)));
        }
        let (looks, others): (Vec<String>, Vec<String>) =
            lines.iter().cloned().partition(|line| line.starts_with("Looks dead or flagged: "));
        let mut named = Vec::new();
        for line in &looks {
            match self.nodes.list(line.trim_start_matches("Looks dead or flagged: "), &[", "]) {
                Some(ids) => named.extend(ids),
                None => self.unreadable(place, line, "names of instruments"),
            }
        }
        self.compare(place, (&named, &dead));
        self.compare_lines(place, &others, &expected);
    }

    pub(super) fn alert_line(&self, id: &str) -> String {
        let Some(alert) = self.words.alerts.get(id) else { return id.to_owned() };
        let usual = if alert.plural { "They show." } else { "It shows." };
        format!("{}: {}", heading(&alert.name), alert.reads.as_deref().unwrap_or(usual))
    }

    pub(super) fn gauge_line(&self, id: &str) -> String {
        let Some(thing) = self.words.things.get(id) else { return id.to_owned() };
        let usual = if thing.plural { "They show the loss." } else { "It shows the loss." };
        format!("{}: {}", heading(&thing.name), thing.reads_when_absent.as_deref().unwrap_or(usual))
    }

    /// For each piece of information touched, every source that remains, best first, within its limits.
    pub(super) fn check_still_tells(&mut self, case: &Case, effects: &Effects) {
        let place = case.at("Still tells you");
        let expected: Vec<String> = effects.still_tells.keys().map(|id| self.still_line(id, effects)).collect();
        self.compare_lines(&place, case.row("Still tells you"), &expected);
    }

    fn still_line(&self, information: &str, effects: &Effects) -> String {
        let (mut line, mut said) = (self.still_briefly(information, effects), Vec::new());
        for source in effects.still_tells.get(information).into_iter().flatten().filter(|s| s.indirectly) {
            let note = self.told_by(&source.node, information).and_then(|t| t.note.as_ref());
            if let Some(note) = note.filter(|note| !said.contains(note)) {
                said.push(note);
                line.push_str(&format!(" {note}"));
            }
        }
        line
    }

    fn told_by(&self, node: &str, information: &str) -> Option<&crate::audit::words::Tells> {
        let fits = |t: &&crate::audit::words::Tells| t.information == information;
        self.words.things.get(node)?.tells.iter().filter(fits).min_by_key(|t| t.indirectly)
    }

    /// The sources that remain, each within its limits, without what is noted of them.
    pub(super) fn still_briefly(&self, information: &str, effects: &Effects) -> String {
        let name = self.words.information.get(information).map_or(information, String::as_str);
        let sources = effects.still_tells.get(information).map_or(&[][..], Vec::as_slice);
        if sources.is_empty() {
            return format!("{}: nothing.", heading(name));
        }
        let mut list = Vec::new();
        for source in sources {
            let mut limits: Vec<String> = Vec::new();
            if source.indirectly {
                limits.push("indirectly".to_owned());
            }
            limits.extend(self.told_by(&source.node, information).and_then(|t| t.only.clone()));
            if let Some(Lapse::Minutes(minutes)) = source.until {
                limits.push(format!("for {minutes} min"));
            }
            let limits = if limits.is_empty() { String::new() } else { format!(" ({})", limits.join("; ")) };
            list.push(format!("{}{limits}", self.words.name(&source.node)));
        }
        format!("{}: {}.", heading(name), list.join(", "))
    }

    /// Each hazard with its word and sentence, while what holds, and what ends it.
    pub(super) fn check_hazards(&mut self, case: &Case, fault: &FaultName, effects: &Effects) {
        let place = case.at("Hazard");
        let Some(of) = self.model.faults.get(fault) else { return };
        let active = |h: &&Hazard| effects.hazards.iter().any(|fact| fact.text == h.text && fact.level == h.level);
        let hazards: Vec<&Hazard> = of.hazards.iter().filter(active).collect();
        let lines = case.row("Hazard");
        for hazard in &hazards {
            if !lines.iter().any(|line| self.is_hazard(line, hazard)) {
                let expected = format!("{}: {}", hazard.level.to_uppercase(), hazard.text);
                self.notes.find("hazard-missing", &place, lines.join(" / "), expected);
            }
        }
        for line in lines {
            if !hazards.iter().any(|hazard| self.is_hazard(line, hazard)) {
                self.notes.find("hazard-extra", &place, line, "no such hazard here");
            }
        }
    }

    /// `WARNING: … This holds while the key is OFF. It does not arise with the key LEFT or the key BOTH.`
    fn is_hazard(&self, line: &str, hazard: &Hazard) -> bool {
        let head = format!("{}: {}", hazard.level.to_uppercase(), hazard.text);
        let Some(rest) = line.strip_prefix(&head) else { return false };
        if hazard.when.is_empty() {
            return rest.is_empty();
        }
        let holds = ordered(&format!("This holds while {}.", self.condition_text(&hazard.when)).replace('.', "; "));
        let (holding, ends) = rest.split_once(" It does not arise with ").unwrap_or((rest, ""));
        if ordered(&holding.replace('.', "; ")) != holds {
            return false;
        }
        ends.is_empty()
            || list_of(ends.trim_end_matches('.'), &[" or "], &|m| self.ends(m, hazard).then_some(())).is_some()
    }

    /// Whether a move unmeets a condition of a hazard.
    fn ends(&self, text: &str, hazard: &Hazard) -> bool {
        let Some(moved) = self.moves.find(text) else { return false };
        hazard.when.iter().map(|number| &self.model.conditions[*number]).any(|condition| {
            let control = &self.model.nodes[condition.control];
            let positions = control.control.iter().flat_map(|c| &c.positions);
            let mut ending = positions.filter(|p| !condition.positions.contains(*p));
            let name = self.words.name(&control.id);
            ending.any(|p| bare(&format!("{name} {}", super::engraved(p))) == moved)
        })
    }

    /// The handbook's places, once where it is one for all.
    pub(super) fn check_handbook(&mut self, case: &Case) {
        let seen: Vec<(String, String)> = case
            .faults
            .iter()
            .filter_map(|f| Some((self.words.name(&f.item), self.words.faults.get(f)?.see.clone()?)))
            .collect();
        let places: BTreeSet<&String> = seen.iter().map(|(_, see)| see).collect();
        let expected: Vec<String> = match (places.len(), seen.first()) {
            (1, Some((_, see))) if seen.len() == case.faults.len() => vec![format!("See {see}.")],
            _ => seen.iter().map(|(name, see)| format!("{}: See {see}.", heading(name))).collect(),
        };
        self.compare_lines(&case.at("Handbook"), case.row("Handbook"), &expected);
    }
}

fn found_only(by: &str) -> &'static str {
    match by {
        "in use" => "Found only in use.",
        "press-to-test" => "Found only with press-to-test.",
        "run-up" => "Found only at the run-up.",
        "preflight" => "Found only at the check before flight.",
        "inspection" => "Found only at an inspection.",
        _ => "Nothing tells you.",
    }
}
