//! Drawings as a [`Scene`], and SVG from it.
//!
//! A scene is made from the model alone; what it says, it says by visible marks (`scene`), so that a reader, or the audit, can
//! get the graph back. Every text alternative lists the connections in words.
mod after;
mod chain;
pub mod colour;
pub mod geometry;
mod layout;
pub mod lettering;
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
