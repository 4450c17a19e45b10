//! Layered layout in passes: cut rings, fold into bands, build layers, order, place, route, mark.
//!
//! 1. `rings`: links that would run backwards are told; they begin at a port instead.
//! 2. `bands`: parts are parted into bands that each fit the page's width; a band is laid out alone, one below the other.
//! 3. `layers`: parts, chains of devices and ports become vertices; `rank` gives them columns and cuts edges that pass columns,
//!    so that every edge joins neighbouring columns.
//! 4. `order`: vertices of a column are ordered so that few edges cross; `sift` tries every place, `crossings` counts.
//! 5. `place`: vertices get their places, so that most edges run straight; `slots` changes places of feeds at a box where that
//!    saves crossings.
//! 6. `route`: edges get their corners; each bundle of edges has a track between two columns; `level` parts lines that would run
//!    along one another.
//! 7. `marks`: the scene.

mod bands;
mod crossings;
pub mod graph;
mod layers;
mod level;
mod marks;
mod order;
mod place;
mod rank;
mod rings;
mod route;
mod sift;
mod slots;

use super::WIDEST;
use super::plan::Plan;
use super::scene::Scene;
use layers::{Layers, Ports};
use std::collections::{BTreeMap, BTreeSet};

/// How often a drawing is folded anew, at most.
const FOLDINGS: u8 = 5;

/// A band with so many crossings is parted by what stands last in it, if that helps.
const TANGLED: usize = 3;

/// What a crossing costs, in things that are drawn.
const CROSSING: usize = 2;

/// What a band more costs, in things that are drawn.
const BAND_WORTH: usize = 1;

/// Bands that were laid out before: folding anew leaves many as they are.
#[derive(Default)]
struct Known(BTreeMap<BTreeSet<usize>, Vec<Band>>);

impl Known {
    fn lay_out(&mut self, plan: &Plan, back: &BTreeSet<usize>, members: BTreeSet<usize>) -> Vec<Band> {
        self.0.entry(members).or_insert_with_key(|members| lay_out_untangled(plan, back, members)).clone()
    }
}

/// One band that is laid out, and what it shows.
#[derive(Clone)]
pub(super) struct Band {
    /// The plan, in which a device that no line passes here is a plain box.
    plan: Plan,
    /// Its title; nothing where there is one band only.
    title: String,
    /// Vertices and edges in their places.
    layers: Layers,
    /// What it shows, by part.
    members: BTreeSet<usize>,
    /// Crossings, and things that are drawn.
    cost: usize,
    /// Crossings as they are drawn.
    crossings: usize,
}

/// Lays out a plan. How wide a band becomes is known only when it is laid out: if one is too wide, all is folded anew.
pub(super) fn lay_out(plan: &Plan) -> Scene {
    let back = rings::find(plan);
    let mut layouts = Vec::new();
    let mut known = Known::default();
    let extents = bands::Extents::default();
    for narrower in 0..FOLDINGS {
        let room = WIDEST - 8.0 - 24.0 * f64::from(narrower);
        let bands = bands::fold(plan, &back, room, &extents);
        layouts = bands.into_iter().flat_map(|band| known.lay_out(plan, &back, band)).collect::<Vec<Band>>();
        if layouts.len() > 1 {
            layouts.iter_mut().for_each(|l| l.title = bands::title(plan, &back, &l.members));
        }
        if layouts.iter().all(|l| l.layers.width <= WIDEST - 8.0) {
            break;
        }
    }
    marks::write(&plan.media, &layouts)
}

/// One band, or where its lines cross often, several: one for each thing that stands last, or for as many of them as go together.
fn lay_out_untangled(plan: &Plan, back: &BTreeSet<usize>, members: &BTreeSet<usize>) -> Vec<Band> {
    let whole = lay_out_band(plan, back, members);
    if whole.crossings < TANGLED {
        return vec![whole];
    }
    let mut parted: Vec<Band> = Vec::new();
    for group in bands::by_last(plan, back, members) {
        let alone = lay_out_band(plan, back, &group);
        let Some(before) = parted.last_mut() else {
            parted.push(alone);
            continue;
        };
        let both = lay_out_band(plan, back, &before.members.union(&group).copied().collect());
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
    layers.width <= WIDEST - 8.0 && layers.height <= bands::HIGHEST
}

/// One band, from its parts to routed edges: each port once, or, where that saves crossings enough, once for each part or each
/// feed.
fn lay_out_band(plan: &Plan, back: &BTreeSet<usize>, members: &BTreeSet<usize>) -> Band {
    let plan = bands::without_idle_devices(plan, back, members);
    let mut best = finish(&plan, layers::build(&plan, back, members, Ports::Shared));
    for ports in [Ports::Split, Ports::Each] {
        let layers = layers::build(&plan, back, members, ports);
        if best.crossings == 0 || layers.vertices.len() == best.layers.vertices.len() {
            continue;
        }
        let other = finish(&plan, layers);
        if other.cost < best.cost && fits(&other.layers) {
            best = other;
        }
    }
    Band {
        plan,
        title: String::new(),
        layers: best.layers,
        members: members.clone(),
        cost: best.cost,
        crossings: best.crossings,
    }
}

/// Layers in their places.
struct Laid {
    layers: Layers,
    cost: usize,
    crossings: usize,
}

fn finish(plan: &Plan, mut layers: Layers) -> Laid {
    order::improve(&mut layers, plan);
    place::place(&mut layers);
    if slots::untangle(&mut layers, plan) {
        place::place(&mut layers);
        slots::untangle(&mut layers, plan);
    }
    route::route(&mut layers);
    let crossings = route::crossings(&layers);
    let drawn = layers.vertices.iter().filter(|v| v.stands != layers::Stands::Passing).count();
    Laid { layers, cost: CROSSING * crossings + drawn, crossings }
}
