//! "You see this, suspect that": single faults by what they show in the reference state.

use super::lines;
use super::rows::told;
use crate::analyse::answer::{Effects, Indication};
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::compose::say::{joined, quoted};
use crate::doc::{Block, Cell, Column, Inlines, Row, TableKind};
use crate::model::{FaultIx, NodeIx};
use std::collections::{BTreeMap, BTreeSet};

/// What is seen of a fault; two faults of one row have the same.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Signs {
    shows: Vec<Indication>,
    dead: Vec<NodeIx>,
    wrong: Vec<NodeIx>,
    /// Where there is nothing of these: what is noticed, and what is gone and can look alive.
    else_noticed: Option<String>,
    else_alive: Vec<NodeIx>,
}

/// One row in the making: a fault each, with what is gone in sight and can look alive.
struct Alike {
    signs: Signs,
    faults: Vec<(FaultIx, Vec<NodeIx>)>,
    /// What is noticed of them.
    cues: BTreeMap<FaultIx, String>,
}

impl Alike {
    /// What is gone with each of the faults and can look alive.
    fn common(&self) -> Vec<NodeIx> {
        let mut sets = self.faults.iter().map(|(_, alive)| alive.clone());
        let first = sets.next().unwrap_or_default();
        sets.fold(first, |all, set| all.into_iter().filter(|n| set.contains(n)).collect())
    }
}

impl Composer<'_> {
    /// The faults of the reference state by what is seen of them; those of which nothing is seen stand in no row.
    pub fn suspects(&mut self) -> Vec<Block> {
        let Some(reference) = self.reference else { return Vec::new() };
        let effects = self.single_faults(reference).to_vec();
        let mut rows: Vec<Alike> = Vec::new();
        for one in &effects {
            let Some(fault) = one.question.faults.first() else { continue };
            let (signs, alive) = self.signs(one);
            if signs.is_nothing() {
                continue;
            }
            let cue = self.model.cue_of(*fault, &one.situation.positions).map(|cue| (*fault, cue.to_owned()));
            match rows.iter_mut().find(|r| r.signs == signs) {
                Some(row) => {
                    row.faults.push((*fault, alive));
                    row.cues.extend(cue);
                }
                None => rows.push(Alike { signs, faults: vec![(*fault, alive)], cues: cue.into_iter().collect() }),
            }
        }
        rows.sort_by_key(|r| r.signs.order());
        let analysis = self.analysis;
        for row in &mut rows {
            row.faults.sort_by(|a, b| analysis.likely(b.0).total_cmp(&analysis.likely(a.0)));
        }
        let rows: Vec<Row> = rows.iter().map(|r| self.suspect_row(r)).collect();
        let caption = say("caption-suspects", &[("state", self.words.state(reference).into())]);
        let columns = vec![Column::Seen, Column::CanBe, Column::Apart];
        self.table_or_none("suspects", TableKind::Suspects, caption, columns, rows)
    }

    fn signs(&self, effects: &Effects) -> (Signs, Vec<NodeIx>) {
        let gone: Vec<NodeIx> = effects.before.works.difference(&effects.after.works).copied().collect();
        let gone = told(self, &gone, true);
        let lost: BTreeSet<NodeIx> = effects.lost.iter().map(|l| l.node).collect();
        let looks_dead = |n: &NodeIx| {
            if lost.contains(n) { effects.looks_dead.contains(n) } else { self.can_look_dead(*n) }
        };
        let (dead, alive): (Vec<NodeIx>, Vec<NodeIx>) = gone.into_iter().partition(looks_dead);
        let wrong: Vec<NodeIx> = effects.misleads.iter().map(|a| a.node).collect();
        let wrong = told(self, &wrong, true);
        let fault = effects.question.faults.first();
        let cue = fault.and_then(|f| self.model.cue_of(*f, &effects.situation.positions)).map(str::to_owned);
        let plain = effects.shows.is_empty() && dead.is_empty() && wrong.is_empty();
        let (else_noticed, else_alive) = if plain { (cue, alive.clone()) } else { (None, Vec::new()) };
        (Signs { shows: effects.shows.clone(), dead, wrong, else_noticed, else_alive }, alive)
    }

    /// A thing that fails by itself may look as it does when a feed is gone.
    fn can_look_dead(&self, node: NodeIx) -> bool {
        self.model[node].on_loss.iter().any(|look| look.looks.tells())
    }

    fn suspect_row(&self, row: &Alike) -> Row {
        let clauses = row.faults.iter().map(|(f, _)| self.clause(*f)).collect();
        let about = row.faults.iter().map(|(f, _)| self.model.fault_id(*f)).collect::<Vec<_>>().join(" ");
        Row { about, cells: vec![lines(self.seen_lines(row)), lines(clauses), self.apart(row)] }
    }

    fn seen_lines(&self, row: &Alike) -> Vec<Inlines> {
        let signs = &row.signs;
        let mut says: Vec<Inlines> = signs.shows.iter().map(|i| self.indication_line(*i)).collect();
        let mut list = |phrase, nodes: &[NodeIx]| {
            let things = self.words.nodes(nodes);
            says.extend((!things.is_empty()).then(|| say(phrase, &[("things", things.into())])));
        };
        list("looks-dead", &signs.dead);
        list("shows-false", &signs.wrong);
        list("looks-alive-still", &row.common());
        let noticed = signs.else_noticed.as_ref().zip(row.faults.first());
        says.extend(noticed.map(|(cue, (fault, _))| self.cue_line(*fault, cue)));
        says
    }

    fn cue_line(&self, fault: FaultIx, cue: &str) -> Inlines {
        say("cue", &[("text", quoted(format!("{}/cue", self.model.fault_id(fault)), cue).into())])
    }

    /// What else differs: things in sight that are gone and can look alive, and what is noticed.
    fn apart(&self, row: &Alike) -> Cell {
        if row.faults.len() == 1 {
            return Cell::line(say("apart-alone", &[]));
        }
        let common = row.common();
        let mut groups: Vec<(Vec<FaultIx>, Vec<NodeIx>)> = Vec::new();
        for (fault, alive) in &row.faults {
            let more: Vec<NodeIx> = alive.iter().copied().filter(|n| !common.contains(n)).collect();
            match groups.iter_mut().find(|(_, m)| *m == more) {
                Some((faults, _)) => faults.push(*fault),
                None => groups.push((vec![*fault], more)),
            }
        }
        let mut says = Vec::new();
        for (faults, more) in groups.iter().filter(|(_, more)| !more.is_empty()) {
            let clauses = joined(faults.iter().map(|f| self.clause(*f)).collect(), ", or if ");
            let things = self.words.nodes(more);
            says.push(say("apart-gone", &[("part", clauses.into()), ("things", things.into())]));
        }
        for (fault, _) in row.faults.iter().filter(|_| row.signs.else_noticed.is_none()) {
            if let Some(cue) = row.cues.get(fault) {
                let part = joined(vec![self.clause(*fault), self.cue_line(*fault, cue)], ": ");
                says.push(say("apart-if", &[("part", part.into())]));
            }
        }
        if says.is_empty() { Cell::line(say("apart-nothing", &[])) } else { lines(says) }
    }
}

impl Signs {
    fn is_nothing(&self) -> bool {
        let none = self.shows.is_empty() && self.dead.is_empty() && self.wrong.is_empty();
        none && self.else_noticed.is_none() && self.else_alive.is_empty()
    }

    /// Lights first, then gauges, then what looks dead, then what is false.
    fn order(&self) -> impl Ord + use<> {
        let emptiness = [self.shows.is_empty(), self.dead.is_empty(), self.wrong.is_empty()];
        (emptiness, self.clone())
    }
}
