//! Part of pass 2: cuts, circuits of buses, and bands that change parts with one another.

use super::bands::Extents;
use super::build::{self, Stock};
use super::parts::Parts;
use crate::diagram::plan::{Form, Link, Step};
use std::cmp::Reverse;

/// The highest band: it must stand on one page with its caption, pt.
pub(super) const HIGHEST: f64 = 600.0;
/// What it costs when a bus is parted from what it feeds, and when what is left must be cut again; in ports.
const PARTED_BUS: usize = 4;
const CUT_AGAIN: usize = 3;
/// What it costs when a part is left alone in its band, in ports.
const LONE: usize = 6;

/// A bus with so many parts that hang on it alone has bands of its own for them.
pub(super) const FEWEST_CIRCUITS: usize = 4;
/// How high such a band becomes, pt.
const HIGHEST_CIRCUITS: f64 = 420.0;

/// Circuits run straight, so that they need so much less room across than lines that bend, pt.
const STRAIGHT_SAVES: f64 = 20.0;

/// Rounds of moving and merging, at most.
const ROUNDS: usize = 12;

/// Parts bands at one width.
pub(super) struct Folder<'a> {
    /// What is cut.
    pub stock: &'a Stock<'a>,
    /// About how wide a band may be, pt.
    pub room: f64,
    /// What was measured.
    pub extents: &'a Extents,
    /// Parts that lines join, from and to.
    pub pairs: &'a [(usize, usize)],
}

impl Folder<'_> {
    /// Of each bus with many, the parts that hang on it alone; they and the bus are taken out of the rest. What
    /// feeds another comes first.
    pub fn circuits(&self, rest: &mut Parts) -> Vec<(usize, Vec<usize>)> {
        let buses = (0..self.stock.plan.parts.len()).filter(|p| self.stock.plan.parts[*p].form == Form::Bar);
        let mut circuits = Vec::new();
        for bus in buses {
            let hung: Vec<usize> = rest.iter().filter(|p| self.hangs_on(*p, bus)).collect();
            if hung.len() >= FEWEST_CIRCUITS {
                *rest = rest.iter().filter(|p| *p != bus && !hung.contains(p)).collect();
                circuits.push((bus, self.by_first_step(hung)));
            }
        }
        let ranks = self.ranks(&(0..self.stock.plan.parts.len()).collect());
        circuits.sort_by_key(|(bus, _)| ranks[*bus]);
        circuits
    }

    /// Hangs circuits on their bus: as many as there is room for beside what feeds it, the others on the bus continued.
    pub fn hang(&self, bus: usize, hung: &[usize]) -> Vec<Parts> {
        let mut first = Parts::from_iter([bus]);
        let mut rest = Vec::new();
        for group in hung.chunk_by(|a, b| self.first_step(*a) == self.first_step(*b)) {
            let with: Parts = first.iter().chain(group.iter().copied()).collect();
            if self.fits_in(&with, self.room + STRAIGHT_SAVES) {
                first = with;
            } else {
                rest.extend_from_slice(group);
            }
        }
        let mut bands = vec![first];
        bands.extend(self.by_height(&rest));
        bands
    }

    /// Parts move to the band where they save most ports, and bands that fit together become one, as long as that helps.
    pub fn gather(&self, bands: &mut Vec<Parts>) {
        for _ in 0..ROUNDS {
            let moved = self.move_parts(bands);
            let merged = self.merge(bands);
            if !moved && !merged {
                break;
            }
        }
    }

    /// Ports and buses drawn again that a band has: one for each source outside whose feeds come in.
    fn ports(&self, band: &Parts) -> usize {
        let comes = |at: usize, link: &Link| {
            band.contains(link.to)
                && (!band.contains(link.from) || self.stock.back[at])
                && self.stock.plan.parts[link.from].form != Form::Outside
        };
        let links = self.stock.plan.links.iter().enumerate();
        links.filter(|(at, l)| comes(*at, l)).map(|(_, l)| l.from).collect::<Parts>().len()
    }

    fn move_parts(&self, bands: &mut Vec<Parts>) -> bool {
        let mut moved = false;
        for part in bands.iter().flat_map(Parts::iter).collect::<Vec<_>>() {
            let Some(at) = bands.iter().position(|b| b.contains(part)) else { continue };
            let without: Parts = bands[at].iter().filter(|p| *p != part).collect();
            let here = self.ports(&bands[at]) + usize::from(without.is_empty());
            let left = self.ports(&without);
            let mut best: Option<(usize, usize)> = None;
            for (to, band) in bands.iter().enumerate().filter(|(to, b)| *to != at && self.joined(part, b)) {
                let with: Parts = band.iter().chain([part]).collect();
                let saved = (here + self.ports(band)).saturating_sub(left + self.ports(&with));
                if saved > best.map_or(0, |b| b.0) && self.fits(&with) {
                    best = Some((saved, to));
                }
            }
            if let Some((_, to)) = best {
                bands[at].remove(part);
                bands[to].insert(part);
                moved = true;
            }
        }
        bands.retain(|b| !b.is_empty());
        moved
    }

    fn joined(&self, part: usize, band: &Parts) -> bool {
        self.pairs.iter().any(|(a, b)| (*a == part && band.contains(*b)) || (*b == part && band.contains(*a)))
    }

    /// Makes one band of the first two that are joined and fit together; the most ports are saved first.
    fn merge(&self, bands: &mut Vec<Parts>) -> bool {
        let mut tried = Vec::new();
        for (at, a) in bands.iter().enumerate() {
            for (after, b) in bands.iter().enumerate().skip(at + 1) {
                let both: Parts = a.union(b);
                let saved = self.ports(a) + self.ports(b) - self.ports(&both).min(self.ports(a) + self.ports(b));
                if saved > 0 {
                    tried.push((Reverse(saved), at, after, both));
                }
            }
        }
        tried.sort();
        let Some((_, at, after, both)) = tried.into_iter().find(|t| self.fits(&t.3)) else { return false };
        bands[at] = both;
        bands.remove(after);
        true
    }

    /// True if every link of a part comes from that bus, straight or through what stands on its lines only.
    fn hangs_on(&self, part: usize, bus: usize) -> bool {
        let mut touching = self.pairs.iter().filter(|(from, to)| *from == part || *to == part).peekable();
        touching.peek().is_some() && touching.all(|pair| *pair == (bus, part))
    }

    /// Parts whose links pass the same first device stand together.
    fn by_first_step(&self, mut parts: Vec<usize>) -> Vec<usize> {
        parts.sort_by_cached_key(|p| (self.first_step(*p), *p));
        parts
    }

    /// The name of the first device on the way to a part.
    fn first_step(&self, part: usize) -> Option<&str> {
        let plan = self.stock.plan;
        let steps = plan.links.iter().filter(|l| l.to == part).filter_map(|l| plan.steps_of(l).next());
        steps.map(|s| if let Step::Device { name, .. } = s { name.text.as_str() } else { "" }).min()
    }

    /// The same in bands that are about equally high, so that two can stand side by side.
    fn by_height(&self, parts: &[usize]) -> Vec<Parts> {
        let all: Parts = parts.iter().copied().collect();
        if parts.is_empty() {
            return Vec::new();
        }
        let high = self.extent(&all).1;
        let enough = |count: &usize| high / *count as f64 <= HIGHEST_CIRCUITS;
        let count = (1..=parts.len()).find(enough).unwrap_or(1);
        let each = parts.len().div_ceil(count);
        parts.chunks(each.max(1)).map(|chunk| chunk.iter().copied().collect()).collect()
    }

    /// Cuts parts into bands that fit.
    pub fn split(&self, parts: Parts, into: &mut Vec<Parts>) {
        if parts.is_empty() {
            return;
        }
        if self.fits(&parts) {
            into.push(parts);
            return;
        }
        let Some(first) = self.best_cut(&parts) else {
            into.push(parts);
            return;
        };
        let rest = parts.without(&first);
        into.push(first);
        self.split(rest, into);
    }

    fn extent(&self, parts: &Parts) -> (f64, f64) {
        if let Some(known) = self.extents.borrow().get(parts) {
            return *known;
        }
        let extent = build::extent(self.stock, parts);
        self.extents.borrow_mut().insert(parts.clone(), extent);
        extent
    }

    /// True if these parts fit into one band.
    pub fn fits(&self, parts: &Parts) -> bool {
        self.fits_in(parts, self.room)
    }

    fn fits_in(&self, parts: &Parts, room: f64) -> bool {
        let (wide, high) = self.extent(parts);
        wide <= room && high <= HIGHEST
    }

    /// The cheapest first band that fits; of equals the largest. If none fits, the smallest that is not all.
    fn best_cut(&self, parts: &Parts) -> Option<Parts> {
        let mut cuts: Vec<Parts> = self.cuts(parts);
        cuts.retain(|c| !c.is_empty() && c.len() < parts.len());
        cuts.sort();
        cuts.dedup();
        self.cheapest(&cuts, parts).or_else(|| cuts.iter().min_by_key(|c| c.len())).cloned()
    }

    /// Whether a band fits is dear to ask, so the cuts are tried from the cheapest on, until no other can cost less.
    fn cheapest<'c>(&self, cuts: &'c [Parts], parts: &Parts) -> Option<&'c Parts> {
        let mut tried: Vec<_> = cuts.iter().map(|c| (self.cost(c, parts), Reverse(c.len()), c)).collect();
        tried.sort();
        let mut best = None;
        for (cost, size, cut) in tried {
            if best.is_some_and(|found| found <= (cost, size, cut)) {
                break;
            }
            if self.fits(cut) {
                let rest = parts.without(cut);
                let again = if self.fits(&rest) { 0 } else { CUT_AGAIN };
                let here = (cost + again, size, cut);
                best = Some(best.map_or(here, |found| here.min(found)));
            }
        }
        best.map(|(_, _, cut)| cut)
    }

    /// First bands that no feed enters from the rest: all up to a rank; a part and all before it; all but what comes after a
    /// part, and all but that part and what comes after it.
    fn cuts(&self, parts: &Parts) -> Vec<Parts> {
        let ranks = self.ranks(parts);
        let mut cuts = Vec::new();
        for part in parts.iter() {
            cuts.push(parts.iter().filter(|p| ranks[*p] <= ranks[part]).collect());
            cuts.push(self.closed(part, parts, |(from, to)| (to, from)));
            let mut after = self.closed(part, parts, |pair| pair);
            cuts.push(parts.without(&after));
            after.remove(part);
            cuts.push(parts.without(&after));
        }
        cuts
    }

    /// A part with all that can be reached from it, inside the set.
    fn closed(&self, part: usize, parts: &Parts, along: impl Fn((usize, usize)) -> (usize, usize)) -> Parts {
        let mut seen = Parts::from_iter([part]);
        let mut open = vec![part];
        while let Some(at) = open.pop() {
            let next = self.pairs.iter().map(|p| along(*p)).filter(|(from, to)| *from == at && parts.contains(*to));
            open.extend(next.map(|(_, to)| to).filter(|to| seen.insert(*to)));
        }
        seen
    }

    /// What a cut costs, but for cutting again what is left.
    fn cost(&self, first: &Parts, parts: &Parts) -> usize {
        let rest = parts.without(first);
        let crossing = self.stock.plan.links.iter().filter(|l| first.contains(l.from) && rest.contains(l.to));
        let sources: Parts = crossing.map(|l| l.from).collect();
        let buses = sources.iter().filter(|s| self.stock.plan.parts[*s].form == Form::Bar).count();
        let lone = usize::from(first.len() == 1) + usize::from(rest.len() == 1);
        sources.len() + PARTED_BUS * buses + LONE * lone
    }

    /// Longest way from a source, in links, of each part of the set; 0 of the others.
    fn ranks(&self, parts: &Parts) -> Vec<usize> {
        let mut ranks = vec![0; self.stock.plan.parts.len()];
        let within = |(from, to): &&(usize, usize)| parts.contains(*from) && parts.contains(*to);
        let pairs: Vec<(usize, usize)> = self.pairs.iter().filter(within).copied().collect();
        for _ in 0..parts.len() {
            let before = ranks.clone();
            for (from, to) in &pairs {
                ranks[*to] = ranks[*to].max(before[*from] + 1);
            }
            if ranks == before {
                break;
            }
        }
        ranks
    }
}
