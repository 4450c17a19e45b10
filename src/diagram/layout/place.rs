//! Pass 5. Before: ordered columns. After: every vertex has its upper edge, none overlaps another of its column, and edges run
//! straight where they can.

use super::layers::Layers;

/// Least distance of two vertices of a column, pt.
const APART: f64 = 5.0;
/// Bends smaller than this are taken out where there is room, pt.
const SMALL_BEND: f64 = 9.0;
/// Sweeps there and back.
const SWEEPS: usize = 8;
/// The widest gap from one edge of a drawing to the other, pt.
const WIDEST_GAP: f64 = 16.0;
/// A vertex that moves less than this stands still, pt.
const STILL: f64 = 0.01;
/// Least distance of two feeds that leave one bar, pt.
const LEAVE_APART: f64 = 10.0;
/// From the last feed of a bar to its end, and the shortest bar, pt.
const BAR_END: f64 = 6.0;
const BAR_LEAST: f64 = 24.0;

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

/// A bar reaches from the first to the last of its feeds, as far as there is room.
fn fit_bars(layers: &mut Layers) {
    for vertex in (0..layers.vertices.len()).filter(|v| layers.vertices[*v].is_bar).collect::<Vec<_>>() {
        let v = &layers.vertices[vertex];
        let head = 2.0 * v.out - v.height;
        let ends: Vec<f64> = layers
            .out_of(vertex)
            .map(|e| layers.enters(&layers.edges[e]))
            .chain(v.slots.iter().map(|s| v.y + s.1))
            .collect();
        if ends.is_empty() {
            continue;
        }
        let needed = layers.out_of(vertex).count() as f64 * LEAVE_APART;
        let (low, high) = ends.iter().fold((f64::MAX, f64::MIN), |(l, h), e| (l.min(*e), h.max(*e)));
        let (mut low, mut high) = (low - BAR_END, high + BAR_END);
        let short = (needed.max(BAR_LEAST) - (high - low)).max(0.0);
        (low, high) = (low - short / 2.0, high + short / 2.0);
        let others = || layers.columns[v.column].iter().filter(|o| **o != vertex).map(|o| &layers.vertices[*o]);
        let above = others().filter(|o| o.y < v.y).map(|o| o.y + o.height + APART).fold(f64::MIN, f64::max);
        let below = others().filter(|o| o.y > v.y).map(|o| o.y - APART).fold(f64::MAX, f64::min);
        let (top, bottom) = ((low - head).max(above), high.min(below));
        let (top, bottom) =
            if bottom - top < head + BAR_LEAST.min(needed) { (v.y, v.y + v.height) } else { (top, bottom) };
        let moved = v.y - top;
        let v = &mut layers.vertices[vertex];
        (v.y, v.height) = (top, bottom - top);
        v.out = head.midpoint(v.height);
        v.slots.iter_mut().for_each(|s| s.1 += moved);
    }
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

/// The height on a bar that is nearest to a wish.
fn bar_reach(layers: &Layers, bar: usize, wish: f64) -> f64 {
    let v = &layers.vertices[bar];
    let head = 2.0 * v.out - v.height;
    wish.clamp(v.y + head + 4.0, (v.y + v.height - 4.0).max(v.y + head + 4.0))
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

/// Where each edge leaves its vertex.
fn leave(layers: &mut Layers) {
    (0..layers.vertices.len()).for_each(|v| leave_one(layers, v));
}

/// From a box each medium leaves at a height of its own, since one line can wear one tag only; the upper goes the higher.
fn leave_box(layers: &mut Layers, vertex: usize) {
    let v = &layers.vertices[vertex];
    let (y, own_y) = (v.y + v.out, v.y + v.own_out);
    let media = if has_one_medium(layers, vertex) { Vec::new() } else { media(layers, vertex) };
    let middle = media.len().saturating_sub(1) as f64 / 2.0;
    for at in 0..layers.joined[vertex].0.len() {
        let edge = layers.joined[vertex].0[at];
        let place = media.iter().position(|(_, medium)| *medium == layers.edges[edge].medium).unwrap_or_default();
        let down = (place as f64 - middle) * LEAVE_APART;
        layers.edges[edge].leaves = if layers.edges[edge].own { own_y } else { y + down };
    }
}

fn has_one_medium(layers: &Layers, vertex: usize) -> bool {
    let mut media = layers.out_of(vertex).map(|e| &layers.edges[e]).filter(|e| !e.own).map(|e| e.medium);
    media.next().is_none_or(|first| media.all(|medium| medium == first))
}

/// Media that leave a box, the one whose line goes the highest first.
fn media(layers: &Layers, vertex: usize) -> Vec<(f64, usize)> {
    let mut media: Vec<(f64, usize)> = Vec::new();
    for edge in layers.out_of(vertex).map(|e| &layers.edges[e]).filter(|e| !e.own) {
        let enters = layers.enters(edge);
        match media.iter_mut().find(|(_, medium)| *medium == edge.medium) {
            Some((highest, _)) => *highest = highest.min(enters),
            None => media.push((enters, edge.medium)),
        }
    }
    media.sort_by(|a, b| a.0.total_cmp(&b.0));
    media
}

/// Where the edges of a vertex leave it: from a bar each at a height of its own, as near to its target as can be.
pub(super) fn leave_one(layers: &mut Layers, vertex: usize) {
    if !layers.vertices[vertex].is_bar {
        return leave_box(layers, vertex);
    }
    let mut out: Vec<(f64, usize)> = layers.out_of(vertex).map(|e| (layers.enters(&layers.edges[e]), e)).collect();
    out.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut least = f64::MIN;
    for (enters, edge) in &out {
        let y = bar_reach(layers, vertex, *enters).max(least);
        layers.edges[*edge].leaves = y;
        least = y + LEAVE_APART;
    }
    let mut most = f64::MAX;
    let bottom = layers.vertices[vertex].y + layers.vertices[vertex].height - 2.0;
    for (_, edge) in out.iter().rev() {
        let y = layers.edges[*edge].leaves.min(most).min(bottom);
        layers.edges[*edge].leaves = y;
        most = y - LEAVE_APART;
    }
}
