//! All that faults do in one state, put together.

use super::Analysis;
use super::bits::Bits;
use super::causes::Causes;
use super::lanes::{Case, Lanes, Pass, lanes_of, not};
use super::moment::{Moment, Stood};
use super::restore::Search;
use super::view::View;
use crate::analyse::answer::{Affected, Effects, NoBackup, Question, Start, StillTells};
use crate::model::{FaultIx, How, InformationIx, NodeIx, NodeKind, StateIx};
use std::collections::BTreeSet;

/// A question with its moments.
struct Struck<'a> {
    question: Question,
    /// The last state that was reached.
    state: StateIx,
    reached: bool,
    before: &'a Moment,
    after: &'a Moment,
    /// Works with the faults and not without.
    unasked: Bits,
    no_backup: Vec<NoBackup>,
    /// What moves may restore.
    hope: Bits,
}

impl Analysis<'_> {
    /// Answers one question.
    pub(super) fn answer(&self, question: &Question) -> Effects {
        let (before, struck) = match question.start {
            Start::Running => self.struck_running(question),
            Start::Cold => self.struck_cold(question),
        };
        let (mut after, mut without) = (struck.moment.clone(), before.clone());
        for one in &question.then {
            after = self.after_moves(&after, &question.faults, &[*one]);
            without = self.after_moves(&without, &[], &[*one]);
        }
        let unasked = after.outcome.works.minus(&without.outcome.works);
        let alone = self.alone(struck.state, &before);
        let no_backup = self.no_backup(&before, &alone, &[(&question.faults, &after)]).pop().unwrap_or_default();
        let place = self.model[struck.state].place;
        let search = Search { place, faults: &question.faults, before: &before, after: &after };
        let hope = if self.is_offered(&search) { self.hopes(&[search]).pop() } else { None }.unwrap_or_default();
        let (state, reached, before, after) = (struck.state, struck.reached, &before, &after);
        self.put_together(Struck {
            question: question.clone(),
            state,
            reached,
            before,
            after,
            unasked,
            no_backup,
            hope,
        })
    }

    /// The state stands; controls are set; then the faults strike.
    fn struck_running(&self, question: &Question) -> (Moment, Stood) {
        let stood = &self.states[question.state.usize()];
        let before = if question.set.is_empty() {
            stood.moment.clone()
        } else {
            self.after_moves(&stood.moment, &[], &question.set)
        };
        let damage = self.damage(&question.faults, &before.setting);
        let moment = self.settle(before.setting.clone(), damage, &before.outcome.works);
        (before, Stood { state: stood.state, reached: stood.reached, moment })
    }

    /// The faults are there through the whole line of states; where it breaks off, so does the comparison.
    fn struck_cold(&self, question: &Question) -> (Moment, Stood) {
        let struck = self.line(question.state, &question.faults, &question.set);
        let before = self.line(struck.state, &[], if struck.reached { &question.set } else { &[] });
        (before.moment, struck)
    }

    /// Each asked fault alone, from running; what can be is solved in lanes.
    pub(super) fn answer_each(&self, state: StateIx) -> Vec<Effects> {
        let stood = &self.states[state.usize()];
        let before = &stood.moment;
        let faults: Vec<[FaultIx; 1]> = self.asked_in(state).into_iter().map(|f| [f]).collect();
        let moments = self.struck(before, &faults);
        let alone = self.alone(stood.state, before);
        let of_fault: Vec<(&[FaultIx], &Moment)> = faults.iter().map(<[_; 1]>::as_slice).zip(&moments).collect();
        let no_backup = self.no_backup(before, &alone, &of_fault);
        let mut hopes = self.hopes_of_each(stood, &of_fault).into_iter();
        let mut effects = Vec::with_capacity(faults.len());
        for ((faults, after), no_backup) in of_fault.into_iter().zip(no_backup) {
            let question = Question::faults(state, faults.to_vec());
            let unasked = after.outcome.works.minus(&before.outcome.works);
            let hope = hopes.next().unwrap_or_default();
            let (state, reached) = (stood.state, stood.reached);
            effects.push(self.put_together(Struck {
                question,
                state,
                reached,
                before,
                after,
                unasked,
                no_backup,
                hope,
            }));
        }
        effects
    }

    /// A moment with each fault set instead of none.
    fn struck(&self, before: &Moment, faults: &[[FaultIx; 1]]) -> Vec<Moment> {
        let setting = &before.setting;
        let damages: Vec<_> = faults.iter().map(|f| self.damage(f, setting)).collect();
        let start = &before.outcome.works;
        let cases: Vec<Case> = damages.iter().map(|damage| Case { setting, damage, more: None, start }).collect();
        let outcomes = self.outcomes(&cases);
        let moment = |(damage, outcome)| Moment { setting: setting.clone(), damage, outcome };
        damages.into_iter().zip(outcomes).map(moment).collect()
    }

    fn hopes_of_each(&self, stood: &Stood, of_fault: &[(&[FaultIx], &Moment)]) -> Vec<Bits> {
        let (place, before) = (self.model[stood.state].place, &stood.moment);
        let searches = of_fault.iter().map(|(faults, after)| Search { place, faults, before, after });
        let (offered, searches): (Vec<usize>, Vec<Search>) =
            searches.enumerate().filter(|(_, s)| self.is_offered(s)).unzip();
        let mut hopes = vec![Bits::default(); of_fault.len()];
        for (at, hope) in offered.into_iter().zip(self.hopes(&searches)) {
            hopes[at] = hope;
        }
        hopes
    }

    fn put_together(&self, case: Struck) -> Effects {
        let Struck { question, state, reached, before, after, unasked, no_backup, hope } = case;
        let (faults, place) = (question.faults.clone(), self.model[state].place);
        let lost = self.lost(&faults, before, after);
        let looks_dead: Vec<NodeIx> = lost.iter().filter(|l| self.looks_dead(l)).map(|l| l.node).collect();
        let shown = self.shown(&faults, before, after);
        let search = Search { place, faults: &faults, before, after };
        Effects {
            reached,
            before: before.outcome.solution(),
            after: after.outcome.solution(),
            situation: after.setting.situation.clone(),
            misleads: self.misled(&faults, after),
            lost_later: self.lost_later(&faults, before, after),
            weakened: self.weakened(&faults, after),
            no_backup,
            still_tells: self.still_tells(before, after),
            how_you_know: self.how_you_know(&search, &shown.shows, !looks_dead.is_empty()),
            shows: shown.shows,
            already_on: shown.already_on,
            no_longer_warns: shown.no_longer_warns,
            looks_dead,
            stops: self.stops(&search, &unasked),
            runs_unasked: unasked.iter().collect(),
            restores: self.restores(&search, &hope),
            hazards: self.hazards(&faults, place, after),
            lost,
            question,
        }
    }

    /// What worked and does not, without what the faults themselves name.
    fn lost(&self, faults: &[FaultIx], before: &Moment, after: &Moment) -> Vec<Affected> {
        let gone = before.outcome.works.minus(&after.outcome.works);
        if gone.is_empty() {
            return Vec::new();
        }
        let (was, now) = (View::as_it_stands(self.model, before), View::as_it_stands(self.model, after));
        let named = Bits::of(self.model.nodes.len(), after.damage.taken.iter().chain(&after.damage.tripped));
        let mut roots = self.roots(faults);
        for fault in faults {
            let damage = self.damage(&[*fault], &after.setting);
            roots.extend(self.named(*fault, damage.taken.iter().chain(&damage.tripped)));
        }
        let causes = Causes::find(&gone, &roots, was, now);
        gone.minus(&named).iter().map(|n| affected(n, &causes)).collect()
    }

    /// What works and is false.
    fn misled(&self, faults: &[FaultIx], after: &Moment) -> Vec<Affected> {
        let gone = after.outcome.works.minus(&after.outcome.truth);
        if gone.is_empty() {
            return Vec::new();
        }
        let (was, now) = (View::as_it_stands(self.model, after), View::in_truth(self.model, after));
        let mut roots = self.roots(faults);
        for fault in faults {
            let damage = self.damage(&[*fault], &after.setting);
            roots.extend(self.named(*fault, damage.false_nodes.iter().chain(&damage.trapped)));
        }
        let causes = Causes::find(&gone, &roots, was, now);
        gone.iter().map(|n| affected(n, &causes)).collect()
    }

    fn roots(&self, faults: &[FaultIx]) -> Vec<(NodeIx, Option<NodeIx>)> {
        faults.iter().map(|f| (self.model[*f].of, None)).collect()
    }

    /// What a fault names, each with the node that it comes by: its item if that is named too, else the fault's.
    fn named<'a>(&self, fault: FaultIx, nodes: impl Iterator<Item = &'a NodeIx>) -> Vec<(NodeIx, Option<NodeIx>)> {
        let (of, nodes) = (self.model[fault].of, nodes.collect::<Vec<_>>());
        let by = |node: NodeIx| match self.model[node].kind {
            NodeKind::Function(item, _) if nodes.contains(&&self.model[item].node) => self.model[item].node,
            _ => of,
        };
        nodes.iter().filter(|n| ***n != of).map(|n| (**n, Some(by(**n)))).collect()
    }

    fn weakened(&self, faults: &[FaultIx], after: &Moment) -> Vec<NodeIx> {
        let weak: BTreeSet<NodeIx> = self.entries(faults, after, |f| &f.weakens).collect();
        weak.into_iter().filter(|n| after.outcome.works.has(*n)).collect()
    }

    /// Each piece of information of which a source is gone or false, with the sources that remain: direct ones first, then as the author
    /// prefers, then in order.
    fn still_tells(&self, before: &Moment, after: &Moment) -> Vec<StillTells> {
        let gone = before.outcome.truth.minus(&after.outcome.truth);
        let told = gone.iter().flat_map(|n| self.model[n].tells.iter().map(|t| t.information));
        let touched: BTreeSet<InformationIx> = told.collect();
        touched.into_iter().map(|information| self.sources_of(information, after)).collect()
    }

    fn sources_of(&self, information: InformationIx, after: &Moment) -> StillTells {
        let prefer = &self.model[information].prefer;
        let mut sources = Vec::new();
        for node in after.outcome.truth.iter() {
            let tells = self.model[node].tells.iter().enumerate().filter(|(_, t)| t.information == information);
            sources.extend(tells.map(|(i, t)| (t.how, node, i)));
        }
        let rank = |n: &NodeIx| prefer.iter().position(|p| p == n).unwrap_or(prefer.len());
        sources.sort_by_key(|(how, node, i)| (*how == How::Indirectly, rank(node), *node, *i));
        StillTells { information, sources: sources.into_iter().map(|(_, node, i)| (node, i)).collect() }
    }

    /// What each fault takes, in lanes, nothing else worked out.
    pub(super) fn taken_by(&self, state: StateIx, faults: &[FaultIx]) -> Vec<Vec<NodeIx>> {
        let before = &self.states[state.usize()].moment;
        let damages: Vec<_> = faults.iter().map(|f| self.damage(&[*f], &before.setting)).collect();
        let (setting, start) = (&before.setting, &before.outcome.works);
        let cases: Vec<Case> = damages.iter().map(|damage| Case { setting, damage, more: None, start }).collect();
        let mut lanes = Lanes::<4>::new(&self.graph, self.rules);
        let mut taken = vec![Vec::new(); faults.len()];
        for (batch, chunk) in cases.chunks(Lanes::<4>::LANES).enumerate() {
            lanes.solve(self.model, chunk, Pass::Works);
            for node in before.outcome.works.iter() {
                let gone = lanes_of(not(lanes.works(node))).take_while(|lane| *lane < chunk.len());
                gone.for_each(|lane| taken[batch * Lanes::<4>::LANES + lane].push(node));
            }
        }
        taken
    }
}

fn affected(node: NodeIx, causes: &Causes) -> Affected {
    Affected { node, because: causes.chain(node), misses: causes.misses(node) }
}
