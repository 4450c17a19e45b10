//! What one more fault takes now that it did not take before: by pairs, all second faults in lanes.

use super::Analysis;
use super::damage::Damage;
use super::hangs::distances;
use super::lanes::{Case, Lanes, Pass, lanes_of, not};
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
    /// By fault, then target.
    stays: Vec<Vec<bool>>,
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
        let targets = self.targets();
        let mut stays = vec![vec![true; targets.list.len()]; faults.len()];
        self.each_gone(&cases, &mut |fault, target| stays[fault][target] = false);
        Alone { faults, stays }
    }

    /// Calls with each case and each target that is gone in it.
    fn each_gone(&self, cases: &[Case], on: &mut dyn FnMut(usize, usize)) {
        let targets = self.targets();
        let mut lanes = Lanes::<WIDTH>::new(&self.graph, self.rules);
        for (batch, chunk) in cases.chunks(Lanes::<WIDTH>::LANES).enumerate() {
            lanes.solve(self.model, chunk, Pass::True);
            for (target, (_, sources)) in targets.list.iter().enumerate() {
                let gone = not(lanes.any_gives(self.model, sources, chunk));
                let here = lanes_of(gone).take_while(|lane| *lane < chunk.len());
                here.for_each(|lane| on(batch * Lanes::<WIDTH>::LANES + lane, target));
            }
        }
    }

    /// For each of some moments with faults: what one more fault takes now.
    pub(super) fn no_backup(
        &self,
        before: &Moment,
        alone: &Alone,
        moments: &[(&[FaultIx], &Moment)],
    ) -> Vec<Vec<NoBackup>> {
        let targets = self.targets();
        let second = self.second_damages(alone, moments);
        let (mut cases, mut pairs) = (Vec::new(), Vec::new());
        for (which, (faults, moment)) in moments.iter().enumerate() {
            for (next, fault) in alone.faults.iter().enumerate() {
                if !faults.contains(fault) {
                    let more = Some(&second[which.min(second.len() - 1)][next]);
                    let start = &moment.outcome.works;
                    cases.push(Case { setting: &moment.setting, damage: &moment.damage, more, start });
                    pairs.push((which, next));
                }
            }
        }
        let there = |moment: &Moment| -> Vec<bool> {
            let view = View::in_truth(self.model, moment);
            let gives = |n: &NodeIx| view.works(*n) && view.gives(*n, None);
            targets.list.iter().map(|(_, sources)| sources.iter().any(gives)).collect()
        };
        let (was, is): (_, Vec<_>) = (there(before), moments.iter().map(|(_, m)| there(m)).collect());
        let mut taken: Vec<BTreeMap<usize, Vec<usize>>> = vec![BTreeMap::new(); moments.len()];
        self.each_gone(&cases, &mut |case, target| {
            let (which, next) = pairs[case];
            let newly = was[target] && is[which][target] && alone.stays[next][target];
            if newly && !self.is_own(alone.faults[next], targets.list[target].0) {
                taken[which].entry(next).or_default().push(target);
            }
        });
        taken.into_iter().map(|t| self.told(alone, t)).collect()
    }

    /// Damage of each next fault; by moment where their settings differ, else once.
    fn second_damages(&self, alone: &Alone, moments: &[(&[FaultIx], &Moment)]) -> Vec<Vec<Damage>> {
        let of = |m: &Moment| alone.faults.iter().map(|f| self.damage(&[*f], &m.setting)).collect();
        let alike = moments.windows(2).all(|m| std::sync::Arc::ptr_eq(&m[0].1.setting, &m[1].1.setting));
        moments.iter().take(if alike { 1 } else { moments.len() }).map(|(_, m)| of(m)).collect()
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
