//! Pass 5. Before: ordered columns. After: every vertex has its upper edge, none overlaps another of its column, and edges run
//! straight where they can.

use super::layers::Layers;

/// Least distance of two vertices of a column, pt.
const APART: f64 = 5.0;
/// Bends smaller than this are taken out where there is room, pt.
const SMALL_BEND: f64 = 9.0;
/// Sweeps there and back.
const SWEEPS: usize = 16;
/// Least distance of two feeds that leave one bar, pt.
const LEAVE_APART: f64 = 7.0;

/// Places every vertex.
pub(super) fn place(layers: &mut Layers) {
    stretch_bars(layers);
    for column in layers.columns.clone() {
        let mut y = 0.0;
        for vertex in column {
            layers.vertices[vertex].y = y;
            y += layers.vertices[vertex].height + APART;
        }
    }
    for sweep in 0..=SWEEPS {
        let forward = sweep % 2 == 0;
        let count = layers.columns.len();
        for step in 0..count {
            place_column(layers, if forward { step } else { count - 1 - step }, forward, sweep + 2 > SWEEPS);
        }
    }
    leave(layers);
    (0..3).for_each(|_| straighten(layers));
    to_the_top(layers);
    leave(layers);
}

/// Takes out small bends: the vertex at one of the ends gives way, if it has room above or below.
fn straighten(layers: &mut Layers) {
    for at in 0..layers.edges.len() {
        leave(layers);
        let edge = layers.edges[at].clone();
        let bend = layers.enters(&edge) - edge.leaves;
        if bend.abs() < 0.05 || bend.abs() > SMALL_BEND || layers.vertices[edge.from].is_bar {
            continue;
        }
        let ins = |v: usize| layers.edges.iter().filter(|e| e.to == v).count();
        if ins(edge.to) == 1 && has_room(layers, edge.to, -bend) && follows(layers, edge.to) {
            layers.vertices[edge.to].y -= bend;
        } else if has_room(layers, edge.from, bend) && ins(edge.from) == 0 {
            layers.vertices[edge.from].y += bend;
        }
    }
}

/// A vertex may follow its feed if no feed of its own runs straight on now.
fn follows(layers: &Layers, vertex: usize) -> bool {
    layers.out_of(vertex).all(|e| (layers.enters(&layers.edges[e]) - layers.edges[e].leaves).abs() > 0.05)
}

/// True if a vertex can be moved so far without coming too near to its neighbours.
fn has_room(layers: &Layers, vertex: usize, by: f64) -> bool {
    let v = &layers.vertices[vertex];
    let (top, bottom) = (v.y + by - APART, v.y + by + v.height + APART);
    let mut others = layers.columns[v.column].iter().filter(|o| **o != vertex).map(|o| &layers.vertices[*o]);
    others.all(|o| o.y + o.height <= top + 0.01 || o.y >= bottom - 0.01)
}

/// Bars have more than one feed out at the same border: they are stretched so that each feed can leave straight.
fn stretch_bars(layers: &mut Layers) {
    for vertex in 0..layers.vertices.len() {
        if !layers.vertices[vertex].is_bar {
            continue;
        }
        let out: Vec<usize> = layers.out_of(vertex).map(|e| layers.edges[e].to).collect();
        let wanted: f64 = out.iter().map(|to| layers.vertices[*to].height + APART).sum();
        let (old, head) =
            (layers.vertices[vertex].height, 2.0 * layers.vertices[vertex].out - layers.vertices[vertex].height);
        let new = (wanted + head).max(old);
        let shift = (new - old) / 2.0;
        layers.vertices[vertex].height = new;
        layers.vertices[vertex].out += shift;
        layers.vertices[vertex].slots.iter_mut().for_each(|s| s.1 += shift);
    }
}

/// Where a vertex would like to be, seen from one side (or from both).
fn wish(layers: &Layers, vertex: usize, forward: bool, both: bool) -> Option<f64> {
    let (mut sum, mut count) = (0.0, 0.0);
    let v = &layers.vertices[vertex];
    for edge in &layers.edges {
        let (from, to) = (&layers.vertices[edge.from], &layers.vertices[edge.to]);
        let slot = to.slots.get(edge.slot).map_or(to.out, |s| s.1);
        if edge.to == vertex && (forward || both) {
            let y = if from.is_bar { bar_reach(layers, edge.from, v.y + slot) } else { from.y + from.out };
            sum += y - slot;
            count += 1.0;
        }
        if edge.from == vertex && (!forward || both) {
            sum += to.y + slot - v.out;
            count += 1.0;
        }
    }
    (count > 0.0).then(|| sum / count)
}

/// The height on a bar that is nearest to a wish.
fn bar_reach(layers: &Layers, bar: usize, wish: f64) -> f64 {
    let v = &layers.vertices[bar];
    let head = 2.0 * v.out - v.height;
    wish.clamp(v.y + head + 4.0, (v.y + v.height - 4.0).max(v.y + head + 4.0))
}

/// Vertices that touch: the sum of their weighed wishes, the sum of the weights, and each with its distance from the first.
type Pool = (f64, f64, Vec<(usize, f64)>);

/// Least moves from the wishes that keep order and distance (pool adjacent violators).
fn place_column(layers: &mut Layers, column: usize, forward: bool, both: bool) {
    let order = layers.columns[column].clone();
    let mut offset = 0.0;
    let mut pools: Vec<Pool> = Vec::new();
    for vertex in order {
        let wished = wish(layers, vertex, forward, both);
        let weight = if wished.is_some() { 1.0 } else { 0.05 };
        let at = wished.unwrap_or(layers.vertices[vertex].y) - offset;
        pools.push((at * weight, weight, vec![(vertex, offset)]));
        offset += layers.vertices[vertex].height + APART;
        while let [.., before, last] = pools.as_slice() {
            if before.0 / before.1 <= last.0 / last.1 {
                break;
            }
            let Some(last) = pools.pop() else { break };
            if let Some(before) = pools.last_mut() {
                before.0 += last.0;
                before.1 += last.1;
                before.2.extend(last.2);
            }
        }
    }
    for (sum, weight, vertices) in pools {
        for (vertex, offset) in vertices {
            layers.vertices[vertex].y = sum / weight + offset;
        }
    }
}

fn to_the_top(layers: &mut Layers) {
    let top = layers.vertices.iter().map(|v| v.y).fold(f64::MAX, f64::min);
    layers.vertices.iter_mut().for_each(|v| v.y -= top);
    layers.height = layers.vertices.iter().map(|v| v.y + v.height).fold(0.0, f64::max);
}

/// Where each edge leaves its vertex: from a bar each at a height of its own, as near to its target as can be.
fn leave(layers: &mut Layers) {
    for vertex in 0..layers.vertices.len() {
        let mut out: Vec<usize> = layers.out_of(vertex).collect();
        if !layers.vertices[vertex].is_bar {
            let y = layers.vertices[vertex].y + layers.vertices[vertex].out;
            for edge in out {
                layers.edges[edge].leaves = y;
            }
            continue;
        }
        out.sort_by(|a, b| layers.enters(&layers.edges[*a]).total_cmp(&layers.enters(&layers.edges[*b])));
        let mut least = f64::MIN;
        for edge in &out {
            let y = bar_reach(layers, vertex, layers.enters(&layers.edges[*edge])).max(least);
            layers.edges[*edge].leaves = y;
            least = y + LEAVE_APART;
        }
        let mut most = f64::MAX;
        let bottom = layers.vertices[vertex].y + layers.vertices[vertex].height - 2.0;
        for edge in out.iter().rev() {
            let y = layers.edges[*edge].leaves.min(most).min(bottom);
            layers.edges[*edge].leaves = y;
            most = y - LEAVE_APART;
        }
    }
}
