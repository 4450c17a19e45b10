//! What restores, and what stops: a search for the smallest sets of control moves.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::later::set;
use super::parts::{Condition, Control, Entry, FaultName, Number, PlainModel};
use super::situation::PositionNumber;
use super::solver::{Solution, TRULY, both, but_not};
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

/// A move that may be tried.
#[derive(Debug, Clone)]
struct Tried {
    made: Move,
    /// The control.
    control: Number,
    /// The positions that it goes through.
    way: Vec<PositionNumber>,
}

/// Moves by their places in the list of those that are allowed, in order.
type Moves = Vec<usize>;

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
    worth: BTreeMap<BTreeSet<Number>, Arc<Moves>>,
    /// From where it went on, with the goals that were open.
    walked: BTreeMap<Moves, Vec<(Solution, BTreeSet<Number>)>>,
    /// How many moves a set may have.
    most: usize,
    /// Every move that is allowed is tried for every goal.
    every: bool,
    found: BTreeMap<Moves, BTreeMap<Number, Mended>>,
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
            let stands = control.name_of(now.positions[number]).cloned().unwrap_or_default();
            let tried = |to: &String, cycle: bool, way: &[String]| {
                let made = Move { control: node.id.clone(), to: to.clone(), cycle };
                Tried { made, control: number, way: way.iter().map(|p| control.number_of(p)).collect() }
            };
            for to in control.positions.iter().filter(|to| **to != stands) {
                let way = self.way(&node.id, to);
                let pushed_in = breaker && control.conducts_in.contains(to);
                if !pushed_in && !way.iter().any(|p| control.never_offer.contains(p)) {
                    found.push(tried(to, false, &way));
                }
            }
            let resets = aim == Aim::Restore && now.faults.iter().any(|name| self.resets(control, name));
            if resets && !control.never_offer.contains(&stands) {
                let away = control.away(&stands);
                found.extend(away.map(|away| tried(&stands, true, &[away, stands.clone()])));
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
        let in_play: BTreeSet<Number> = moves.iter().map(|tried| tried.control).collect();
        let mut situation = self.situation(&now.positions, &now.givens, &BTreeSet::new());
        for (number, condition) in self.conditions.iter().enumerate() {
            situation.met[number] |= self.hangs_on(condition.control, &in_play);
        }
        for number in 0..self.nodes.len() {
            let item = self.item_of(number);
            situation.open[number] |= self.nodes[item].control.is_some() && self.hangs_on(item, &in_play);
        }
        for name in now.faults.iter() {
            let mended = self.nodes.iter().filter_map(|n| n.control.as_ref()).any(|c| self.resets(c, name));
            if let Some(fault) = self.faults.get(name).filter(|_| !mended) {
                self.add_fault(&mut situation, fault, false);
            }
        }
        self.settle(&situation, Some(&vec![true; self.nodes.len()]), TRULY).works
    }

    /// What works whatever is moved: each control that can be moved stands ill for everybody at once, and nothing stood before.
    fn at_worst(&self, now: &Moment, moves: &[Tried]) -> Vec<bool> {
        let in_play: BTreeSet<Number> = moves.iter().map(|tried| tried.control).collect();
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
    /// it harms. All others only take away, and a set is never smaller for them. A cycle, and a move of a control that
    /// the faults themselves depend on, may do anything.
    fn worth_trying(&self, now: &Moment, aim: Aim, goals: &BTreeSet<Number>, all: &[Tried]) -> Moves {
        let free: Vec<bool> = all.iter().map(|m| m.made.cycle || self.faults_look_at(m.control, now)).collect();
        let turns = |node: Number, at: usize, wanted: bool| free[at] || self.turns(node, &all[at], now, wanted);
        let among = |cone: &BTreeSet<Number>, wanted: bool| -> BTreeSet<usize> {
            (0..all.len()).filter(|at| cone.iter().any(|n| turns(*n, *at, wanted))).collect()
        };
        let mut chosen = among(&reach(goals, &self.layout.uses), aim == Aim::Restore);
        loop {
            let harmed: BTreeSet<Number> =
                (0..self.nodes.len()).filter(|n| chosen.iter().any(|at| turns(*n, *at, false))).collect();
            let more = among(&reach(&reach(&harmed, &self.layout.users), &self.layout.uses), true);
            if more.is_subset(&chosen) {
                return chosen.into_iter().collect();
            }
            chosen.extend(more);
        }
    }

    /// Whether a move meets a condition of this node that is not met now (`wanted`), or unmeets one that is. Where a control
    /// that is off with another counts as standing may change by a move of that other.
    fn turns(&self, node: Number, tried: &Tried, now: &Moment, wanted: bool) -> bool {
        let control = self.nodes[tried.control].control.as_ref();
        let is_in = |hinge: &Condition, position: PositionNumber| {
            control.and_then(|c| c.name_of(position)).is_some_and(|p| hinge.positions.contains(p))
        };
        let is_half = control.is_some_and(|c| c.off_with.is_some());
        self.layout.hinges[node].iter().filter(|hinge| hinge.control == tried.control).any(|hinge| {
            let is = is_in(hinge, now.situation.effective[tried.control]);
            (is_half || is != wanted) && tried.way.iter().any(|p| is_in(hinge, *p) == wanted)
        })
    }

    /// Whether what the faults do depends on a control, or on one that is off with it.
    fn faults_look_at(&self, control: Number, now: &Moment) -> bool {
        let depends = |when: &[usize]| when.iter().any(|c| self.layout.looked_at[control].contains(c));
        now.faults.iter().filter_map(|name| self.faults.get(name)).any(|fault| {
            let lists = [&fault.loses, &fault.takes, &fault.misleads, &fault.traps, &fault.trips];
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
        let (worth, walked, found) = (BTreeMap::new(), BTreeMap::new(), BTreeMap::new());
        Self { model, aim, now, goals, keep, allowed, worth, walked, most: MOST_MOVES, every: false, found }
    }

    fn but_for(mut self, unasked: &[bool]) -> Self {
        self.keep = &self.keep - &set(unasked);
        self
    }

    fn run(mut self) -> Vec<Remedy> {
        let open = self.goals.clone();
        self.walk(&[], self.now, &open);
        self.smallest()
    }

    /// Tries one move more, for the goals that are still open.
    fn walk(&mut self, done: &[usize], now: &Moment, open: &BTreeSet<Number>) {
        if open.is_empty() || self.was_here(done, now, open) {
            return;
        }
        for at in self.worth(open).iter().copied() {
            let control = self.allowed[at].control;
            if done.iter().any(|earlier| self.allowed[*earlier].control == control) {
                continue;
            }
            let Some(next) = self.made(now, &self.allowed[at]) else {
                continue;
            };
            let mut moves = [done, &[at]].concat();
            moves.sort_unstable();
            let mended = self.note(&moves, &next);
            if moves.len() < self.most {
                self.walk(&moves, &next, &(open - &mended));
            }
        }
    }

    /// Whether the same moves in another order led to the same solution, with no less open. If not, that is kept in mind.
    fn was_here(&mut self, done: &[usize], now: &Moment, open: &BTreeSet<Number>) -> bool {
        let earlier = self.walked.entry(done.to_vec()).or_default();
        let here = earlier.iter().any(|(solution, goals)| *solution == now.solution && open.is_subset(goals));
        if !here {
            earlier.push((now.solution.clone(), open.clone()));
        }
        here
    }

    /// The moves worth trying for goals. What some moves mend truly, no greater set is smallest for.
    fn worth(&mut self, open: &BTreeSet<Number>) -> Arc<Moves> {
        if let Some(known) = self.worth.get(open) {
            return Arc::clone(known);
        }
        let found = if self.every {
            (0..self.allowed.len()).collect()
        } else {
            self.model.worth_trying(self.now, self.aim, open, &self.allowed)
        };
        let found = Arc::new(found);
        self.worth.insert(open.clone(), Arc::clone(&found));
        found
    }

    /// The moment after a move, each position settled in turn; none where something is lost on the way.
    fn made(&self, from: &Moment, tried: &Tried) -> Option<Moment> {
        let (cycle, number) = (tried.made.cycle, tried.control);
        let mut now = from.clone();
        for (step, position) in tried.way.iter().enumerate() {
            Arc::make_mut(&mut now.positions)[number] = *position;
            if cycle && step + 1 == tried.way.len() {
                let control = self.model.nodes[number].control.as_ref()?;
                Arc::make_mut(&mut now.faults).retain(|name| !self.model.resets(control, name));
            }
            let whole = cycle || self.model.faults_look_at(number, &now);
            let (situation, changed) = if whole {
                let situation = self.model.situation(&now.positions, &now.givens, &now.faults);
                (situation, &self.model.layout.order)
            } else {
                (self.model.turned(&now, &now.positions, number), &self.model.layout.turned[number])
            };
            let truly = self.model.truly_again(&situation, &now, changed);
            if self.keep.iter().any(|node| !truly.works[*node]) {
                return None;
            }
            now.solution = self.model.solve_from(truly, &situation, &now, changed);
            now.situation = Arc::new(situation);
        }
        Some(now)
    }

    /// Notes what a set of moves mends; gives what it mends truly.
    fn note(&mut self, moves: &[usize], now: &Moment) -> BTreeSet<Number> {
        let solution = &now.solution;
        let mended = |node: Number| match self.aim {
            Aim::Stop => (!solution.first.works[node]).then_some(Mended::Truly),
            Aim::Restore if solution.exactly.works[node] => Some(Mended::Truly),
            Aim::Restore => solution.truly.works[node].then_some(Mended::Approximately),
        };
        let here: Vec<(Number, Mended)> = self.goals.iter().filter_map(|n| Some((*n, mended(*n)?))).collect();
        let truly = here.iter().filter(|(_, how)| *how == Mended::Truly).map(|(node, _)| *node).collect();
        if !here.is_empty() {
            let noted = self.found.entry(moves.to_vec()).or_default();
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
            let is_part = |other: &Moves| other.len() < moves.len() && other.iter().all(|m| moves.contains(m));
            let parts: Vec<_> = self.found.iter().filter(|(other, _)| is_part(other)).collect();
            let own = |node: &Number, how: Mended| !parts.iter().any(|(_, m)| m.get(node).is_some_and(|h| *h >= how));
            let names = |wanted: Mended| -> BTreeSet<String> {
                let mine = mends.iter().filter(|(node, how)| **how == wanted && own(node, **how));
                mine.map(|(node, _)| self.model.nodes[*node].id.clone()).collect()
            };
            let (truly, approximately) = (names(Mended::Truly), names(Mended::Approximately));
            if !truly.is_empty() || !approximately.is_empty() {
                let moves = moves.iter().map(|at| self.allowed[*at].made.clone()).collect();
                kept.push(Remedy { moves, mends: truly, approximately, costs: false });
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
