//! Pass 4. Before: columns in any order. After: few edges cross; slots of a part stand as their feeds come.
//!
//! Columns are sorted by the mean of their neighbours, there and back; then every vertex is sifted; then, as long as a count of
//! steps allows, a few vertices are shaken and sifted again, and the better order is kept. All is counted, nothing is timed, so
//! that the same graph gives the same order on every machine.

use super::build::Stock;
use super::calm;
use super::crossings::Net;
use super::layers::{Edge, Layers, Slot, Stands, Vertex};
use super::parts::Parts;
use super::sift::Sieve;
use super::sizes::{Shown, arrange, arrange_taker};
use crate::diagram::plan::Form;

/// Sweeps there and back.
const SWEEPS: usize = 24;
/// Rounds of sifting, at most.
const ROUNDS: usize = 12;
/// Comparisons of two vertices that may be spent on shaking, for each pair of edges: of a graph, and of a band, of which many are
/// tried.
pub(super) const SHAKING: usize = 40;
const SHAKING_A_BAND: usize = 6;
/// Comparisons that may be spent in all.
const MOST_WORK: usize = 2_400_000;

/// Rounds of ordering by where feeds come in, at most.
const BRACKET_ROUNDS: usize = 3;

/// Orders every column of the parts of a plan: first as if the feeds of a row could come in in any order, then as they do come
/// in, since brackets hold some of them together.
pub(super) fn improve(layers: &mut Layers, stock: &Stock<'_>, idle: &Parts) {
    let row = |edge: &Edge| {
        let to = &layers.vertices[edge.to];
        match (&to.stands, to.slots.get(edge.slot)) {
            (Stands::Part(_), Some((Slot::Link(link), _))) => stock.row(*link),
            _ => 0,
        }
    };
    let net = Net::of(layers, &row);
    reorder(layers, net, SHAKING_A_BAND);
    sort_slots(layers, stock, idle);
    let mut sieve = Sieve::default();
    for _ in 0..BRACKET_ROUNDS {
        let above = |edge: &Edge| {
            let slots = &layers.vertices[edge.to].slots;
            slots.get(edge.slot).map_or(0, |own| slots.iter().filter(|other| other.1 < own.1).count())
        };
        let mut net = Net::of(layers, &above);
        let now = net.crossings();
        if now == 0 {
            break;
        }
        let mut best = (now, net.columns.clone());
        sweep(&mut net, false, &mut best);
        net.columns = best.1;
        net.number();
        if settle(&mut net, best.0, &mut sieve) == now {
            break;
        }
        layers.columns = net.columns;
        layers.seat();
        sort_slots(layers, stock, idle);
    }
}

/// Orders every column of a net.
pub(super) fn reorder(layers: &mut Layers, mut net: Net, shaking: usize) {
    let mut work =
        Work { left: MOST_WORK.min(shaking * layers.edges.len() * layers.edges.len()), state: 0x9e37_79b9_7f4a_7c15 };
    let mut best = (net.crossings(), net.columns.clone());
    for start in [true, false] {
        if best.0 > 0 {
            net.columns.clone_from(&layers.columns);
            net.number();
            sweep(&mut net, start, &mut best);
        }
    }
    net.columns = best.1;
    net.number();
    let mut sieve = Sieve::default();
    let mut now = settle(&mut net, best.0, &mut sieve);
    now = shake(&mut net, now, &mut work, &mut sieve);
    calm::calm(&mut net, &mut sieve);
    debug_assert!(net.crossings() <= now);
    layers.columns = net.columns;
    layers.seat();
}

type Order = (usize, Vec<Vec<usize>>);

/// Sorts every column by the mean of its neighbours, there and back; the best order seen is kept.
fn sweep(net: &mut Net, start: bool, best: &mut Order) {
    let (count, mut idle) = (net.columns.len(), 0);
    let mut least = net.crossings();
    for sweep in 0..SWEEPS {
        let forward = (sweep % 2 == 0) == start;
        for step in 1..count {
            let column = if forward { step } else { count - 1 - step };
            sort_column(net, column, forward);
        }
        let now = net.crossings();
        idle = if now < least { 0 } else { idle + 1 };
        least = least.min(now);
        if now < best.0 {
            best.0 = now;
            best.1.clone_from(&net.columns);
        }
        if least == 0 || idle > 4 {
            break;
        }
    }
}

fn sort_column(net: &mut Net, column: usize, forward: bool) {
    let length = net.columns[column].len().max(1) as f64;
    let own = |v: usize| net.place[v] as f64 / length;
    let mut keyed: Vec<(f64, usize)> =
        net.columns[column].iter().map(|v| (net.mean(*v, forward).unwrap_or_else(|| own(*v)), *v)).collect();
    keyed.sort_by(|a, b| a.0.total_cmp(&b.0));
    net.columns[column] = keyed.into_iter().map(|(_, v)| v).collect();
    net.number_column(column);
}

/// Sifts all columns until that saves nothing more; what is left. A column is left alone while neither it nor a neighbour of it
/// has changed since it was sifted for nothing.
fn settle(net: &mut Net, mut crossings: usize, sieve: &mut Sieve) -> usize {
    for round in 0..ROUNDS {
        let mut saved = 0;
        for step in 0..net.columns.len() {
            let column = if round % 2 == 0 { step } else { net.columns.len() - 1 - step };
            if crossings > saved && net.is_stale(column) {
                let gain = sieve.sift(net, column);
                saved += gain;
                net.sifted(column, gain > 0);
            }
        }
        crossings -= saved;
        if saved * 250 <= crossings {
            break;
        }
    }
    crossings
}

/// What may still be spent, and a row of numbers that look as if by chance.
struct Work {
    left: usize,
    state: u64,
}

impl Work {
    fn below(&mut self, most: usize) -> usize {
        self.state ^= self.state << 13;
        self.state ^= self.state >> 7;
        self.state ^= self.state << 17;
        (self.state % most.max(1) as u64) as usize
    }

    fn spend(&mut self, comparisons: usize) -> bool {
        let enough = self.left >= comparisons;
        self.left = self.left.saturating_sub(comparisons);
        enough
    }
}

/// Moves a few vertices anywhere and settles the columns again; keeps what is no worse.
fn shake(net: &mut Net, mut crossings: usize, work: &mut Work, sieve: &mut Sieve) -> usize {
    let round: usize = net.columns.iter().map(|c| c.len() * c.len()).sum::<usize>() * 3;
    let mut before = net.save();
    while crossings > 0 && work.spend(round) {
        net.save_in(&mut before);
        for _ in 0..2 + work.below(4) {
            let column = work.below(net.columns.len());
            let length = net.columns[column].len();
            let (from, to) = (work.below(length), work.below(length));
            if length > 1 {
                let vertex = net.columns[column].remove(from);
                net.columns[column].insert(to, vertex);
                net.number_column(column);
                net.changed(column);
            }
        }
        let after = net.crossings();
        let after = settle(net, after, sieve);
        if after <= crossings {
            crossings = after;
        } else {
            net.restore(&before);
        }
    }
    crossings
}

fn sort_slots(layers: &mut Layers, stock: &Stock<'_>, idle: &Parts) {
    let mut comes = vec![0.0; stock.plan.links.len()];
    for vertex in 0..layers.vertices.len() {
        let Stands::Part(part) = layers.vertices[vertex].stands else { continue };
        for edge in layers.ins(vertex).map(|e| &layers.edges[e]) {
            if let Some((Slot::Link(link), _)) = layers.vertices[vertex].slots.get(edge.slot) {
                comes[*link] = layers.seats[edge.from] as f64;
            }
        }
        sort_part(&mut layers.vertices[vertex], stock.shown(part, idle), &|link| comes[link]);
    }
}

/// Lets the feeds of a part come in in the order of that key.
pub(super) fn sort_part(vertex: &mut Vertex, shown: Shown<'_>, key: &dyn Fn(usize) -> f64) {
    if shown.form == Form::Taker { arrange_taker(vertex, shown.part, key) } else { arrange(vertex, shown, key) }
}

/// Gives the slots of a vertex their heights in the order in which their feeds come.
pub(super) fn sort_plain(vertex: &mut Vertex, comes: &dyn Fn(usize) -> f64) {
    let mut heights: Vec<f64> = vertex.slots.iter().map(|s| s.1).collect();
    heights.sort_by(f64::total_cmp);
    let key = |slot: &Slot| if let Slot::Link(link) = slot { comes(*link) } else { 0.0 };
    let mut order: Vec<usize> = (0..vertex.slots.len()).collect();
    order.sort_by(|a, b| key(&vertex.slots[*a].0).total_cmp(&key(&vertex.slots[*b].0)));
    for (height, slot) in heights.into_iter().zip(order) {
        vertex.slots[slot].1 = height;
    }
}
