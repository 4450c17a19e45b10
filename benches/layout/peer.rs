//! Graphviz's layered layout of the same graph, from its finished SVG. Debian's package `graphviz` brings it.

use super::drawn::{Drawn, Point, around, attribute, points, tags};
use ribstitch::diagram::graph::Graph;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::io::Write as _;
use std::process::{Command, Stdio};

/// Pieces into which each curve is cut.
const CUTS: usize = 10;

/// What it drew, how many crossings by layer order, and how long it took, ms.
pub struct Answer {
    /// Its picture.
    pub drawn: Drawn,
    /// Crossings by layer order.
    pub by_order: usize,
    /// Processor time of the whole process, ms, in steps of ten.
    pub time_ms: f64,
}

/// Its version; nothing if it is not there.
pub fn version() -> Option<String> {
    let out = Command::new("dot").arg("-V").output().ok()?;
    Some(String::from_utf8_lossy(&out.stderr).trim().to_owned())
}

/// Processor time of the programs that this one has started and that have ended, ms; nothing where there is no `/proc`.
fn children_ms() -> f64 {
    let text = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after = text.rsplit(')').next().unwrap_or("");
    let ticks = after.split_whitespace().skip(13).take(2).filter_map(|n| n.parse::<f64>().ok());
    ticks.sum::<f64>() * 10.0
}

/// Lays out a graph.
pub fn lay_out(graph: &Graph) -> Option<Answer> {
    let mut text = String::from("digraph{node[shape=box,fixedsize=true,label=\"\"];edge[arrowhead=none];\n");
    for (at, (wide, high)) in graph.nodes.iter().enumerate() {
        let _ = writeln!(text, "{at}[width={:.4},height={:.4}];", wide / 72.0, high / 72.0);
    }
    for (from, to) in &graph.edges {
        let _ = writeln!(text, "{from}->{to};");
    }
    text.push('}');
    let begin_ms = children_ms();
    let mut child = Command::new("dot").arg("-Tsvg").stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().ok()?;
    let mut input = child.stdin.take()?;
    let writer = std::thread::spawn(move || input.write_all(text.as_bytes()));
    let out = child.wait_with_output().ok()?;
    writer.join().ok()?.ok()?;
    let time_ms = children_ms() - begin_ms;
    let svg = String::from_utf8_lossy(&out.stdout).into_owned();
    let (drawn, edges) = read(&svg);
    let by_order = by_order(&drawn, &edges);
    Some(Answer { drawn, by_order, time_ms })
}

type Ends = Vec<(usize, usize)>;

/// Nodes as boxes in the order of their numbers; every edge as a line cut into short pieces, and the nodes at its ends.
fn read(svg: &str) -> (Drawn, Ends) {
    let mut boxes: BTreeMap<usize, [f64; 4]> = BTreeMap::new();
    let (mut drawn, mut ends) = (Drawn { curved: true, ..Drawn::default() }, Vec::new());
    let mut title = String::new();
    for chunk in svg.split("<title>").skip(1) {
        title.clear();
        title.push_str(chunk.split('<').next().unwrap_or(""));
        let names: Vec<usize> = title.split("&#45;&gt;").filter_map(|n| n.parse().ok()).collect();
        for tag in tags(chunk) {
            match names.as_slice() {
                [node] if tag.starts_with("polygon") => {
                    boxes.insert(*node, around(&points(attribute(tag, "points").unwrap_or(""))));
                }
                [from, to] if tag.starts_with("path") => {
                    drawn.lines.push(flat(&points(attribute(tag, "d").unwrap_or(""))));
                    ends.push((*from, *to));
                }
                _ => {}
            }
        }
    }
    drawn.boxes = boxes.into_values().collect();
    (drawn, ends)
}

/// A chain of cubic curves as short straight pieces.
fn flat(control: &[Point]) -> Vec<Point> {
    let mut line: Vec<Point> = control.first().copied().into_iter().collect();
    let mut at = 0;
    while let Some([a, b, c, d]) = control.get(at..at + 4) {
        for cut in 1..=CUTS {
            let t = cut as f64 / CUTS as f64;
            let s = 1.0 - t;
            let mix = |a: f64, b: f64, c: f64, d: f64| {
                s * s * s * a + 3.0 * s * s * t * b + 3.0 * s * t * t * c + t * t * t * d
            };
            line.push((mix(a.0, b.0, c.0, d.0), mix(a.1, b.1, c.1, d.1)));
        }
        at += 3;
    }
    line
}

/// Every edge at every layer that it passes; pairs that change sides between two layers.
fn by_order(drawn: &Drawn, ends: &Ends) -> usize {
    let middle = |n: usize| drawn.boxes.get(n).map_or((0.0, 0.0), |b| ((b[0] + b[2]) / 2.0, (b[1] + b[3]) / 2.0));
    let mut layers: Vec<i64> = (0..drawn.boxes.len()).map(|n| middle(n).1.round() as i64).collect();
    layers.sort_unstable();
    layers.dedup();
    let layer = |n: usize| layers.binary_search(&(middle(n).1.round() as i64)).unwrap_or(0);
    let mut gaps: Vec<Vec<(f64, f64)>> = vec![Vec::new(); layers.len()];
    for (line, (from, to)) in drawn.lines.iter().zip(ends) {
        let mut x = middle(*from).0;
        for next in layer(*from) + 1..=layer(*to) {
            let there = if next == layer(*to) { middle(*to).0 } else { across(line, layers[next] as f64) };
            gaps[next - 1].push((x, there));
            x = there;
        }
    }
    gaps.iter().map(|gap| crossed(gap)).sum()
}

/// Where a line that runs down is at a height.
fn across(line: &[Point], y: f64) -> f64 {
    let piece = line.windows(2).find(|w| w[0].1.min(w[1].1) <= y && y <= w[0].1.max(w[1].1));
    piece.map_or(0.0, |w| {
        let part = if (w[1].1 - w[0].1).abs() < 1e-9 { 0.0 } else { (y - w[0].1) / (w[1].1 - w[0].1) };
        w[0].0 + part * (w[1].0 - w[0].0)
    })
}

fn crossed(gap: &[(f64, f64)]) -> usize {
    let mut sorted = gap.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut count = 0;
    for (at, a) in sorted.iter().enumerate() {
        count += sorted[at + 1..].iter().filter(|b| b.0 > a.0 + 0.01 && b.1 < a.1 - 0.01).count();
    }
    count
}
