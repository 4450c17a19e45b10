//! Layered layout in passes: cut rings, fold into bands, build layers, order, place, route, mark.
//!
//! 1. `rings`: links that would run backwards are told; they begin at a port instead.
//! 2. `bands`: parts are parted into bands that each fit the page's width; a band is laid out alone, one below the other.
//! 3. `layers`: parts, chains of devices and ports become vertices; `rank` gives them columns and cuts edges that pass columns,
//!    so that every edge joins neighbouring columns.
//! 4. `order`: vertices of a column are ordered so that few edges cross; `sift` tries every place, `crossings` counts.
//! 5. `place`: vertices get their places, so that most edges run straight.
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

use super::WIDEST;
use super::plan::Plan;
use super::scene::Scene;
use layers::{Layers, Ports};
use std::collections::BTreeSet;

/// How often a drawing is folded anew, at most.
const FOLDINGS: u8 = 5;

/// A port more must save so many crossings.
const PORT_WORTH: usize = 1;

/// One band that is laid out, and what it shows.
pub(super) struct Band {
    /// The plan, in which a device that no line passes here is a plain box.
    plan: Plan,
    /// Its title; nothing where there is one band only.
    title: String,
    /// Vertices and edges in their places.
    layers: Layers,
}

/// Lays out a plan. How wide a band becomes is known only when it is laid out: if one is too wide, all is folded anew.
pub(super) fn lay_out(plan: &Plan) -> Scene {
    let back = rings::find(plan);
    let mut layouts = Vec::new();
    for narrower in 0..FOLDINGS {
        let room = WIDEST - 8.0 - 24.0 * f64::from(narrower);
        let bands = bands::fold(plan, &back, room);
        layouts = bands.iter().map(|band| lay_out_band(plan, &back, band)).collect::<Vec<Band>>();
        if bands.len() > 1 {
            let titles = bands.iter().map(|band| bands::title(plan, &back, band));
            layouts.iter_mut().zip(titles).for_each(|(layout, title)| layout.title = title);
        }
        if layouts.iter().all(|l| l.layers.width <= WIDEST - 8.0) {
            break;
        }
    }
    marks::write(&plan.media, &layouts)
}

/// One band, from its parts to routed edges: each port once, or, where that saves crossings enough, once for each part that it
/// feeds.
fn lay_out_band(plan: &Plan, back: &BTreeSet<usize>, members: &BTreeSet<usize>) -> Band {
    let plan = bands::without_idle_devices(plan, back, members);
    let mut layers = layers::build(&plan, back, members, Ports::Shared);
    let crossings = order::improve(&mut layers, &plan);
    if crossings > 0 {
        let mut split = layers::build(&plan, back, members, Ports::Split);
        let more = split.vertices.len() - layers.vertices.len().min(split.vertices.len());
        let (wide, high) = split.extent();
        let fits = wide <= WIDEST - 8.0 && high <= bands::HIGHEST;
        if more > 0 && fits && order::improve(&mut split, &plan) + PORT_WORTH * more <= crossings {
            layers = split;
        }
    }
    place::place(&mut layers);
    route::route(&mut layers);
    Band { plan, title: String::new(), layers }
}
