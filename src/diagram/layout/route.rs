//! Pass 6. Before: every vertex has its height. After: every column has its place across, and every edge that does not run
//! straight has a track between two columns that no other bundle shares.

use super::layers::{Layers, Stands, TAG};
use super::level;

/// Distance of two tracks, pt.
const TRACK: f64 = 5.0;
/// Space before the first track and after the last, pt.
const MARGIN: f64 = 5.0;
/// Heights that are nearer than this would look like one line, pt.
pub(super) const NEAR: f64 = 2.5;
/// Bundles on one track stand so far from one another, pt.
const APART: f64 = 4.0;
/// What a line costs that runs into another, in crossings.
const RUNS_INTO: i32 = 1000;
/// Rounds of moving bundles to better tracks.
const ROUNDS: usize = 6;
/// Among so many bundles crossings stand clear of bends.
const MOST_ROOMY: usize = 24;
/// More bundles between two columns are not moved.
const MOST_MOVED: usize = 3000;

/// Edges that part from one point: they share a track.
struct Bundle {
    edges: Vec<usize>,
    from: f64,
    to: Vec<f64>,
    span: (f64, f64),
}

impl Bundle {
    fn new(edge: usize, from: f64, to: f64) -> Self {
        Self { edges: vec![edge], from, to: vec![to], span: (from.min(to), from.max(to)) }
    }

    fn add(&mut self, edge: usize, to: f64) {
        self.edges.push(edge);
        self.to.push(to);
        self.span = (self.span.0.min(to), self.span.1.max(to));
    }

    fn is_straight(&self) -> bool {
        self.span.1 - self.span.0 < 0.05
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
            level::part(layers, column + 1);
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
    let tracks = tracks(&bent, &order(&bent));
    for (bundle, track) in bent.iter().zip(&tracks) {
        for edge in &bundle.edges {
            layers.edges[*edge].track = Some(start + *track as f64 * TRACK);
        }
    }
    start + tracks.into_iter().max().unwrap_or(0) as f64 * TRACK + MARGIN
}

/// A track for each bundle: bundles whose spans do not meet may share one, and between two that cross one stays free, so that the
/// crossing stands clear of their bends.
fn tracks(bundles: &[Bundle], order: &[usize]) -> Vec<usize> {
    let spans: Vec<(f64, f64)> = bundles.iter().map(|b| b.span).collect();
    let roomy = bundles.len() <= MOST_ROOMY;
    let mut tracks = vec![0; bundles.len()];
    for (at, bundle) in order.iter().enumerate() {
        let (low, high) = spans[*bundle];
        let meets = |b: &&usize| spans[**b].0 < high + APART && spans[**b].1 > low - APART;
        let apart = |b: &usize| 1 + usize::from(roomy && crossings_of(&bundles[*b], &bundles[*bundle]) > 0);
        tracks[*bundle] = order[..at].iter().filter(meets).map(|b| tracks[*b] + apart(b)).max().unwrap_or(0);
    }
    tracks
}

/// What gives a medium wears its tag where the line begins.
pub(super) fn is_tagged(layers: &Layers, vertex: usize) -> bool {
    let stands = &layers.vertices[vertex].stands;
    matches!(stands, Stands::Part(_) | Stands::Port(_) | Stands::Bus(..)) && layers.out_of(vertex).next().is_some()
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
                bundle.add(at, to);
            } else {
                media.push((edge.medium, Bundle::new(at, from, to)));
            }
        }
        bundles.extend(media.into_iter().map(|(_, b)| b));
    }
    bundles
}

/// Lines that cross with `a` left of `b`.
fn crossings_of(a: &Bundle, b: &Bundle) -> i32 {
    let within = |y: f64, (low, high): (f64, f64)| i32::from(y > low + 0.01 && y < high - 0.01);
    a.to.iter().map(|y| within(*y, b.span)).sum::<i32>() + within(b.from, a.span)
}

/// How often lines cross between a column and the next, with the best order of tracks that is found.
pub(super) fn crossings_after(layers: &Layers, column: usize) -> usize {
    let (straight, bent): (Vec<Bundle>, Vec<Bundle>) =
        bundles(layers, column).into_iter().partition(Bundle::is_straight);
    let order = order(&bent);
    let pairs = order.iter().enumerate().flat_map(|(at, a)| order[at + 1..].iter().map(move |b| (*a, *b)));
    let among: i32 = pairs.map(|(a, b)| crossings_of(&bent[a], &bent[b])).sum();
    let within = |y: f64, b: &&Bundle| y > b.span.0 + 0.01 && y < b.span.1 - 0.01;
    let through: usize = straight.iter().map(|s| bent.iter().filter(|b| within(s.from, b)).count()).sum();
    usize::try_from(among).unwrap_or(0) + through
}

/// How often lines cross as they are drawn.
pub(super) fn crossings(layers: &Layers) -> usize {
    (1..layers.columns.len()).map(|column| crossings_after(layers, column - 1)).sum()
}

/// What it costs to have `a` left of `b`: crossings, and lines that would run into one another.
fn cost(a: &Bundle, b: &Bundle) -> i32 {
    let ((a_low, a_high), (b_low, b_high)) = (a.span, b.span);
    if a_high + NEAR < b_low || b_high + NEAR < a_low {
        return 0;
    }
    let crossings = crossings_of(a, b);
    let runs_into: i32 = a.to.iter().map(|y| i32::from((y - b.from).abs() < NEAR)).sum();
    crossings + RUNS_INTO * runs_into
}

/// The order of tracks from left to right: lines that run down, the lowest first; lines that run up, the highest first; then
/// each is moved to its best place as long as that helps.
fn order(bundles: &[Bundle]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..bundles.len()).collect();
    let key = |b: &Bundle| if b.to.iter().sum::<f64>() > b.from * b.to.len() as f64 { -b.from } else { b.from };
    order.sort_by(|a, b| key(&bundles[*a]).total_cmp(&key(&bundles[*b])));
    if bundles.len() > MOST_MOVED || bundles.len() < 2 {
        return order;
    }
    let count = bundles.len();
    let mut gains = vec![0_i32; count * count];
    for a in 0..count {
        for b in 0..a {
            let gain = cost(&bundles[a], &bundles[b]) - cost(&bundles[b], &bundles[a]);
            gains[a * count + b] = gain;
            gains[b * count + a] = -gain;
        }
    }
    for _ in 0..ROUNDS {
        let moved = (0..count).filter(|at| move_to_best(&mut order, *at, &gains)).count();
        if moved == 0 {
            break;
        }
    }
    order
}

/// Moves the bundle at a place to where it costs least; true if it moved. `gains[a, b]` is what it costs more to have `a` left.
fn move_to_best(order: &mut Vec<usize>, at: usize, gains: &[i32]) -> bool {
    let count = order.len();
    let row = &gains[order[at] * count..(order[at] + 1) * count];
    let mut best = (0, at);
    let mut sum = 0;
    for place in (0..at).rev() {
        sum += row[order[place]];
        if sum < best.0 {
            best = (sum, place);
        }
    }
    sum = 0;
    for (place, other) in order.iter().enumerate().skip(at + 1) {
        sum -= row[*other];
        if sum < best.0 {
            best = (sum, place);
        }
    }
    if best.0 < 0 {
        let bundle = order.remove(at);
        order.insert(best.1, bundle);
    }
    best.0 < 0
}
