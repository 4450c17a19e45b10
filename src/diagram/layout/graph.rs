//! The same passes on a plain graph: nodes with a size, edges, nothing else.

use super::crossings::{Net, inversions};
use super::layers::{Edge, Layers, Slot, Stands, Vertex, empty};
use super::{marks, order, place, rank, route};
use crate::diagram::colour;
use crate::diagram::scene::{Scene, SceneMedium};
use std::collections::BTreeMap;

/// Least distance of two edges that end at one node, pt.
const END_PITCH: f64 = 4.0;

/// A graph to be laid out.
#[derive(Debug, Clone, Default)]
pub struct Graph {
    /// Width and height of each node, pt; one that is too low for its edges becomes higher.
    pub nodes: Vec<(f64, f64)>,
    /// Edges from node to node. One that closes a ring is drawn from its end to its beginning, without a wedge; one that
    /// begins where it ends, or that names no node, is left out.
    pub edges: Vec<(usize, usize)>,
}

/// A graph that is laid out.
#[derive(Debug, Clone)]
pub struct LaidGraph {
    /// The drawing; a box is named after its node's number.
    pub scene: Scene,
    /// Crossings of straight lines between neighbouring columns, every edge on a line of its own.
    pub crossings: usize,
}

/// Lays out a graph from left to right.
pub fn lay_out_graph(graph: &Graph) -> LaidGraph {
    let edges = without_rings(graph);
    let mut layers = vertices(graph, &edges);
    rank::rank(&mut layers);
    rank::tighten(&mut layers);
    rank::pass_columns(&mut layers);
    layers.fill_columns();
    let net = Net::of(&layers, &|_| 0);
    order::reorder(&mut layers, net, order::SHAKING);
    sort_ends(&mut layers);
    place::place(&mut layers);
    route::route(&mut layers);
    let crossings = crossings(&layers);
    LaidGraph { scene: marks::write_plain(&layers, medium()), crossings }
}

fn medium() -> SceneMedium {
    let (class, colour) = ("m-plain".to_owned(), colour::INK.to_owned());
    SceneMedium { class, name: String::new(), tag: String::new(), colour, dashes: &[] }
}

/// Edges as they are drawn, true where they keep their direction: depth first, an edge to a node on the way there is turned.
fn without_rings(graph: &Graph) -> Vec<(usize, usize, bool)> {
    let count = graph.nodes.len();
    let mut outs = vec![Vec::new(); count];
    for (at, (from, to)) in graph.edges.iter().enumerate().filter(|(_, e)| e.0 < count && e.1 < count && e.0 != e.1) {
        outs[*from].push((at, *to));
    }
    let mut turned = vec![false; graph.edges.len()];
    let (mut seen, mut on_way, mut next) = (vec![false; count], vec![false; count], vec![0; count]);
    for root in 0..count {
        let mut way = if seen[root] { Vec::new() } else { vec![root] };
        while let Some(node) = way.last().copied() {
            (seen[node], on_way[node]) = (true, true);
            let Some((at, to)) = outs[node].get(next[node]).copied() else {
                on_way[node] = false;
                way.pop();
                continue;
            };
            next[node] += 1;
            turned[at] = on_way[to];
            if !seen[to] {
                way.push(to);
            }
        }
    }
    let kept = graph.edges.iter().enumerate().filter(|(_, e)| e.0 < count && e.1 < count && e.0 != e.1);
    kept.map(|(at, (from, to))| if turned[at] { (*to, *from, false) } else { (*from, *to, true) }).collect()
}

fn vertices(graph: &Graph, edges: &[(usize, usize, bool)]) -> Layers {
    let vertex = |(width, height): &(f64, f64)| Vertex {
        body: *width,
        height: *height,
        out: height / 2.0,
        left: super::layers::WEDGE,
        ..empty(Stands::Plain)
    };
    let mut layers = Layers { vertices: graph.nodes.iter().map(vertex).collect(), ..Layers::default() };
    for (at, (from, to, wedge)) in edges.iter().enumerate() {
        let slot = layers.vertices[*to].slots.len();
        layers.vertices[*to].slots.push((Slot::Link(at), 0.0));
        layers.edges.push(Edge {
            from: *from,
            to: *to,
            slot,
            wedge: *wedge,
            own: false,
            medium: 0,
            leaves: 0.0,
            track: None,
        });
    }
    for vertex in &mut layers.vertices {
        let count = vertex.slots.len() as f64;
        vertex.height = vertex.height.max(count * END_PITCH + 8.0);
        vertex.out = vertex.height / 2.0;
        let step = (vertex.height - 8.0).max(0.0) / count.max(1.0);
        let step = step.min(8.0);
        let middle = vertex.height / 2.0;
        let place = |at: usize| middle + (at as f64 - (count - 1.0) / 2.0) * step;
        vertex.slots.iter_mut().enumerate().for_each(|(at, slot)| slot.1 = place(at));
    }
    layers
}

/// Edges come in at a box in the order of where they come from.
fn sort_ends(layers: &mut Layers) {
    let mut places = vec![0.0; layers.vertices.len()];
    for column in &layers.columns {
        column.iter().enumerate().for_each(|(at, vertex)| places[*vertex] = at as f64);
    }
    for vertex in 0..layers.vertices.len() {
        if layers.vertices[vertex].stands == Stands::Passing {
            continue;
        }
        let ins: BTreeMap<usize, f64> =
            layers.ins(vertex).map(|e| &layers.edges[e]).map(|e| (e.slot, places[e.from])).collect();
        let links: BTreeMap<usize, f64> = layers.vertices[vertex]
            .slots
            .iter()
            .enumerate()
            .filter_map(
                |(at, (slot, _))| {
                    if let Slot::Link(link) = slot { Some((*link, ins.get(&at).copied()?)) } else { None }
                },
            )
            .collect();
        order::sort_plain(&mut layers.vertices[vertex], &|link| links.get(&link).copied().unwrap_or(0.0));
    }
}

/// Every edge on a line of its own: lines that share the way past a column count as often as edges run on it.
fn crossings(layers: &Layers) -> usize {
    let mut place = vec![0; layers.vertices.len()];
    for column in &layers.columns {
        column.iter().enumerate().for_each(|(at, vertex)| place[*vertex] = at);
    }
    let mut gaps: Vec<Vec<(usize, usize)>> = vec![Vec::new(); layers.columns.len()];
    for edge in layers.edges.iter().filter(|e| layers.vertices[e.to].stands == Stands::Plain) {
        let (mut from, mut to) = (edge.from, edge.to);
        loop {
            gaps[layers.vertices[from].column].push((place[from], place[to]));
            if layers.vertices[from].stands == Stands::Plain {
                break;
            }
            let Some(before) = layers.ins(from).next() else { break };
            (from, to) = (layers.edges[before].from, from);
        }
    }
    let count = |gap: &mut Vec<(usize, usize)>| {
        gap.sort_unstable();
        let mut ends: Vec<usize> = gap.iter().map(|(_, to)| *to).collect();
        let mut spare = vec![0; ends.len()];
        inversions(&mut ends, &mut spare)
    };
    gaps.iter_mut().map(count).sum()
}
