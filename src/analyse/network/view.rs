//! One settled moment, asked need by need: for the few nodes whose reasons are wanted.

use super::bits::Bits;
use super::graph::conduction;
use super::moment::Moment;
use crate::model::{Condition, Feed, ItemIx, Model, Need, NodeIx, NodeKind, When};

/// A moment as it stands, or with its false nodes held dead.
#[derive(Clone, Copy)]
pub(super) struct View<'a> {
    model: &'a Model,
    moment: &'a Moment,
    works: &'a Bits,
    coils: &'a Bits,
    truth: bool,
}

impl<'a> View<'a> {
    /// As it stands.
    pub fn as_it_stands(model: &'a Model, moment: &'a Moment) -> Self {
        Self { model, moment, works: &moment.outcome.works, coils: &moment.outcome.coils, truth: false }
    }

    /// With the false nodes held dead.
    pub fn in_truth(model: &'a Model, moment: &'a Moment) -> Self {
        Self { model, moment, works: &moment.outcome.truth, coils: &moment.outcome.true_coils, truth: true }
    }

    /// True if the node works.
    pub fn works(&self, node: NodeIx) -> bool {
        self.works.has(node)
    }

    /// True if no fault takes it.
    pub fn intact(&self, node: NodeIx) -> bool {
        let damage = &self.moment.damage;
        let held_dead = self.truth && damage.false_nodes.binary_search(&node).is_ok();
        !held_dead && damage.taken.binary_search(&node).is_err()
    }

    fn ignores(&self, owner: Option<NodeIx>, item: ItemIx) -> bool {
        owner.is_some_and(|owner| self.moment.damage.ignored.binary_search(&(owner, item)).is_ok())
    }

    fn meets(&self, condition: &Condition, owner: Option<NodeIx>) -> bool {
        self.moment.setting.meets(condition) || self.ignores(owner, condition.control)
    }

    fn matches(&self, when: &When, owner: Option<NodeIx>) -> bool {
        when.0.iter().all(|c| self.meets(c, owner))
    }

    /// Whether a passed device conducts for the node that it feeds.
    pub fn conducts(&self, device: NodeIx, owner: Option<NodeIx>) -> bool {
        let whole = self.intact(device) && self.moment.damage.tripped.binary_search(&device).is_err();
        let ignored = |item| self.ignores(owner, item) || self.ignores(Some(device), item);
        whole && (self.model.item_of(device).is_some_and(ignored) || self.passes(device))
    }

    /// It stands in a position that conducts, and what it needs itself holds.
    fn passes(&self, device: NodeIx) -> bool {
        let stands = conduction(self.model, device).is_none_or(|c| self.moment.setting.meets(&c));
        let shut_in = self.moment.damage.trapped.binary_search(&device).is_ok();
        let fed = self.works(device) && !shut_in || self.coils.has(device);
        stands && (self.model[device].needs.is_empty() || fed)
    }

    /// A control or tripped device gives nothing unless it stands so that it conducts.
    pub fn gives(&self, from: NodeIx, owner: Option<NodeIx>) -> bool {
        let ignored = |item| self.ignores(owner, item) || self.ignores(Some(from), item);
        let closed = self.moment.damage.tripped.binary_search(&from).is_err();
        let stands = conduction(self.model, from).is_none_or(|c| self.moment.setting.meets(&c) || ignored(c.control));
        closed && stands
    }

    fn feeds(&self, feed: &Feed, owner: Option<NodeIx>, with_source: bool) -> bool {
        (!with_source || (self.works(feed.from) && self.gives(feed.from, owner)))
            && self.matches(&feed.when, owner)
            && feed.through.iter().all(|d| self.conducts(*d, owner))
    }

    /// Whether a need holds, for the node whose it is.
    pub fn holds(&self, need: &Need, owner: Option<NodeIx>) -> bool {
        self.judge(need, owner, true)
    }

    /// Whether all needs hold.
    pub fn all_hold(&self, needs: &[Need], owner: Option<NodeIx>) -> bool {
        needs.iter().all(|n| self.holds(n, owner))
    }

    fn judge(&self, need: &Need, owner: Option<NodeIx>, with_source: bool) -> bool {
        match need {
            Need::Feed(feed) => self.feeds(feed, owner, with_source),
            Need::When(when, _) => self.matches(when, owner),
            Need::Any(of, _) => of.iter().any(|n| self.judge(n, owner, with_source)),
            Need::All(of, _) => of.iter().all(|n| self.judge(n, owner, with_source)),
            Need::AtLeast { count, of, .. } => {
                of.iter().filter(|n| self.judge(n, owner, with_source)).count() >= *count
            }
        }
    }
}

/// What is gone between two views of a node.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Missing {
    /// What stopped: sources, passed devices, moved controls, the item of a function.
    pub causes: Vec<NodeIx>,
    /// Sources and devices of the feeds that stopped.
    pub feeds: Vec<NodeIx>,
}

impl Missing {
    /// What a node that worked misses now.
    pub fn of(node: NodeIx, before: View, now: View) -> Self {
        let mut missing = Self::default();
        let row = &now.model[node];
        row.needs.iter().for_each(|n| missing.need(n, node, before, now, true));
        row.senses.iter().for_each(|n| missing.need(n, node, before, now, false));
        if let NodeKind::Function(item, _) = row.kind {
            let item = now.model[item].node;
            if before.works(item) && !now.works(item) {
                missing.causes.push(item);
                missing.feeds.extend(Self::of(item, before, now).feeds);
            }
        }
        for list in [&mut missing.causes, &mut missing.feeds] {
            list.sort_unstable();
            list.dedup();
        }
        missing
    }

    fn need(&mut self, need: &Need, owner: NodeIx, before: View, now: View, with_source: bool) {
        if !before.judge(need, Some(owner), with_source) || now.judge(need, Some(owner), with_source) {
            return;
        }
        match need {
            Need::Feed(feed) => self.feed(feed, owner, before, now, with_source),
            Need::When(when, _) => self.when(when, owner, before, now),
            _ => need.parts().iter().for_each(|part| self.need(part, owner, before, now, with_source)),
        }
    }

    fn feed(&mut self, feed: &Feed, owner: NodeIx, before: View, now: View, with_source: bool) {
        self.feeds.push(feed.from);
        let gave = |view: View| view.works(feed.from) && view.gives(feed.from, Some(owner));
        if with_source && gave(before) && !gave(now) {
            self.causes.push(feed.from);
        }
        for device in &feed.through {
            if before.conducts(*device, Some(owner)) && !now.conducts(*device, Some(owner)) {
                self.causes.push(*device);
                self.feeds.push(*device);
            }
        }
        self.when(&feed.when, owner, before, now);
    }

    fn when(&mut self, when: &When, owner: NodeIx, before: View, now: View) {
        for condition in &when.0 {
            if before.meets(condition, Some(owner)) && !now.meets(condition, Some(owner)) {
                self.causes.push(now.model[condition.control].node);
            }
        }
    }
}
