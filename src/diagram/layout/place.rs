//! Pass 5. Before: ordered columns. After: every vertex has its upper edge, none overlaps another of its column, and edges run
//! straight where they can.

use super::layers::Layers;
use super::leave::{bar_reach, fit_bars, leave, leave_one, stretch_bars};

/// Least distance of two vertices of a column, pt.
pub(super) const APART: f64 = 5.0;
/// Bends smaller than this are taken out where there is room, pt.
const SMALL_BEND: f64 = 9.0;
/// Sweeps there and back.
const SWEEPS: usize = 8;
/// The widest gap from one edge of a drawing to the other, pt.
const WIDEST_GAP: f64 = 16.0;
/// A vertex that moves less than this stands still, pt.
const STILL: f64 = 0.01;

/// Places every vertex.
pub(super) fn place(layers: &mut Layers) {
    stretch_bars(layers);
    for column in &layers.columns {
        let mut y = 0.0;
        for vertex in column {
            layers.vertices[*vertex].y = y;
            y += layers.vertices[*vertex].height + APART;
        }
    }
    let mut pools = Pools::default();
    let mut before: Vec<f64> = Vec::new();
    for _ in 0..SWEEPS {
        place_all(layers, &mut pools, (true, false));
        place_all(layers, &mut pools, (false, false));
        let moves = before.len() != layers.vertices.len()
            || before.iter().zip(&layers.vertices).any(|(y, v)| (y - v.y).abs() > STILL);
        if !moves {
            break;
        }
        before.clear();
        before.extend(layers.vertices.iter().map(|v| v.y));
    }
    let start = Pose::of(layers);
    let mut best: Option<(f64, Pose)> = None;
    for ends in [(true, true), (false, true), (true, false), (false, false)] {
        start.take(layers);
        place_all(layers, &mut pools, ends);
        finish(layers);
        let bends = bent(layers);
        if best.as_ref().is_none_or(|(least, _)| bends < *least) {
            best = Some((bends, Pose::of(layers)));
        }
    }
    if let Some((_, pose)) = best {
        pose.take(layers);
    }
}

/// All that placing changes.
struct Pose {
    vertices: Vec<(f64, f64, f64)>,
    slots: Vec<f64>,
    leaves: Vec<f64>,
    height: f64,
}

impl Pose {
    fn of(layers: &Layers) -> Self {
        Self {
            vertices: layers.vertices.iter().map(|v| (v.y, v.height, v.out)).collect(),
            slots: layers.vertices.iter().flat_map(|v| &v.slots).map(|slot| slot.1).collect(),
            leaves: layers.edges.iter().map(|e| e.leaves).collect(),
            height: layers.height,
        }
    }

    fn take(&self, layers: &mut Layers) {
        for (v, (y, height, out)) in layers.vertices.iter_mut().zip(&self.vertices) {
            (v.y, v.height, v.out) = (*y, *height, *out);
        }
        let slots = layers.vertices.iter_mut().flat_map(|v| &mut v.slots);
        slots.zip(&self.slots).for_each(|(slot, y)| slot.1 = *y);
        layers.edges.iter_mut().zip(&self.leaves).for_each(|(edge, leaves)| edge.leaves = *leaves);
        layers.height = self.height;
    }
}

/// Places every column, from left to right (`forward`) or from right to left, seen from one side or from both.
fn place_all(layers: &mut Layers, pools: &mut Pools, (forward, both): (bool, bool)) {
    let count = layers.columns.len();
    for step in 0..count {
        pools.place_column(layers, if forward { step } else { count - 1 - step }, (forward, both));
    }
}

fn finish(layers: &mut Layers) {
    leave(layers);
    (0..3).for_each(|_| straighten(layers));
    fit_bars(layers);
    leave(layers);
    close_gaps(layers);
    to_the_top(layers);
    leave(layers);
}

/// How much the edges bend: each bend counts, and a little how long it is.
fn bent(layers: &Layers) -> f64 {
    let bends = layers.edges.iter().map(|e| (layers.enters(e) - e.leaves).abs()).filter(|b| *b > 0.05);
    bends.map(|b| 40.0 + b).sum()
}

/// Takes out small bends: the vertex at one of the ends gives way, if it has room above or below.
fn straighten(layers: &mut Layers) {
    for at in 0..layers.edges.len() {
        let (from, to) = (layers.edges[at].from, layers.edges[at].to);
        leave_one(layers, from);
        let bend = layers.enters(&layers.edges[at]) - layers.edges[at].leaves;
        if bend.abs() < 0.05 || bend.abs() > SMALL_BEND || layers.vertices[from].is_bar {
            continue;
        }
        if layers.ins(to).count() == 1 && has_room(layers, to, -bend) && follows(layers, to) {
            layers.vertices[to].y -= bend;
        } else if has_room(layers, from, bend) && layers.ins(from).next().is_none() {
            layers.vertices[from].y += bend;
        }
    }
    leave(layers);
}

/// A vertex may follow its feed if no feed of its own runs straight on now.
fn follows(layers: &mut Layers, vertex: usize) -> bool {
    leave_one(layers, vertex);
    layers.out_of(vertex).all(|e| (layers.enters(&layers.edges[e]) - layers.edges[e].leaves).abs() > 0.05)
}

/// True if a vertex can be moved so far without coming too near to its neighbours.
fn has_room(layers: &Layers, vertex: usize, by: f64) -> bool {
    keeps_apart(layers, vertex, by, APART)
}

/// True if a vertex that is moved so far keeps that distance to its neighbours.
pub(super) fn keeps_apart(layers: &Layers, vertex: usize, by: f64, apart: f64) -> bool {
    let v = &layers.vertices[vertex];
    let (column, seat) = (&layers.columns[v.column], layers.seats[vertex]);
    let neighbour = |at: Option<usize>| at.and_then(|a| column.get(a)).map(|o| &layers.vertices[*o]);
    let above = neighbour(seat.checked_sub(1)).is_none_or(|o| o.y + o.height <= v.y + by - apart + 0.01);
    above && neighbour(Some(seat + 1)).is_none_or(|o| o.y >= v.y + by + v.height + apart - 0.01)
}

/// Where a vertex would like to be, seen from one side (or from both).
fn wish(layers: &Layers, vertex: usize, forward: bool, both: bool) -> Option<f64> {
    let (mut sum, mut count) = (0.0, 0.0);
    let v = &layers.vertices[vertex];
    for at in layers.ins(vertex).filter(|_| forward || both) {
        let edge = &layers.edges[at];
        let from = &layers.vertices[edge.from];
        let slot = v.slots.get(edge.slot).map_or(v.out, |s| s.1);
        let y = if from.is_bar { bar_reach(layers, edge.from, v.y + slot) } else { from.y + from.out };
        sum += y - slot;
        count += 1.0;
    }
    for at in layers.out_of(vertex).filter(|_| !forward || both) {
        sum += layers.enters(&layers.edges[at]) - v.out;
        count += 1.0;
    }
    (count > 0.0).then(|| sum / count)
}

/// Vertices of a column that touch: the sum of their weighed wishes, the sum of the weights, and the place of the first.
struct Pool {
    sum: f64,
    weight: f64,
    first: usize,
}

/// Pools of one column after the other, and how far each vertex is from the first.
#[derive(Default)]
struct Pools {
    pools: Vec<Pool>,
    offsets: Vec<f64>,
}

impl Pools {
    /// Least moves from the wishes that keep order and distance (pool adjacent violators).
    fn place_column(&mut self, layers: &mut Layers, column: usize, (forward, both): (bool, bool)) {
        self.pools.clear();
        self.offsets.clear();
        let mut offset = 0.0;
        for (first, vertex) in layers.columns[column].iter().enumerate() {
            let wished = wish(layers, *vertex, forward, both);
            let weight = if wished.is_some() { 1.0 } else { 0.05 };
            let at = wished.unwrap_or(layers.vertices[*vertex].y) - offset;
            self.add(Pool { sum: at * weight, weight, first });
            self.offsets.push(offset);
            offset += layers.vertices[*vertex].height + APART;
        }
        let mut ends = self.pools.iter().skip(1).map(|pool| pool.first);
        for pool in &self.pools {
            let end = ends.next().unwrap_or(self.offsets.len());
            for at in pool.first..end {
                layers.vertices[layers.columns[column][at]].y = pool.sum / pool.weight + self.offsets[at];
            }
        }
    }

    /// Adds a pool at the end; pools that would overlap become one.
    fn add(&mut self, pool: Pool) {
        self.pools.push(pool);
        while let [.., before, last] = self.pools.as_mut_slice() {
            if before.sum / before.weight <= last.sum / last.weight {
                break;
            }
            before.sum += last.sum;
            before.weight += last.weight;
            self.pools.pop();
        }
    }
}

/// Where nothing stands and nothing runs down over the whole width, what is below moves up.
fn close_gaps(layers: &mut Layers) {
    let vertices = layers.vertices.iter().map(|v| (v.y, v.y + v.height));
    let lines = layers.edges.iter().map(|e| {
        let enters = layers.enters(e);
        (enters.min(e.leaves), enters.max(e.leaves))
    });
    let mut taken: Vec<(f64, f64)> = vertices.chain(lines).collect();
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut gaps: Vec<(f64, f64)> = Vec::new();
    let mut end = f64::MAX;
    for (low, high) in taken {
        if low > end + WIDEST_GAP {
            gaps.push((end, low - end - WIDEST_GAP));
        }
        end = if end < f64::MAX { end.max(high) } else { high };
    }
    if gaps.is_empty() {
        return;
    }
    let above = |y: f64| gaps.iter().filter(|(end, _)| y > *end).map(|(_, by)| by).sum::<f64>();
    layers.vertices.iter_mut().for_each(|v| v.y -= above(v.y));
    layers.edges.iter_mut().for_each(|e| e.leaves -= above(e.leaves));
}

fn to_the_top(layers: &mut Layers) {
    let top = layers.vertices.iter().map(|v| v.y).fold(f64::MAX, f64::min);
    layers.vertices.iter_mut().for_each(|v| v.y -= top);
    layers.height = layers.vertices.iter().map(|v| v.y + v.height).fold(0.0, f64::max);
}
