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
use layers::Layers;
use std::collections::BTreeSet;

/// How often a drawing is folded anew, at most.
const FOLDINGS: u8 = 5;

/// Lays out a plan. How wide a band becomes is known only when it is laid out: if one is too wide, all is folded anew.
pub(super) fn lay_out(plan: &Plan) -> Scene {
    let back = rings::find(plan);
    let mut layouts = Vec::new();
    for narrower in 0..FOLDINGS {
        let room = WIDEST - 8.0 - 24.0 * f64::from(narrower);
        let bands = bands::fold(plan, &back, room);
        layouts = bands.iter().map(|band| lay_out_band(plan, &back, band)).collect::<Vec<Layers>>();
        if layouts.iter().all(|l| l.width <= WIDEST - 8.0) {
            break;
        }
    }
    marks::write(plan, &layouts)
}

/// One band, from its parts to routed edges.
fn lay_out_band(plan: &Plan, back: &BTreeSet<usize>, members: &BTreeSet<usize>) -> Layers {
    let mut layers = layers::build(plan, back, members);
    order::improve(&mut layers, plan);
    place::place(&mut layers);
    route::route(&mut layers);
    layers
}
