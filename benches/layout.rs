//! Drawings: crossings, bends, length, overlaps and time of our layered layout beside Graphviz's, in one run.
//!
//! Graphs of 40 to 5,000 nodes (`benches/data`, made by a seeded program of ours: six layers, one and a half edges a node), and
//! every drawing of connections of the demo. Crossings are counted twice: by the order of the layers, every edge on a line of
//! its own, and in the finished SVG of both, by one counter. Times are processor time of both. `cargo bench --bench layout`.
#[path = "layout/cross.rs"]
mod cross;
#[path = "demo/mod.rs"]
#[allow(dead_code)]
mod demo;
#[path = "layout/drawn.rs"]
mod drawn;
#[path = "layout/peer.rs"]
mod peer;

use cross::{Count, count};
use ribstitch::diagram::graph::{Graph, lay_out_graph};
use ribstitch::diagram::{Mark, Scene, draw, draw_all, geometry, svg};
use ribstitch::doc::{Block, Document, Figure, FigureKind};
use ribstitch::model::Model;
use rustix::time::{ClockId, clock_gettime};
use std::path::Path;
use std::time::Instant;

/// Of so many runs the quickest counts.
const RUNS: usize = 5;

fn main() {
    if std::env::args().any(|a| a == "--list" || a == "--test") {
        return;
    }
    match peer::version() {
        Some(version) => println!("beside {version}"),
        None => println!("Graphviz is not here (Debian: graphviz): ours alone"),
    }
    graphs();
    demo();
}

fn graphs() {
    println!(
        "\n{:<22}{:>9}{:>9}{:>7}{:>9}{:>9}{:>7}{:>9}{:>9}{:>7}",
        "graph: ours, peer, ratio", "by order", "", "", "drawn", "", "", "ms", "", ""
    );
    for nodes in [40, 200, 1000, 5000] {
        let graph = read(nodes);
        let (laid, time_ms) = quickest(|| lay_out_graph(&graph));
        let ours = count(&drawn::ours(&svg::write(&laid.scene)));
        let peer = peer::lay_out(&graph);
        let (order, drawn, took) =
            peer.as_ref().map_or((0, 0, 0.0), |p| (p.by_order, count(&p.drawn).crossings, p.time_ms));
        println!(
            "{:<22}{}{}{}",
            format!("{nodes} nodes, {} edges", graph.edges.len()),
            beside(laid.crossings as f64, order as f64, 0),
            beside(ours.crossings as f64, drawn as f64, 0),
            beside(time_ms, took, 1)
        );
        print_own(&ours);
    }
}

fn print_own(own: &Count) {
    println!("{:22}bends {}, length {:.0} pt, overlaps {}", "", own.bends, own.length, own.overlaps);
}

/// Ours, the peer's, and ours as a part of it.
fn beside(ours: f64, peer: f64, digits: usize) -> String {
    let ratio = if peer > 0.0 { format!("{:.2}", ours / peer) } else { "-".to_owned() };
    format!("{ours:>9.digits$}{peer:>9.digits$}{ratio:>7}")
}

/// Processor time of this process so far, ms.
fn now_ms() -> f64 {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    time.tv_sec as f64 * 1e3 + time.tv_nsec as f64 / 1e6
}

/// What some work gives, and the processor time of the quickest of several runs, ms.
fn quickest<T>(work: impl Fn() -> T) -> (T, f64) {
    let run = || {
        let begin = now_ms();
        let result = work();
        (result, now_ms() - begin)
    };
    (1..RUNS).map(|_| run()).fold(run(), |best, next| if next.1 < best.1 { next } else { best })
}

fn home() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(nodes: usize) -> Graph {
    let path = home().join(format!("benches/data/g{nodes}.json"));
    let text = std::fs::read_to_string(path).expect("the graph is there");
    let value: serde_json::Value = serde_json::from_str(&text).expect("the graph can be read");
    let list = |name: &str| value[name].as_array().cloned().unwrap_or_default();
    let size = |v: &serde_json::Value| (v["w"].as_f64().unwrap_or(90.0), v["h"].as_f64().unwrap_or(30.0));
    let end = |v: &serde_json::Value| v.as_u64().unwrap_or(0) as usize;
    Graph {
        nodes: list("nodes").iter().map(size).collect(),
        edges: list("edges").iter().map(|e| (end(&e[0]), end(&e[1]))).collect(),
    }
}

/// Every figure of a document, in order.
fn figures(document: &Document) -> Vec<&Figure> {
    fn collect<'d>(block: &'d Block, found: &mut Vec<&'d Figure>) {
        match block {
            Block::Figure(figure) => found.push(figure),
            Block::List { items, .. } => items.iter().flatten().for_each(|b| collect(b, found)),
            Block::Notice { body, .. } => body.iter().for_each(|b| collect(b, found)),
            _ => {}
        }
    }
    let mut found = Vec::new();
    document.chapters.iter().flat_map(|c| &c.blocks).for_each(|b| collect(b, &mut found));
    found
}

fn demo() {
    let (document, model) = (demo::proved(), demo::model());
    let figures = figures(&document);
    println!(
        "\n{:<22}{:>9}{:>9}{:>7}{:>8}{:>9}{:>10}{:>9}",
        "demo", "drawn", "peer", "ratio", "bends", "length", "overlaps", "ms"
    );
    for figure in figures.iter().filter(|f| matches!(f.kind, FigureKind::System | FigureKind::Overview)) {
        let (scene, time_ms) = quickest(|| draw(figure, &model));
        let own = count(&drawn::ours(&svg::write(&scene)));
        let peer = peer::lay_out(&graph_of(&scene)).map_or(0, |p| count(&p.drawn).crossings);
        println!(
            "{:<22}{}{:>8}{:>9.0}{:>10}{time_ms:>9.2}",
            figure.id.trim_start_matches("figure/"),
            beside(own.crossings as f64, peer as f64, 0),
            own.bends,
            own.length,
            own.overlaps
        );
    }
    by_kind(&figures, &model);
}

/// How long the figures of each kind take one after the other, and all of them together, as the guide has them made.
fn by_kind(figures: &[&Figure], model: &Model) {
    use FigureKind::{After, Chain, Overview, Panel, Plot, States, System};
    let row = |name: &str, kinds: &[FigureKind]| {
        let of: Vec<&Figure> = figures.iter().filter(|f| kinds.contains(&f.kind)).copied().collect();
        let (_, alone_ms) = quickest(|| of.iter().map(|f| draw(f, model)).collect::<Vec<_>>());
        let (_, work_ms) = quickest(|| draw_all(&of, model));
        let wall_ms = (0..2 * RUNS).map(|_| wall(|| draw_all(&of, model))).fold(f64::MAX, f64::min);
        println!("{name:<34}{:>7}{alone_ms:>11.2}{work_ms:>13.2}{wall_ms:>9.2}", of.len());
    };
    println!(
        "\n{:<34}{:>7}{:>11}{:>13}{:>9}",
        "figures of the demo, ms", "count", "one by one", "together: cpu", "wall"
    );
    row("systems", &[System]);
    row("overview", &[Overview]);
    row("chains", &[Chain]);
    row("panel", &[Panel]);
    row("panel in each state", &[States]);
    row("plots", &[Plot]);
    row("panels after a failure", &[After]);
    row("all but panels after a failure", &[System, Overview, Chain, Panel, States, Plot]);
    row("all", &[System, Overview, Chain, Panel, States, Plot, After]);
}

/// How long some work takes by the clock on the wall, ms.
fn wall<T>(work: impl Fn() -> T) -> f64 {
    let begin = Instant::now();
    std::hint::black_box(work());
    begin.elapsed().as_secs_f64() * 1e3
}

/// What a drawing joins, as a plain graph: its boxes, bars, ports and devices with their size.
fn graph_of(scene: &Scene) -> Graph {
    let places: Vec<geometry::Rect> = scene.marks.iter().filter_map(place).collect();
    let nodes = places.iter().map(|r| (r.width, r.height)).collect();
    let lines: Vec<&[geometry::Point]> = scene
        .marks
        .iter()
        .filter_map(|m| if let Mark::Feed { points, .. } = m { Some(points.as_slice()) } else { None })
        .collect();
    let on = |p: geometry::Point| places.iter().position(|r| r.inset(-0.1).holds(p));
    let mut edges = Vec::new();
    for line in &lines {
        let [first, .., last] = line else { continue };
        let Some(to) = on(*last) else { continue };
        let mut start = *first;
        for _ in 0..50 {
            if on(start).is_some() {
                break;
            }
            let Some(before) = lines.iter().find(|l| l.last().is_some_and(|e| e.meets(start))) else { break };
            start = before[0];
        }
        edges.extend(on(start).filter(|from| *from != to).map(|from| (from, to)));
    }
    edges.sort_unstable();
    edges.dedup();
    Graph { nodes, edges }
}

fn place(mark: &Mark) -> Option<geometry::Rect> {
    let reach = ribstitch::diagram::symbol::REACH;
    match mark {
        Mark::Box(mark) => Some(mark.rect),
        Mark::Bar { rect, .. } | Mark::Port { rect, .. } => Some(*rect),
        Mark::Device { at, .. } => Some(geometry::Rect::new(at.x - reach, at.y - reach, 2.0 * reach, 2.0 * reach)),
        _ => None,
    }
}
