//! Parts of the panel: it is cut from edge to edge, along the widest gaps, until each part can be drawn with all its lettering.

use crate::diagram::geometry::Rect;
use std::collections::BTreeSet;

/// A gap wider than this is as good as any, mm.
const WIDE: f64 = 25.0;
/// What a cut at the very edge costs, against one in the middle, mm.
const UNEVEN: f64 = 40.0;
/// A cut across the longer side is worth so much more, mm.
const LONGER: f64 = 20.0;

/// What it costs that things of all groups stand on both sides of a cut, mm.
const TORN: f64 = 40.0;

/// What is cut: a frame and a group for each thing.
pub(super) struct Board<'a> {
    /// Frames, mm.
    pub(super) frames: &'a [Rect],
    /// Numbers of groups.
    pub(super) groups: &'a [usize],
}

/// Cuts the things with these frames, from left to right and from the top down, until `fits` gives something for each part. A part
/// of one thing is given to `forced`.
pub(super) fn cut<T>(
    all: &[usize],
    board: &Board<'_>,
    fits: &dyn Fn(&[usize]) -> Option<T>,
    forced: &dyn Fn(&[usize]) -> T,
) -> Vec<T> {
    if let Some(part) = fits(all) {
        return vec![part];
    }
    match best(all, board) {
        Some((before, after)) => {
            let mut parts = cut(&before, board, fits, forced);
            parts.extend(cut(&after, board, fits, forced));
            parts
        }
        None if all.is_empty() => Vec::new(),
        None => vec![forced(all)],
    }
}

/// What encloses some frames.
pub(super) fn enclosing(of: &[usize], frames: &[Rect]) -> Rect {
    let mut rects = of.iter().filter_map(|n| frames.get(*n));
    let Some(first) = rects.next() else { return Rect::default() };
    let (mut left, mut top, mut right, mut bottom) = (first.x, first.y, first.right(), first.bottom());
    for rect in rects {
        (left, top) = (left.min(rect.x), top.min(rect.y));
        (right, bottom) = (right.max(rect.right()), bottom.max(rect.bottom()));
    }
    Rect::new(left, top, right - left, bottom - top)
}

type Halves = (Vec<usize>, Vec<usize>);

/// The best of all cuts between two neighbours, across or down.
fn best(all: &[usize], board: &Board<'_>) -> Option<Halves> {
    let frames = board.frames;
    let whole = enclosing(all, frames);
    let mut found: Option<(f64, Halves)> = None;
    for across in [true, false] {
        let middle = |n: usize| frames.get(n).map_or(0.0, |f| if across { f.centre().x } else { f.centre().y });
        let mut order = all.to_vec();
        order.sort_by(|a, b| middle(*a).total_cmp(&middle(*b)).then(a.cmp(b)));
        for at in 1..order.len() {
            let (before, after) = order.split_at(at);
            let torn = TORN * torn(before, after, board.groups);
            let score = score(&enclosing(before, frames), &enclosing(after, frames), &whole, across) - torn;
            if found.as_ref().is_none_or(|(best, _)| score > *best + 1e-9) {
                found = Some((score, (sorted(before), sorted(after))));
            }
        }
    }
    found.map(|(_, halves)| halves)
}

/// Which part of the groups stands on both sides.
fn torn(before: &[usize], after: &[usize], groups: &[usize]) -> f64 {
    let of = |part: &[usize]| -> BTreeSet<usize> { part.iter().filter_map(|n| groups.get(*n)).copied().collect() };
    let (before, after) = (of(before), of(after));
    before.intersection(&after).count() as f64 / before.union(&after).count().max(1) as f64
}

fn sorted(part: &[usize]) -> Vec<usize> {
    let mut part = part.to_vec();
    part.sort_unstable();
    part
}

fn score(before: &Rect, after: &Rect, whole: &Rect, across: bool) -> f64 {
    let (end, begin, from, long, other) = if across {
        (before.right(), after.x, whole.x, whole.width, whole.height)
    } else {
        (before.bottom(), after.y, whole.y, whole.height, whole.width)
    };
    let uneven = (end.midpoint(begin) - from - long / 2.0).abs() / long.max(1.0);
    let gap = begin - end;
    // Frames that a cut goes through cost more than a gap gains.
    let gap = if gap < 0.0 { gap * 2.0 } else { gap.min(WIDE) };
    gap - UNEVEN * uneven + if long > other { LONGER } else { 0.0 }
}
