//! What works now and will not: stores are spent and slow faults come, one after the other.

use super::Analysis;
use super::damage::Damage;
use super::hangs::distances;
use super::moment::Moment;
use super::view::View;
use crate::analyse::answer::LostLater;
use crate::base::Quantity;
use crate::model::{FaultIx, NodeIx};

/// Something that will happen.
#[derive(Debug, Clone)]
struct Event {
    /// After so long, min; where it is not known, after all that is.
    at_min: Option<f64>,
    what: What,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum What {
    Spent(NodeIx),
    Comes(FaultIx),
}

/// The course of events after a fault.
struct Course<'a, 'm> {
    analysis: &'a Analysis<'m>,
    faults: Vec<FaultIx>,
    dead: Vec<NodeIx>,
    now: Moment,
    pending: Vec<Event>,
    seen: Vec<What>,
    /// Nodes of what has happened, with how far downstream each node is.
    happened: Vec<(NodeIx, Vec<Option<u32>>)>,
    lost: Vec<LostLater>,
}

impl Analysis<'_> {
    /// What is lost once every store is spent and every slow fault has come, and was not on its way without the faults.
    pub(super) fn lost_later(&self, faults: &[FaultIx], before: &Moment, after: &Moment) -> Vec<LostLater> {
        let spent_anyway = self.being_spent(before).map(What::Spent).collect();
        let mut course = Course {
            analysis: self,
            faults: faults.to_vec(),
            dead: Vec::new(),
            now: after.clone(),
            pending: Vec::new(),
            seen: spent_anyway,
            happened: Vec::new(),
            lost: Vec::new(),
        };
        course.seen.extend(faults.iter().map(|f| What::Comes(*f)));
        for fault in faults {
            course.expect_faults(*fault, Some(0.0));
        }
        course.expect_stores(Some(0.0));
        while course.step() {}
        course.lost.sort_by_key(|l| l.node);
        course.lost
    }

    /// Stores that work and that nothing keeps up.
    fn being_spent<'a>(&'a self, moment: &'a Moment) -> impl Iterator<Item = NodeIx> + 'a {
        let view = View::as_it_stands(self.model, moment);
        let kept = move |n: NodeIx| {
            let by = &self.model[n].kept_by;
            !by.is_empty() && view.all_hold(by, Some(n))
        };
        let drawn = move |n: NodeIx| view.all_hold(&self.model[n].spent_by, Some(n));
        let spent = move |n: &&NodeIx| view.works(**n) && !kept(**n) && drawn(**n);
        self.stores.iter().filter(spent).copied()
    }
}

impl Course<'_, '_> {
    fn expect(&mut self, what: What, at_min: Option<f64>) {
        if !self.seen.contains(&what) {
            self.seen.push(what);
            self.pending.push(Event { at_min, what });
        }
    }

    fn expect_faults(&mut self, fault: FaultIx, from_min: Option<f64>) {
        for next in &self.analysis.model[fault].leads_to {
            let at = next.after.as_ref().and_then(|q| later(from_min, q));
            self.expect(What::Comes(next.fault), at);
        }
    }

    fn expect_stores(&mut self, from_min: Option<f64>) {
        let stores: Vec<NodeIx> = self.analysis.being_spent(&self.now).collect();
        for store in stores {
            let at = from_min.zip(self.analysis.lasts_min(store)).map(|(from, lasts)| from + lasts);
            self.expect(What::Spent(store), at);
        }
    }

    /// The next event happens; false if there is none.
    fn step(&mut self) -> bool {
        let when = |event: &Event| event.at_min.unwrap_or(f64::INFINITY);
        let first = self.pending.iter().enumerate().min_by(|a, b| when(a.1).total_cmp(&when(b.1)));
        let Some(next) = first.map(|(i, _)| i) else { return false };
        let event = self.pending.remove(next);
        let node = match event.what {
            What::Spent(store) => {
                self.dead.push(store);
                store
            }
            What::Comes(fault) => {
                self.faults.push(fault);
                self.analysis.model[fault].of
            }
        };
        self.happened.push((node, distances(&[node], &self.analysis.hangs().down)));
        self.settle(event.at_min);
        if let What::Comes(fault) = event.what {
            self.expect_faults(fault, event.at_min);
        }
        self.expect_stores(event.at_min);
        true
    }

    fn settle(&mut self, at_min: Option<f64>) {
        let setting = self.now.setting.clone();
        let damage: Damage = self.analysis.damage(&self.faults, &setting).and_dead(self.analysis.model, &self.dead);
        let then = self.analysis.settle(setting, damage, &self.now.outcome.works);
        for node in self.now.outcome.works.minus(&then.outcome.works).iter() {
            let on_the_way = self.happened.iter().filter(|(_, far)| far[node.usize()].is_some());
            let because: Vec<NodeIx> = on_the_way.map(|(n, _)| *n).collect();
            let last = self.happened.last().map(|(n, _)| *n);
            let because = if because.is_empty() { last.into_iter().collect() } else { because };
            self.lost.push(LostLater { node, in_min: at_min, because });
        }
        self.now = then;
    }
}

/// A time after another, min; unknown if that is.
fn later(from_min: Option<f64>, by: &Quantity) -> Option<f64> {
    from_min.map(|from| from + by.si() / 60.0)
}
