//! Pass 6. Before: every vertex has its height. After: every column has its place across, and every edge that does not run
//! straight has a track between two columns that no other bundle shares.

use super::layers::{Layers, Stands, TAG};

/// Distance of two tracks, pt.
const TRACK: f64 = 5.0;
/// Space before the first track and after the last, pt.
const MARGIN: f64 = 5.0;
/// Heights that are nearer than this would look like one line, pt.
const NEAR: f64 = 2.5;

/// Edges that part from one point: they share a track.
struct Bundle {
    edges: Vec<usize>,
    from: f64,
    to: Vec<f64>,
}

impl Bundle {
    fn span(&self) -> (f64, f64) {
        let low = self.to.iter().copied().fold(self.from, f64::min);
        (low, self.to.iter().copied().fold(self.from, f64::max))
    }

    fn is_straight(&self) -> bool {
        let (low, high) = self.span();
        high - low < 0.05
    }
}

/// Gives every column its place and every bent edge its track.
pub(super) fn route(layers: &mut Layers) {
    let mut x = 0.0;
    for column in 0..layers.columns.len() {
        let vertices: Vec<&super::layers::Vertex> =
            layers.columns[column].iter().map(|v| &layers.vertices[*v]).collect();
        let left = vertices.iter().map(|v| v.left).fold(0.0, f64::max);
        let body = vertices.iter().map(|v| v.body).fold(0.0, f64::max);
        layers.places.push((x + left, body));
        x += left + body;
        if column + 1 < layers.columns.len() {
            x = lay_tracks(layers, column, x);
        }
    }
    layers.width = x;
}

/// Tracks after a column whose right edge is given; the left edge of the next column.
fn lay_tracks(layers: &mut Layers, column: usize, right: f64) -> f64 {
    let all = bundles(layers, column);
    let tagged = layers.columns[column].iter().any(|v| is_tagged(layers, *v));
    let start = right + if tagged { TAG } else { 2.0 } + MARGIN;
    let bent: Vec<Bundle> = all.into_iter().filter(|b| !b.is_straight()).collect();
    if bent.is_empty() {
        return start;
    }
    let order = order(&bent);
    for (at, bundle) in order.iter().enumerate() {
        for edge in &bent[*bundle].edges {
            layers.edges[*edge].track = Some(start + at as f64 * TRACK);
        }
    }
    start + (order.len() - 1) as f64 * TRACK + MARGIN
}

/// What gives a medium wears its tag where the line begins.
pub(super) fn is_tagged(layers: &Layers, vertex: usize) -> bool {
    let stands = &layers.vertices[vertex].stands;
    matches!(stands, Stands::Part(_) | Stands::Port(_)) && layers.out_of(vertex).next().is_some()
}

fn bundles(layers: &Layers, column: usize) -> Vec<Bundle> {
    let mut bundles: Vec<Bundle> = Vec::new();
    for vertex in &layers.columns[column] {
        let mut media: Vec<(usize, Bundle)> = Vec::new();
        for at in layers.out_of(*vertex) {
            let edge = &layers.edges[at];
            let (from, to) = (edge.leaves, layers.enters(edge));
            let known = media.iter_mut().find(|(m, b)| *m == edge.medium && (b.from - from).abs() < 0.01);
            if let Some((_, bundle)) = known {
                bundle.edges.push(at);
                bundle.to.push(to);
            } else {
                media.push((edge.medium, Bundle { edges: vec![at], from, to: vec![to] }));
            }
        }
        bundles.extend(media.into_iter().map(|(_, b)| b));
    }
    bundles
}

/// What it costs to have `a` left of `b`: crossings, and lines that would run into one another.
fn cost(a: &Bundle, b: &Bundle) -> u32 {
    let within = |y: f64, (low, high): (f64, f64)| u32::from(y > low + 0.01 && y < high - 0.01);
    let crossings: u32 = a.to.iter().map(|y| within(*y, b.span())).sum::<u32>() + within(b.from, a.span());
    let runs_into = a.to.iter().filter(|y| (**y - b.from).abs() < NEAR).count() as u32;
    crossings + 1000 * runs_into
}

/// The order of tracks from left to right: neighbours are swapped as long as that helps.
fn order(bundles: &[Bundle]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..bundles.len()).collect();
    for _ in 0..bundles.len() {
        let mut moved = false;
        for at in 0..order.len() {
            let best = best_place(bundles, &order, at);
            if best != at {
                let bundle = order.remove(at);
                order.insert(best, bundle);
                moved = true;
            }
        }
        if !moved {
            break;
        }
    }
    order
}

/// The place to which the bundle at `at` is best moved.
fn best_place(bundles: &[Bundle], order: &[usize], at: usize) -> usize {
    let moved = &bundles[order[at]];
    let others: Vec<usize> = order.iter().copied().filter(|b| *b != order[at]).collect();
    let total = |place: usize| -> u32 {
        let (left, right) = others.split_at(place);
        left.iter().map(|b| cost(&bundles[*b], moved)).sum::<u32>()
            + right.iter().map(|b| cost(moved, &bundles[*b])).sum::<u32>()
    };
    let best = (0..=others.len()).min_by_key(|p| (total(*p), p.abs_diff(at))).unwrap_or(at);
    if total(best) < total(at) { best } else { at }
}
