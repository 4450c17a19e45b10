//! What restores, and what stops: a search for the smallest sets of control moves.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::later::set;
use super::parts::{Control, Entry, FaultName, Number, PlainModel};
use super::solver::{TRULY, both, but_not};
use super::states::Moment;

/// The most moves in one set.
const MOST_MOVES: usize = 3;

/// One move of a control.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Move {
    /// The control.
    pub control: String,
    /// The position that it is moved to; of a cycle, the one that it comes back to.
    pub to: String,
    /// The control is moved away and back.
    pub cycle: bool,
}

/// A smallest set of moves, and what it mends that no part of it mends as well.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Remedy {
    /// The moves; in some order of them nothing is lost on the way.
    pub moves: BTreeSet<Move>,
    /// What works truly again; of a stop, what no longer works.
    pub mends: BTreeSet<String>,
    /// What works again, but approximately.
    pub approximately: BTreeSet<String>,
    /// Something else is lost on the way.
    pub costs: bool,
}

/// How well something is mended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Mended {
    Approximately,
    Truly,
}

/// What a search is after.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Aim {
    Restore,
    Stop,
}

/// A move with the positions that it goes through.
type Tried = (Move, Vec<String>);

/// One search from the solution after the fault.
struct Search<'m> {
    model: &'m PlainModel,
    aim: Aim,
    /// Where it begins.
    now: &'m Moment,
    goals: BTreeSet<Number>,
    /// What must go on working truly at every step.
    keep: BTreeSet<Number>,
    /// The moves that are allowed.
    allowed: Vec<Tried>,
    /// For goals that are open, the moves worth trying.
    worth: BTreeMap<BTreeSet<Number>, Arc<Vec<Tried>>>,
    /// How many moves a set may have.
    most: usize,
    /// Every move that is allowed is tried for every goal.
    every: bool,
    found: BTreeMap<BTreeSet<Move>, BTreeMap<Number, Mended>>,
}

impl PlainModel {
    /// The smallest sets of moves that make something lost or misleading work truly again, or approximately.
    pub(super) fn restoring(&self, before: &Moment, now: &Moment, in_flight: bool) -> Vec<Remedy> {
        let barred = |name: &FaultName| self.faults.get(name).is_some_and(|f| !f.hazards.is_empty() && !f.restorable);
        if now.faults.iter().any(barred) {
            return Vec::new();
        }
        let moves = self.allowed(now, in_flight, Aim::Restore);
        let gone = but_not(&before.solution.truly.works, &now.solution.truly.works);
        let goals = set(&both(&gone, &self.at_best(now, &moves)));
        Search::new(self, now, Aim::Restore, (goals, moves)).run()
    }

    /// The same by trying every move that is allowed for every goal: slow, for the tests of what is left out.
    #[cfg(test)]
    pub(super) fn restoring_by_all_moves(&self, before: &Moment, now: &Moment, in_flight: bool) -> Vec<Remedy> {
        let allowed = self.allowed(now, in_flight, Aim::Restore);
        let goals = set(&but_not(&before.solution.truly.works, &now.solution.truly.works));
        let mut search = Search::new(self, now, Aim::Restore, (goals, allowed));
        search.every = true;
        search.run()
    }

    /// The same for what stops.
    #[cfg(test)]
    pub(super) fn stopping_by_all_moves(&self, before: &Moment, now: &Moment, in_flight: bool) -> Vec<Remedy> {
        let allowed = self.allowed(now, in_flight, Aim::Stop);
        let unasked = but_not(&now.solution.first.works, &before.solution.first.works);
        self.stops(now, &unasked, (set(&unasked), allowed), true)
    }

    /// The smallest sets of moves that stop something that runs unasked; pulling a breaker counts. What no way stops that
    /// loses nothing else is stopped by single moves that do.
    pub(super) fn stopping(&self, before: &Moment, now: &Moment, in_flight: bool) -> Vec<Remedy> {
        let unasked = but_not(&now.solution.first.works, &before.solution.first.works);
        if !unasked.contains(&true) {
            return Vec::new();
        }
        let moves = self.allowed(now, in_flight, Aim::Stop);
        let goals = set(&but_not(&unasked, &self.at_worst(now, &moves)));
        self.stops(now, &unasked, (goals, moves), false)
    }

    fn stops(
        &self,
        now: &Moment,
        unasked: &[bool],
        (goals, moves): (BTreeSet<Number>, Vec<Tried>),
        every: bool,
    ) -> Vec<Remedy> {
        let search = Search::new(self, now, Aim::Stop, (goals.clone(), moves.clone())).but_for(unasked);
        let mut found = Search { every, ..search }.run();
        let ids = found.iter().flat_map(|remedy| &remedy.mends);
        let stopped: BTreeSet<Number> = ids.filter_map(|id| self.number.get(id)).copied().collect();
        let search = Search::new(self, now, Aim::Stop, (&goals - &stopped, moves));
        let costly = Search { keep: BTreeSet::new(), most: 1, every, ..search }.run();
        found.extend(costly.into_iter().map(|remedy| Remedy { costs: true, ..remedy }));
        found
    }

    /// Every move that may be offered: controls in reach; no breaker that restores, nothing tripped, nothing that ends
    /// where it must not; a cycle where it resets something that a transient fault holds.
    fn allowed(&self, now: &Moment, in_flight: bool, aim: Aim) -> Vec<Tried> {
        let mut found = Vec::new();
        for (number, node) in self.nodes.iter().enumerate() {
            let Some(control) = node.control.as_ref().filter(|c| c.in_reach(in_flight)) else {
                continue;
            };
            let breaker = node.is_kind("breaker") || node.is_kind("fuse");
            let broken = now.situation.taken[number] || now.situation.tripped[number];
            if broken || (breaker && !(aim == Aim::Stop && control.pull)) {
                continue;
            }
            let stands = now.positions.get(&node.id).cloned().unwrap_or_default();
            for to in control.positions.iter().filter(|to| **to != stands) {
                let way = self.way(&node.id, to);
                let pushed_in = breaker && control.conducts_in.contains(to);
                if !pushed_in && !way.iter().any(|p| control.never_offer.contains(p)) {
                    found.push((Move { control: node.id.clone(), to: to.clone(), cycle: false }, way));
                }
            }
            let resets = aim == Aim::Restore && now.faults.iter().any(|name| self.resets(control, name));
            if resets && !control.never_offer.contains(&stands) {
                let away = control.away(&stands);
                let cycle = Move { control: node.id.clone(), to: stands.clone(), cycle: true };
                found.extend(away.map(|away| (cycle, vec![away, stands])));
            }
        }
        found
    }

    /// The positions that a move goes through: a position that does not stay gives way to the next.
    fn way(&self, control: &str, to: &str) -> Vec<String> {
        let mut end = to.to_owned();
        self.spring(control, &mut end);
        if end == to { vec![end] } else { vec![to.to_owned(), end] }
    }

    /// Whether cycling a control mends a fault: a transient one of a thing it resets, or one that trips such things only.
    fn resets(&self, control: &Control, name: &FaultName) -> bool {
        let Some(fault) = self.faults.get(name).filter(|fault| fault.transient) else {
            return false;
        };
        let is_reset = |entry: &Entry<Number>| control.resets.contains(&self.nodes[self.item_of(entry.what)].id);
        let trips = !fault.trips.is_empty() && fault.trips.iter().all(is_reset);
        trips || control.resets.contains(&name.item)
    }

    /// What could work truly if each control that can be moved stood well for everybody at once.
    fn at_best(&self, now: &Moment, moves: &[Tried]) -> Vec<bool> {
        let in_play: BTreeSet<Number> =
            moves.iter().filter_map(|(m, _)| self.number.get(&m.control)).copied().collect();
        let mut situation = self.situation(&now.positions, &now.givens, &BTreeSet::new());
        for (number, condition) in self.conditions.iter().enumerate() {
            situation.met[number] |= self.hangs_on(condition.control, &in_play);
        }
        for number in 0..self.nodes.len() {
            let item = self.item_of(number);
            situation.open[number] |= self.nodes[item].control.is_some() && self.hangs_on(item, &in_play);
        }
        for name in &now.faults {
            let mended = self.nodes.iter().filter_map(|n| n.control.as_ref()).any(|c| self.resets(c, name));
            if let Some(fault) = self.faults.get(name).filter(|_| !mended) {
                self.add_fault(&mut situation, fault, false);
            }
        }
        self.settle(&situation, Some(&vec![true; self.nodes.len()]), TRULY).works
    }

    /// What works whatever is moved: each control that can be moved stands ill for everybody at once, and nothing stood before.
    fn at_worst(&self, now: &Moment, moves: &[Tried]) -> Vec<bool> {
        let in_play: BTreeSet<Number> =
            moves.iter().filter_map(|(m, _)| self.number.get(&m.control)).copied().collect();
        let mut situation = self.situation(&now.positions, &now.givens, &BTreeSet::new());
        for (number, condition) in self.conditions.iter().enumerate() {
            situation.met[number] &= !self.hangs_on(condition.control, &in_play);
        }
        for number in 0..self.nodes.len() {
            situation.open[number] &= self.nodes[number].control.is_none() || !self.hangs_on(number, &in_play);
        }
        for fault in now.faults.iter().filter_map(|name| self.faults.get(name)) {
            self.add_fault_at_worst(&mut situation, fault);
        }
        self.settle(&situation, None, TRULY).works
    }

    /// Whether a control is one of these, or is off with one of these.
    fn hangs_on(&self, control: Number, some: &BTreeSet<Number>) -> bool {
        let mut seen = BTreeSet::new();
        let mut next = Some(control);
        while let Some(number) = next.filter(|number| seen.insert(*number)) {
            if some.contains(&number) {
                return true;
            }
            let parent = self.nodes[number].control.as_ref().and_then(|c| c.off_with.as_ref());
            next = parent.and_then(|id| self.number.get(id)).copied();
        }
        false
    }

    /// The moves that can matter. For restoring, those that meet some condition not met in what the goals hang on;
    /// for stopping, those that unmeet one. Where such a move harms anything, also the moves that could protect what
    /// it harms. All others only take away, and a set is never smaller for them.
    fn worth_trying(&self, now: &Moment, aim: Aim, goals: &BTreeSet<Number>, all: &[Tried]) -> Vec<Tried> {
        let cone = reach(goals, &self.layout.uses);
        let wanted = aim == Aim::Restore;
        let mut chosen: BTreeSet<&Tried> =
            all.iter().filter(|m| cone.iter().any(|n| self.turns(*n, m, now, wanted))).collect();
        loop {
            let harmed: BTreeSet<Number> =
                (0..self.nodes.len()).filter(|n| chosen.iter().any(|m| self.turns(*n, m, now, false))).collect();
            let cone = reach(&reach(&harmed, &self.layout.users), &self.layout.uses);
            let more: Vec<_> = all.iter().filter(|m| cone.iter().any(|n| self.turns(*n, m, now, true))).collect();
            let count = chosen.len();
            chosen.extend(more);
            if chosen.len() == count {
                return chosen.into_iter().cloned().collect();
            }
        }
    }

    /// Whether a move meets a condition of this node that is not met now (`wanted`), or unmeets one that is. A cycle,
    /// and a move of a control that the faults themselves depend on, may do either. Where a control that is off with another
    /// counts as standing may change by a move of that other.
    fn turns(&self, node: Number, tried: &Tried, now: &Moment, wanted: bool) -> bool {
        let (made, way) = tried;
        let Some(control) = self.number.get(&made.control) else {
            return false;
        };
        if made.cycle || self.faults_look_at(*control, now) {
            return true;
        }
        let is_half = self.nodes[*control].control.as_ref().is_some_and(|c| c.off_with.is_some());
        self.layout.hinges[node].iter().filter(|hinge| hinge.control == *control).any(|hinge| {
            let is = now.situation.effective.get(control).is_some_and(|p| hinge.positions.contains(p));
            (is_half || is != wanted) && way.iter().any(|p| hinge.positions.contains(p) == wanted)
        })
    }

    /// Whether what the faults do depends on a control, or on one that is off with it.
    fn faults_look_at(&self, control: Number, now: &Moment) -> bool {
        let depends = |when: &[usize]| {
            when.iter().any(|c| self.hangs_on(self.conditions[*c].control, &BTreeSet::from([control])))
        };
        now.faults.iter().filter_map(|name| self.faults.get(name)).any(|fault| {
            let lists = [&fault.loses, &fault.takes, &fault.misleads, &fault.trips];
            lists.into_iter().flatten().any(|e| depends(&e.when)) || fault.ignores.iter().any(|(e, _)| depends(&e.when))
        })
    }
}

impl Control {
    fn in_reach(&self, in_flight: bool) -> bool {
        self.reachable == "in flight" || (self.reachable == "on the ground" && !in_flight)
    }

    /// Where it goes in a cycle: the first other position that does not conduct, else the first other.
    fn away(&self, stands: &str) -> Option<String> {
        let others = || self.positions.iter().filter(|p| *p != stands);
        others().find(|p| !self.conducts_in.contains(*p)).or_else(|| others().next()).cloned()
    }
}

impl<'m> Search<'m> {
    /// A search for these goals; what runs unasked need not be kept.
    fn new(model: &'m PlainModel, now: &'m Moment, aim: Aim, (goals, allowed): (BTreeSet<Number>, Vec<Tried>)) -> Self {
        let keep = set(&now.solution.truly.works);
        let (worth, found) = (BTreeMap::new(), BTreeMap::new());
        Self { model, aim, now, goals, keep, allowed, worth, most: MOST_MOVES, every: false, found }
    }

    fn but_for(mut self, unasked: &[bool]) -> Self {
        self.keep = &self.keep - &set(unasked);
        self
    }

    fn run(mut self) -> Vec<Remedy> {
        let open = self.goals.clone();
        self.walk(&BTreeSet::new(), self.now, &open);
        self.smallest()
    }

    /// Tries one move more, for the goals that are still open.
    fn walk(&mut self, done: &BTreeSet<Move>, now: &Moment, open: &BTreeSet<Number>) {
        if open.is_empty() {
            return;
        }
        for (made, way) in self.worth(open).iter() {
            if done.iter().any(|earlier| earlier.control == made.control) {
                continue;
            }
            let Some(next) = self.made(now, made, way) else {
                continue;
            };
            let mut moves = done.clone();
            moves.insert(made.clone());
            let mended = self.note(&moves, &next);
            if moves.len() < self.most {
                self.walk(&moves, &next, &(open - &mended));
            }
        }
    }

    /// The moves worth trying for goals. What some moves mend truly, no greater set is smallest for.
    fn worth(&mut self, open: &BTreeSet<Number>) -> Arc<Vec<Tried>> {
        if let Some(known) = self.worth.get(open) {
            return Arc::clone(known);
        }
        let found = if self.every {
            self.allowed.clone()
        } else {
            self.model.worth_trying(self.now, self.aim, open, &self.allowed)
        };
        let found = Arc::new(found);
        self.worth.insert(open.clone(), Arc::clone(&found));
        found
    }

    /// The moment after a move, each position settled in turn; none where something is lost on the way.
    fn made(&self, from: &Moment, made: &Move, way: &[String]) -> Option<Moment> {
        let mut now = from.clone();
        for (step, position) in way.iter().enumerate() {
            Arc::make_mut(&mut now.positions).insert(made.control.clone(), position.clone());
            if made.cycle && step + 1 == way.len() {
                let number = self.model.number.get(&made.control)?;
                let control = self.model.nodes[*number].control.as_ref()?;
                now.faults.retain(|name| !self.model.resets(control, name));
            }
            let number = *self.model.number.get(&made.control)?;
            let whole = made.cycle || self.model.faults_look_at(number, &now);
            let (situation, changed) = if whole {
                let situation = self.model.situation(&now.positions, &now.givens, &now.faults);
                (situation, &self.model.layout.order)
            } else {
                (self.model.turned(&now, number), &self.model.layout.turned[number])
            };
            let known = (&now.solution.truly, now.solution.first.works.as_slice());
            let truly = self.model.settle_again(&situation, known, TRULY, changed).works;
            if self.keep.iter().any(|node| !truly[*node]) {
                return None;
            }
            now.solution = self.model.solve_again(&situation, &now, changed);
            now.situation = situation;
        }
        Some(now)
    }

    /// Notes what a set of moves mends; gives what it mends truly.
    fn note(&mut self, moves: &BTreeSet<Move>, now: &Moment) -> BTreeSet<Number> {
        let solution = &now.solution;
        let mended = |node: Number| match self.aim {
            Aim::Stop => (!solution.first.works[node]).then_some(Mended::Truly),
            Aim::Restore if solution.exactly.works[node] => Some(Mended::Truly),
            Aim::Restore => solution.truly.works[node].then_some(Mended::Approximately),
        };
        let here: Vec<(Number, Mended)> = self.goals.iter().filter_map(|n| Some((*n, mended(*n)?))).collect();
        let truly = here.iter().filter(|(_, how)| *how == Mended::Truly).map(|(node, _)| *node).collect();
        if !here.is_empty() {
            let noted = self.found.entry(moves.clone()).or_default();
            for (node, how) in here {
                let best = noted.entry(node).or_insert(how);
                *best = how.max(*best);
            }
        }
        truly
    }

    /// Keeps of each set what no part of it mends as well.
    fn smallest(&self) -> Vec<Remedy> {
        let mut kept = Vec::new();
        for (moves, mends) in &self.found {
            let parts: Vec<_> =
                self.found.iter().filter(|(other, _)| *other != moves && other.is_subset(moves)).collect();
            let own = |node: &Number, how: Mended| !parts.iter().any(|(_, m)| m.get(node).is_some_and(|h| *h >= how));
            let names = |wanted: Mended| -> BTreeSet<String> {
                let mine = mends.iter().filter(|(node, how)| **how == wanted && own(node, **how));
                mine.map(|(node, _)| self.model.nodes[*node].id.clone()).collect()
            };
            let (truly, approximately) = (names(Mended::Truly), names(Mended::Approximately));
            if !truly.is_empty() || !approximately.is_empty() {
                kept.push(Remedy { moves: moves.clone(), mends: truly, approximately, costs: false });
            }
        }
        kept.sort_by_key(|remedy| (remedy.moves.len(), remedy.moves.clone()));
        kept
    }
}

/// Everything that can be reached from these by the steps given, themselves included.
fn reach(starts: &BTreeSet<Number>, steps: &[BTreeSet<Number>]) -> BTreeSet<Number> {
    let mut seen = starts.clone();
    let mut open: Vec<Number> = starts.iter().copied().collect();
    while let Some(node) = open.pop() {
        open.extend(steps[node].iter().copied().filter(|next| seen.insert(*next)));
    }
    seen
}
