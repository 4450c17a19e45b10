//! What one item hangs on, back to its sources, in the grammar of the other diagrams.

use super::scene::Scene;
use super::system::draw_items;
use crate::model::{Item, ItemIx, Kind, Model, Need, NodeIx};
use std::collections::BTreeSet;

/// No chain goes through more items; what lies beyond stands as a port.
const MOST: usize = 8;

/// Draws the chain of an item; an empty scene if there is none of that id.
pub(super) fn draw(model: &Model, item: &str) -> Scene {
    model.find_item(item).map_or_else(Scene::default, |ix| draw_items(model, chain(model, ix)))
}

/// The item and all that it hangs on, rank by rank: a rank that would be too much is left out as a whole, so that like things are
/// drawn alike. What makes electricity, holds a store, or turns is not followed: it stands as a port, and its own system tells
/// the rest.
fn chain(model: &Model, item: ItemIx) -> BTreeSet<ItemIx> {
    let mut chain = BTreeSet::from([item]);
    let mut rank = chain.clone();
    loop {
        let above = rank.iter().flat_map(|below| above(model, &model[*below]));
        rank = above.filter(|i| !is_source(model[*i].kind) && !chain.contains(i)).collect();
        if rank.is_empty() || chain.len() + rank.len() > MOST {
            return chain;
        }
        chain.extend(&rank);
    }
}

fn is_source(kind: Kind) -> bool {
    use Kind::{Alternator, Antenna, Battery, Engine, Generator, Starter, Tank};
    matches!(kind, Alternator | Antenna | Battery | Engine | Generator | Starter | Tank)
}

/// Items from which an item is fed, and those on the way that need something themselves, as a contactor does; not those that only
/// keep up what runs already. All else that a feed passes is drawn on the feed.
fn above<'a>(model: &'a Model, item: &'a Item) -> impl Iterator<Item = ItemIx> + 'a {
    let nodes = std::iter::once(item.node).chain(item.functions.iter().copied());
    let feeds = nodes.flat_map(|n: NodeIx| model[n].needs.iter().chain(&model[n].senses)).flat_map(Need::feeds);
    let feeds = feeds.filter(|f| !f.sustained);
    let needs = |n: &&NodeIx| !model[**n].needs.is_empty() && model.item_of(**n).is_some_and(|i| model[i].node == **n);
    feeds.flat_map(move |f| f.through.iter().filter(needs).chain([&f.from])).filter_map(|n| model.item_of(*n))
}
