//! The plain solver: the solutions of one situation.

use super::parts::{Condition, ConditionNumber, Feed, NOBODY, Need, Node, NodeKind, Number, PlainModel};
use super::situation::Situation;
use super::states::Moment;
use std::sync::Arc;

/// What works, with what conducts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Settled {
    pub(super) works: Vec<bool>,
    pub(super) conducts: Vec<bool>,
}

/// The three solutions of one situation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Solution {
    /// As it stands.
    pub(super) first: Arc<Settled>,
    /// With what misleads held dead.
    pub(super) truly: Arc<Settled>,
    /// With what misleads held dead and approximate feeds cut.
    pub(super) exactly: Arc<Settled>,
}

/// One of the three ways to solve.
#[derive(Debug, Clone, Copy)]
pub(super) struct Way {
    /// What misleads is held dead.
    pub(super) dead: bool,
    /// Approximate feeds are cut.
    pub(super) cut: bool,
}

/// As it stands.
pub(super) const AS_IT_STANDS: Way = Way { dead: false, cut: false };
/// With what misleads held dead.
pub(super) const TRULY: Way = Way { dead: true, cut: false };
const EXACTLY: Way = Way { dead: true, cut: true };

/// The nodes that are asked, in their order; all others are known.
#[derive(Debug, Clone, Copy)]
struct Among<'k> {
    known: Option<&'k Settled>,
    order: &'k [Number],
}

/// What the needs are held against while a solution grows.
struct Look<'s> {
    nodes: &'s [Node],
    conditions: &'s [Condition],
    situation: &'s Situation,
    works: &'s [bool],
    conducts: &'s [bool],
    before: &'s [bool],
    way: Way,
}

impl Look<'_> {
    fn ignores(&self, who: Number, what: Number) -> bool {
        !self.situation.ignored.is_empty() && self.situation.ignored.contains(&(who, what))
    }

    /// Whether a node ignores the item that a device is, or is a function of.
    fn ignores_item_of(&self, who: Number, device: Number) -> bool {
        match self.nodes[device].kind {
            NodeKind::Item { .. } => self.ignores(who, device),
            NodeKind::Function { item } => self.ignores(who, item),
            NodeKind::Given { .. } => false,
        }
    }

    /// Whether something can be passed at all: it is whole, and not tripped.
    fn is_whole(&self, device: Number) -> bool {
        let held_dead = self.way.dead && self.situation.misled[device];
        !(self.situation.taken[device] || held_dead || self.situation.tripped[device])
    }

    /// Whether something conducts, or stands so for `who` at least.
    fn passes(&self, device: Number, who: Number) -> bool {
        self.conducts[device] || (self.ignores_item_of(who, device) && self.is_whole(device))
    }

    /// Whether a source lets out what it has: a control stands so that it conducts, or that is ignored; nothing is tripped.
    fn lets_out(&self, from: Number, who: Number) -> bool {
        let ignored = || self.ignores_item_of(who, from) || self.ignores_item_of(from, from);
        !self.situation.tripped[from] && (self.situation.open[from] || ignored())
    }
}

impl PlainModel {
    /// All three solutions of a situation, from one start.
    pub(super) fn solve(&self, situation: &Situation, start: Option<&[bool]>) -> Solution {
        let first = Arc::new(self.settle(situation, start, AS_IT_STANDS));
        let misled = situation.may_be_false();
        let truly = if misled { Arc::new(self.settle(situation, start, TRULY)) } else { Arc::clone(&first) };
        let exactly =
            if self.layout.approximate { Arc::new(self.settle(situation, start, EXACTLY)) } else { Arc::clone(&truly) };
        Solution { first, truly, exactly }
    }

    /// All three solutions of a situation that differs from a solved one only in what is said of some nodes, from running at
    /// that solution.
    pub(super) fn solve_again(&self, situation: &Situation, from: &Moment, changed: &[Number]) -> Solution {
        self.solve_from(self.truly_again(situation, from, changed), situation, from, changed)
    }

    /// The second of them alone.
    pub(super) fn truly_again(&self, situation: &Situation, from: &Moment, changed: &[Number]) -> Settled {
        let known = &from.solution;
        self.settle_again(situation, (&known.truly, &known.first.works), TRULY, changed)
    }

    /// All three where the second is known. While nothing misleads, the first is the same.
    pub(super) fn solve_from(
        &self,
        truly: Settled,
        situation: &Situation,
        from: &Moment,
        changed: &[Number],
    ) -> Solution {
        let (known, truly) = (&from.solution, Arc::new(truly));
        let misled = situation.may_be_false() || from.situation.may_be_false();
        let again = |settled: &Settled, way: Way| {
            Arc::new(self.settle_again(situation, (settled, &known.first.works), way, changed))
        };
        let first = if misled { again(&known.first, AS_IT_STANDS) } else { Arc::clone(&truly) };
        let exactly = if self.layout.approximate { again(&known.exactly, EXACTLY) } else { Arc::clone(&truly) };
        Solution { first, truly, exactly }
    }

    /// Settles again from a start, where `known` is a solution in the same way and only some nodes have changed since. Only what
    /// hangs on those is asked; all else stays as it is, if what was known holds itself up from that start.
    pub(super) fn settle_again(
        &self,
        situation: &Situation,
        (known, start): (&Settled, &[bool]),
        way: Way,
        changed: &[Number],
    ) -> Settled {
        let anchored = |works: &[bool]| both(works, &self.layout.anchors);
        if anchored(&known.works) != anchored(start) {
            return self.settle(situation, Some(start), way);
        }
        let hang = self.cone_of(changed);
        let order: Vec<Number> = self.layout.order.iter().copied().filter(|n| hang[*n]).collect();
        self.settle_among(situation, Some(start), way, Among { known: Some(known), order: &order })
    }

    /// What hangs on any of these nodes, however far, themselves included.
    pub(super) fn cone_of(&self, numbers: &[Number]) -> Vec<bool> {
        let mut hang = vec![false; self.nodes.len()];
        for number in numbers {
            self.layout.cones[*number].iter().for_each(|n| hang[*n] = true);
        }
        hang
    }

    /// Whether every source of a sustained feed that works does so truly, so that settling again touches only what has changed.
    pub(super) fn is_anchored_as_it_is(&self, moment: &Moment) -> bool {
        let (first, truly) = (&moment.solution.first.works, &moment.solution.truly.works);
        !both(&but_not(first, truly), &self.layout.anchors).contains(&true)
    }

    /// Lets go of what no longer holds itself up, then lets come alive what can; only sources of sustained feeds matter
    /// for what was before.
    pub(super) fn settle(&self, situation: &Situation, start: Option<&[bool]>, way: Way) -> Settled {
        self.settle_among(situation, start, way, Among { known: None, order: &self.layout.order })
    }

    fn settle_among(&self, situation: &Situation, start: Option<&[bool]>, way: Way, among: Among<'_>) -> Settled {
        let anchored = |works: &[bool]| both(works, &self.layout.anchors);
        let mut before = start.map_or_else(|| vec![false; self.nodes.len()], anchored);
        let mut now = self.least(situation, &before, way, among);
        while but_not(&before, &now.works).contains(&true) {
            before = both(&before, &now.works);
            now = self.least(situation, &before, way, among);
        }
        while before != anchored(&now.works) {
            before = anchored(&now.works);
            now = self.least(situation, &before, way, among);
        }
        now
    }

    /// The least solution when a sustained feed also holds if its source is in `before`.
    fn least(&self, situation: &Situation, before: &[bool], way: Way, among: Among<'_>) -> Settled {
        let intact = |n: Number| !(situation.taken[n] || way.dead && situation.misled[n]);
        let shut_in = |n: Number| !way.dead && situation.trapped[n];
        let nothing = || vec![false; self.nodes.len()];
        let (mut works, mut conducts) =
            among.known.map_or_else(|| (nothing(), nothing()), |known| (known.works.clone(), known.conducts.clone()));
        for &n in among.order {
            (works[n], conducts[n]) = (false, false);
        }
        let mut grown = true;
        while grown {
            grown = false;
            for &n in among.order.iter().filter(|n| intact(**n) || shut_in(**n)) {
                let (nodes, conditions) = (self.nodes.as_slice(), self.conditions.as_slice());
                let look = Look { nodes, conditions, situation, works: &works, conducts: &conducts, before, way };
                let passes = self.layout.passed[n] && !conducts[n] && intact(n) && self.conducts(n, &look);
                let alive = !works[n] && (shut_in(n) || self.works(n, &look));
                conducts[n] |= passes;
                works[n] |= alive;
                grown |= passes || alive;
            }
        }
        Settled { works, conducts }
    }

    fn works(&self, n: Number, look: &Look) -> bool {
        let node = &self.nodes[n];
        let fed = || {
            (look.ignores_item_of(n, n) || node.needs.iter().all(|need| holds(need, n, look, false)))
                && node.senses.iter().all(|need| holds(need, n, look, true))
        };
        match node.kind {
            NodeKind::Given { .. } => look.situation.given[n],
            NodeKind::Item { .. } => fed(),
            NodeKind::Function { item } => look.works[item] && fed(),
        }
    }

    /// A node that is passed conducts when its position does and its own needs hold; one that ignores itself conducts.
    fn conducts(&self, n: Number, look: &Look) -> bool {
        match self.nodes[n].kind {
            NodeKind::Given { .. } => look.situation.given[n],
            _ if look.situation.tripped[n] => false,
            _ if look.ignores_item_of(n, n) => true,
            _ => look.situation.open[n] && self.nodes[n].needs.iter().all(|need| holds(need, n, look, false)),
        }
    }

    /// What the needs are held against in a moment, as it stands.
    fn look<'s>(&'s self, moment: &'s Moment) -> Look<'s> {
        let first = &moment.solution.first;
        Look {
            nodes: &self.nodes,
            conditions: &self.conditions,
            situation: &moment.situation,
            works: &first.works,
            conducts: &first.conducts,
            before: &first.works,
            way: AS_IT_STANDS,
        }
    }

    /// Whether a list of needs holds in a moment.
    pub(super) fn all_hold(&self, needs: &[Need], who: Number, moment: &Moment) -> bool {
        needs.iter().all(|need| self.need_holds(need, who, moment, false))
    }

    /// Whether one need holds in a moment; `sensed` asks for the way only.
    pub(super) fn need_holds(&self, need: &Need, who: Number, moment: &Moment, sensed: bool) -> bool {
        holds(need, who, &self.look(moment), sensed)
    }

    /// Whether something lets pass what `who` gets by way of it.
    pub(super) fn passes(&self, device: Number, who: Number, moment: &Moment) -> bool {
        self.look(moment).passes(device, who)
    }

    /// Whether a list of needs holds for nobody in particular.
    pub(super) fn hold_at_large(&self, needs: &[Need], moment: &Moment) -> bool {
        self.all_hold(needs, NOBODY, moment)
    }
}

/// Whether a need of `who` holds; `sensed` asks for the way only, not for the source.
fn holds(need: &Need, who: Number, look: &Look, sensed: bool) -> bool {
    match need {
        Need::Feed(feed) => feed_holds(feed, who, look, sensed),
        Need::When(when) => when.iter().all(|c| condition_holds(*c, who, look)),
        Need::Any(list) => list.iter().any(|need| holds(need, who, look, sensed)),
        Need::All(list) => list.iter().all(|need| holds(need, who, look, sensed)),
        Need::AtLeast(count, list) => list.iter().filter(|need| holds(need, who, look, sensed)).count() >= *count,
    }
}

/// A control, or what is tripped, gives nothing while it does not conduct: a closed selector is no source.
fn feed_holds(feed: &Feed, who: Number, look: &Look, sensed: bool) -> bool {
    let source = || look.works[feed.from] || (feed.sustained && look.before[feed.from]);
    (sensed || (source() && look.lets_out(feed.from, who)))
        && !(look.way.cut && feed.approximate)
        && feed.when.iter().all(|c| condition_holds(*c, who, look))
        && feed.through.iter().all(|t| look.passes(*t, who))
}

fn condition_holds(condition: ConditionNumber, who: Number, look: &Look) -> bool {
    look.situation.met[condition] || look.ignores(who, look.conditions[condition].control)
}

/// What is in both.
pub(super) fn both(a: &[bool], b: &[bool]) -> Vec<bool> {
    a.iter().zip(b).map(|(a, b)| *a && *b).collect()
}

/// What is in the first and not in the second.
pub(super) fn but_not(a: &[bool], b: &[bool]) -> Vec<bool> {
    a.iter().zip(b).map(|(a, b)| *a && !*b).collect()
}
