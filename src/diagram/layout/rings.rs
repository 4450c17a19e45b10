//! Pass 1. Before: links may run in rings. After: without the links told here, they do not.

use crate::diagram::plan::{Form, Link, Plan};
use std::collections::BTreeSet;

/// Links that close a ring, each link told. Sustained feeds are cut first, then what a bus gives back through a device that stands in a part of
/// its own; then the later link of two.
pub(super) fn find(plan: &Plan) -> Vec<bool> {
    let mut next: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); plan.parts.len()];
    let mut back = vec![false; plan.links.len()];
    let mut in_order: Vec<(usize, &Link)> = plan.links.iter().enumerate().collect();
    in_order.sort_by_key(|(_, l)| (l.sustained, plan.parts[l.from].form == Form::Bar && pairs(plan, l).len() > 1));
    for (at, link) in in_order {
        let pairs = pairs(plan, link);
        // The parts of one link stand in a row, so a later one must not lead to an earlier one.
        let closes = |end: usize, to: usize| pairs.iter().take(end + 1).any(|(from, _)| reaches(&next, to, *from));
        if pairs.iter().enumerate().any(|(at, (_, to))| closes(at, *to)) {
            back[at] = true;
            continue;
        }
        for (from, to) in pairs {
            next[from].insert(to);
        }
    }
    back
}

/// The parts that a link passes, pair by pair.
pub(super) fn pairs(plan: &Plan, link: &Link) -> Vec<(usize, usize)> {
    let homes = plan.steps_of(link).filter_map(|step| step.home());
    let stops: Vec<usize> = std::iter::once(link.from).chain(homes).chain([link.to]).collect();
    stops.windows(2).map(|w| (w[0], w[1])).collect()
}

fn reaches(next: &[BTreeSet<usize>], from: usize, to: usize) -> bool {
    let mut seen = BTreeSet::from([from]);
    let mut open = vec![from];
    while let Some(at) = open.pop() {
        if at == to {
            return true;
        }
        open.extend(next[at].iter().filter(|n| seen.insert(**n)));
    }
    false
}
