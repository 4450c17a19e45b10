//! The rows of a failure table: what one fault does in one state, each aspect in lines of a fixed grammar.
//!
//! The grammar is written in `DEVELOPERS.md` under "What the audit reads".

use crate::analyse::answer::{Effects, Indication, LostLater, NoBackup, Restore, StillTells, Target};
use crate::base::Span;
use crate::compose::composer::{Composer, in_walking_order, is_in_sight, plain_number};
use crate::compose::phrase::{Argument, NounPhrase, say};
use crate::compose::say::{item_says, joined, quoted, then_sentence};
use crate::doc::{Fact, FactOrigin, Inline, Inlines};
use crate::model::{FaultIx, FoundBy, HazardLevel, How, Kind, Lasts, NodeIx, NodeKind, Tells};
use std::collections::BTreeSet;

/// Which side of a fault a row tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum Aspect {
    False,
    GoneItself,
    Lost,
    Opens,
    LostLater,
    Weakened,
    NoBackup,
    StillTells,
    HowYouKnow,
    NoLongerWarns,
    RunsUnasked,
    StopsWith,
    WorksAgain,
    Hazard,
    Handbook,
}

impl Aspect {
    /// The visible heading of its row.
    pub fn heading(self) -> &'static str {
        match self {
            Self::False => "False",
            Self::GoneItself => "Gone itself",
            Self::Lost => "Lost",
            Self::Opens => "Opens",
            Self::LostLater => "Lost later",
            Self::Weakened => "Weakened",
            Self::NoBackup => "No backup left",
            Self::StillTells => "Still tells you",
            Self::HowYouKnow => "How you know",
            Self::NoLongerWarns => "No longer warns of",
            Self::RunsUnasked => "Works unasked",
            Self::StopsWith => "Stops with",
            Self::WorksAgain => "Works again with",
            Self::Hazard => "Hazard",
            Self::Handbook => "Handbook",
        }
    }
}

/// One line of a row, and the node that it is about, where there is one.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What the line is about.
    pub node: Option<NodeIx>,
    /// What it says.
    pub says: Inlines,
}

/// So many next faults are named; of more, the nearest are named and the others counted.
const MOST_NEXT: usize = 3;

/// Rows from top to bottom; none is empty.
pub type AspectRows = Vec<(Aspect, Vec<Line>)>;

/// True if a fault does something that a table should tell; the others stand in one list.
pub fn matters(effects: &Effects) -> bool {
    !effects.takes_nothing()
        || !effects.weakened.is_empty()
        || !effects.no_backup.is_empty()
        || !effects.still_tells.is_empty()
        || !effects.no_longer_warns.is_empty()
        || !effects.runs_unasked.is_empty()
        || effects.hazards.iter().any(|h| h.active)
}

/// Nodes of a list that speak for themselves: a function whose item is in the list too is told by its item.
pub fn told(composer: &Composer<'_>, nodes: &[NodeIx], in_sight: bool) -> Vec<NodeIx> {
    let model = composer.model;
    let all: BTreeSet<NodeIx> = nodes.iter().copied().collect();
    let item_of = |n: NodeIx| model.item_of(n).map(|i| model[i].node);
    let own = |n: &NodeIx| item_of(*n).is_none_or(|item| item == *n || !all.contains(&item));
    let mut told: Vec<NodeIx> =
        nodes.iter().copied().filter(own).filter(|n| is_in_sight(model, *n) == in_sight).collect();
    in_walking_order(model, &mut told);
    told
}

impl Composer<'_> {
    /// The rows of one fault alone, without what is out of sight, the chains of causes and the handbook.
    pub fn aspect_rows(&mut self, effects: &Effects) -> AspectRows {
        let false_lines = self.false_lines(effects);
        let lost = self.lost_lines(effects);
        let later = self.later_lines(effects);
        let still_tells = self.still_tells_lines(effects);
        let rows = vec![
            (Aspect::False, false_lines),
            (Aspect::Lost, lost),
            (Aspect::Opens, self.opens_lines(effects)),
            (Aspect::LostLater, later),
            (Aspect::Weakened, self.weakened_lines(effects)),
            (Aspect::NoBackup, plain(effects.no_backup.iter().map(|n| self.no_backup_line(n)).collect())),
            (Aspect::StillTells, still_tells),
            (Aspect::HowYouKnow, plain(self.how_you_know(effects))),
            (Aspect::NoLongerWarns, plain(self.no_longer_warns(effects))),
            (Aspect::RunsUnasked, self.runs_unasked_lines(effects)),
            (Aspect::StopsWith, plain(effects.stops.iter().map(|r| self.restore_line(r)).collect())),
            (Aspect::WorksAgain, plain(effects.restores.iter().map(|r| self.restore_line(r)).collect())),
            (Aspect::Hazard, plain(self.hazard_lines(effects))),
        ];
        rows.into_iter().filter(|(_, lines)| !lines.is_empty()).collect()
    }

    fn false_lines(&self, effects: &Effects) -> Vec<Line> {
        let nodes: Vec<NodeIx> = effects.misleads.iter().map(|a| a.node).collect();
        told(self, &nodes, true).into_iter().map(|n| self.false_line(effects, n)).collect()
    }

    /// What a false thing shows, where the author says it.
    fn false_line(&self, effects: &Effects, node: NodeIx) -> Line {
        let affected = effects.misleads.iter().filter(|a| a.node == node);
        let causes = affected.flat_map(|a| a.because.last().into_iter().chain(&a.misses).copied());
        let positions = &effects.situation.positions;
        let spoken = self.model.said_of_false(&effects.question.faults, positions, node, causes);
        let sentence = spoken.map(|s| vec![quoted(s.field, s.text)]).unwrap_or_default();
        Line { node: Some(node), says: item_says(self.words.node(node), sentence) }
    }

    fn lost_lines(&self, effects: &Effects) -> Vec<Line> {
        let nodes: Vec<NodeIx> = effects.lost.iter().map(|a| a.node).collect();
        let line = |node: NodeIx| {
            let misses = effects.lost.iter().find(|a| a.node == node).map_or(&[][..], |a| &a.misses);
            let look = self.look(node, misses).map(|(_, line)| line).unwrap_or_default();
            Line { node: Some(node), says: item_says(self.words.node(node), look) }
        };
        told(self, &nodes, true).into_iter().map(line).collect()
    }

    /// A name and nothing else.
    pub fn bare_line(&self, node: NodeIx) -> Line {
        Line { node: Some(node), says: item_says(self.words.node(node), Inlines::new()) }
    }

    /// Breakers and the like that the faults open, and keep open.
    fn opens_lines(&self, effects: &Effects) -> Vec<Line> {
        let positions = &effects.situation.positions;
        let trips = effects.question.faults.iter().flat_map(|f| self.model.named_by(&self.model[*f].trips, positions));
        let nodes: Vec<NodeIx> = trips.collect();
        self.all_told(&nodes).into_iter().map(|n| self.bare_line(n)).collect()
    }

    /// What faults take by themselves, which is not counted as lost; nothing where a thing simply fails.
    pub fn gone_itself(&self, effects: &Effects) -> Vec<NodeIx> {
        let (model, positions) = (self.model, &effects.situation.positions);
        let of_fault = |f: &FaultIx| {
            let told = self.all_told(&model.named_by(&model[*f].loses, positions));
            let plain = model[*f].id.as_str() == "fails" && told == [model[*f].of];
            if plain { Vec::new() } else { told }
        };
        effects.question.faults.iter().flat_map(of_fault).collect()
    }

    /// What speaks for itself, what is in sight first.
    fn all_told(&self, nodes: &[NodeIx]) -> Vec<NodeIx> {
        [true, false].into_iter().flat_map(|sight| told(self, nodes, sight)).collect()
    }

    fn runs_unasked_lines(&self, effects: &Effects) -> Vec<Line> {
        self.all_told(&effects.runs_unasked).into_iter().map(|n| self.bare_line(n)).collect()
    }

    fn weakened_lines(&self, effects: &Effects) -> Vec<Line> {
        let line = |node: &NodeIx| {
            let thing = self.words.node(*node);
            let positions = &effects.situation.positions;
            let spoken = self.model.said_of_weakened(&effects.question.faults, positions, *node);
            let sentence = spoken.map(|s| vec![quoted(s.field, s.text)]);
            let sentence = sentence.unwrap_or_else(|| say("weakened", &[("thing", thing.into())]));
            Line { node: Some(*node), says: item_says(thing, sentence) }
        };
        effects.weakened.iter().map(line).collect()
    }

    /// Things that stop at the same time for the same cause stand in one line.
    fn later_lines(&mut self, effects: &Effects) -> Vec<Line> {
        later_groups(effects)
            .iter()
            .map(|(later, nodes)| Line { node: None, says: self.later_line(effects, later, nodes) })
            .collect()
    }

    fn later_line(&mut self, effects: &Effects, later: &LostLater, nodes: &[NodeIx]) -> Inlines {
        let mut shown = told(self, nodes, true);
        shown.extend(told(self, nodes, false));
        let cause = self.later_cause(effects, later);
        let fact = later.in_min.map(|minutes| self.minutes(later, minutes));
        let mut values: Vec<(&'static str, Argument<'_>)> = vec![("part", cause.into())];
        let bus = self.bus_with_much(effects, nodes);
        if let Some((bus, lost)) = &bus {
            shown.retain(|n| n != bus && !lost.contains(n));
            values.push(("thing", self.words.node(*bus).into()));
        }
        let things = self.words.nodes(&shown);
        values.push(("things", things.into()));
        let known = fact.is_some();
        values.extend(fact.map(|fact| ("fact", fact.into())));
        say(
            ["later-unknown", "later-unknown-bus", "later-known", "later-known-bus"]
                [usize::from(known) * 2 + usize::from(bus.is_some())],
            &values,
        )
    }

    /// A bus among these, and what is lost with it that works now, where that saves a long list.
    pub fn bus_with_much(&mut self, effects: &Effects, nodes: &[NodeIx]) -> Option<(NodeIx, Vec<NodeIx>)> {
        const MUCH: usize = 8;
        let model = self.model;
        let fails = |one: &Effects, bus: NodeIx| matches!(one.question.faults[..], [f] if model[f].of == bus && model[f].id.as_str() == "fails");
        let is_bus = |n: &NodeIx| matches!(model[*n].kind, NodeKind::Item(i) if model[i].kind == Kind::Bus);
        let buses = nodes.iter().copied().filter(is_bus);
        let singles = self.single_faults(effects.question.state);
        let lost_with = |bus: NodeIx| {
            let one = singles.iter().find(|one| fails(one, bus))?;
            let lost = one.lost.iter().map(|l| l.node).filter(|n| effects.after.works.contains(n));
            let lost: Vec<NodeIx> = lost.collect();
            let later = |n: &NodeIx| effects.lost_later.iter().any(|l| l.node == *n);
            let saved = lost.iter().filter(|n| nodes.contains(n)).count();
            let all = saved >= MUCH && lost.iter().all(later);
            let others = nodes.iter().any(|n| *n != bus && !lost.contains(n));
            (all && others).then_some((bus, lost))
        };
        buses.filter_map(lost_with).max_by_key(|(_, lost)| lost.len())
    }

    /// Why something is lost later.
    pub fn later_cause(&self, effects: &Effects, later: &LostLater) -> Inlines {
        let (stores, others): (Vec<NodeIx>, Vec<NodeIx>) =
            later.because.iter().partition(|n| self.model[**n].lasts.is_some());
        let mut causes: Vec<Inlines> = Vec::new();
        if !stores.is_empty() {
            causes.push(say("spent", &[("things", self.words.nodes(&stores).into())]));
        }
        let coming = self.faults_that_come(&effects.question.faults);
        for node in others {
            let fault = coming.iter().find(|f| self.model[**f].of == node);
            causes.extend(fault.map(|f| self.clause(*f)));
        }
        joined(causes, " and ")
    }

    /// Faults that follow in time, and those that follow them.
    fn faults_that_come(&self, faults: &[FaultIx]) -> Vec<FaultIx> {
        let mut coming: Vec<FaultIx> = Vec::new();
        let mut open: Vec<FaultIx> = faults.to_vec();
        while let Some(fault) = open.pop() {
            for next in
                self.model[fault].leads_to.iter().map(|l| l.fault).filter(|f| !coming.contains(f)).collect::<Vec<_>>()
            {
                coming.push(next);
                open.push(next);
            }
        }
        coming
    }

    /// When something is lost later.
    pub fn minutes(&mut self, later: &LostLater, minutes: f64) -> Inline {
        let causes: Vec<&str> = later.because.iter().map(|n| self.model[*n].id.as_str()).collect();
        let shown = format!("{} min", plain_number(minutes));
        let computed = later.because.iter().any(|n| matches!(self.model[*n].lasts, Some(Lasts::Result(_))));
        self.show(Fact {
            id: format!("later/{}/{}", causes.join("+"), plain_number(minutes)),
            subject: causes.join("+"),
            aspect: "lost-later".to_owned(),
            value: Some(minutes),
            unit: Some("min".to_owned()),
            shown,
            rounding: computed.then(|| "rounded down to whole minutes".to_owned()),
            origin: if computed {
                FactOrigin::Computed { method: "phases of [endurance]", inputs: Vec::new() }
            } else {
                FactOrigin::Typed(self.later_span(later))
            },
        })
    }

    fn later_span(&self, later: &LostLater) -> Span {
        later.because.first().map_or_else(Span::default, |n| self.model[*n].span)
    }

    fn no_backup_line(&self, no_backup: &NoBackup) -> Inlines {
        let mut clauses = Inlines::new();
        let shown = if no_backup.next.len() > MOST_NEXT + 1 { MOST_NEXT } else { no_backup.next.len() };
        for (at, next) in no_backup.next.iter().take(shown).enumerate() {
            let phrase = if at == 0 { "next-first" } else { "next-more" };
            clauses.extend(say(phrase, &[("part", self.clause(*next).into())]));
        }
        let others = no_backup.next.len() - shown;
        if others > 0 {
            clauses.extend(say("next-others", &[("count", Inline::text(others.to_string()).into())]));
        }
        let targets: Vec<&NounPhrase> = no_backup.of.iter().map(|t| self.target(*t)).collect();
        say("no-backup", &[("part", clauses.into()), ("things", targets.into())])
    }

    fn target(&self, target: Target) -> &NounPhrase {
        match target {
            Target::Information(i) => self.words.information(i),
            Target::Bus(n) => self.words.node(n),
            Target::Medium(m) => self.words.medium(m),
        }
    }

    fn still_tells_lines(&mut self, effects: &Effects) -> Vec<Line> {
        let lines = effects.still_tells.iter().map(|s| self.still_tells_line(effects, s)).collect();
        plain(lines)
    }

    fn still_tells_line(&mut self, effects: &Effects, still: &StillTells) -> Inlines {
        let mut line = self.still_tells_briefly(effects, still);
        let mut notes: Vec<&String> = Vec::new();
        for (node, at) in &still.sources {
            let tells = self.model[*node].tells.get(*at);
            let note = tells.filter(|t| t.how == How::Indirectly).and_then(|t| t.note.as_ref());
            if let Some(note) = note.filter(|note| !notes.contains(note)) {
                notes.push(note);
                then_sentence(&mut line, vec![quoted(format!("{}/tells", self.model[*node].id), note)]);
            }
        }
        line
    }

    /// Every source that remains of a piece of information, with its limits, without the notes of the author.
    pub fn still_tells_briefly(&mut self, effects: &Effects, still: &StillTells) -> Inlines {
        let information = self.words.information(still.information);
        if still.sources.is_empty() {
            return say("still-nothing", &[("information", information.into())]);
        }
        let mut sources = Vec::new();
        for (node, at) in &still.sources {
            let Some(tells) = self.model[*node].tells.get(*at) else { continue };
            let limits = self.limits(effects, *node, tells);
            sources.push(say("tells-source", &[("thing", self.words.node(*node).into()), ("part", limits.into())]));
        }
        say("still-tells", &[("information", information.into()), ("part", joined(sources, ", ").into())])
    }

    /// Within what limits a source tells: indirectly, only so, for so long.
    fn limits(&mut self, effects: &Effects, node: NodeIx, tells: &Tells) -> Inlines {
        let mut limits = Vec::new();
        if tells.how == How::Indirectly {
            limits.push(say("tells-indirectly", &[]));
        }
        if let Some(only) = &tells.only {
            limits.push(vec![quoted(format!("{}/tells", self.model[node].id), only)]);
        }
        let later = effects.lost_later.iter().find(|l| l.node == node);
        if let Some((later, minutes)) = later.and_then(|l| l.in_min.map(|m| (l, m))) {
            let fact = self.minutes(later, minutes);
            limits.push(say("tells-for", &[("fact", fact.into())]));
        }
        joined(limits, "; ")
    }

    /// How the pilot comes to know, all that applies; if nothing does, that.
    pub fn how_you_know(&self, effects: &Effects) -> Vec<Inlines> {
        let mut lines: Vec<Inlines> = effects.shows.iter().map(|i| self.indication_line(*i)).collect();
        let dead = told(self, &effects.looks_dead, true);
        if !dead.is_empty() {
            lines.push(say("looks-dead", &[("things", self.words.nodes(&dead).into())]));
        }
        for fault in &effects.question.faults {
            if let Some(cue) = self.model.cue_of(*fault, &effects.situation.positions) {
                let text = quoted(format!("{}/cue", self.model.fault_id(*fault)), cue);
                lines.push(say("cue", &[("text", text.into())]));
            }
        }
        if lines.is_empty() {
            let found = effects.question.faults.iter().find_map(|f| self.model[*f].found_by);
            let mut line = match found {
                None => say("nothing-tells", &[]),
                Some(_) if effects.is_silent() => say("nothing-tells-in-flight", &[]),
                Some(_) => Vec::new(),
            };
            line.extend(found.map(found_phrase).map_or_else(Vec::new, |phrase| say(phrase, &[])));
            lines.push(line);
        }
        lines
    }

    pub(super) fn indication_line(&self, indication: Indication) -> Inlines {
        match indication {
            Indication::Alert(alert) => {
                let thing = self.words.alert(alert);
                let text = self.model[alert].reads.as_ref();
                let sentence = text.map(|t| vec![quoted(format!("{}/reads", thing.id), t)]);
                item_says(thing, sentence.unwrap_or_else(|| say("alert-shows", &[("thing", thing.into())])))
            }
            Indication::Gauge(node) => {
                let thing = self.words.node(node);
                let text = self.model[node].reads_when_absent.as_ref();
                let sentence = text.map(|t| vec![quoted(format!("{}/reads-when-absent", thing.id), t)]);
                item_says(thing, sentence.unwrap_or_else(|| say("gauge-shows", &[("thing", thing.into())])))
            }
        }
    }

    fn no_longer_warns(&self, effects: &Effects) -> Vec<Inlines> {
        let line = |alert: &crate::model::AlertIx| {
            let feeds = self.model[*alert].watches.iter().flat_map(crate::model::Need::feeds);
            let watched: Vec<NodeIx> = feeds.map(|f| f.from).collect();
            let things = self.words.nodes(&watched);
            say("no-longer-warns", &[("thing", self.words.alert(*alert).into()), ("things", things.into())])
        };
        effects.no_longer_warns.iter().map(line).collect()
    }

    fn restore_line(&self, restore: &Restore) -> Inlines {
        let mut what = told(self, &restore.what, true);
        what.extend(told(self, &restore.what, false));
        let name = |n: &NodeIx| {
            let thing = self.words.node(*n);
            if restore.approximate.contains(n) {
                return say("approximately", &[("thing", thing.into())]);
            }
            vec![thing.inline()]
        };
        let effect = joined(what.iter().map(name).collect(), ", ");
        let moves = self.moves(&restore.moves, true);
        let mut line = say("with-moves", &[("part", moves.into()), ("effect", effect.into())]);
        let sentences = self.approximations(restore);
        if !sentences.is_empty() || restore.costs {
            line.push(Inline::text("."));
        }
        if restore.costs {
            line.push(Inline::text(" "));
            line.extend(say("others-stop", &[]));
        }
        for sentence in sentences {
            then_sentence(&mut line, vec![sentence]);
        }
        line
    }

    /// What is not exact: the sentences of approximate feeds that stand before the things that work again, each once.
    fn approximations(&self, restore: &Restore) -> Vec<Inline> {
        let (mut open, mut seen) = (restore.approximate.clone(), BTreeSet::new());
        let mut sentences: Vec<Inline> = Vec::new();
        while let Some(node) = open.pop() {
            if !seen.insert(node) {
                continue;
            }
            for feed in self.model[node].needs.iter().flat_map(crate::model::Need::feeds) {
                if let Some(text) = &feed.approximate {
                    let sentence = quoted(format!("{}/needs/approximate", self.model[node].id), text);
                    sentences.extend((!sentences.contains(&sentence)).then_some(sentence));
                }
                open.push(feed.from);
            }
        }
        sentences
    }

    fn hazard_lines(&self, effects: &Effects) -> Vec<Inlines> {
        let line = |active: &crate::analyse::answer::ActiveHazard| {
            let hazard = self.model[active.fault].hazards.get(active.hazard)?;
            let level = match hazard.level {
                HazardLevel::Warning => "WARNING",
                HazardLevel::Caution => "CAUTION",
            };
            let of = format!("{}/hazard", self.model.fault_id(active.fault));
            let level = Inline::Strong(vec![Inline::text(level)]);
            let mut line = say("hazard", &[("level", level.into()), ("text", quoted(of, &hazard.text).into())]);
            if !hazard.when.is_always() {
                then_sentence(&mut line, say("hazard-while", &[("part", self.condition(&hazard.when).into())]));
            }
            if !active.ended_by.is_empty() {
                let ends = active.ended_by.iter().map(|m| self.moves(std::slice::from_ref(m), false)).collect();
                then_sentence(&mut line, say("hazard-ends", &[("part", joined(ends, " or ").into())]));
            }
            Some(line)
        };
        effects.hazards.iter().filter_map(line).collect()
    }

    /// Where the handbook speaks of faults: one line if it is one place for all that it speaks of.
    pub fn handbook_lines(&self, faults: &[FaultIx]) -> Vec<Line> {
        let model = self.model;
        let seen: Vec<(FaultIx, &String)> = faults.iter().filter_map(|f| Some((*f, model[*f].see.as_ref()?))).collect();
        let quote = |fault: FaultIx, see: &str| quoted(format!("{}/see", model.fault_id(fault)), see).into();
        let same = seen.len() == faults.len() && seen.windows(2).all(|w| w[0].1 == w[1].1);
        let line = |(fault, see): &(FaultIx, &String)| {
            let thing = self.words.node(model[*fault].of);
            say("see-of", &[("thing", thing.into()), ("text", quote(*fault, see))])
        };
        match seen.first() {
            Some((fault, see)) if same => plain(vec![say("see", &[("text", quote(*fault, see))])]),
            _ => plain(seen.iter().map(line).collect()),
        }
    }
}

/// What stops at the same time for the same cause.
pub fn later_groups(effects: &Effects) -> Vec<(LostLater, Vec<NodeIx>)> {
    let mut groups: Vec<(LostLater, Vec<NodeIx>)> = Vec::new();
    for later in &effects.lost_later {
        match groups.iter_mut().find(|(g, _)| g.in_min == later.in_min && g.because == later.because) {
            Some((_, nodes)) => nodes.push(later.node),
            None => groups.push((later.clone(), vec![later.node])),
        }
    }
    groups
}

fn plain(lines: Vec<Inlines>) -> Vec<Line> {
    lines.into_iter().map(|says| Line { node: None, says }).collect()
}

fn found_phrase(found: FoundBy) -> &'static str {
    match found {
        FoundBy::InUse => "found-in-use",
        FoundBy::PressToTest => "found-press-to-test",
        FoundBy::RunUp => "found-run-up",
        FoundBy::Preflight => "found-preflight",
        FoundBy::Inspection => "found-inspection",
    }
}
