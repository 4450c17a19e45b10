//! Layered layout in passes: cut rings, fold into bands, build layers, order, place, route, mark.
//!
//! 1. `rings`: links that would run backwards are told; they begin at a port instead.
//! 2. `bands`: parts are parted into bands that each fit the page's width; a band is laid out alone, one below the other.
//! 3. `build`: parts, chains of devices and ports become vertices; `rank` gives them columns and cuts edges that pass columns,
//!    so that every edge joins neighbouring columns.
//! 4. `order`: vertices of a column are ordered so that few edges cross; `sift` tries every place, `crossings` counts.
//! 5. `place`: vertices get their places, so that most edges run straight; `slots` changes places of feeds at a box where that
//!    saves crossings.
//! 6. `route`: edges get their corners; each bundle of edges has a track between two columns; `level` parts lines that would run
//!    along one another.
//! 7. `marks`: the scene; `pen` draws one band.
//!
//! `layers` is what passes 3 to 7 work on; `sizes` measures.

mod bands;
mod build;
mod calm;
mod crossings;
mod folder;
pub mod graph;
mod layers;
mod leave;
mod level;
mod marks;
mod order;
mod parts;
mod pen;
mod place;
mod rank;
mod rings;
mod route;
mod sift;
mod sizes;
mod slots;

use super::WIDEST;
use super::plan::Plan;
use super::scene::Scene;
use bands::Cutter;
use build::{Ports, Stock, Wanted};
use layers::{Layers, Stands};
use parts::Parts;
use std::collections::BTreeMap;

/// How often a drawing is folded anew, at most.
const FOLDINGS: u8 = 5;

/// A band with so many crossings is parted by what stands last in it, if that helps.
const TANGLED: usize = 3;

/// What a crossing costs, in things that are drawn.
const CROSSING: usize = 2;

/// What a band more costs, in things that are drawn.
const BAND_WORTH: usize = 1;

/// One band that is laid out, and what it shows.
#[derive(Clone)]
pub(super) struct Band {
    /// Its title; nothing where there is one band only.
    title: String,
    /// Vertices and edges in their places.
    layers: Layers,
    /// What it shows.
    members: Parts,
    /// Devices that no line passes here.
    idle: Parts,
    /// Crossings, and things that are drawn.
    cost: usize,
    /// Crossings as they are drawn.
    crossings: usize,
}

/// Lays out a plan. How wide a band becomes is known only when it is laid out: if one is too wide, all is folded anew.
pub(super) fn lay_out(plan: &Plan) -> Scene {
    let back = rings::find(plan);
    let stock = Stock::new(plan, &back);
    let cutter = Cutter::new(&stock);
    // Bands that were laid out before: folding anew leaves many as they are.
    let mut known: BTreeMap<Parts, Vec<Band>> = BTreeMap::new();
    let mut layouts = Vec::new();
    for narrower in 0..FOLDINGS {
        let bands = cutter.fold(WIDEST - 8.0 - 24.0 * f64::from(narrower));
        let laid =
            |band| known.entry(band).or_insert_with_key(|members| lay_out_untangled(&stock, &cutter, members)).clone();
        layouts = bands.into_iter().flat_map(laid).collect::<Vec<Band>>();
        if layouts.iter().all(|l| l.layers.width <= WIDEST - 8.0) {
            break;
        }
    }
    if plan.titled && layouts.len() > 1 {
        let mut said = String::new();
        for band in &mut layouts {
            let title = bands::title(&stock, &band.members);
            band.title = if title == said { String::new() } else { title.clone() };
            said = title;
        }
    }
    marks::write(&stock, &layouts)
}

/// One band, or where its lines cross often, several: one for each thing that stands last, or for as many of them as go together.
fn lay_out_untangled(stock: &Stock<'_>, cutter: &Cutter<'_>, members: &Parts) -> Vec<Band> {
    let whole = lay_out_band(stock, members);
    if whole.crossings < TANGLED {
        return vec![whole];
    }
    let mut parted: Vec<Band> = Vec::new();
    for group in cutter.by_last(members) {
        let alone = lay_out_band(stock, &group);
        let Some(before) = parted.last_mut() else {
            parted.push(alone);
            continue;
        };
        let both = lay_out_band(stock, &before.members.union(&group));
        if both.cost <= before.cost + alone.cost + BAND_WORTH && fits(&both.layers) {
            *before = both;
        } else {
            parted.push(alone);
        }
    }
    let cost: usize = parted.iter().map(|b| b.cost + BAND_WORTH).sum();
    if cost < whole.cost + BAND_WORTH { parted } else { vec![whole] }
}

fn fits(layers: &Layers) -> bool {
    layers.width <= WIDEST - 8.0 && layers.height <= folder::HIGHEST
}

/// One band, from its parts to routed edges: each port once, or, where that saves crossings enough, once for each part or each
/// feed.
fn lay_out_band(stock: &Stock<'_>, members: &Parts) -> Band {
    let idle = stock.idle(members);
    let build = |ports| build::build(stock, Wanted { members, idle: &idle, ports });
    let mut best = finish(stock, &idle, build(Ports::Shared));
    for ports in [Ports::Split, Ports::Each] {
        if best.crossings == 0 {
            break;
        }
        let layers = build(ports);
        if layers.vertices.len() == best.layers.vertices.len() || drawn(&layers) >= best.cost {
            continue;
        }
        let other = finish(stock, &idle, layers);
        if other.cost < best.cost && fits(&other.layers) {
            best = other;
        }
    }
    let Laid { layers, cost, crossings } = best;
    Band { title: String::new(), layers, members: members.clone(), idle, cost, crossings }
}

/// Layers in their places.
struct Laid {
    layers: Layers,
    cost: usize,
    crossings: usize,
}

fn finish(stock: &Stock<'_>, idle: &Parts, mut layers: Layers) -> Laid {
    order::improve(&mut layers, stock, idle);
    place::place(&mut layers);
    if slots::untangle(&mut layers, stock, idle) {
        place::place(&mut layers);
        slots::untangle(&mut layers, stock, idle);
    }
    route::route(&mut layers);
    let crossings = route::crossings(&layers);
    let cost = CROSSING * crossings + drawn(&layers);
    Laid { layers, cost, crossings }
}

/// Things that are drawn.
fn drawn(layers: &Layers) -> usize {
    layers.vertices.iter().filter(|v| v.stands != Stands::Passing).count()
}
