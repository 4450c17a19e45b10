//! The graph that a drawing shows: each wedge with the part that it touches, and the way back to where its line begins.

use super::ink::{Ink, Spot};
use super::shapes::{Form, Part, Shapes};

/// One connection as it is drawn.
#[derive(Debug, Clone)]
pub(super) struct Drawn {
    /// Parts, by place.
    pub(super) from: usize,
    pub(super) to: usize,
    /// Devices that the line passes, by place.
    pub(super) devices: Vec<usize>,
    /// Flags that stand on it, by place.
    pub(super) flags: Vec<usize>,
    /// Tags of media on it.
    pub(super) tags: Vec<String>,
    /// The tip of its wedge.
    pub(super) tip: Spot,
}

/// What is drawn, and what cannot be read.
#[derive(Debug, Default)]
pub(super) struct Graph {
    pub(super) feeds: Vec<Drawn>,
    /// Wedges that point to the border of no part, or have no line.
    pub(super) bad_wedges: Vec<Spot>,
    /// Ends of lines at nothing.
    pub(super) loose_ends: Vec<Spot>,
    /// Tips of wedges whose line begins nowhere.
    pub(super) unfed: Vec<(usize, Spot)>,
}

/// How near a line must come to a border, pt; a line ends inside its wedge.
const NEAR: f64 = 0.4;
const WEDGE: f64 = 5.6;

/// What stands at an end of a line.
#[derive(Debug, Clone, Copy)]
enum End {
    Loose,
    Begins(usize),
    Fed(usize, Spot),
}

impl Graph {
    /// Follows every line.
    pub(super) fn read(ink: &Ink, shapes: &Shapes) -> Self {
        let mut graph = Self::default();
        let net = &shapes.net;
        let mut ends: Vec<Option<End>> = vec![None; net.spots.len()];
        for end in net.ends() {
            ends[end] = Some(End::Loose);
        }
        for wedge in &ink.wedges {
            let tip = tip(wedge);
            let part = tip.and_then(|tip| shapes.parts.iter().position(|p| enters(p, tip)));
            let line =
                tip.and_then(|tip| (0..net.spots.len()).find(|n| ends[*n].is_some() && inside(tip, net.spots[*n])));
            match (tip, part, line) {
                (Some(tip), Some(part), Some(line)) => ends[line] = Some(End::Fed(part, tip)),
                _ => graph.bad_wedges.push(tip.or(wedge.first().copied()).unwrap_or_default()),
            }
        }
        for (node, end) in ends.iter_mut().enumerate().filter(|(_, e)| matches!(e, Some(End::Loose))) {
            let part = shapes.parts.iter().position(|p| leaves(p, net.spots[node]));
            *end = Some(part.map_or(End::Loose, End::Begins));
        }
        let mut reached = vec![false; net.spots.len()];
        for (node, end) in ends.iter().enumerate() {
            if let Some(End::Begins(part)) = end {
                graph.follow(shapes, &ends, (node, *part), &mut reached);
            }
        }
        graph.note_rest(shapes, &ends, &reached);
        graph
    }

    /// From where a line begins to every wedge that it leads to.
    fn follow(&mut self, shapes: &Shapes, ends: &[Option<End>], (start, from): (usize, usize), reached: &mut [bool]) {
        let net = &shapes.net;
        let mut way: Vec<Option<(usize, usize)>> = vec![None; net.spots.len()];
        let mut open = vec![start];
        let mut seen = std::collections::BTreeSet::from([start]);
        while let Some(node) = open.pop() {
            reached[node] = true;
            if let Some(End::Fed(to, tip)) = ends[node] {
                self.feeds.push(trace(shapes, &way, (node, from, to, tip)));
            }
            for piece in &net.at[node] {
                let (a, b) = net.pieces[*piece].ends;
                let next = if a == node { b } else { a };
                if seen.insert(next) {
                    way[next] = Some((node, *piece));
                    open.push(next);
                }
            }
        }
    }

    fn note_rest(&mut self, shapes: &Shapes, ends: &[Option<End>], reached: &[bool]) {
        for (node, end) in ends.iter().enumerate() {
            match end {
                Some(End::Loose) if !is_sample(shapes, node) => self.loose_ends.push(shapes.net.spots[node]),
                Some(End::Fed(part, tip)) if !reached[node] => self.unfed.push((*part, *tip)),
                _ => {}
            }
        }
    }
}

/// Devices, flags and tags from where the line begins to its wedge.
fn trace(shapes: &Shapes, way: &[Option<(usize, usize)>], (node, from, to, tip): (usize, usize, usize, Spot)) -> Drawn {
    let mut drawn = Drawn { from, to, devices: Vec::new(), flags: Vec::new(), tags: Vec::new(), tip };
    let mut at = node;
    while let Some((before, piece)) = way[at] {
        let piece = &shapes.net.pieces[piece];
        drawn.devices.extend(piece.device);
        drawn.flags.extend(piece.flags.iter().rev());
        drawn.tags.extend(piece.tags.iter().cloned());
        at = before;
    }
    drawn.devices.reverse();
    drawn.flags.reverse();
    drawn
}

/// The sharp corner of a wedge; nothing where it does not point to the right.
fn tip(wedge: &[Spot]) -> Option<Spot> {
    let [a, b, c] = wedge else { return None };
    let sharp = [(a, b, c), (b, a, c), (c, a, b)];
    let found = sharp.into_iter().find(|(tip, p, q)| {
        (p.0 - q.0).abs() < NEAR
            && (p.1 - q.1).abs() > 1.0
            && tip.0 > p.0 + 1.0
            && (tip.1 - p.1.midpoint(q.1)).abs() < NEAR
    });
    found.map(|(tip, _, _)| *tip)
}

fn inside(tip: Spot, end: Spot) -> bool {
    (end.1 - tip.1).abs() < NEAR && end.0 > tip.0 - WEDGE && end.0 < tip.0 + NEAR
}

/// A feed comes in at the left border.
fn enters(part: &Part, at: Spot) -> bool {
    (part.frame.left - at.0).abs() < NEAR && part.frame.holds(at, NEAR)
}

/// A line begins at the right border; at a port, at its point.
fn leaves(part: &Part, at: Spot) -> bool {
    let middle = part.frame.centre().1;
    let fits = part.form != Form::Port || (middle - at.1).abs() < NEAR;
    fits && (part.frame.right - at.0).abs() < NEAR && part.frame.holds(at, NEAR)
}

/// A short line that leads nowhere and stands in the legend: both its ends are free, and no tag is on it.
fn is_sample(shapes: &Shapes, node: usize) -> bool {
    let net = &shapes.net;
    let [piece] = net.at[node][..] else { return false };
    let (piece, (a, b)) = (&net.pieces[piece], net.pieces[piece].ends);
    let alone = net.at[a].len() == 1 && net.at[b].len() == 1;
    let below = shapes.parts.iter().map(|p| p.frame.bottom).fold(f64::MIN, f64::max);
    alone && piece.tags.is_empty() && piece.device.is_none() && net.spots[a].1 > below
}
