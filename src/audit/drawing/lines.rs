//! Lines as a net: what meets end to end, or at a dot, is joined; lines that cross without a dot are not.

use super::ink::{Frame, Ink, Spot};
use std::collections::{BTreeMap, BTreeSet};

/// Places nearer than this are one.
const SAME: f64 = 0.06;
/// How near a mark stands to the line that it is on.
const NEAR: f64 = 0.4;

/// A straight piece between two places of the net.
#[derive(Debug)]
pub(super) struct Piece {
    pub(super) ends: (usize, usize),
    /// Flags that stand on it, by place.
    pub(super) flags: Vec<usize>,
    /// Tags of media on it.
    pub(super) tags: Vec<String>,
    /// The device that joins its ends.
    pub(super) device: Option<usize>,
}

/// The lines of a drawing.
#[derive(Debug, Default)]
pub(super) struct Net {
    pub(super) spots: Vec<Spot>,
    pub(super) pieces: Vec<Piece>,
    /// Pieces at each place.
    pub(super) at: Vec<Vec<usize>>,
    /// Places where lines meet without a dot.
    pub(super) bare_meetings: Vec<Spot>,
    /// Dots that join nothing.
    pub(super) idle_dots: Vec<Spot>,
    /// Lines that run aslant.
    pub(super) aslant: Vec<Spot>,
}

/// Numbers that differ by less than ink can show, as one.
struct Axis(Vec<f64>);

impl Axis {
    fn of(mut all: Vec<f64>) -> Self {
        all.sort_by(f64::total_cmp);
        all.dedup_by(|a, b| *a - *b < SAME);
        Self(all)
    }

    fn place(&self, n: f64) -> usize {
        let after = self.0.partition_point(|v| *v < n);
        let before = after.saturating_sub(1);
        let off = |at: usize| self.0.get(at).map_or(f64::MAX, |v| (v - n).abs());
        if off(before) <= off(after) { before } else { after }
    }
}

/// Runs of ink on each line, by the place of the line on its axis: from, to.
type Runs = BTreeMap<usize, Vec<(usize, usize)>>;

impl Net {
    /// Joins the lines of a drawing.
    pub(super) fn read(ink: &Ink) -> Self {
        let points = || ink.strokes.iter().flatten().chain(&ink.dots);
        let axes = (Axis::of(points().map(|p| p.0).collect()), Axis::of(points().map(|p| p.1).collect()));
        let place = |p: &Spot| (axes.0.place(p.0), axes.1.place(p.1));
        let mut net = Self::default();
        let (mut level, mut upright) = (Runs::new(), Runs::new());
        for pair in ink.strokes.iter().flat_map(|stroke| stroke.windows(2)) {
            let (a, b) = (place(&pair[0]), place(&pair[1]));
            match (a.0 == b.0, a.1 == b.1) {
                (true, true) => {}
                (false, true) => level.entry(a.1).or_default().push((a.0.min(b.0), a.0.max(b.0))),
                (true, false) => upright.entry(a.0).or_default().push((a.1.min(b.1), a.1.max(b.1))),
                (false, false) => net.aslant.push(pair[0]),
            }
        }
        let runs = (merged(level), merged(upright));
        let dots: BTreeSet<(usize, usize)> = ink.dots.iter().map(place).collect();
        let mut known = BTreeMap::new();
        let spot = |at: (usize, usize)| (axes.0.0[at.0], axes.1.0[at.1]);
        for (y, from, to) in each(&runs.0) {
            let on = dots.iter().filter(|d| d.1 == y && d.0 >= from && d.0 <= to).map(|d| d.0);
            let stops: BTreeSet<usize> = on.chain([from, to]).collect();
            net.lay(&mut known, &stops.into_iter().map(|x| (x, y)).collect::<Vec<_>>(), &spot);
        }
        for (x, from, to) in each(&runs.1) {
            let on = dots.range((x, from)..=(x, to)).map(|d| d.1);
            let stops: BTreeSet<usize> = on.chain([from, to]).collect();
            net.lay(&mut known, &stops.into_iter().map(|y| (x, y)).collect::<Vec<_>>(), &spot);
        }
        net.note_meetings(&runs, &dots, &spot);
        let joins = |d: &(usize, usize)| known.get(d).is_some_and(|n: &usize| net.at[*n].len() > 2);
        net.idle_dots = dots.iter().filter(|d| !joins(d)).map(|d| spot(*d)).collect();
        net
    }

    fn lay(
        &mut self,
        known: &mut BTreeMap<(usize, usize), usize>,
        stops: &[(usize, usize)],
        spot: &dyn Fn((usize, usize)) -> Spot,
    ) {
        let nodes: Vec<usize> = stops
            .iter()
            .map(|at| {
                *known.entry(*at).or_insert_with(|| {
                    self.spots.push(spot(*at));
                    self.at.push(Vec::new());
                    self.spots.len() - 1
                })
            })
            .collect();
        nodes.windows(2).for_each(|pair| self.join((pair[0], pair[1]), None));
    }

    /// Joins two places, perhaps by a device.
    pub(super) fn join(&mut self, ends: (usize, usize), device: Option<usize>) {
        self.at[ends.0].push(self.pieces.len());
        self.at[ends.1].push(self.pieces.len());
        self.pieces.push(Piece { ends, flags: Vec::new(), tags: Vec::new(), device });
    }

    /// A line that ends on another, with no dot there.
    fn note_meetings(
        &mut self,
        (level, upright): &(Runs, Runs),
        dots: &BTreeSet<(usize, usize)>,
        spot: &dyn Fn((usize, usize)) -> Spot,
    ) {
        let inside = |runs: &Runs, line: usize, at: usize| {
            runs.get(&line).is_some_and(|all| all.iter().any(|(from, to)| at > *from && at < *to))
        };
        let level_ends = each(level).flat_map(|(y, from, to)| [(from, y), (to, y)]);
        let upright_ends = each(upright).flat_map(|(x, from, to)| [(x, from), (x, to)]);
        let bare = level_ends.filter(|(x, y)| inside(upright, *x, *y));
        let bare = bare.chain(upright_ends.filter(|(x, y)| inside(level, *y, *x)));
        self.bare_meetings = bare.filter(|at| !dots.contains(at)).map(spot).collect();
    }

    /// Places at which one line ends.
    pub(super) fn ends(&self) -> Vec<usize> {
        (0..self.spots.len()).filter(|n| self.at[*n].len() == 1).collect()
    }

    /// The piece on which a mark stands; of two that cross there, the one that runs along the mark.
    pub(super) fn under(&self, mark: &[Spot]) -> Option<usize> {
        let foot = *mark.first()?;
        let on = |piece: &Piece, at: Spot| {
            let (a, b) = (self.spots[piece.ends.0], self.spots[piece.ends.1]);
            piece.device.is_none() && Frame::around(&[a, b]).holds(at, NEAR)
        };
        let all = || self.pieces.iter().enumerate().filter(|(_, piece)| on(piece, foot));
        let along = all().find(|(_, piece)| mark.len() > 1 && mark.iter().all(|at| on(piece, *at)));
        along.or_else(|| all().next()).map(|(at, _)| at)
    }
}

fn each(runs: &Runs) -> impl Iterator<Item = (usize, usize, usize)> + '_ {
    runs.iter().flat_map(|(line, all)| all.iter().map(|(from, to)| (*line, *from, *to)))
}

/// Runs that touch are one.
fn merged(mut runs: Runs) -> Runs {
    for all in runs.values_mut() {
        all.sort_unstable();
        let mut whole: Vec<(usize, usize)> = Vec::new();
        for (from, to) in all.drain(..) {
            match whole.last_mut() {
                Some(last) if from <= last.1 => last.1 = last.1.max(to),
                _ => whole.push((from, to)),
            }
        }
        *all = whole;
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A line that parts from another, and one that crosses both.
    fn net(dots: &[Spot]) -> Net {
        let strokes = vec![
            vec![(0.0, 0.0), (50.0, 0.0)],
            vec![(0.0, 0.0), (20.0, 0.0), (20.0, 30.0), (50.0, 30.0)],
            vec![(40.0, -10.0), (40.0, 40.0)],
        ];
        Net::read(&Ink { strokes, dots: dots.to_vec(), ..Ink::default() })
    }

    /// Whether one can go along lines from one place to another.
    fn joined(net: &Net, from: Spot, to: Spot) -> bool {
        let place = |spot: Spot| net.spots.iter().position(|s| *s == spot).unwrap();
        let mut seen = BTreeSet::from([place(from)]);
        for _ in 0..net.pieces.len() {
            let ends = net.pieces.iter().map(|p| p.ends).filter(|(a, b)| seen.contains(a) || seen.contains(b));
            seen = ends.flat_map(|(a, b)| [a, b]).chain(seen.iter().copied()).collect();
        }
        seen.contains(&place(to))
    }

    #[test]
    fn lines_are_joined_at_a_dot_and_not_where_they_cross() {
        let net = net(&[(20.0, 0.0)]);
        assert!(net.bare_meetings.is_empty() && net.idle_dots.is_empty());
        assert!(joined(&net, (0.0, 0.0), (50.0, 0.0)) && joined(&net, (0.0, 0.0), (50.0, 30.0)));
        assert!(!joined(&net, (0.0, 0.0), (40.0, 40.0)));
    }

    #[test]
    fn a_dot_on_a_crossing_joins_it() {
        assert!(joined(&net(&[(20.0, 0.0), (40.0, 30.0)]), (0.0, 0.0), (40.0, 40.0)));
    }

    #[test]
    fn lines_that_part_without_a_dot_are_told_and_not_joined() {
        let net = net(&[]);
        assert_eq!(net.bare_meetings, [(20.0, 0.0)]);
        assert!(!joined(&net, (0.0, 0.0), (50.0, 30.0)));
    }

    #[test]
    fn a_dot_that_joins_nothing_is_told() {
        assert_eq!(net(&[(20.0, 0.0), (30.0, 0.0)]).idle_dots, [(30.0, 0.0)]);
    }
}
