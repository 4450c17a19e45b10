//! What one more fault takes now that it did not take before: by pairs, all second faults in lanes.

use super::Analysis;
use super::bits::Bits;
use super::damage::Damage;
use super::hangs::distances;
use super::lanes::{Case, Giver, Lanes, Pass, lanes_of, not};
use super::moment::Moment;
use super::view::View;
use crate::analyse::answer::{NoBackup, Target};
use crate::model::{FaultIx, InformationIx, Kind, MediumIx, Model, NodeIx, NodeKind, StateIx};
use std::collections::BTreeMap;

const WIDTH: usize = 4;

/// What can lose its backup.
#[derive(Debug, Default)]
pub(super) struct Targets {
    /// Each with the nodes of which one must work truly.
    list: Vec<(Target, Vec<NodeIx>)>,
    /// By target, then node: how far upstream it is.
    far: Vec<Vec<Option<u32>>>,
}

/// What each next fault does alone, in one moment.
#[derive(Debug)]
pub(super) struct Alone {
    faults: Vec<FaultIx>,
    /// By fault: numbers of the targets that it does not take.
    stays: Vec<Bits>,
}

impl Targets {
    fn of(model: &Model, up: &[Vec<NodeIx>]) -> Self {
        let nodes = || model.node_indices();
        let mut list = Vec::new();
        for information in (0..model.information.len()).map(InformationIx::new) {
            let tells = |n: &NodeIx| model[*n].tells.iter().any(|t| t.information == information);
            list.push((Target::Information(information), nodes().filter(tells).collect()));
        }
        let is_bus = |n: &NodeIx| matches!(model[*n].kind, NodeKind::Item(i) if model[i].kind == Kind::Bus);
        list.extend(nodes().filter(is_bus).map(|n| (Target::Bus(n), vec![n])));
        for medium in (0..model.media.len()).map(MediumIx::new) {
            let gives = |n: &NodeIx| model[*n].gives == Some(medium);
            if nodes().any(|n| is_bus(&n) && gives(&n)) {
                continue; // its buses are asked about one by one
            }
            list.push((Target::Medium(medium), nodes().filter(gives).collect()));
        }
        list.retain(|(_, sources): &(Target, Vec<NodeIx>)| !sources.is_empty());
        let far = list.iter().map(|(_, sources)| distances(sources, up)).collect();
        Self { list, far }
    }

    /// How far upstream of the farthest of these targets a fault's item is.
    fn distance(&self, model: &Model, fault: FaultIx, of: &[usize]) -> u32 {
        let far = |t: &usize| self.far[*t][model[fault].of.usize()].unwrap_or(u32::MAX);
        of.iter().map(far).max().unwrap_or(u32::MAX)
    }
}

/// The numbers below `count` of which something holds, as a set.
fn set(count: usize, holds: impl Fn(usize) -> bool) -> Bits {
    let mut set = Bits::new(count);
    (0..count).filter(|n| holds(*n)).for_each(|n| set.put(NodeIx::new(n)));
    set
}

impl Analysis<'_> {
    fn targets(&self) -> &Targets {
        self.targets.get_or_init(|| Targets::of(self.model, &self.hangs().up))
    }

    /// What each asked fault leaves, alone, after a moment.
    pub(super) fn alone(&self, state: StateIx, before: &Moment) -> Alone {
        let faults = self.asked_in(state);
        let damages: Vec<Damage> = faults.iter().map(|f| self.damage(&[*f], &before.setting)).collect();
        let case = |more| Case {
            setting: &before.setting,
            damage: &before.damage,
            more: Some(more),
            start: &before.outcome.works,
        };
        let cases: Vec<Case> = damages.iter().map(case).collect();
        let count = self.targets().list.len();
        let all = set(count, |_| true);
        let mut gone = vec![Bits::new(count); faults.len()];
        self.each_gone(&cases, &all, &mut |fault, target| gone[fault].put(NodeIx::new(target)));
        let stays = gone.iter().map(|g| all.minus(g)).collect();
        Alone { faults, stays }
    }

    /// Calls with each case and each of these targets that is gone in it. The cases share a setting.
    fn each_gone(&self, cases: &[Case], of: &Bits, on: &mut dyn FnMut(usize, usize)) {
        let Some(setting) = cases.first().map(|c| c.setting) else { return };
        let giver = |target: Target, n: NodeIx| match target {
            Target::Information(_) => Giver::of_information(n),
            Target::Bus(_) | Target::Medium(_) => Giver::new(self.model, &self.graph, setting, n),
        };
        let givers_of = |(target, nodes): &(Target, Vec<NodeIx>)| nodes.iter().map(|n| giver(*target, *n)).collect();
        let of: Vec<usize> = of.iter().map(NodeIx::usize).collect();
        let givers: Vec<Vec<Giver>> = of.iter().map(|t| givers_of(&self.targets().list[*t])).collect();
        let mut lanes = Lanes::<WIDTH>::new(&self.graph, self.rules);
        for (batch, chunk) in cases.chunks(Lanes::<WIDTH>::LANES).enumerate() {
            lanes.solve(self.model, chunk, Pass::True);
            for (target, givers) in of.iter().zip(&givers) {
                let gone = lanes_of(not(lanes.any_gives(givers))).take_while(|lane| *lane < chunk.len());
                gone.for_each(|lane| on(batch * Lanes::<WIDTH>::LANES + lane, *target));
            }
        }
    }

    /// Targets that are there in a moment.
    fn there(&self, moment: &Moment) -> Bits {
        let view = View::in_truth(self.model, moment);
        let list = &self.targets().list;
        let tells = |t: &Target| matches!(t, Target::Information(_));
        let gives = |t: &Target, n: NodeIx| view.works(n) && (tells(t) || view.gives(n, None));
        set(list.len(), |t| list[t].1.iter().any(|n| gives(&list[t].0, *n)))
    }

    /// Targets that hang on something that a fault touches.
    fn touched(&self, damage: &Damage) -> Bits {
        let ignoring = damage.ignored.iter().map(|(n, _)| n);
        let nodes = damage.taken.iter().chain(&damage.tripped).chain(&damage.false_nodes).chain(ignoring);
        self.hanging_on(&nodes.copied().collect::<Vec<_>>())
    }

    /// Targets that hang on some of these.
    fn hanging_on(&self, nodes: &[NodeIx]) -> Bits {
        let far = &self.targets().far;
        set(far.len(), |t| nodes.iter().any(|n| far[t][n.usize()].is_some()))
    }

    /// Targets that hang on what a fault touches, or took in an earlier state.
    fn changed(&self, before: &Moment, now: &Moment) -> Bits {
        let (was, is) = (&before.outcome, &now.outcome);
        let works = was.works.minus(&is.works).either(&is.works.minus(&was.works));
        let truth = was.truth.minus(&is.truth).either(&is.truth.minus(&was.truth));
        let nodes: Vec<NodeIx> = works.either(&truth).iter().collect();
        self.touched(&now.damage).either(&self.hanging_on(&nodes))
    }

    /// For each of some moments with faults, all in one setting: what one more fault takes now. A pair is solved only if some target that
    /// is there hangs on both of its faults, and the second does not take it alone.
    pub(super) fn no_backup(
        &self,
        before: &Moment,
        alone: &Alone,
        moments: &[(&[FaultIx], &Moment)],
    ) -> Vec<Vec<NoBackup>> {
        let Some((_, first)) = moments.first() else { return Vec::new() };
        let second: Vec<Damage> = alone.faults.iter().map(|f| self.damage(&[*f], &first.setting)).collect();
        let may: Vec<Bits> = second.iter().zip(&alone.stays).map(|(d, s)| self.touched(d).both(s)).collect();
        let was = self.there(before);
        let left = |m: &Moment| was.both(&self.there(m)).both(&self.changed(before, m));
        let left: Vec<Bits> = moments.iter().map(|(_, m)| left(m)).collect();
        let (mut cases, mut pairs) = (Vec::new(), Vec::new());
        for (which, (faults, moment)) in moments.iter().enumerate() {
            for (next, more) in second.iter().enumerate() {
                if left[which].meets(&may[next]) && !faults.contains(&alone.faults[next]) {
                    let (setting, start) = (&*moment.setting, &moment.outcome.works);
                    cases.push(Case { setting, damage: &moment.damage, more: Some(more), start });
                    pairs.push((which, next));
                }
            }
        }
        let mut taken: Vec<BTreeMap<usize, Vec<usize>>> = vec![BTreeMap::new(); moments.len()];
        self.each_gone(&cases, &was, &mut |case, target| {
            let (which, next) = pairs[case];
            let t = NodeIx::new(target);
            let newly = left[which].has(t) && may[next].has(t);
            if newly && !self.is_own(alone.faults[next], self.targets().list[target].0) {
                taken[which].entry(next).or_default().push(target);
            }
        });
        taken.into_iter().map(|t| self.told(alone, t)).collect()
    }

    /// A bus is not its own backup.
    fn is_own(&self, fault: FaultIx, target: Target) -> bool {
        matches!(target, Target::Bus(bus) if self.model[fault].of == bus)
    }

    /// Next faults that take the same told together, the nearest first.
    fn told(&self, alone: &Alone, taken: BTreeMap<usize, Vec<usize>>) -> Vec<NoBackup> {
        let mut groups: BTreeMap<Vec<usize>, Vec<FaultIx>> = BTreeMap::new();
        for (next, of) in taken {
            groups.entry(of).or_default().push(alone.faults[next]);
        }
        let targets = self.targets();
        let mut told: Vec<(Vec<usize>, Vec<FaultIx>)> = groups.into_iter().collect();
        for (of, next) in &mut told {
            next.sort_by_key(|f| (targets.distance(self.model, *f, of), *f));
        }
        told.sort_by_key(|(of, next)| (std::cmp::Reverse(of.len()), next.first().copied()));
        let row = |(of, next): (Vec<usize>, Vec<FaultIx>)| NoBackup {
            next,
            of: of.into_iter().map(|t| targets.list[t].0).collect(),
        };
        told.into_iter().map(row).collect()
    }
}
