//! Pass 2. Before: one set of parts. After: bands of parts, each within the page's width and height where that can be had.
//!
//! A cut costs a port for each source whose feeds it parts, so the cheapest cut is taken.

use super::build::Stock;
use super::folder::{FEWEST_CIRCUITS, Folder};
use super::parts::Parts;
use super::rings;
use crate::base::text::join_list;
use crate::diagram::plan::Form;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// Parts with no link stand in rows of at most so many.
const ALONE_IN_A_ROW: usize = 5;
/// About how wide and high the sets of parts become that were asked for, pt.
pub(super) type Extents = RefCell<BTreeMap<Parts, (f64, f64)>>;

/// What the cutting of a plan knows, at whatever width.
pub(super) struct Cutter<'a> {
    stock: &'a Stock<'a>,
    pairs: Vec<(usize, usize)>,
    extents: Extents,
}

impl<'a> Cutter<'a> {
    /// What is known of a plan from the start.
    pub fn new(stock: &'a Stock<'a>) -> Self {
        let pairs = stock.ahead().flat_map(|link| rings::pairs(stock.plan, link)).collect();
        Self { stock, pairs, extents: Extents::default() }
    }

    /// The bands from top to bottom, each at most about `room` wide. Parts that are drawn elsewhere and give to this drawing are in
    /// none.
    pub fn fold(&self, room: f64) -> Vec<Parts> {
        let plan = self.stock.plan;
        let linked: Parts = plan.links.iter().flat_map(|l| rings::pairs(plan, l)).flat_map(|(a, b)| [a, b]).collect();
        let drawn = |p: &usize| plan.parts[*p].form != Form::Outside;
        let folder = Folder { stock: self.stock, room, extents: &self.extents, pairs: &self.pairs };
        let mut bands = Vec::new();
        let mut rest: Parts = linked.iter().filter(drawn).collect();
        let circuits = if folder.fits(&rest) { Vec::new() } else { folder.circuits(&mut rest) };
        folder.split(rest, &mut bands);
        folder.gather(&mut bands);
        for (bus, hung) in circuits {
            bands.extend(folder.hang(bus, &hung));
        }
        let alone: Vec<usize> = (0..plan.parts.len()).filter(|p| drawn(p) && !linked.contains(*p)).collect();
        let rows = alone.len().div_ceil(ALONE_IN_A_ROW).max(1);
        bands.extend(alone.chunks(alone.len().div_ceil(rows).max(1)).map(|row| row.iter().copied().collect()));
        bands
    }

    /// The parts of a band by what stands last in it; what several of those hang on goes with the first.
    pub fn by_last(&self, band: &Parts) -> Vec<Parts> {
        let within = |(from, to): &&(usize, usize)| band.contains(*from) && band.contains(*to);
        let pairs: Vec<(usize, usize)> = self.pairs.iter().filter(within).copied().collect();
        let mut rest = band.clone();
        let mut groups = Vec::new();
        for last in band.iter().filter(|p| pairs.iter().all(|(from, _)| from != p)) {
            let (mut group, mut open) = (Parts::default(), vec![last]);
            while let Some(part) = open.pop() {
                if rest.remove(part) {
                    group.insert(part);
                    open.extend(pairs.iter().filter(|(_, to)| *to == part).map(|(from, _)| *from));
                }
            }
            groups.push(group);
        }
        groups
    }
}

/// What a band is about: its buses, else what stands last in it; of more than three, the first two.
pub(super) fn title(stock: &Stock<'_>, band: &Parts) -> String {
    let plan = stock.plan;
    let feeds_here = |p: &usize| plan.links.iter().any(|l| l.from == *p && band.contains(l.to));
    let links = || plan.links.iter().enumerate().filter(|(_, l)| band.contains(l.to));
    let sources: Parts =
        links().filter(|(at, l)| stock.back[*at] || !band.contains(l.from)).map(|(_, l)| l.from).collect();
    let name = |p: usize| plan.parts[p].name.text.clone();
    let bus = sources.iter().find(|s| plan.parts[*s].form == Form::Bar);
    let hung = |bus: &usize| links().all(|(_, l)| l.from == *bus) && band.len() >= FEWEST_CIRCUITS;
    if let Some(bus) = bus.filter(hung) {
        return capital(&format!("{}, continued", name(bus)));
    }
    let buses: Vec<String> = band.iter().filter(|p| plan.parts[*p].form == Form::Bar).map(name).collect();
    let last: Vec<String> = band.iter().filter(|p| !feeds_here(p)).map(name).collect();
    let names = if buses.is_empty() { last } else { buses };
    if links().next().is_none() {
        return "On no line".to_owned();
    }
    let shown = match names.as_slice() {
        [a, b, _, _, ..] => format!("{a}, {b} and {} more", names.len() - 2),
        _ => join_list(&names, "and"),
    };
    capital(&shown)
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}
