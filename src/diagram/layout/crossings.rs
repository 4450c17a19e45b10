//! How many edges cross: counted column by column, in O(E log E).
//!
//! # Source
//! Counting inversions by merging, as in Barth, Jünger and Mutzel, "Simple and efficient bilayer cross counting", 2002.

use super::layers::{Layers, Slot, Stands};

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
    pub after: Vec<Vec<(usize, usize)>>,
    /// Vertices from which edges come to each vertex.
    pub before: Vec<Vec<usize>>,
}

impl Net {
    /// The net of some layers; `row` tells at which row of a vertex a slot stands.
    pub fn of(layers: &Layers, row: &dyn Fn(&Stands, &Slot) -> usize) -> Self {
        let count = layers.vertices.len();
        let mut net = Self {
            columns: layers.columns.clone(),
            column_of: layers.vertices.iter().map(|v| v.column).collect(),
            place: vec![0; count],
            after: vec![Vec::new(); count],
            before: vec![Vec::new(); count],
        };
        for edge in &layers.edges {
            let to = &layers.vertices[edge.to];
            let sub = to.slots.get(edge.slot).map_or(0, |(slot, _)| row(&to.stands, slot));
            net.after[edge.from].push((edge.to, sub.min(SUB - 1)));
            net.before[edge.to].push(edge.from);
        }
        net.number();
        net
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

    /// Adds where the edges of a vertex end on one side, sorted.
    pub fn push_ends(&self, vertex: usize, forward: bool, ends: &mut Vec<usize>) {
        let begin = ends.len();
        if forward {
            ends.extend(self.before[vertex].iter().map(|v| self.place[*v] * SUB));
        } else {
            ends.extend(self.after[vertex].iter().map(|(v, sub)| self.place[*v] * SUB + sub));
        }
        ends[begin..].sort_unstable();
    }

    /// The mean of the ends of a vertex on one side, as a part of that column's length.
    pub fn mean(&self, vertex: usize, forward: bool) -> Option<f64> {
        let (mut sum, mut count) = (0, 0);
        let column = self.column_of[vertex];
        let length = if forward {
            self.before[vertex].iter().for_each(|v| sum += self.place[*v] * SUB);
            count += self.before[vertex].len();
            column.checked_sub(1).map(|c| self.columns[c].len())
        } else {
            self.after[vertex].iter().for_each(|(v, sub)| sum += self.place[*v] * SUB + sub);
            count += self.after[vertex].len();
            self.columns.get(column + 1).map(Vec::len)
        };
        let length = length.unwrap_or(1).max(1) as f64;
        (count > 0).then(|| sum as f64 / (count as f64 * SUB as f64 * length))
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

/// Pairs that stand the wrong way round; the numbers are sorted by it.
pub(super) fn inversions(numbers: &mut [usize], spare: &mut [usize]) -> usize {
    let length = numbers.len();
    if length < 2 {
        return 0;
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
