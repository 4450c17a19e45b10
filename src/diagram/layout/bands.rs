//! Pass 2. Before: one set of parts. After: bands of parts, each as wide as the page at most where that can be had.

use super::{lay_out_band, rings};
use crate::diagram::WIDEST;
use crate::diagram::plan::{Form, Plan};
use std::collections::{BTreeMap, BTreeSet};

/// Parts with no link stand in rows of this many.
const ALONE_IN_A_ROW: usize = 5;

/// The bands from top to bottom. Parts that are drawn elsewhere and give to this drawing are in none.
pub(super) fn fold(plan: &Plan, back: &BTreeSet<usize>) -> Vec<BTreeSet<usize>> {
    let linked: BTreeSet<usize> = plan.links.iter().flat_map(|l| rings::steps(l)).flat_map(|(a, b)| [a, b]).collect();
    let drawn = |p: &usize| plan.parts[*p].form != Form::Outside;
    let ranks = ranks(plan, back);
    let mut bands = Vec::new();
    let all: BTreeSet<usize> = linked.iter().copied().filter(drawn).collect();
    split(plan, back, &ranks, all, &mut bands);
    let alone: Vec<usize> = (0..plan.parts.len()).filter(|p| drawn(p) && !linked.contains(p)).collect();
    bands.extend(alone.chunks(ALONE_IN_A_ROW).map(|row| row.iter().copied().collect()));
    bands
}

/// Cuts after the last rank at which the first band still fits.
fn split(
    plan: &Plan,
    back: &BTreeSet<usize>,
    ranks: &BTreeMap<usize, usize>,
    parts: BTreeSet<usize>,
    into: &mut Vec<BTreeSet<usize>>,
) {
    if parts.is_empty() {
        return;
    }
    if lay_out_band(plan, back, &parts).width <= WIDEST {
        into.push(parts);
        return;
    }
    let rank = |p: &usize| ranks.get(p).copied().unwrap_or(0);
    let cuts: BTreeSet<usize> = parts.iter().map(rank).collect();
    let upto = |cut: usize| -> BTreeSet<usize> { parts.iter().copied().filter(|p| rank(p) <= cut).collect() };
    let inner: Vec<usize> = cuts.iter().rev().skip(1).copied().collect();
    let fits = |cut: &&usize| lay_out_band(plan, back, &upto(**cut)).width <= WIDEST;
    let Some(cut) = inner.iter().find(fits).or(inner.last()).copied() else {
        into.push(parts);
        return;
    };
    let first = upto(cut);
    let rest: BTreeSet<usize> = parts.difference(&first).copied().collect();
    into.push(first);
    split(plan, back, ranks, rest, into);
}

/// Longest way from a source, in links; what takes from a part elsewhere stands one further.
fn ranks(plan: &Plan, back: &BTreeSet<usize>) -> BTreeMap<usize, usize> {
    let pairs: Vec<(usize, usize)> =
        plan.links.iter().enumerate().filter(|(at, _)| !back.contains(at)).flat_map(|(_, l)| rings::steps(l)).collect();
    let mut ranks: BTreeMap<usize, usize> = (0..plan.parts.len()).map(|p| (p, 0)).collect();
    for _ in 0..plan.parts.len() {
        let mut moved = false;
        for (from, to) in &pairs {
            let least = ranks.get(from).copied().unwrap_or(0) + 1;
            let rank = ranks.entry(*to).or_default();
            if *rank < least {
                *rank = least;
                moved = true;
            }
        }
        if !moved {
            break;
        }
    }
    ranks
}
