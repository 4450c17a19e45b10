//! The smallest sets of control moves after which something works again, or stops.

use super::Analysis;
use super::bits::Bits;
use super::damage::Damage;
use super::hangs::distances;
use super::lanes::Case;
use super::moment::{Moment, Outcome, put};
use super::setting::Setting;
use crate::analyse::answer::{Move, Restore, Situation};
use crate::model::{Condition, Fault, FaultIx, ItemIx, Model, NodeIx, Place, PositionIx, When};

use std::collections::BTreeMap;

/// More moves than these are not tried three at a time.
const MOST_MOVES: usize = 32;

/// A search from one moment.
pub(super) struct Search<'a> {
    /// Where the aircraft is.
    pub place: Place,
    /// The faults.
    pub faults: &'a [FaultIx],
    /// Before the faults.
    pub before: &'a Moment,
    /// With them.
    pub after: &'a Moment,
}

/// One way of moving, played to its end.
#[derive(Debug, Clone)]
struct Played {
    faults: Vec<FaultIx>,
    situation: Situation,
    outcome: Outcome,
    loses: bool,
}

/// What is searched for.
#[derive(Debug, Clone)]
struct Hunt {
    /// That it works truly again; else that it stops.
    restores: bool,
    /// These nodes.
    wanted: Bits,
    /// What must go on working truly after every step.
    keep: Bits,
}

/// What is wanted and no part of a set of moves gains.
#[derive(Debug, Clone)]
struct Left {
    /// At all.
    any: Bits,
    /// Exactly: without approximate feeds.
    exactly: Bits,
}

/// One step: a control put somewhere, and whether that ends a cycle.
type Step = (ItemIx, PositionIx, bool);

/// Where controls may come to stand.
struct Possible<'a> {
    /// Where they stand, by item.
    now: &'a [PositionIx],
    /// Where else they may.
    more: Vec<(ItemIx, PositionIx)>,
}

impl<'a> Possible<'a> {
    fn new(model: &Model, setting: &'a Setting, moves: &[Move]) -> Self {
        let mut more: Vec<(ItemIx, PositionIx)> = moves.iter().map(|m| (m.control, m.to)).collect();
        for cycled in moves.iter().filter(|m| m.from == m.to) {
            let positions = model.control(cycled.control).map_or(0, |c| c.positions.len());
            more.extend((0..positions).map(|p| (cycled.control, PositionIx::new(p))));
        }
        for (item, control) in model.controls() {
            for (from, to) in &control.springs_to {
                if setting.at(item) == *from || more.contains(&(item, *from)) {
                    more.push((item, *to));
                }
            }
            if control.off_with.is_some() {
                more.extend([(item, control.forced()), (item, setting.situation.positions[item.usize()])]);
            }
        }
        Self { now: &setting.effective, more }
    }

    fn positions(&self, control: ItemIx) -> impl Iterator<Item = PositionIx> {
        let more = self.more.iter().filter(move |(item, _)| *item == control).map(|(_, position)| *position);
        self.now.get(control.usize()).copied().into_iter().chain(more)
    }

    fn may_meet(&self, condition: &Condition) -> bool {
        self.positions(condition.control).any(|p| condition.positions.contains(&p))
    }

    fn must_meet(&self, condition: &Condition) -> bool {
        self.positions(condition.control).all(|p| condition.positions.contains(&p))
    }

    /// Whether an entry of a fault counts. At best: what takes, only if nothing can end its condition; what ignores, if it may. At worst
    /// the other way round.
    fn counts(&self, when: &When, takes: bool, best: bool) -> bool {
        when.0.iter().all(|c| if takes == best { self.must_meet(c) } else { self.may_meet(c) })
    }
}

impl Analysis<'_> {
    /// The most (or least) that any use of these moves could make work.
    fn bound(&self, search: &Search, moves: &[Move], best: bool) -> (Setting, Damage) {
        let possible = Possible::new(self.model, &search.after.setting, moves);
        (self.setting_at(&possible, &search.after.setting, best), self.damage_at(&possible, search, moves, best))
    }

    fn setting_at(&self, possible: &Possible, setting: &Setting, best: bool) -> Setting {
        let met = |c: &Condition| if best { possible.may_meet(c) } else { possible.must_meet(c) };
        Setting { met: self.graph.conditions.iter().map(met).collect(), ..setting.clone() }
    }

    fn damage_at(&self, possible: &Possible, search: &Search, moves: &[Move], best: bool) -> Damage {
        let mended = |f: &FaultIx| {
            let mut cycles = moves.iter().filter(|m| m.from == m.to).filter_map(|m| self.model.control(m.control));
            cycles.any(|c| self.is_mended_by(*f, c))
        };
        let left: Vec<FaultIx> = search.faults.iter().copied().filter(|f| !mended(f)).collect();
        let counts = |when: &When, takes| possible.counts(when, takes, best);
        Damage::of(self.model, &left, self.rules, &counts)
    }

    /// By search (all in one place and setting): what was true before and is not, and may be again. One bound on the controls serves all.
    pub(super) fn hopes(&self, searches: &[Search]) -> Vec<Bits> {
        let Some(first) = searches.first() else { return Vec::new() };
        let setting = &first.after.setting;
        let mut moves = self.moves(first.place, setting, &Damage::default(), false);
        let cycles = |s: &Search| self.cycles(s.place, s.after, s.faults);
        moves.extend(searches.iter().flat_map(cycles));
        let possible = Possible::new(self.model, setting, &moves);
        let damages: Vec<Damage> = searches.iter().map(|s| self.damage_at(&possible, s, &cycles(s), true)).collect();
        let setting = self.setting_at(&possible, setting, true);
        let mut cases: Vec<Case> = Vec::with_capacity(searches.len());
        for (search, damage) in searches.iter().zip(&damages) {
            cases.push(Case { setting: &setting, damage, more: None, start: &search.after.outcome.works });
        }
        let outcomes = self.outcomes(&cases);
        searches.iter().zip(&outcomes).map(|(s, o)| s.missing().both(&o.truth)).collect()
    }

    fn restoring_moves(&self, search: &Search) -> Vec<Move> {
        let mut moves = self.moves(search.place, &search.after.setting, &search.after.damage, false);
        moves.extend(self.cycles(search.place, search.after, search.faults));
        moves
    }

    /// Whether moves are offered at all: something is gone, and no fault has a hazard without saying that it is restorable.
    pub(super) fn is_offered(&self, search: &Search) -> bool {
        let harmless = |f: &Fault| f.hazards.is_empty() || f.restorable;
        !search.missing().is_empty() && search.faults.iter().all(|f| harmless(&self.model[*f]))
    }

    /// The smallest sets of moves after which some of `hope` works truly again.
    pub(super) fn restores(&self, search: &Search, hope: &Bits) -> Vec<Restore> {
        if hope.is_empty() {
            return Vec::new();
        }
        let moves = self.restoring_moves(search);
        let keep = search.after.outcome.truth.clone();
        self.smallest(search, moves, &Hunt { restores: true, wanted: hope.clone(), keep })
    }

    /// The smallest sets of moves that stop something that runs unasked and lose nothing else. Pulling a breaker counts.
    pub(super) fn stops(&self, search: &Search, unasked: &Bits) -> Vec<Restore> {
        if unasked.is_empty() {
            return Vec::new();
        }
        let moves = self.moves(search.place, &search.after.setting, &search.after.damage, true);
        let keep = search.after.outcome.truth.minus(unasked);
        let hunt = Hunt { restores: false, wanted: unasked.clone(), keep };
        let mut found = self.smallest(search, moves.clone(), &hunt);
        let stopped: Vec<NodeIx> = found.iter().flat_map(|r| r.what.iter().copied()).collect();
        let wanted = unasked.minus(&Bits::of(self.model.nodes.len(), &stopped));
        if !wanted.is_empty() {
            let hunt = Hunt { keep: Bits::new(self.model.nodes.len()), wanted, ..hunt };
            let costly = self.of_size(search, &moves, &hunt, &[], 1);
            found.extend(costly.into_iter().map(|r| Restore { costs: true, ..r }));
        }
        found
    }

    /// The smallest sets of moves that gain something wanted: what a part of a set gains is not told of the set. A thing that single moves
    /// gain is searched for further only among the other moves, if their bound leaves hope.
    fn smallest(&self, search: &Search, moves: Vec<Move>, hunt: &Hunt) -> Vec<Restore> {
        let Some((hunt, moves)) = self.narrowed(search, hunt, moves) else { return Vec::new() };
        let mut found = self.of_size(search, &moves, &hunt, &[], 1);
        let mut groups: BTreeMap<Vec<Move>, Vec<NodeIx>> = BTreeMap::new();
        for node in hunt.wanted.iter() {
            let gains = found.iter().filter(|r| r.what.contains(&node) && !r.approximate.contains(&node));
            groups.entry(gains.flat_map(|r| r.moves.clone()).collect()).or_default().push(node);
        }
        let singles = found.clone();
        for (done, nodes) in groups {
            let others = moves.iter().filter(|m| !done.contains(m)).copied().collect();
            let hunt = Hunt { wanted: Bits::of(self.model.nodes.len(), &nodes), ..hunt.clone() };
            let Some((hunt, moves)) = self.narrowed(search, &hunt, others) else { continue };
            let mut so_far = singles.clone();
            for size in 2..=if moves.len() > MOST_MOVES { 2 } else { 3 } {
                so_far.extend(self.of_size(search, &moves, &hunt, &so_far, size));
            }
            for restore in so_far.drain(singles.len()..) {
                merge(&mut found, restore);
            }
        }
        found.sort_by_key(|r| r.moves.len());
        found
    }

    /// What of the wanted the bound of the moves leaves hope for, and the moves that may help; nothing where there is no hope.
    fn narrowed(&self, search: &Search, hunt: &Hunt, moves: Vec<Move>) -> Option<(Hunt, Vec<Move>)> {
        let left = Left { any: hunt.wanted.clone(), exactly: hunt.wanted.clone() };
        let (left, moves) = self.hopeful(search, hunt, vec![(left, moves)]).pop()?;
        let chosen = if hunt.restores {
            self.useful(search, &left.any, &moves)
        } else {
            let far = self.upstream(search, &left.any);
            moves.iter().copied().filter(|m| far[self.model[m.control].node.usize()].is_some()).collect()
        };
        Some((Hunt { wanted: left.any, ..hunt.clone() }, self.with_protecting(search, &hunt.keep, chosen, &moves)))
    }

    /// The chosen moves with those of all that may keep up what the chosen ones put at risk.
    fn with_protecting(&self, search: &Search, keep: &Bits, mut chosen: Vec<Move>, all: &[Move]) -> Vec<Move> {
        loop {
            let (setting, damage) = self.bound(search, &chosen, false);
            let start = &search.after.outcome.works;
            let case = Case { setting: &setting, damage: &damage, more: None, start };
            let at_worst = self.outcomes(&[case]).pop().unwrap_or_default();
            let protecting = self.useful(search, &keep.minus(&at_worst.truth), all);
            let more = |m: &Move| chosen.contains(m) || protecting.contains(m);
            let then: Vec<Move> = all.iter().copied().filter(more).collect();
            if then.len() == chosen.len() {
                return then;
            }
            chosen = then;
        }
    }

    /// Sets of one size that gain something that none of their parts, found so far, gains.
    fn of_size(&self, search: &Search, moves: &[Move], hunt: &Hunt, found: &[Restore], size: usize) -> Vec<Restore> {
        let sets = subsets(moves, size).into_iter().map(|set| (self.left(hunt, found, &set), set));
        let sets = self.hopeful(search, hunt, sets.filter(|(left, _)| !left.exactly.is_empty()).collect());
        let ways: Vec<Vec<Move>> = sets.iter().flat_map(|(_, set)| orders(set)).collect();
        let played = self.play(search, &ways, &hunt.keep);
        let count = (ways.len() / sets.len().max(1)).max(1);
        let by_set = sets.iter().zip(ways.chunks(count).zip(played.chunks(count)));
        by_set.filter_map(|((left, _), (ways, played))| hunt.best(left, ways, played)).collect()
    }

    /// What is wanted and no part of a set gains.
    fn left(&self, hunt: &Hunt, found: &[Restore], set: &[Move]) -> Left {
        let mut left = Left { any: hunt.wanted.clone(), exactly: hunt.wanted.clone() };
        for part in found.iter().filter(|r| r.moves.iter().all(|m| set.contains(m))) {
            let what = Bits::of(self.model.nodes.len(), &part.what);
            left.exactly = left.exactly.minus(&what.minus(&Bits::of(self.model.nodes.len(), &part.approximate)));
            left.any = left.any.minus(&what);
        }
        left
    }

    /// Sets whose own bound gains something that is left.
    fn hopeful(&self, search: &Search, hunt: &Hunt, sets: Vec<(Left, Vec<Move>)>) -> Vec<(Left, Vec<Move>)> {
        let bounds: Vec<(Setting, Damage)> =
            sets.iter().map(|(_, set)| self.bound(search, set, hunt.restores)).collect();
        let start = &search.after.outcome.works;
        let cases: Vec<Case> =
            bounds.iter().map(|(setting, damage)| Case { setting, damage, more: None, start }).collect();
        let hopes = self.outcomes(&cases);
        let narrowed = sets.into_iter().zip(&hopes).map(|((left, set), outcome)| {
            let gained = hunt.gained(&left, outcome);
            (Left { any: left.any.both(&gained), exactly: left.exactly.both(&gained) }, set)
        });
        narrowed.filter(|(left, _)| !left.exactly.is_empty()).collect()
    }

    /// What `wanted` and the conditions of the faults hang on, by how far it is.
    fn upstream(&self, search: &Search, wanted: &Bits) -> Vec<Option<u32>> {
        let mentioned = |c: &ItemIx| search.faults.iter().any(|f| mentions(&self.model[*f], *c));
        let controls = self.model.controls().map(|(c, _)| c).filter(mentioned).map(|c| self.model[c].node);
        distances(&wanted.iter().chain(controls).collect::<Vec<_>>(), &self.hangs().up)
    }

    /// Moves of controls that `wanted` hangs on (or a fault's own conditions), into a position that meets something not met now.
    fn useful(&self, search: &Search, wanted: &Bits, moves: &[Move]) -> Vec<Move> {
        if wanted.is_empty() {
            return Vec::new();
        }
        let in_faults = |control| search.faults.iter().any(|f| mentions(&self.model[*f], control));
        let far = self.upstream(search, wanted);
        let meets_more = |m: &Move| {
            let now = search.after.setting.at(m.control);
            let here = |c: &&Condition| c.control == m.control;
            let ends: Vec<PositionIx> = self.steps(*m).iter().map(|(_, position, _)| *position).collect();
            let is_half = self.model.control(m.control).is_some_and(|c| c.off_with.is_some());
            let not_now = |c: &Condition| is_half || !c.positions.contains(&now);
            let gains = |c: &Condition| ends.iter().any(|p| c.positions.contains(p)) && not_now(c);
            self.graph.conditions.iter().filter(here).any(gains) || self.carries_halves(m.control)
        };
        let useful = |m: &Move| {
            let upstream = far[self.model[m.control].node.usize()].is_some();
            m.from == m.to || in_faults(m.control) || (upstream && meets_more(m))
        };
        moves.iter().copied().filter(useful).collect()
    }

    fn carries_halves(&self, control: ItemIx) -> bool {
        self.model.controls().any(|(_, c)| c.off_with == Some(control))
    }

    /// Plays ways of moving in lanes, step by step. A way loses if something of `keep` does not work truly after some step.
    fn play(&self, search: &Search, ways: &[Vec<Move>], keep: &Bits) -> Vec<Played> {
        let start = Played {
            faults: search.faults.to_vec(),
            situation: search.after.setting.situation.clone(),
            outcome: search.after.outcome.clone(),
            loses: false,
        };
        let mut played = vec![start; ways.len()];
        let steps: Vec<Vec<Step>> = ways.iter().map(|w| w.iter().flat_map(|m| self.steps(*m)).collect()).collect();
        for at in 0..steps.iter().map(Vec::len).max().unwrap_or(0) {
            let on: Vec<usize> = (0..ways.len()).filter(|w| steps[*w].len() > at && !played[*w].loses).collect();
            for way in &on {
                self.take(&mut played[*way], steps[*way][at]);
            }
            let settings: Vec<Setting> = on.iter().map(|w| self.setting(played[*w].situation.clone())).collect();
            let damage = |(w, setting): (&usize, &Setting)| self.damage(&played[*w].faults, setting);
            let damages: Vec<Damage> = on.iter().zip(&settings).map(damage).collect();
            let parts = on.iter().zip(settings.iter().zip(&damages));
            let case = |(w, (setting, damage)): (&usize, (_, _))| (*w, setting, damage);
            let cases: Vec<Case> = parts
                .map(case)
                .map(|(w, setting, damage)| Case { setting, damage, more: None, start: &played[w].outcome.works })
                .collect();
            for (way, outcome) in on.iter().zip(self.outcomes(&cases)) {
                played[*way].loses = !keep.within(&outcome.truth);
                played[*way].outcome = outcome;
            }
        }
        played
    }

    fn take(&self, played: &mut Played, (control, position, mends): Step) {
        put(&mut played.situation, &[(control, position)]);
        if let Some(control) = self.model.control(control).filter(|_| mends) {
            played.faults.retain(|f| !self.is_mended_by(*f, control));
        }
    }

    /// A move in steps: a cycle goes away and comes back; a position that does not stay falls back.
    fn steps(&self, m: Move) -> Vec<Step> {
        let Some(control) = self.model.control(m.control) else { return Vec::new() };
        if m.from == m.to {
            let others = || (0..control.positions.len()).map(PositionIx::new).filter(|p| *p != m.from);
            let away = others().find(|p| !control.conducts_in.contains(p)).or_else(|| others().next());
            return away.into_iter().map(|p| (m.control, p, false)).chain([(m.control, m.from, true)]).collect();
        }
        let back = control.springs_to.iter().find(|(from, _)| *from == m.to).map(|(_, to)| (m.control, *to, false));
        std::iter::once((m.control, m.to, false)).chain(back).collect()
    }
}

impl Hunt {
    /// What a scenario gains.
    fn gained(&self, left: &Left, outcome: &Outcome) -> Bits {
        if self.restores {
            left.any.both(&outcome.truth).either(&left.exactly.both(&outcome.exact).both(&outcome.truth))
        } else {
            left.any.minus(&outcome.works)
        }
    }

    /// Of the orders of a set, the first that loses nothing and gains most.
    fn best(&self, left: &Left, ways: &[Vec<Move>], played: &[Played]) -> Option<Restore> {
        let gained = ways.iter().zip(played).filter(|(_, p)| !p.loses);
        let gained = gained.map(|(moves, p)| (moves, p, self.gained(left, &p.outcome)));
        let (moves, played, what) = gained.rev().max_by_key(|(_, _, what)| what.iter().count())?;
        let approximate = if self.restores { what.minus(&played.outcome.exact) } else { Bits::default() };
        let restore = Restore {
            what: what.iter().collect(),
            approximate: approximate.iter().collect(),
            moves: moves.clone(),
            costs: false,
        };
        (!what.is_empty()).then_some(restore)
    }
}

impl Search<'_> {
    /// What was true before and is not now.
    fn missing(&self) -> Bits {
        self.before.outcome.truth.minus(&self.after.outcome.truth)
    }
}

/// Adds a way; the same moves found for other things are told once.
fn merge(found: &mut Vec<Restore>, restore: Restore) {
    let same =
        |r: &&mut Restore| r.moves.len() == restore.moves.len() && r.moves.iter().all(|m| restore.moves.contains(m));
    let Some(known) = found.iter_mut().find(same) else {
        found.push(restore);
        return;
    };
    known.what.extend(restore.what);
    known.approximate.extend(restore.approximate);
    known.what.sort_unstable();
    known.approximate.sort_unstable();
}

/// True if what a fault does hangs on a control.
fn mentions(fault: &Fault, control: ItemIx) -> bool {
    let nodes = [&fault.loses, &fault.trips, &fault.misleads];
    let whens = nodes.into_iter().flatten().map(|e| &e.when).chain(fault.ignores.iter().map(|e| &e.when));
    whens.flat_map(|w| &w.0).any(|c| c.control == control)
}

/// All sets of so many moves of different controls.
fn subsets(moves: &[Move], size: usize) -> Vec<Vec<Move>> {
    if size == 0 {
        return vec![Vec::new()];
    }
    let mut sets = Vec::new();
    for (i, first) in moves.iter().enumerate() {
        for rest in subsets(&moves[i + 1..], size - 1) {
            if rest.iter().all(|m| m.control != first.control) {
                sets.push(std::iter::once(*first).chain(rest).collect());
            }
        }
    }
    sets
}

/// All orders of a set, the written one first.
fn orders(set: &[Move]) -> Vec<Vec<Move>> {
    if set.is_empty() {
        return vec![Vec::new()];
    }
    let mut all = Vec::new();
    for (i, first) in set.iter().enumerate() {
        let rest: Vec<Move> = set.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, m)| *m).collect();
        all.extend(orders(&rest).into_iter().map(|o| std::iter::once(*first).chain(o).collect()));
    }
    all
}
