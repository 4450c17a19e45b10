//! Part of pass 4: every vertex is tried at every place of its column, and stays at the best one.
//!
//! # Source
//! Sifting: Matuszewski, Schönfeld and Molitor, "Using sifting for k-layer straightline crossing minimization", 1999.

use super::crossings::Net;

/// In long columns a vertex is tried only so far from where it stands.
const WINDOW: usize = 160;

/// The ends of the vertices of one column on one side, as ranks among all ends there, laid one after the other.
struct Side {
    ends: Vec<u32>,
    begins: Vec<usize>,
    ranks: usize,
    /// For each rank, what it costs a neighbour with an end there to stand below the vertex in hand, less what it saves.
    tilt: Vec<i32>,
}

impl Side {
    fn of(net: &Net, column: usize, forward: bool) -> Self {
        let (mut keys, mut begins) = (Vec::new(), vec![0]);
        for vertex in &net.columns[column] {
            net.push_ends(*vertex, forward, &mut keys);
            begins.push(keys.len());
        }
        let mut sorted = keys.clone();
        sorted.sort_unstable();
        sorted.dedup();
        let rank = |key: &usize| sorted.binary_search(key).unwrap_or(0) as u32;
        Self { ends: keys.iter().map(rank).collect(), begins, ranks: sorted.len(), tilt: Vec::new() }
    }

    fn ends(&self, at: usize) -> &[u32] {
        &self.ends[self.begins[at]..self.begins[at + 1]]
    }

    /// Takes a vertex in hand.
    fn take(&mut self, vertex: usize) {
        let (begin, end) = (self.begins[vertex], self.begins[vertex + 1]);
        self.tilt.clear();
        self.tilt.resize(self.ranks, 0);
        let mut start = 0;
        let own_ends = self.ends[begin..end].iter();
        let mut level: i32 = own_ends.map(|_| 1).sum();
        for own in &self.ends[begin..end] {
            let own = *own as usize;
            if own > start {
                self.tilt[start..own].iter_mut().for_each(|t| *t = level);
            }
            let same: i32 = self.ends[begin..end].iter().map(|e| i32::from(*e as usize == own)).sum();
            if own >= start {
                self.tilt[own] = level - same;
                level -= 2 * same;
                start = own + 1;
            }
        }
        self.tilt[start..].iter_mut().for_each(|t| *t = level);
    }

    /// Crossings more with the vertex in hand above another than below it.
    fn gain(&self, other: usize) -> i32 {
        self.ends(other).iter().map(|e| self.tilt[*e as usize]).sum()
    }
}

/// Sifts every vertex of a column once; how many crossings that saved.
pub(super) fn sift(net: &mut Net, column: usize) -> usize {
    let mut sides = [Side::of(net, column, true), Side::of(net, column, false)];
    let count = net.columns[column].len();
    let mut order: Vec<usize> = (0..count).collect();
    let mut place: Vec<usize> = order.clone();
    let mut saved = 0;
    for vertex in 0..count {
        sides.iter_mut().for_each(|s| s.take(vertex));
        let at = place[vertex];
        let (best, gain) = best_place(&sides, &order, at);
        if gain < 0 {
            saved += gain.unsigned_abs() as usize;
            let moved = order.remove(at);
            order.insert(best, moved);
            for (now, one) in order.iter().enumerate().take(at.max(best) + 1).skip(at.min(best)) {
                place[*one] = now;
            }
        }
    }
    if saved > 0 {
        let before = net.columns[column].clone();
        net.columns[column] = order.into_iter().map(|at| before[at]).collect();
        net.number_column(column);
    }
    saved
}

/// Sorts vertices that may change places with their neighbours for nothing by their numbers.
pub(super) fn sort_ties(net: &mut Net, column: usize) {
    let mut sides = [Side::of(net, column, true), Side::of(net, column, false)];
    let before = net.columns[column].clone();
    let mut order: Vec<usize> = Vec::new();
    for at in 0..before.len() {
        sides.iter_mut().for_each(|s| s.take(at));
        let free =
            |other: &&usize| before[**other] > before[at] && sides[0].gain(**other) + sides[1].gain(**other) == 0;
        let place = order.len() - order.iter().rev().take_while(free).count();
        order.insert(place, at);
    }
    net.columns[column] = order.into_iter().map(|at| before[at]).collect();
    net.number_column(column);
}

/// The best place for the vertex in hand, and the change of crossings there.
fn best_place(sides: &[Side; 2], order: &[usize], at: usize) -> (usize, i32) {
    let gain = |other: usize| sides[0].gain(other) + sides[1].gain(other);
    let mut best = (at, 0);
    let mut sum = 0;
    for place in (at.saturating_sub(WINDOW)..at).rev() {
        sum += gain(order[place]);
        if sum < best.1 {
            best = (place, sum);
        }
    }
    sum = 0;
    for (place, other) in order.iter().enumerate().take(at + WINDOW).skip(at + 1) {
        sum -= gain(*other);
        if sum < best.1 {
            best = (place, sum);
        }
    }
    best
}
