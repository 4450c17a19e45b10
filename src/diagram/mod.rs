//! Drawings as a [`Scene`], and SVG from it.
//!
//! A scene is made from the model alone; what it says, it says by visible marks (`scene`), so that a reader, or the audit, can
//! get the graph back. Every text alternative lists the connections in words.
mod after;
mod chain;
pub mod colour;
pub mod geometry;
mod item;
mod layout;
pub mod lettering;
pub mod outline;
mod overview;
mod panel;
mod plan;
mod plot;
pub mod scene;
mod states;
pub mod svg;
pub mod symbol;
mod system;
mod tags;

pub use layout::graph;
pub use scene::{Mark, Scene, SceneMedium};

use crate::doc::{Figure, FigureKind, PanelShown, Subject, plain_text};
use crate::model::{Model, NodeIx};
use std::sync::atomic::{AtomicUsize, Ordering};

/// Threads besides the one that asks, at most; one more is worth its while for so many figures.
const MOST_HELPERS: usize = 7;
const WORTH_A_THREAD: usize = 16;

/// The widest drawing: 180 mm, in points.
pub const WIDEST: f64 = 510.0;

/// Draws a figure of the document.
pub fn draw(figure: &Figure, model: &Model) -> Scene {
    let mut scene = match (&figure.kind, &figure.subject) {
        (FigureKind::System, Subject::One(system)) => system::draw(model, system),
        (FigureKind::After, _) => figure.panels.first().map_or_else(Scene::default, |p| after::draw(model, p)),
        (FigureKind::States, _) => states::draw(model, &figure.panels),
        (FigureKind::Chain, Subject::One(item)) => chain::draw(model, item),
        (FigureKind::Plot, _) => figure.plot.as_ref().map_or_else(Scene::default, plot::draw),
        (FigureKind::Panel, _) => panel::draw(model, figure.panels.first().unwrap_or(&PanelShown::default())),
        _ => overview::draw(model),
    };
    scene.title = plain_text(&figure.caption);
    scene
}

/// Draws many figures of a document, on as many threads as there is work for; the scenes stand in the order of the figures.
pub fn draw_all(figures: &[&Figure], model: &Model) -> Vec<Scene> {
    let mut order: Vec<usize> = (0..figures.len()).collect();
    // What may take long comes first, so that no thread has to wait long at the end.
    order.sort_by_key(|at| figures.get(*at).map(|f| matches!(f.kind, FigureKind::After | FigureKind::Plot)));
    let next = AtomicUsize::new(0);
    let work = || {
        let mut drawn = Vec::new();
        while let Some(at) = order.get(next.fetch_add(1, Ordering::Relaxed)).copied() {
            drawn.extend(figures.get(at).map(|figure| (at, draw(figure, model))));
        }
        drawn
    };
    let helpers = (figures.len() / WORTH_A_THREAD).min(MOST_HELPERS);
    let mut drawn = std::thread::scope(|scope| {
        let started: Vec<_> = (0..helpers).map(|_| scope.spawn(work)).collect();
        let mut drawn = work();
        started.into_iter().for_each(|helper| match helper.join() {
            Ok(more) => drawn.extend(more),
            Err(cause) => std::panic::resume_unwind(cause),
        });
        drawn
    });
    drawn.sort_unstable_by_key(|(at, _)| *at);
    drawn.into_iter().map(|(_, scene)| scene).collect()
}

/// Draws what a node hangs on, up to its sources: these nodes and it.
pub fn draw_trace(node: NodeIx, upstream: &[NodeIx], model: &Model) -> Scene {
    let items = upstream.iter().chain([&node]).filter_map(|n| model.item_of(*n)).collect();
    let mut scene = system::draw_items(model, items);
    scene.title = format!("What the {} hangs on", model[node].noun.name);
    scene
}

/// A drawing as renderers take it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// SVG without a style of its own, since the page brings the classes: a piece for each band, the last with the legend.
    pub pieces: Vec<String>,
    /// What it shows.
    pub title: String,
    /// How to read it, in one line.
    pub reading: String,
    /// Media that occur.
    pub media: Vec<SceneMedium>,
    /// The same in words, a line a connection.
    pub alternative: Vec<String>,
    /// The same as a table, its heads first, where it is one.
    pub table: Vec<Vec<String>>,
    /// What it shares with other drawings: the id, and the SVG that a page carries once.
    pub shared: Option<(String, String)>,
}

impl From<&Scene> for Drawing {
    fn from(scene: &Scene) -> Self {
        Self {
            pieces: svg::write_inline(scene),
            title: scene.title.clone(),
            reading: scene.reading.clone(),
            media: scene.media.clone(),
            alternative: scene.alternative.clone(),
            table: scene.table.clone(),
            shared: scene.shared.as_ref().map(|s| (s.id.clone(), svg::write_shared(s))),
        }
    }
}
