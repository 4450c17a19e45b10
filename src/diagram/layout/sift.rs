//! Part of pass 4: every vertex is tried at every place of its column, and stays at the best one.
//!
//! # Source
//! Sifting: Matuszewski, Schönfeld and Molitor, "Using sifting for k-layer straightline crossing minimization", 1999.

use super::crossings::Net;

/// In long columns a vertex is tried only so far from where it stands.
const WINDOW: usize = 220;

/// The ends of the vertices of one column on both sides, laid one after the other.
struct Ends {
    all: Vec<u32>,
    begins: Vec<(usize, usize, usize)>,
}

impl Ends {
    fn of(net: &Net, column: usize) -> Self {
        let mut ends = Self { all: Vec::new(), begins: Vec::new() };
        for vertex in &net.columns[column] {
            let begin = ends.all.len();
            ends.all.extend(net.ends(*vertex, true).into_iter().map(|e| e as u32));
            let middle = ends.all.len();
            ends.all.extend(net.ends(*vertex, false).into_iter().map(|e| e as u32));
            ends.begins.push((begin, middle, ends.all.len()));
        }
        ends
    }

    fn sides(&self, at: usize) -> (&[u32], &[u32]) {
        let (begin, middle, end) = self.begins[at];
        (&self.all[begin..middle], &self.all[middle..end])
    }

    /// How many crossings more there are with `a` above `b` than with `b` above `a`.
    fn gain(&self, a: usize, b: usize) -> i64 {
        let ((a1, a2), (b1, b2)) = (self.sides(a), self.sides(b));
        more(a1, b1) + more(a2, b2)
    }
}

/// Pairs of an end of the upper below one of the lower, less the pairs that stand right.
fn more(upper: &[u32], lower: &[u32]) -> i64 {
    let mut sum = 0;
    for u in upper {
        for l in lower {
            sum += i64::from(u > l) - i64::from(u < l);
        }
    }
    sum
}

/// Sifts every vertex of a column once; how many crossings that saved, and what it cost.
pub(super) fn sift(net: &mut Net, column: usize) -> (usize, usize) {
    let ends = Ends::of(net, column);
    let count = ends.begins.len();
    let mut order: Vec<usize> = (0..count).collect();
    let mut place: Vec<usize> = order.clone();
    let (mut saved, mut work) = (0, 0);
    for vertex in 0..count {
        let at = place[vertex];
        let (low, high) = (at.saturating_sub(WINDOW), (at + WINDOW).min(count.saturating_sub(1)));
        work += high - low;
        let (best, gain) = best_place(&ends, &order, at, (low, high));
        if gain < 0 {
            saved += gain.unsigned_abs() as usize;
            let moved = order.remove(at);
            order.insert(best, moved);
            for (now, one) in order.iter().enumerate().take(at.max(best) + 1).skip(at.min(best)) {
                place[*one] = now;
            }
        }
    }
    let before = net.columns[column].clone();
    net.columns[column] = order.into_iter().map(|at| before[at]).collect();
    net.number_column(column);
    (saved, work)
}

/// The best place within a span, and the change of crossings there.
fn best_place(ends: &Ends, order: &[usize], at: usize, (low, high): (usize, usize)) -> (usize, i64) {
    let vertex = order[at];
    let mut best = (at, 0);
    let mut sum = 0;
    for place in (low..at).rev() {
        sum += ends.gain(vertex, order[place]);
        if sum < best.1 {
            best = (place, sum);
        }
    }
    sum = 0;
    for (place, other) in order.iter().enumerate().take(high + 1).skip(at + 1) {
        sum += ends.gain(*other, vertex);
        if sum < best.1 {
            best = (place, sum);
        }
    }
    best
}
