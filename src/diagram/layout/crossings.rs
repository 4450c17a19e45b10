//! How many edges cross: counted column by column, in O(E log E).
//!
//! # Source
//! Counting inversions by merging, as in Barth, Jünger and Mutzel, "Simple and efficient bilayer cross counting", 2002.

use super::layers::{Edge, Layers};

/// Places of slots within one vertex are kept below this.
const SUB: usize = 256;

/// What ordering sees of the layers: columns of vertices, and edges between neighbouring columns.
#[derive(Debug, Clone, Default)]
pub(super) struct Net {
    /// Vertices of each column from top to bottom.
    pub columns: Vec<Vec<usize>>,
    /// Column of each vertex.
    pub column_of: Vec<usize>,
    /// Place of each vertex in its column.
    pub place: Vec<usize>,
    /// Edges that leave each vertex: where to, and the row at which they come in there.
    after: Joined,
    /// Vertices from which edges come to each vertex.
    before: Joined,
    /// Columns that may gain by sifting: they or a neighbour changed.
    stale: Vec<bool>,
}

/// An order that may be gone back to.
pub(super) type Saved = (Vec<Vec<usize>>, Vec<bool>);

/// For each vertex some others, each with a row, laid one after the other.
#[derive(Debug, Clone, Default)]
struct Joined {
    begins: Vec<usize>,
    others: Vec<(usize, usize)>,
}

impl Joined {
    /// From pairs of a vertex and another with its row, in that order.
    fn of(count: usize, pairs: impl Iterator<Item = (usize, (usize, usize))> + Clone) -> Self {
        let mut begins = vec![0; count + 1];
        pairs.clone().for_each(|(vertex, _)| begins[vertex + 1] += 1);
        for vertex in 1..=count {
            begins[vertex] += begins[vertex - 1];
        }
        let mut next = begins.clone();
        let mut others = vec![(0, 0); begins[count]];
        for (vertex, other) in pairs {
            others[next[vertex]] = other;
            next[vertex] += 1;
        }
        Self { begins, others }
    }

    fn at(&self, vertex: usize) -> &[(usize, usize)] {
        &self.others[self.begins[vertex]..self.begins[vertex + 1]]
    }
}

impl Net {
    /// The net of some layers; `row` tells at which row of its vertex an edge comes in.
    pub fn of(layers: &Layers, row: &dyn Fn(&Edge) -> usize) -> Self {
        let count = layers.vertices.len();
        let sub = |edge: &Edge| row(edge).min(SUB - 1);
        let mut net = Self {
            columns: layers.columns.clone(),
            column_of: layers.vertices.iter().map(|v| v.column).collect(),
            place: vec![0; count],
            after: Joined::of(count, layers.edges.iter().map(|e| (e.from, (e.to, sub(e))))),
            before: Joined::of(count, layers.edges.iter().map(|e| (e.to, (e.from, 0)))),
            stale: vec![true; layers.columns.len()],
        };
        net.number();
        net
    }

    /// For each vertex the lowest of those that edges join it to, near or far: itself if it is that.
    pub fn pieces(&self) -> Vec<usize> {
        let count = self.column_of.len();
        let mut piece = vec![count; count];
        let mut open = Vec::new();
        for first in 0..count {
            open.extend((piece[first] == count).then_some(first));
            while let Some(vertex) = open.pop() {
                if piece[vertex] == count {
                    piece[vertex] = first;
                    open.extend(self.after.at(vertex).iter().chain(self.before.at(vertex)).map(|(other, _)| *other));
                }
            }
        }
        piece
    }

    /// True if sifting the column may gain something.
    pub fn is_stale(&self, column: usize) -> bool {
        self.stale[column]
    }

    /// Notes that the order of a column changed.
    pub fn changed(&mut self, column: usize) {
        let last = self.stale.len().min(column + 2);
        self.stale[column.saturating_sub(1)..last].fill(true);
    }

    /// Notes that a column was sifted, and whether that changed it.
    pub fn sifted(&mut self, column: usize, changed: bool) {
        if changed { self.changed(column) } else { self.stale[column] = false }
    }

    /// The order as it is.
    pub fn save(&self) -> Saved {
        (self.columns.clone(), self.stale.clone())
    }

    /// The same, into what is there.
    pub fn save_in(&self, saved: &mut Saved) {
        saved.0.clone_from(&self.columns);
        saved.1.clone_from(&self.stale);
    }

    /// Goes back to an order.
    pub fn restore(&mut self, saved: &Saved) {
        self.columns.clone_from(&saved.0);
        self.stale.clone_from(&saved.1);
        self.number();
    }

    /// Numbers every column anew.
    pub fn number(&mut self) {
        for column in 0..self.columns.len() {
            self.number_column(column);
        }
    }

    /// Numbers one column anew.
    pub fn number_column(&mut self, column: usize) {
        for (at, vertex) in self.columns[column].iter().enumerate() {
            self.place[*vertex] = at;
        }
    }

    /// The vertices joined to a vertex in the column before (`forward`) or after, each with its row.
    fn joined(&self, vertex: usize, forward: bool) -> &[(usize, usize)] {
        if forward { self.before.at(vertex) } else { self.after.at(vertex) }
    }

    /// Adds where the edges of a vertex end on one side, sorted.
    pub fn push_ends(&self, vertex: usize, forward: bool, ends: &mut Vec<usize>) {
        let begin = ends.len();
        ends.extend(self.joined(vertex, forward).iter().map(|(v, sub)| self.place[*v] * SUB + sub));
        ends[begin..].sort_unstable();
    }

    /// The mean of the ends of a vertex on one side, as a part of that column's length.
    pub fn mean(&self, vertex: usize, forward: bool) -> Option<f64> {
        let joined = self.joined(vertex, forward);
        let sum: usize = joined.iter().map(|(v, sub)| self.place[*v] * SUB + sub).sum();
        let column = self.column_of[vertex];
        let other = if forward { column.checked_sub(1) } else { Some(column + 1) };
        let length = other.and_then(|c| self.columns.get(c)).map_or(1, Vec::len).max(1) as f64;
        (!joined.is_empty()).then(|| sum as f64 / (joined.len() as f64 * SUB as f64 * length))
    }

    /// All crossings.
    pub fn crossings(&self) -> usize {
        let mut ends = Vec::new();
        let mut spare = Vec::new();
        let mut count = 0;
        for column in &self.columns {
            ends.clear();
            column.iter().for_each(|v| self.push_ends(*v, false, &mut ends));
            spare.resize(ends.len(), 0);
            count += inversions(&mut ends, &mut spare);
        }
        count
    }
}

/// So few numbers are sorted by moving each to its place.
const SHORT: usize = 12;

fn inversions_of_few(numbers: &mut [usize]) -> usize {
    let mut count = 0;
    for at in 1..numbers.len() {
        let mut to = at;
        while to > 0 && numbers[to - 1] > numbers[to] {
            numbers.swap(to - 1, to);
            to -= 1;
        }
        count += at - to;
    }
    count
}

/// Pairs that stand the wrong way round; the numbers are sorted by it.
pub(super) fn inversions(numbers: &mut [usize], spare: &mut [usize]) -> usize {
    let length = numbers.len();
    if length <= SHORT {
        return inversions_of_few(numbers);
    }
    let half = length / 2;
    let (left, right) = numbers.split_at_mut(half);
    let (spare_left, spare_right) = spare.split_at_mut(half);
    let mut count = inversions(left, spare_left) + inversions(right, spare_right);
    let (mut l, mut r) = (0, 0);
    for slot in spare.iter_mut() {
        if r == length - half || (l < half && numbers[l] <= numbers[half + r]) {
            *slot = numbers[l];
            l += 1;
        } else {
            *slot = numbers[half + r];
            r += 1;
            count += half - l;
        }
    }
    numbers.copy_from_slice(spare);
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inversions_are_the_pairs_that_stand_the_wrong_way_round() {
        let mut state = 7_u64;
        for length in 0..40 {
            let mut next = || {
                state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                (state >> 60) as usize
            };
            let mut numbers: Vec<usize> = (0..length).map(|_| next()).collect();
            let pairs =
                |n: &[usize]| (0..n.len()).flat_map(|a| (a + 1..n.len()).map(move |b| (a, b))).collect::<Vec<_>>();
            let slow = pairs(&numbers).into_iter().filter(|(a, b)| numbers[*a] > numbers[*b]).count();
            assert_eq!(inversions(&mut numbers, &mut vec![0; length]), slow);
        }
    }
}
