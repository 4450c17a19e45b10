//! How often lines cross in a finished picture, how long they are, and what lies on what. One counter for every picture.

use super::drawn::{Drawn, Point};
use std::collections::{BTreeMap, BTreeSet};

/// A straight piece and the net that it belongs to.
#[derive(Debug, Clone, Copy)]
struct Piece {
    from: Point,
    to: Point,
    net: usize,
}

/// What was counted.
#[derive(Debug, Default, Clone, Copy)]
pub struct Count {
    /// Places where two lines cross.
    pub crossings: usize,
    /// Corners.
    pub bends: usize,
    /// Length of all lines, pt; what is drawn twice counts once.
    pub length: f64,
    /// Boxes on boxes, lines through boxes, lines along lines.
    pub overlaps: usize,
}

fn key(point: Point) -> (i64, i64) {
    ((point.0 * 20.0).round() as i64, (point.1 * 20.0).round() as i64)
}

/// Lines that begin where another begins or ends are one net.
fn nets(drawn: &Drawn) -> Vec<usize> {
    let mut ends: BTreeMap<(i64, i64), usize> = BTreeMap::new();
    let mut parent: Vec<usize> = (0..drawn.lines.len()).collect();
    fn root(parent: &mut [usize], mut at: usize) -> usize {
        while parent[at] != at {
            parent[at] = parent[parent[at]];
            at = parent[at];
        }
        at
    }
    for (at, line) in drawn.lines.iter().enumerate().filter(|_| !drawn.curved) {
        for end in [line.first(), line.last()].into_iter().flatten() {
            let other = *ends.entry(key(*end)).or_insert(at);
            let (a, b) = (root(&mut parent, at), root(&mut parent, other));
            parent[a] = b;
        }
    }
    (0..parent.len()).map(|at| root(&mut parent, at)).collect()
}

/// Straight pieces; of level and upright ones of a net, those that lie on one another are one.
fn pieces(drawn: &Drawn) -> Vec<Piece> {
    let mut lying: BTreeMap<(usize, bool, i64), Vec<(f64, f64)>> = BTreeMap::new();
    let mut pieces = Vec::new();
    for (line, net) in drawn.lines.iter().zip(nets(drawn)) {
        for w in line.windows(2) {
            let (a, b) = (w[0], w[1]);
            let level = (a.1 - b.1).abs() < 0.02;
            if drawn.curved || !(level || (a.0 - b.0).abs() < 0.02) {
                pieces.push(Piece { from: a, to: b, net });
            } else if level {
                lying.entry((net, true, key(a).1)).or_default().push((a.0.min(b.0), a.0.max(b.0)));
            } else {
                lying.entry((net, false, key(a).0)).or_default().push((a.1.min(b.1), a.1.max(b.1)));
            }
        }
    }
    for ((net, level, at), mut spans) in lying {
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut joined: Vec<(f64, f64)> = Vec::new();
        for span in spans {
            match joined.last_mut() {
                Some(last) if span.0 <= last.1 + 0.05 => last.1 = last.1.max(span.1),
                _ => joined.push(span),
            }
        }
        let at = at as f64 / 20.0;
        let piece = |(a, b): (f64, f64)| {
            let (from, to) = if level { ((a, at), (b, at)) } else { ((at, a), (at, b)) };
            Piece { from, to, net }
        };
        pieces.extend(joined.into_iter().map(piece));
    }
    pieces
}

/// Where two pieces cross within both, so far from their ends; a corner is no crossing.
fn meet(a: &Piece, b: &Piece, ends: f64) -> Option<Point> {
    let (ax, ay) = (a.to.0 - a.from.0, a.to.1 - a.from.1);
    let (bx, by) = (b.to.0 - b.from.0, b.to.1 - b.from.1);
    let turn = ax * by - ay * bx;
    if turn.abs() < 1e-9 {
        return None;
    }
    let (dx, dy) = (b.from.0 - a.from.0, b.from.1 - a.from.1);
    let (t, u) = ((dx * by - dy * bx) / turn, (dx * ay - dy * ax) / turn);
    let within = |t: f64, length: f64| t * length > ends && (1.0 - t) * length > ends;
    (within(t, ax.hypot(ay)) && within(u, bx.hypot(by))).then(|| (a.from.0 + t * ax, a.from.1 + t * ay))
}

/// Counts what a picture shows.
pub fn count(drawn: &Drawn) -> Count {
    let pieces = pieces(drawn);
    let length = pieces.iter().map(|p| (p.to.0 - p.from.0).hypot(p.to.1 - p.from.1)).sum();
    let corner = |line: &Vec<Point>| line.iter().skip(1).rev().skip(1).map(|p| key(*p)).collect::<Vec<_>>();
    let bends: BTreeSet<_> = drawn.lines.iter().flat_map(corner).collect();
    let bends = if drawn.curved { 0 } else { bends.len() };
    Count { crossings: crossings(drawn, &pieces), bends, length, overlaps: overlaps(drawn, &pieces) }
}

/// The plane in squares: pairs are looked for within a square, and a crossing counts in the square in which it lies.
fn crossings(drawn: &Drawn, pieces: &[Piece]) -> usize {
    // Ends of level and upright pieces are known to a twentieth of a point (`key`).
    let ends = if drawn.curved { 1e-6 } else { 0.1 };
    let dots: BTreeSet<_> = drawn.dots.iter().map(|d| key(*d)).collect();
    let all: Vec<Point> = pieces.iter().flat_map(|p| [p.from, p.to]).collect();
    let bounds = super::drawn::around(&all);
    let (wide, high) = ((bounds[2] - bounds[0]).max(1.0), (bounds[3] - bounds[1]).max(1.0));
    let size = (wide * high / (pieces.len() as f64 * 4.0 + 1.0)).sqrt().max(1.0);
    let (across, down) = ((wide / size) as usize + 1, (high / size) as usize + 1);
    let place = |p: Point| (((p.0 - bounds[0]) / size) as usize, ((p.1 - bounds[1]) / size) as usize);
    let mut squares: Vec<Vec<u32>> = vec![Vec::new(); across * down];
    for (at, piece) in pieces.iter().enumerate() {
        let (a, b) = (place(piece.from), place(piece.to));
        for x in a.0.min(b.0)..=a.0.max(b.0) {
            for y in a.1.min(b.1)..=a.1.max(b.1) {
                squares[x * down + y].push(at as u32);
            }
        }
    }
    let mut count = 0;
    for (square, held) in squares.iter().enumerate() {
        for (at, a) in held.iter().enumerate() {
            for b in &held[at + 1..] {
                let Some(point) = meet(&pieces[*a as usize], &pieces[*b as usize], ends) else { continue };
                let (x, y) = place(point);
                count += usize::from(x * down + y == square && !dots.contains(&key(point)));
            }
        }
    }
    count
}

fn overlaps(drawn: &Drawn, pieces: &[Piece]) -> usize {
    let mut boxes = drawn.boxes.clone();
    boxes.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut count = 0;
    for (at, a) in boxes.iter().enumerate() {
        let near = boxes[at + 1..].iter().take_while(|b| b[0] < a[2] - 0.05);
        count += near.filter(|b| a[1] < b[3] - 0.05 && b[1] < a[3] - 0.05).count();
    }
    if drawn.curved {
        return count;
    }
    let straight = drawn.lines.iter().flat_map(|l| l.windows(2)).map(|w| Piece { from: w[0], to: w[1], net: 0 });
    count + through(&boxes, &straight.collect::<Vec<_>>()) + along(pieces)
}

fn through(boxes: &[[f64; 4]], pieces: &[Piece]) -> usize {
    let inside = |b: &[f64; 4], p: &Piece| {
        let [x1, x2] = [p.from.0.min(p.to.0), p.from.0.max(p.to.0)];
        let [y1, y2] = [p.from.1.min(p.to.1), p.from.1.max(p.to.1)];
        x1 < b[2] - 0.6 && x2 > b[0] + 0.6 && y1 < b[3] - 0.6 && y2 > b[1] + 0.6
    };
    let whole = |b: &[f64; 4], p: &Piece| p.from.0 >= b[0] - 0.6 && p.to.0 <= b[2] + 0.6 && p.from.1 == p.to.1;
    boxes.iter().map(|b| pieces.iter().filter(|p| inside(b, p) && !whole(b, p)).count()).sum()
}

/// Pieces of different nets that lie on one another.
fn along(pieces: &[Piece]) -> usize {
    let mut count = 0;
    for level in [true, false] {
        let turned = |p: &&Piece| ((p.from.1 - p.to.1).abs() < 0.02) == level;
        let at = |p: &Piece| if level { p.from.1 } else { p.from.0 };
        let span = |p: &Piece| {
            let (a, b) = if level { (p.from.0, p.to.0) } else { (p.from.1, p.to.1) };
            (a.min(b), a.max(b))
        };
        let mut sorted: Vec<&Piece> = pieces.iter().filter(turned).collect();
        sorted.sort_by(|a, b| at(a).total_cmp(&at(b)));
        for (first, a) in sorted.iter().enumerate() {
            let near = sorted[first + 1..].iter().take_while(|b| at(b) - at(a) < 1.0);
            let shared = |b: &&&Piece| span(a).1.min(span(b).1) - span(a).0.max(span(b).0) > 1.0;
            count += near.filter(|b| b.net != a.net).filter(shared).count();
        }
    }
    count
}
