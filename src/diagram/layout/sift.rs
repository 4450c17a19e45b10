//! Part of pass 4: every vertex is tried at every place of its column, and stays at the best one.
//!
//! # Source
//! Sifting: Matuszewski, Schönfeld and Molitor, "Using sifting for k-layer straightline crossing minimization", 1999.

use super::crossings::Net;

/// In long columns a vertex is tried only so far from where it stands.
const WINDOW: usize = 160;

/// The ends of the vertices of one column on one side, as ranks among all ends there, laid one after the other.
#[derive(Default)]
struct Side {
    ends: Vec<u32>,
    begins: Vec<usize>,
    ranks: usize,
    /// For each rank, what it costs a neighbour with an end there to stand below the vertex in hand, less what it saves.
    tilt: Vec<i32>,
    keys: Vec<usize>,
    sorted: Vec<usize>,
}

impl Side {
    fn load(&mut self, net: &Net, column: usize, forward: bool) {
        self.keys.clear();
        self.begins.clear();
        self.begins.push(0);
        for vertex in &net.columns[column] {
            net.push_ends(*vertex, forward, &mut self.keys);
            self.begins.push(self.keys.len());
        }
        self.sorted.clone_from(&self.keys);
        self.sorted.sort_unstable();
        self.sorted.dedup();
        self.ranks = self.sorted.len();
        let rank = |key: &usize| self.sorted.binary_search(key).unwrap_or(0) as u32;
        self.ends.clear();
        self.ends.extend(self.keys.iter().map(rank));
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

/// What sifting works with; columns come and go.
#[derive(Default)]
pub(super) struct Sieve {
    sides: [Side; 2],
    order: Vec<usize>,
    place: Vec<usize>,
    before: Vec<usize>,
}

impl Sieve {
    fn load(&mut self, net: &Net, column: usize) {
        self.sides[0].load(net, column, true);
        self.sides[1].load(net, column, false);
        self.before.clone_from(&net.columns[column]);
    }

    fn take(&mut self, vertex: usize) {
        self.sides.iter_mut().for_each(|side| side.take(vertex));
    }

    /// Gives the column its new order.
    fn store(&self, net: &mut Net, column: usize) {
        for (vertex, at) in net.columns[column].iter_mut().zip(&self.order) {
            *vertex = self.before[*at];
        }
        net.number_column(column);
    }

    /// Sifts every vertex of a column once; how many crossings that saved.
    pub fn sift(&mut self, net: &mut Net, column: usize) -> usize {
        self.load(net, column);
        let count = self.before.len();
        self.order.clear();
        self.order.extend(0..count);
        self.place.clone_from(&self.order);
        let mut saved = 0;
        for vertex in 0..count {
            self.take(vertex);
            let at = self.place[vertex];
            let (best, gain) = best_place(&self.sides, &self.order, at);
            if gain < 0 {
                saved += gain.unsigned_abs() as usize;
                let (low, high) = (at.min(best), at.max(best));
                if best < at {
                    self.order[low..=high].rotate_right(1)
                } else {
                    self.order[low..=high].rotate_left(1)
                }
                for now in low..=high {
                    self.place[self.order[now]] = now;
                }
            }
        }
        if saved > 0 {
            self.store(net, column);
        }
        saved
    }

    /// Sorts vertices that may change places with their neighbours for nothing by their numbers.
    pub fn sort_ties(&mut self, net: &mut Net, column: usize) {
        self.load(net, column);
        self.order.clear();
        for at in 0..self.before.len() {
            self.take(at);
            let free = |other: &&usize| {
                self.before[**other] > self.before[at] && self.sides[0].gain(**other) + self.sides[1].gain(**other) == 0
            };
            let place = self.order.len() - self.order.iter().rev().take_while(free).count();
            self.order.insert(place, at);
        }
        self.store(net, column);
    }
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
