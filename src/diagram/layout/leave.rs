//! Part of pass 5: where lines leave what they come from, and how far bars reach.

use super::layers::Layers;
use super::place::APART;

/// Least distance of two feeds that leave one bar, pt.
const LEAVE_APART: f64 = 10.0;
/// From the last feed of a bar to its end, and the shortest bar, pt.
const BAR_END: f64 = 6.0;
const BAR_LEAST: f64 = 24.0;

/// Where each edge leaves its vertex.
pub(super) fn leave(layers: &mut Layers) {
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
/// The height on a bar that is nearest to a wish.
pub(super) fn bar_reach(layers: &Layers, bar: usize, wish: f64) -> f64 {
    let v = &layers.vertices[bar];
    let head = 2.0 * v.out - v.height;
    wish.clamp(v.y + head + 4.0, (v.y + v.height - 4.0).max(v.y + head + 4.0))
}

/// Bars have more than one feed out at the same border: they are stretched so that each feed can leave straight.
pub(super) fn stretch_bars(layers: &mut Layers) {
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

/// A bar reaches from the first to the last of its feeds, as far as there is room.
pub(super) fn fit_bars(layers: &mut Layers) {
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
