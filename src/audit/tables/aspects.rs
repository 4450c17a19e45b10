//! The rows of a failure table: exactly what each of its faults does, nothing missing and nothing more.

use super::failure::Case;
use super::{Desk, heading};
use crate::audit::amount::Amount;
use crate::audit::effects::Effects;
use crate::audit::parts::{FaultName, Lapse};
use crate::audit::speech::{bare, list_of};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// One line of what is lost later.
struct LaterLine {
    time: Option<f64>,
    names: Vec<String>,
    /// All that is lost with the bus that it names.
    with: Vec<String>,
}

impl LaterLine {
    /// What it names for one fault: what is gone already is not lost later, and what another line names stands there.
    fn meant(&self, effects: &Effects, elsewhere: &BTreeSet<&String>) -> Vec<String> {
        let gone = |id: &String| effects.lost.contains(id) || effects.gone_itself.contains(id);
        let with = self.with.iter().filter(|id| !gone(id) && !elsewhere.contains(id));
        self.names.iter().chain(with).cloned().collect()
    }
}

/// Codes and the names that they are for.
type Named<'s> = (&'s [String], &'s BTreeSet<String>);

impl Desk<'_> {
    pub(super) fn check_aspects(&mut self, case: &Case) {
        self.check_gone(case, "False", |e| &e.misleading);
        self.check_gone(case, "Lost", |e| &e.lost);
        self.check_gone_itself(case);
        self.check_opens(case);
        let later = self.later_lines(case);
        let backup = self.backup_lines(case);
        let unasked = self.names_of_lines(case, "Works unasked");
        for effects in case.effects.clone() {
            self.check_later(case, &later, &effects);
            self.check_backup(case, &backup, &effects);
            self.check_still_tells(case, &effects);
            self.check_knowing(case.row("How you know"), &effects, &case.at("How you know"));
            self.check_warnings(case, &effects);
            self.compare(&case.at("Works unasked"), (&unasked, &effects.runs_unasked));
            self.check_remedies(case, "Stops with", &effects.stopped_by);
            self.check_remedies(case, "Works again with", &effects.restored_by);
        }
        for (fault, effects) in case.faults.iter().zip(&case.effects) {
            self.check_weakened(case, fault, effects);
            self.check_hazards(case, fault, effects);
        }
        self.check_handbook(case);
    }

    /// Names against names. A function needs no mention where its item is named.
    pub(super) fn compare(&mut self, place: &str, (printed, expected): Named<'_>) {
        let listed: BTreeSet<&String> = printed.iter().collect();
        for id in listed.iter().filter(|id| !expected.contains(**id)) {
            self.notes.find("name-extra", place, heading(&self.words.name(id)), "no such name here");
        }
        for id in expected.iter().filter(|id| !listed.contains(id)) {
            let item = self.words.things.get(id).and_then(|t| t.item.as_ref());
            if !item.is_some_and(|item| listed.contains(item)) {
                self.notes.find("name-missing", place, "nothing of it", heading(&self.words.name(id)));
            }
        }
        if listed.len() < printed.len() {
            self.notes.find("name-twice", place, "a name twice", "each name once");
        }
    }

    pub(super) fn names_of_lines(&mut self, case: &Case, aspect: &str) -> Vec<String> {
        let mut found = Vec::new();
        for line in case.row(aspect) {
            match self.nodes.find(line) {
                Some(id) => found.push(id),
                None => self.unreadable(&case.at(aspect), line, "the name of a thing"),
            }
        }
        found
    }

    /// False or lost: what is in sight, line by line with how it looks; and behind it, what all the faults have in common.
    fn check_gone(&mut self, case: &Case, aspect: &str, pick: fn(&Effects) -> &BTreeSet<String>) {
        let place = case.at(aspect);
        let (mut open, mut hidden) = (Vec::new(), Vec::new());
        for line in case.row(aspect) {
            let names =
                line.strip_prefix("Out of sight, whichever it is: ").or_else(|| line.strip_prefix("Out of sight: "));
            if let Some(names) = names {
                match self.nodes.list(names, &[", "]) {
                    Some(ids) => hidden.extend(ids),
                    None => self.unreadable(&place, line, "names of things"),
                }
            } else if let Some((ids, rest)) = self.nodes.list_and_rest(line, &[", "]) {
                ids.iter().for_each(|id| self.check_gone_line(case, aspect, (id, rest)));
                open.extend(ids);
            } else {
                self.unreadable(&place, line, "things and how they look");
            }
        }
        let common = case.common(pick);
        for effects in &case.effects {
            let sight: BTreeSet<String> = pick(effects).iter().filter(|id| self.words.in_sight(id)).cloned().collect();
            self.compare(&place, (&open, &sight));
        }
        let behind = common.into_iter().filter(|id| !self.words.in_sight(id) && !self.covered(id, &open)).collect();
        self.compare(&place, (&hidden, &behind));
    }

    fn covered(&self, id: &str, listed: &[String]) -> bool {
        self.words.things.get(id).and_then(|t| t.item.as_ref()).is_some_and(|item| listed.contains(item))
    }

    /// What is lost later, on the card: what is in sight, and the buses.
    pub(super) fn check_later_alone(&mut self, case: &Case) {
        let lines = self.later_lines(case);
        let place = case.at("Lost later");
        let written: BTreeSet<&String> = lines.iter().flat_map(|line| &line.names).collect();
        for effects in case.effects.clone() {
            let names: BTreeSet<String> = lines.iter().flat_map(|line| line.meant(&effects, &written)).collect();
            for id in names.iter().filter(|id| !effects.lost_later.contains_key(*id)) {
                self.notes.find("name-extra", &place, heading(&self.words.name(id)), "no such name here");
            }
            let listed: Vec<String> = names.into_iter().collect();
            let bus = |id: &String| self.words.things.get(id).is_some_and(|t| t.kind == "bus");
            let wanted = effects.lost_later.keys().filter(|id| self.words.in_sight(id) || bus(id));
            let missing: Vec<&String> =
                wanted.filter(|id| !listed.contains(id) && !self.covered(id, &listed)).collect();
            for id in missing {
                self.notes.find("name-missing", &place, "nothing of it", heading(&self.words.name(id)));
            }
            self.check_times(&place, (&lines, &written), &effects);
        }
    }

    fn later_lines(&mut self, case: &Case) -> Vec<LaterLine> {
        let mut found = Vec::new();
        for line in case.row("Lost later") {
            match self.later_line(case, line) {
                Some(read) => found.push(read),
                None => self.unreadable(&case.at("Lost later"), line, "After … min, or in time, as …: names"),
            }
        }
        found
    }

    /// `After 30 min, as the battery is spent: clock, battery`.
    fn later_line(&mut self, case: &Case, line: &str) -> Option<LaterLine> {
        let (time, rest) = if let Some(rest) = line.strip_prefix("In time, as ") {
            (None, rest)
        } else {
            let (time, rest) = line.strip_prefix("After ")?.split_once(", as ")?;
            self.notes.report.proved.numbers += 1;
            (Some(Amount::read(time)?.number_in("min")?), rest)
        };
        let (causes, (names, with)) = rest
            .match_indices(": ")
            .find_map(|(at, sign)| Some((&rest[..at], self.later_names(case, &rest[at + sign.len()..])?)))?;
        list_of(causes, &[" and "], &|cause| self.later_cause(case, cause).then_some(()))?;
        Some(LaterLine { time, names, with })
    }

    /// `main bus with all that is lost with it, clock`: what is lost with the bus and is not gone already is meant too.
    fn later_names(&mut self, case: &Case, text: &str) -> Option<(Vec<String>, Vec<String>)> {
        const WITH: &str = " with all that is lost with it";
        let parts =
            text.split_once(" with all that is lost with it, ").or_else(|| Some((text.strip_suffix(WITH)?, "")));
        let Some((bus, others)) = parts else {
            return Some((self.nodes.list(text, &[", "])?, Vec::new()));
        };
        let bus = self.nodes.find(bus)?;
        let mut names = if others.is_empty() { Vec::new() } else { self.nodes.list(others, &[", "])? };
        let fails = FaultName { item: bus.clone(), fault: "fails".to_owned() };
        let with = self.effects(&case.state, &fails).lost.iter().cloned().collect();
        names.push(bus);
        Some((names, with))
    }

    /// A store that can be spent and is, or a fault that one of the table's faults leads to.
    fn later_cause(&self, case: &Case, cause: &str) -> bool {
        let spent = cause.strip_suffix(" is spent").or_else(|| cause.strip_suffix(" are spent"));
        if let Some(stores) = spent.and_then(|names| self.nodes.list(names, &[", ", " and "])) {
            let lasts = |id: &String| self.model.number.get(id).is_some_and(|n| self.model.nodes[*n].lasts.is_some());
            return stores.iter().all(|id| lasts(id) && case.effects.iter().all(|e| e.lost_later.contains_key(id)));
        }
        let Some(fault) = self.clauses.find(cause) else { return false };
        case.faults.iter().all(|first| self.model.led_to(first).contains(&fault))
    }

    fn check_later(&mut self, case: &Case, lines: &[LaterLine], effects: &Effects) {
        let place = case.at("Lost later");
        let written: BTreeSet<&String> = lines.iter().flat_map(|line| &line.names).collect();
        let names: Vec<String> = lines.iter().flat_map(|line| line.meant(effects, &written)).collect();
        let expected = effects.lost_later.keys().cloned().collect();
        self.compare(&place, (&names, &expected));
        self.check_times(&place, (lines, &written), effects);
    }

    fn check_times(&mut self, place: &str, (lines, written): (&[LaterLine], &BTreeSet<&String>), effects: &Effects) {
        for line in lines {
            let time = line.time;
            for id in line.meant(effects, written) {
                let Some(lapse) = effects.lost_later.get(&id) else { continue };
                let agrees = match (time, lapse) {
                    (Some(shown), Lapse::Minutes(truth)) => (shown - truth).abs() < 1e-9,
                    (None, Lapse::Sometime) => true,
                    _ => false,
                };
                if !agrees {
                    let says = time.map_or_else(|| "in time".to_owned(), |minutes| format!("after {minutes} min"));
                    self.notes.find("time-wrong", place, format!("{id} {says}"), format!("{lapse:?}"));
                }
            }
        }
    }

    fn check_weakened(&mut self, case: &Case, fault: &FaultName, effects: &Effects) {
        let entries = self.model.faults.get(fault).map_or(&[][..], |f| &f.weakens);
        let texts = self.words.faults.get(fault).map_or(&[][..], |f| &f.weakens);
        let line = |id: &String| {
            let plural = self.words.things.get(id).is_some_and(|t| t.plural);
            let says = if plural {
                "They still work, but not as well as they should."
            } else {
                "It still works, but not as well as it should."
            };
            let says = self.entry_text(case, id, entries, texts).unwrap_or_else(|| says.to_owned());
            format!("{}: {says}", heading(&self.words.name(id)))
        };
        let expected: Vec<String> = effects.weakened.iter().map(line).collect();
        let printed: Vec<String> = case.row("Weakened").iter().flat_map(|line| self.line_by_thing(line)).collect();
        self.compare_lines(&case.at("Weakened"), &printed, &expected);
    }

    /// A line that speaks of several things, as one line for each; any other as it is.
    fn line_by_thing(&self, line: &str) -> Vec<String> {
        let Some((ids, says)) = self.nodes.list_and_rest(line, &[", "]) else { return vec![line.to_owned()] };
        ids.iter().map(|id| format!("{}: {says}", heading(&self.words.name(id)))).collect()
    }

    /// Lines against lines, in any order, names without articles.
    pub(super) fn compare_lines(&mut self, place: &str, printed: &[String], expected: &[String]) {
        let seen: Vec<String> = printed.iter().map(|line| bare(line)).collect();
        let truth: Vec<String> = expected.iter().map(|line| bare(line)).collect();
        for (line, key) in printed.iter().zip(&seen) {
            if !truth.contains(key) {
                self.notes.find("line-extra", place, line, expected.join(" / "));
            }
        }
        for (line, key) in expected.iter().zip(&truth) {
            if !seen.contains(key) {
                self.notes.find("line-missing", place, printed.join(" / "), line);
            }
        }
        if seen.iter().collect::<BTreeSet<_>>().len() < seen.len() {
            self.notes.find("name-twice", place, "a line twice", "each line once");
        }
    }

    fn check_warnings(&mut self, case: &Case, effects: &Effects) {
        let line = |id: &String| {
            let alert = self.words.alerts.get(id);
            let name = alert.map_or_else(|| id.clone(), |a| a.name.clone());
            format!("{}: {}", heading(&name), self.watched(id).join(", "))
        };
        let expected: Vec<String> = effects.no_longer_warns.iter().map(line).collect();
        self.compare_lines(&case.at("No longer warns of"), case.row("No longer warns of"), &expected);
    }

    /// The names of what an alert watches.
    pub(super) fn watched(&self, alert: &str) -> Vec<String> {
        let mut feeds = Vec::new();
        if let Some(alert) = self.model.alerts.get(alert) {
            alert.watches.iter().for_each(|need| need.feeds(&mut feeds));
        }
        feeds.iter().map(|feed| self.node_name(feed.from)).collect()
    }

    fn backup_lines(&mut self, case: &Case) -> Vec<Next> {
        let mut found = Vec::new();
        for line in case.row("No backup left") {
            match self.backup_line(line) {
                Some(next) => found.push(next),
                None => self.unreadable(&case.at("No backup left"), line, "If … too: what it takes"),
            }
        }
        found
    }

    /// `If the battery is flat too, or the contactor opens too, or with any of 4 other faults: bank, main bus`.
    fn backup_line(&self, line: &str) -> Option<Next> {
        let rest = line.strip_prefix("If ")?;
        rest.match_indices(": ").find_map(|(at, sign)| {
            let targets = self.targets.list(&rest[at + sign.len()..], &[", "])?;
            let (clauses, others) = match rest[..at].strip_suffix(" other faults") {
                Some(head) => {
                    let (clauses, count) = head.rsplit_once(", or with any of ")?;
                    (clauses, count.parse::<usize>().ok()?)
                }
                None => (&rest[..at], 0),
            };
            let clause = |text: &str| self.clauses.find(text.strip_suffix(" too")?);
            let faults = list_of(clauses, &[", or "], &clause)?;
            Some(Next { faults, others, targets })
        })
    }

    fn check_backup(&mut self, case: &Case, lines: &[Next], effects: &Arc<Effects>) {
        let place = case.at("No backup left");
        let mut by_fault: BTreeMap<&FaultName, BTreeSet<String>> = BTreeMap::new();
        for (target, next) in &effects.no_backup {
            by_fault.entry(next).or_default().insert(self.words.target(target));
        }
        let mut groups: BTreeMap<&BTreeSet<String>, BTreeSet<&FaultName>> = BTreeMap::new();
        for (next, targets) in &by_fault {
            groups.entry(targets).or_default().insert(next);
        }
        for line in lines {
            self.check_next(&place, line, &by_fault, &groups);
        }
        for (targets, faults) in groups {
            let told = lines.iter().any(|line| line.faults.iter().any(|fault| faults.contains(fault)));
            if let Some(first) = faults.iter().next().filter(|_| !told) {
                let list = targets.iter().cloned().collect::<Vec<_>>().join(", ");
                let expected = format!("If {} too: {list}", self.words.clause(first));
                self.notes.find("line-missing", &place, "nothing of it", expected);
            }
        }
    }

    fn check_next(
        &mut self,
        place: &str,
        line: &Next,
        by_fault: &BTreeMap<&FaultName, BTreeSet<String>>,
        groups: &BTreeMap<&BTreeSet<String>, BTreeSet<&FaultName>>,
    ) {
        let printed: BTreeSet<String> = line.targets.iter().cloned().collect();
        for fault in &line.faults {
            let truth = by_fault.get(fault).cloned().unwrap_or_default();
            let clause = self.words.clause(fault);
            for extra in printed.difference(&truth) {
                self.notes.find("name-extra", place, format!("If {clause} too: {extra}"), "no such name here");
            }
            for missing in truth.difference(&printed) {
                self.notes.find("name-missing", place, "nothing of it", format!("If {clause} too: {missing}"));
            }
        }
        let all = groups.get(&printed).map_or(0, BTreeSet::len);
        self.notes.report.proved.numbers += usize::from(line.others > 0);
        if all > 0 && line.faults.len() + line.others != all {
            let says = format!("{} faults and {} others", line.faults.len(), line.others);
            self.notes.find("number-wrong", place, says, format!("{all} faults in all"));
        }
    }
}

/// A line of what has no backup left.
pub(super) struct Next {
    faults: Vec<FaultName>,
    others: usize,
    targets: Vec<String>,
}
