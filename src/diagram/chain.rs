//! What one item hangs on, back to its sources, in the grammar of the other diagrams.

use super::scene::Scene;
use super::system::draw_items;
use crate::model::{Item, ItemIx, Kind, Model, Need, NodeIx};
use std::collections::{BTreeSet, VecDeque};

/// No chain goes through more items; what lies beyond stands as a port.
const MOST: usize = 6;

/// Draws the chain of an item; an empty scene if there is none of that id.
pub(super) fn draw(model: &Model, item: &str) -> Scene {
    model.find_item(item).map_or_else(Scene::default, |ix| draw_items(model, chain(model, ix)))
}

/// The item and all that it is fed by, nearest first, up to what makes electricity, holds a store, or turns. Such a source is not
/// followed further: it stands as a port, and its own system tells the rest.
fn chain(model: &Model, item: ItemIx) -> BTreeSet<ItemIx> {
    let mut chain = BTreeSet::from([item]);
    let mut open = VecDeque::from([item]);
    while let Some(next) = open.pop_front() {
        for above in above(model, &model[next]) {
            let source = is_source(model[above].kind);
            if chain.len() < MOST && !source && chain.insert(above) {
                open.push_back(above);
            }
        }
    }
    chain
}

fn is_source(kind: Kind) -> bool {
    use Kind::{Alternator, Antenna, Battery, Engine, Generator, Mast, Port, Starter, Tank};
    matches!(kind, Alternator | Antenna | Battery | Engine | Generator | Mast | Port | Starter | Tank)
}

/// Items from which an item is fed, in the order of its needs; not those that only keep up what runs already. What a feed passes
/// is drawn on the feed.
fn above(model: &Model, item: &Item) -> Vec<ItemIx> {
    let nodes = std::iter::once(item.node).chain(item.functions.iter().copied());
    let feeds = nodes.flat_map(|n: NodeIx| model[n].needs.iter().chain(&model[n].senses)).flat_map(Need::feeds);
    feeds.filter(|f| !f.sustained).filter_map(|f| model.item_of(f.from)).collect()
}
