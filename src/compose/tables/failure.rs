//! Failure tables: faults with the same effects share one.

use super::rows::{Aspect, AspectRows, Line, matters, told};
use crate::analyse::answer::{Affected, Effects};
use crate::compose::composer::Composer;
use crate::compose::phrase::{NounPhrase, say};
use crate::compose::say::{joined, then_sentence};
use crate::doc::{Block, Cell, Column, Inline, Inlines, Row, Subject, Table, TableKind, plain_text};
use crate::model::{FaultIx, NodeIx, StateIx, SystemIx};
use std::collections::BTreeSet;

/// Faults that do the same, each asked alone.
struct Group {
    state: StateIx,
    effects: Vec<Effects>,
    rows: AspectRows,
    /// Its rows as they are read.
    read: Vec<(Aspect, Vec<String>)>,
}

/// The rows as they are read: faults share a table where it says the same of each.
fn text_of(rows: &AspectRows) -> Vec<(Aspect, Vec<String>)> {
    rows.iter().map(|(aspect, lines)| (*aspect, lines.iter().map(|l| plain_text(&l.says)).collect())).collect()
}

/// What is lost, or what is false.
type Pick = fn(&Effects) -> &[Affected];

impl Group {
    fn faults(&self) -> Vec<FaultIx> {
        self.effects.iter().flat_map(|e| e.question.faults.iter().copied()).collect()
    }
}

impl Composer<'_> {
    /// Every fault of a system that takes something, in the reference state and, where that differs and matters, in a parked one.
    pub fn failures(&mut self, system: SystemIx) -> Vec<Block> {
        let model = self.model;
        let of_system = |f: &FaultIx| model.item_of(model[*f].of).is_some_and(|i| model[i].system == system);
        let faults: Vec<FaultIx> = model.fault_indices().filter(of_system).collect();
        let blocks = self.failure_blocks(&faults);
        let Some(state) = self.reference.filter(|_| blocks.is_empty()) else { return blocks };
        self.nothing_to_tell("no-failures", ("system", self.words.system(system)), state)
    }

    /// Every fault of one item or given: as `failures` asks, or in one state alone.
    pub fn failure(&mut self, node: NodeIx, state: Option<StateIx>) -> Vec<Block> {
        let faults: Vec<FaultIx> = self.model.faults_of(node).collect();
        let blocks = match state {
            Some(state) => self.failure_blocks_in(&faults, state),
            None => self.failure_blocks(&faults),
        };
        let Some(state) = state.or(self.reference).filter(|_| blocks.is_empty()) else { return blocks };
        self.nothing_to_tell("no-failure-of", ("thing", self.words.node(node)), state)
    }

    fn nothing_to_tell(
        &self,
        phrase: &'static str,
        (key, noun): (&'static str, &NounPhrase),
        state: StateIx,
    ) -> Vec<Block> {
        vec![Block::Para(say(phrase, &[(key, noun.into()), ("state", self.words.state(state).into())]))]
    }

    fn failure_blocks(&mut self, faults: &[FaultIx]) -> Vec<Block> {
        let Some(reference) = self.reference else { return Vec::new() };
        let asked: BTreeSet<FaultIx> = self.analysis.asked_in(reference).into_iter().collect();
        let mut effects = Vec::new();
        for fault in faults {
            if asked.contains(fault) {
                effects.push((reference, self.effects(reference, *fault)));
            }
            let parked = self.parked_effects(*fault, asked.contains(fault));
            effects.extend(parked);
        }
        self.tables_of(effects)
    }

    /// What those of the faults do in a state that are asked about there.
    fn failure_blocks_in(&mut self, faults: &[FaultIx], state: StateIx) -> Vec<Block> {
        let asked: BTreeSet<FaultIx> = self.analysis.asked_in(state).into_iter().collect();
        let faults = faults.iter().filter(|f| asked.contains(f));
        let effects = faults.map(|f| (state, self.effects(state, *f))).collect();
        self.tables_of(effects)
    }

    fn tables_of(&mut self, effects: Vec<(StateIx, Effects)>) -> Vec<Block> {
        let told: Vec<(StateIx, Effects)> = effects.into_iter().filter(|(_, e)| matters(e)).collect();
        let mut groups = self.grouped(told);
        let weight = |g: &Group| g.effects.first().map_or(0, |e| e.misleads.len() + e.lost.len());
        groups.sort_by_key(|g| (Some(g.state) != self.reference, std::cmp::Reverse(weight(g))));
        groups.into_iter().flat_map(|g| self.told_and_drawn(g)).collect()
    }

    /// What a fault does in the first parked state where it does something that the reference state does not tell: something runs
    /// unasked, or a hazard is there; for a fault that is not asked about in flight, anything that matters.
    fn parked_effects(&mut self, fault: FaultIx, in_reference: bool) -> Option<(StateIx, Effects)> {
        let may = &self.model[fault];
        if in_reference && may.hazards.is_empty() && may.ignores.is_empty() {
            return None;
        }
        let known = match self.reference {
            Some(reference) if in_reference => active_hazards(&self.effects(reference, fault)),
            _ => BTreeSet::new(),
        };
        for state in self.parked_states() {
            if !self.analysis.asked_in(state).contains(&fault) {
                continue;
            }
            let effects = self.effects(state, fault);
            let new = !effects.runs_unasked.is_empty() || !active_hazards(&effects).is_subset(&known);
            if new || !in_reference && matters(&effects) {
                return Some((state, effects));
            }
        }
        None
    }

    fn grouped(&mut self, all: Vec<(StateIx, Effects)>) -> Vec<Group> {
        let mut groups: Vec<Group> = Vec::new();
        for (state, effects) in all {
            let mut rows = self.aspect_rows(&effects);
            rows.retain(|(aspect, _)| *aspect != Aspect::Handbook);
            let read = text_of(&rows);
            match groups.iter_mut().find(|g| g.state == state && g.read == read) {
                Some(group) => group.effects.push(effects),
                None => groups.push(Group { state, effects: vec![effects], rows, read }),
            }
        }
        groups
    }

    /// The table, and the panel after its first fault, where that takes or falsifies something there.
    fn told_and_drawn(&mut self, mut group: Group) -> Vec<Block> {
        let model = self.model;
        let likely = |e: &Effects| {
            e.question.faults.iter().filter_map(|f| model[*f].likely.or(self.item_likely(*f))).fold(0.0, f64::max)
        };
        group.effects.sort_by(|a, b| likely(b).total_cmp(&likely(a)));
        let (state, first) = (group.state, group.effects.first().cloned());
        let table = self.failure_table(group);
        let figure = first.and_then(|effects| self.after_figure(&table.id, state, &effects));
        std::iter::once(Block::Table(table)).chain(figure).collect()
    }

    fn failure_table(&mut self, group: Group) -> Table {
        let model = self.model;
        let faults = group.faults();
        let id = self.failure_id(&faults, group.state);
        let clauses = faults.iter().map(|f| self.clause(*f)).collect();
        let state = self.words.state(group.state);
        let caption = say("fail-caption", &[("part", joined(clauses, ", or if ").into()), ("state", state.into())]);
        let subject = Subject::Faults {
            faults: faults.iter().map(|f| model.fault_id(*f)).collect(),
            state: model[group.state].id.to_string(),
        };
        let rows = self.whole_rows(&group).into_iter().map(|(aspect, lines)| row(aspect, lines)).collect();
        let columns = vec![Column::Aspect, Column::Effect];
        Table { id, kind: TableKind::Failure, subject, caption, columns, rows }
    }

    fn item_likely(&self, fault: FaultIx) -> Option<f64> {
        let item = self.model.item_of(self.model[fault].of)?;
        (self.model[fault].id.as_str() == "fails").then_some(self.model[item].likely)?
    }

    /// The table is called by the first of its faults; a link to one of the others leads to it too.
    fn failure_id(&mut self, faults: &[FaultIx], state: StateIx) -> String {
        let place = if Some(state) == self.reference { String::new() } else { format!("/in/{}", self.model[state].id) };
        let name = |f: &FaultIx| {
            let name = self.model.fault_id(*f);
            format!("fail/{}{place}", name.strip_suffix(":fails").unwrap_or(&name).replace(':', "/"))
        };
        let names: Vec<String> = faults.iter().map(name).collect();
        let id = self.take_id(names.first().map_or("fail", String::as_str));
        names.into_iter().skip(1).for_each(|other| self.also_called(other, &id));
        id
    }

    /// The rows of a group with the chains of causes that all its faults share, and what is out of sight.
    fn whole_rows(&self, group: &Group) -> AspectRows {
        let mut rows = group.rows.clone();
        for (aspect, lines) in &mut rows {
            let (phrase, pick): (_, Pick) = match aspect {
                Aspect::False => ("error-by-way", |e| &e.misleads),
                Aspect::Lost => ("loss-by-way", |e| &e.lost),
                _ => continue,
            };
            for line in lines.iter_mut() {
                self.add_causes(line, group, phrase, pick);
            }
        }
        for (_, lines) in rows.iter_mut().filter(|(aspect, _)| says_of_things(*aspect)) {
            *lines = self.lines_alike(std::mem::take(lines));
        }
        let hidden: [(Aspect, Pick); 2] = [(Aspect::False, |e| &e.misleads), (Aspect::Lost, |e| &e.lost)];
        for (aspect, pick) in hidden {
            let Some(line) = self.out_of_sight(group, pick) else { continue };
            let at = rows.iter().position(|(a, _)| *a >= aspect).unwrap_or(rows.len());
            match rows.get_mut(at) {
                Some((found, lines)) if *found == aspect => lines.push(line),
                _ => rows.insert(at, (aspect, vec![line])),
            }
        }
        let gone = self.gone_lines_of(group);
        let at = rows.iter().position(|(a, _)| *a > Aspect::GoneItself).unwrap_or(rows.len());
        rows.splice(at..at, (!gone.is_empty()).then_some((Aspect::GoneItself, gone)));
        let handbook = self.handbook_lines(&group.faults());
        rows.extend((!handbook.is_empty()).then_some((Aspect::Handbook, handbook)));
        rows
    }

    /// What is gone itself: by name of one fault, by clause of several.
    fn gone_lines_of(&self, group: &Group) -> Vec<Line> {
        if let [effects] = group.effects.as_slice() {
            return self.gone_itself(effects).into_iter().map(|n| self.bare_line(n)).collect();
        }
        let line = |effects: &Effects| {
            let gone = self.gone_itself(effects);
            let clauses = effects.question.faults.iter().map(|f| self.clause(*f)).collect();
            let part = joined(clauses, " and ");
            let says = say("gone-if", &[("part", part.into()), ("things", self.words.nodes(&gone).into())]);
            (!gone.is_empty()).then_some(Line { node: None, says })
        };
        group.effects.iter().filter_map(line).collect()
    }

    fn add_causes(&self, line: &mut Line, group: &Group, phrase: &'static str, pick: Pick) {
        let Some(node) = line.node else { return };
        let failed = self.failed_nodes(group);
        let chain = |e: &Effects| -> Option<Vec<NodeIx>> {
            let affected = pick(e).iter().find(|a| a.node == node)?;
            let on_way = |n: NodeIx| affected.because.contains(&n) || failed.contains(&n);
            let goes_along =
                |n: NodeIx| self.model.item_of(n).map(|i| self.model[i].node).is_some_and(|i| i != n && on_way(i));
            Some(affected.because.iter().copied().filter(|n| !failed.contains(n) && !goes_along(*n)).collect())
        };
        let mut chains = group.effects.iter().map(chain);
        let Some(Some(first)) = chains.next() else { return };
        if first.is_empty() || chains.any(|c| c.as_ref() != Some(&first)) {
            return;
        }
        let sentence = say(phrase, &[("things", self.words.nodes(&first).into())]);
        let only_name = matches!(line.says.as_slice(), [Inline::Name { .. }]);
        if only_name {
            line.says.push(Inline::text(":"));
        }
        then_sentence(&mut line.says, sentence);
    }

    fn failed_nodes(&self, group: &Group) -> BTreeSet<NodeIx> {
        group.effects.iter().flat_map(|e| e.question.faults.iter().map(|f| self.model[*f].of)).collect()
    }

    /// What lies behind and is lost, or false, with each of the faults.
    fn out_of_sight(&self, group: &Group, pick: Pick) -> Option<Line> {
        let lost = |e: &Effects| -> BTreeSet<NodeIx> { pick(e).iter().map(|a| a.node).collect() };
        let mut sets = group.effects.iter().map(lost);
        let first = sets.next()?;
        let common: Vec<NodeIx> = sets.fold(first, |a, b| a.intersection(&b).copied().collect()).into_iter().collect();
        let hidden = told(self, &common, false);
        if hidden.is_empty() {
            return None;
        }
        let phrase = if group.effects.len() > 1 { "out-of-sight-each" } else { "out-of-sight" };
        Some(Line { node: None, says: say(phrase, &[("things", self.words.nodes(&hidden).into())]) })
    }

    /// Faults of the whole aircraft that take nothing but the thing itself, each with how it is known.
    pub fn nothing_lost(&mut self) -> Vec<Block> {
        let Some(reference) = self.reference else { return Vec::new() };
        let quiet: Vec<Effects> = self.single_faults(reference).iter().filter(|e| !matters(e)).cloned().collect();
        let rows: Vec<Row> = quiet.iter().map(|e| self.quiet_row(e)).collect();
        let caption = say("caption-nothing", &[("state", self.words.state(reference).into())]);
        let columns = vec![Column::Fault, Column::HowYouKnow];
        self.table_or_none("nothing-lost", TableKind::NothingLost, caption, columns, rows)
    }

    fn quiet_row(&self, effects: &Effects) -> Row {
        let faults = &effects.question.faults;
        let clauses: Vec<Inlines> = faults.iter().map(|f| self.clause(*f)).collect();
        let about = faults.iter().map(|f| self.model.fault_id(*f)).collect::<Vec<_>>().join("+");
        let how = Cell { mark: None, lines: self.how_you_know(effects) };
        Row { about, cells: vec![Cell::line(joined(clauses, " and ")), how] }
    }
}

/// Rows whose lines are a thing and what is said of it.
fn says_of_things(aspect: Aspect) -> bool {
    matches!(aspect, Aspect::False | Aspect::Lost | Aspect::Weakened)
}

fn active_hazards(effects: &Effects) -> BTreeSet<(FaultIx, usize)> {
    effects.hazards.iter().filter(|h| h.active).map(|h| (h.fault, h.hazard)).collect()
}

fn row(aspect: Aspect, lines: Vec<Line>) -> Row {
    let heading = Cell::line(vec![Inline::text(aspect.heading())]);
    let effect = Cell { mark: None, lines: lines.into_iter().map(|l| l.says).collect() };
    Row { about: aspect.heading().to_lowercase().replace(' ', "-"), cells: vec![heading, effect] }
}
