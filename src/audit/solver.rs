//! The plain solver: the solutions of one situation.

use super::parts::{Condition, ConditionNumber, Feed, NOBODY, Need, NodeKind, Number, PlainModel};
use super::situation::Situation;
use super::states::Moment;

/// What works, with what conducts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Settled {
    pub(super) works: Vec<bool>,
    pub(super) conducts: Vec<bool>,
}

/// The three solutions of one situation.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    /// As it stands.
    pub(super) first: Settled,
    /// With what misleads held dead.
    pub(super) truly: Vec<bool>,
    /// With what misleads held dead and approximate feeds cut.
    pub(super) exactly: Vec<bool>,
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

/// What the needs are held against while a solution grows.
struct Look<'s> {
    conditions: &'s [Condition],
    situation: &'s Situation,
    works: &'s [bool],
    conducts: &'s [bool],
    before: &'s [bool],
    cut: bool,
}

impl Look<'_> {
    fn ignores(&self, who: Number, what: Number) -> bool {
        self.situation.ignored.contains(&(who, what))
    }
}

impl PlainModel {
    /// All three solutions of a situation, from one start.
    pub(super) fn solve(&self, situation: &Situation, start: Option<&[bool]>) -> Solution {
        let first = self.settle(situation, start, AS_IT_STANDS);
        let truly = if situation.misled.contains(&true) {
            self.settle(situation, start, TRULY).works
        } else {
            first.works.clone()
        };
        let exactly =
            if self.layout.approximate { self.settle(situation, start, EXACTLY).works } else { truly.clone() };
        Solution { first, truly, exactly }
    }

    /// Lets go of what no longer holds itself up, then lets come alive what can; only sources of sustained feeds matter
    /// for what was before.
    pub(super) fn settle(&self, situation: &Situation, start: Option<&[bool]>, way: Way) -> Settled {
        let anchored = |works: &[bool]| both(works, &self.layout.anchors);
        let mut before = start.map_or_else(|| vec![false; self.nodes.len()], anchored);
        let mut now = self.least(situation, &before, way);
        loop {
            let kept = both(&before, &now.works);
            if kept == before {
                break;
            }
            before = kept;
            now = self.least(situation, &before, way);
        }
        while before != anchored(&now.works) {
            before = anchored(&now.works);
            now = self.least(situation, &before, way);
        }
        now
    }

    /// The least solution when a sustained feed also holds if its source is in `before`.
    fn least(&self, situation: &Situation, before: &[bool], way: Way) -> Settled {
        let intact = |n: Number| !(situation.taken[n] || way.dead && situation.misled[n]);
        let mut works = vec![false; self.nodes.len()];
        let mut conducts = works.clone();
        let mut grown = true;
        while grown {
            grown = false;
            for &n in self.layout.order.iter().filter(|n| intact(**n)) {
                let look = Look {
                    conditions: &self.conditions,
                    situation,
                    works: &works,
                    conducts: &conducts,
                    before,
                    cut: way.cut,
                };
                let passes = self.layout.passed[n] && !conducts[n] && self.conducts(n, &look);
                let alive = !works[n] && self.works(n, &look);
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
            node.needs.iter().all(|need| holds(need, n, look, false))
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
            _ if look.ignores(n, n) => true,
            _ => look.situation.open[n] && self.nodes[n].needs.iter().all(|need| holds(need, n, look, false)),
        }
    }

    /// Whether a list of needs holds in a solution.
    pub(super) fn all_hold(&self, needs: &[Need], who: Number, moment: &Moment) -> bool {
        let first = &moment.solution.first;
        let look = Look {
            conditions: &self.conditions,
            situation: &moment.situation,
            works: &first.works,
            conducts: &first.conducts,
            before: &first.works,
            cut: false,
        };
        needs.iter().all(|need| holds(need, who, &look, false))
    }

    /// Whether one feed holds in a solution.
    pub(super) fn feed_holds(&self, feed: &Feed, who: Number, moment: &Moment) -> bool {
        self.all_hold(&[Need::Feed(feed.clone())], who, moment)
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
    let source =
        sensed || look.works[feed.from] || (feed.sustained && look.before[feed.from]) || look.ignores(who, feed.from);
    let gives = sensed || look.situation.open[feed.from] || look.ignores(feed.from, feed.from);
    source
        && gives
        && !(look.cut && feed.approximate)
        && feed.when.iter().all(|c| condition_holds(*c, who, look))
        && feed.through.iter().all(|t| look.conducts[*t] || look.ignores(who, *t))
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
