//! The inverse question: which faults explain what is seen. The smallest sets, exactly.
//!
//! A set explains what is seen when each thing seen lost is dead with it, each seen wrong works and is false, each seen working works
//! truly, and lights and gauges show or do not show as they were seen. What was not looked at may be anything.
//!
//! **Method.** A fault that reaches nothing of what was seen belongs to no smallest set. A set must reach every observation that the
//! state without faults does not meet. Of faults that ignore nothing and shut nothing in, one that alone takes a thing seen working is in no set
//! that explains, since more faults never lose less. What is left is solved in lanes, ones, then pairs, then triples.

use super::Analysis;
use super::damage::Damage;
use super::hangs::distances;
use super::lanes::{Case, Lanes, Pass, Word, and, lanes_of, not};
use super::moment::Moment;
use super::view::View;
use crate::analyse::answer::{Indication, Seen, Start, Suspects};
use crate::model::{AlertIx, FaultIx, Model, Need, NodeIx};
use std::collections::BTreeSet;

/// The largest sets that are tried.
const MOST_FAULTS: usize = 3;
/// So many sets of one size are looked at; where there are more, the answer says that it stopped before.
const MOST_SETS: u64 = 30_000_000;
/// So many of them are solved.
const MOST_SOLVED: usize = 1_000_000;
/// From cold every set goes through the whole line of states; so many are solved.
const MOST_SOLVED_COLD: usize = 20_000;
const WIDTH: usize = 4;

/// One thing that was seen.
#[derive(Debug, Clone, Copy)]
enum Sign {
    Lost(NodeIx),
    Wrong(NodeIx),
    Working(NodeIx),
    Shows(Indication),
    ShowsNot(Indication),
}

/// A fault that may be in a set.
struct Suspect {
    fault: FaultIx,
    /// Which of the observations that need a reason it reaches: the first 64 of them.
    reaches: u64,
    /// With it something may work that another fault takes: it ignores something, or shuts something in.
    gives: bool,
    /// Alone it takes or falsifies what was seen working.
    kills: bool,
}

/// One search.
struct Search<'s> {
    seen: &'s Seen,
    signs: Vec<Sign>,
    before: Moment,
    pool: Vec<Suspect>,
    /// All observations that need a reason.
    needed: u64,
}

/// Sets of one size.
struct Round {
    sets: Vec<Vec<FaultIx>>,
    whole: bool,
}

impl Analysis<'_> {
    /// The smallest sets of up to three faults that explain what is seen, the likeliest first. The empty set is an answer where
    /// nothing needs a reason.
    pub fn suspects(&self, seen: &Seen) -> Suspects {
        let before = match seen.start {
            Start::Running => self.states[seen.state.usize()].moment.clone(),
            Start::Cold => self.line(seen.state, &[], &[]).moment,
        };
        let search = self.search(seen, before);
        if self.explains(&search, &[]) {
            return Suspects { explanations: vec![Vec::new()], order: 0, complete: true };
        }
        for size in 1..=MOST_FAULTS {
            let round = search.sets(size);
            let mut explanations = match seen.start {
                Start::Running => self.solved_in_lanes(&search, &round.sets),
                Start::Cold => round.sets.into_iter().filter(|set| self.explains(&search, set)).collect(),
            };
            if !explanations.is_empty() || !round.whole || size == MOST_FAULTS {
                self.rank(&mut explanations);
                return Suspects { explanations, order: size, complete: round.whole };
            }
        }
        Suspects { explanations: Vec::new(), order: MOST_FAULTS, complete: true }
    }

    /// How likely a fault is said to be; 0 where nothing is said.
    pub fn likely(&self, fault: FaultIx) -> f64 {
        let row = &self.model[fault];
        let plain = row.id.as_str() == "fails";
        let item = self.model.item_of(row.of).filter(|_| plain).and_then(|i| self.model[i].likely);
        row.likely.or(item).unwrap_or(0.0)
    }

    fn rank(&self, sets: &mut [Vec<FaultIx>]) {
        let product = |set: &[FaultIx]| set.iter().map(|f| self.likely(*f)).product::<f64>();
        let sum = |set: &[FaultIx]| set.iter().map(|f| self.likely(*f)).sum::<f64>();
        sets.sort_by(|a, b| {
            let likelier = product(b).total_cmp(&product(a)).then(sum(b).total_cmp(&sum(a)));
            likelier.then_with(|| a.cmp(b))
        });
    }

    fn search<'s>(&self, seen: &'s Seen, before: Moment) -> Search<'s> {
        let signs = signs(seen);
        let needing: Vec<Sign> = signs.iter().filter(|s| !self.is_met(**s, &[], &before, &before)).copied().collect();
        let needing: Vec<Sign> = needing.into_iter().take(64).collect();
        let needed = needing.iter().enumerate().fold(0, |bits, (at, _)| bits | 1 << at);
        let mut pool = Vec::new();
        for fault in self.asked_in(seen.state) {
            let cone = self.cone(fault);
            if !signs.iter().any(|s| self.reaches(fault, &cone, *s)) {
                continue;
            }
            let reached = needing.iter().enumerate().filter(|(_, s)| self.reaches(fault, &cone, **s));
            let reaches = reached.fold(0, |bits, (at, _)| bits | 1 << at);
            pool.push(Suspect { fault, reaches, gives: self.may_give(fault), kills: false });
        }
        let mut search = Search { seen, signs, before, pool, needed };
        if seen.start == Start::Running {
            self.note_killers(&mut search);
        }
        search
    }

    fn may_give(&self, fault: FaultIx) -> bool {
        let fault = &self.model[fault];
        !fault.ignores.is_empty() || !fault.traps.is_empty()
    }

    fn note_killers(&self, search: &mut Search<'_>) {
        let sets: Vec<Vec<FaultIx>> = search.pool.iter().map(|s| vec![s.fault]).collect();
        for (suspect, solution) in search.pool.iter_mut().zip(self.solutions(search.seen.state, &sets)) {
            suspect.kills = search.signs.iter().any(|sign| match sign {
                Sign::Working(node) => !solution.is_true(*node),
                Sign::Wrong(node) => !solution.works.contains(node),
                _ => false,
            });
        }
    }

    /// What a fault may change, wherever controls stand.
    fn cone(&self, fault: FaultIx) -> Vec<bool> {
        let damage = Damage::of(self.model, &[fault], self.rules, &|_, _| true);
        let ignoring = damage.ignored.iter().map(|(node, _)| node);
        let touched = [&damage.taken, &damage.tripped, &damage.false_nodes, &damage.trapped]
            .into_iter()
            .flatten()
            .chain(ignoring);
        let touched: Vec<NodeIx> = touched.copied().collect();
        distances(&touched, &self.hangs().down).into_iter().map(|far| far.is_some()).collect()
    }

    fn reaches(&self, fault: FaultIx, cone: &[bool], sign: Sign) -> bool {
        let has = |node: NodeIx| cone.get(node.usize()).copied().unwrap_or(false);
        match sign {
            Sign::Lost(node) | Sign::Wrong(node) | Sign::Working(node) => has(node),
            Sign::Shows(Indication::Gauge(node)) | Sign::ShowsNot(Indication::Gauge(node)) => has(node),
            Sign::Shows(Indication::Alert(alert)) | Sign::ShowsNot(Indication::Alert(alert)) => {
                let row = &self.model[fault];
                let named = row.shows.iter().chain(&row.hides).any(|e| e.what == alert);
                named || hangs_on(self.model, alert).into_iter().any(has)
            }
        }
    }

    /// Whether a set explains all signs; solved alone.
    fn explains(&self, search: &Search<'_>, faults: &[FaultIx]) -> bool {
        let (before, after) = match search.seen.start {
            Start::Running => {
                let before = &search.before;
                let damage = self.damage(faults, &before.setting);
                (before.clone(), self.settle(before.setting.clone(), damage, &before.outcome.works))
            }
            Start::Cold => {
                let struck = self.line(search.seen.state, faults, &[]);
                (self.line(struck.state, &[], &[]).moment, struck.moment)
            }
        };
        search.signs.iter().all(|s| self.is_met(*s, faults, &before, &after))
    }

    fn is_met(&self, sign: Sign, faults: &[FaultIx], before: &Moment, after: &Moment) -> bool {
        let outcome = &after.outcome;
        let shows = |what| match what {
            Indication::Alert(alert) => self.alert_shows(alert, faults, after),
            Indication::Gauge(gauge) => {
                let view = |moment| View::as_it_stands(self.model, moment);
                self.gauge_shows(gauge, view(before), view(after), after)
            }
        };
        match sign {
            Sign::Lost(node) => !outcome.works.has(node),
            Sign::Wrong(node) => outcome.works.has(node) && !outcome.truth.has(node),
            Sign::Working(node) => outcome.works.has(node) && outcome.truth.has(node),
            Sign::Shows(what) => shows(what),
            Sign::ShowsNot(what) => !shows(what),
        }
    }

    fn solved_in_lanes(&self, search: &Search<'_>, sets: &[Vec<FaultIx>]) -> Vec<Vec<FaultIx>> {
        let before = &search.before;
        let mut lanes = Lanes::<WIDTH>::new(&self.graph, self.rules);
        let mut found = Vec::new();
        for batch in sets.chunks(Lanes::<WIDTH>::LANES) {
            let damages: Vec<Damage> = batch.iter().map(|set| self.damage(set, &before.setting)).collect();
            let case = |damage| Case { setting: &before.setting, damage, more: None, start: &before.outcome.works };
            let cases: Vec<Case> = damages.iter().map(case).collect();
            let fit = self.fit(&mut lanes, &cases, &search.signs);
            let fit = lanes_of(fit).take_while(|lane| *lane < batch.len()).filter_map(|lane| batch.get(lane));
            found.extend(fit.filter(|set| self.explains(search, set)).cloned());
        }
        found
    }

    /// Lanes in which what was seen lost, wrong or working is so.
    fn fit(&self, lanes: &mut Lanes<'_, WIDTH>, cases: &[Case], signs: &[Sign]) -> Word<WIDTH> {
        lanes.solve(self.model, cases, Pass::Works);
        let mut fit = signs.iter().fold([u64::MAX; WIDTH], |fit, sign| match sign {
            Sign::Lost(node) => and(fit, not(lanes.works(*node))),
            Sign::Wrong(node) | Sign::Working(node) => and(fit, lanes.works(*node)),
            _ => fit,
        });
        if fit == [0; WIDTH] || !cases.iter().any(Case::misleads) {
            return fit;
        }
        lanes.solve(self.model, cases, Pass::True);
        for sign in signs {
            match sign {
                Sign::Wrong(node) => fit = and(fit, not(lanes.works(*node))),
                Sign::Working(node) => fit = and(fit, lanes.works(*node)),
                _ => {}
            }
        }
        fit
    }
}

impl Search<'_> {
    /// Sets of one size that may explain what is seen.
    fn sets(&self, size: usize) -> Round {
        let most = if self.seen.start == Start::Cold { MOST_SOLVED_COLD } else { MOST_SOLVED };
        let mut round = Round { sets: Vec::new(), whole: true };
        if combinations(self.pool.len() as u64, size as u64) > MOST_SETS {
            round.whole = false;
            return round;
        }
        self.extend(&mut Vec::new(), size, most, &mut round);
        round
    }

    fn extend(&self, chosen: &mut Vec<usize>, size: usize, most: usize, round: &mut Round) {
        if chosen.len() == size {
            if self.may_explain(chosen) {
                let set = chosen.iter().filter_map(|at| self.pool.get(*at)).map(|s| s.fault).collect();
                round.whole &= round.sets.len() < most;
                round.sets.extend(Some(set).filter(|_| round.whole));
            }
            return;
        }
        for at in chosen.last().map_or(0, |last| last + 1)..self.pool.len() {
            if !round.whole {
                return;
            }
            chosen.push(at);
            self.extend(chosen, size, most, round);
            chosen.pop();
        }
    }

    fn may_explain(&self, chosen: &[usize]) -> bool {
        let members = || chosen.iter().filter_map(|at| self.pool.get(*at));
        let reached = members().fold(0, |bits, s| bits | s.reaches);
        reached & self.needed == self.needed && (members().any(|s| s.gives) || !members().any(|s| s.kills))
    }
}

fn signs(seen: &Seen) -> Vec<Sign> {
    let nodes = |list: &[NodeIx], sign: fn(NodeIx) -> Sign| list.iter().map(|n| sign(*n)).collect::<Vec<_>>();
    let shown = |list: &[Indication], sign: fn(Indication) -> Sign| list.iter().map(|i| sign(*i)).collect::<Vec<_>>();
    let mut signs = nodes(&seen.lost, Sign::Lost);
    signs.extend(nodes(&seen.wrong, Sign::Wrong));
    signs.extend(nodes(&seen.working, Sign::Working));
    signs.extend(shown(&seen.shows, Sign::Shows));
    signs.extend(shown(&seen.not_shows, Sign::ShowsNot));
    signs
}

/// The nodes by which an alert may change.
fn hangs_on(model: &Model, alert: AlertIx) -> BTreeSet<NodeIx> {
    let alert = &model[alert];
    let feeds = alert.needs.iter().chain(&alert.watches).flat_map(Need::feeds);
    let mut nodes: BTreeSet<NodeIx> = feeds.flat_map(|f| f.through.iter().copied().chain([f.from])).collect();
    nodes.insert(model[alert.on].node);
    nodes
}

/// How many sets of a size there are.
fn combinations(of: u64, size: u64) -> u64 {
    (0..size).fold(1, |all: u64, at| all.saturating_mul(of.saturating_sub(at)) / (at + 1))
}
