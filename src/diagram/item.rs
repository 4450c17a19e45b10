//! How an item, a given or a medium stands in a plan of connections: its form, its names, what is said of it.

use super::colour;
use super::plan::{Form, Part};
use super::scene::SceneMedium;
use super::symbol::Symbol;
use super::system::all_needs;
use crate::model::{Feed, Item, ItemIx, Kind, Medium, Model, Need, Node, NodeIx, NodeKind, Noun};

/// Media that go along wires: what parts them is a switch, not a valve.
const CURRENTS: [&str; 4] = ["electricity", "data", "sound", "spark"];

/// An item of the drawing; a device that lines pass and that needs something itself is called by its short name.
pub(super) fn own_part(model: &Model, of: ItemIx, passed: bool) -> Part {
    let (node, item) = (&model[model[of].node], &model[of]);
    let form = match item.kind {
        Kind::Bus => Form::Bar,
        _ if passed && all_needs(node).next().is_some() => Form::Device(symbol(model, of)),
        _ => Form::Box,
    };
    let name = if matches!(form, Form::Device(_)) { short(&node.noun).to_owned() } else { node.noun.name.clone() };
    Part::new(node.id.clone(), form, name, detail(item, node))
}

/// The symbol of an item: a selector of what does not flow is a switch.
pub(super) fn symbol(model: &Model, item: ItemIx) -> Symbol {
    let kind = model[item].kind;
    if kind != Kind::Selector {
        return Symbol::of(kind);
    }
    let passes = |feed: &&Feed| feed.through.iter().any(|n| model.item_of(*n) == Some(item));
    let mut feeds = model.nodes.iter().flat_map(all_needs).flat_map(Need::feeds);
    let medium = feeds.find(passes).and_then(|feed| model[feed.from].gives);
    let is_current = medium.is_some_and(|m| CURRENTS.contains(&model[m].id.as_str()));
    if is_current { Symbol::Switch } else { Symbol::of(kind) }
}

/// What an item is rated, holds or draws, as its author typed it.
fn detail(item: &Item, node: &Node) -> String {
    let typed = [item.voltage.as_ref(), item.capacity.as_ref(), item.rating.as_ref()];
    let mut words: Vec<String> = typed.into_iter().flatten().map(ToString::to_string).collect();
    words.extend(node.draws.as_ref().map(|q| format!("draws {q}")));
    let whole: Vec<String> = words.into_iter().map(|w| w.replace(' ', "\u{a0}")).collect();
    whole.join(", ")
}

/// An item that is drawn elsewhere.
pub(super) fn elsewhere(model: &Model, item: ItemIx, gives: NodeIx, form: Form) -> Part {
    let node = &model[model[item].node];
    let system = &model[model[item].system].name;
    let detail = match (form, model[gives].gives) {
        (Form::Outside, Some(medium)) => format!("from {system}: {}", model[medium].name),
        (Form::Outside, None) => format!("from {system}"),
        _ => format!("to {system}"),
    };
    Part::new(node.id.clone(), form, node.noun.name.clone(), detail)
}

/// A given, which nothing in the aircraft makes.
pub(super) fn outside(node: &Node, form: Form) -> Part {
    Part::new(node.id.clone(), form, node.noun.name.clone(), "from outside".to_owned())
}

/// The short name, if there is one.
pub(super) fn short(noun: &Noun) -> &str {
    noun.short.as_deref().unwrap_or(&noun.name)
}

/// A function is called with its item.
pub(super) fn full_short(model: &Model, node: NodeIx) -> String {
    let own = short(&model[node].noun);
    match model[node].kind {
        NodeKind::Function(item, _) => format!("{}: {own}", short(&model[model[item].node].noun)),
        _ => own.to_owned(),
    }
}

/// The same in full.
pub(super) fn full_name(model: &Model, node: NodeIx) -> String {
    let own = &model[node].noun.name;
    match model[node].kind {
        NodeKind::Function(item, _) => format!("{own} of {}", model[model[item].node].noun.name),
        _ => own.clone(),
    }
}

/// A medium with its marks, safe for a style sheet.
pub(super) fn scene_medium(medium: &Medium) -> SceneMedium {
    SceneMedium {
        class: format!("m-{}", medium.id),
        name: medium.name.clone(),
        tag: medium.tag.clone(),
        colour: colour::checked(&medium.colour),
        dashes: medium.line.lengths(),
    }
}

/// Of a feed whose source gives no named medium.
pub(super) fn unknown_medium() -> SceneMedium {
    SceneMedium {
        class: "m-unnamed".to_owned(),
        name: "not named".to_owned(),
        tag: "??".to_owned(),
        colour: colour::INK.to_owned(),
        dashes: &[],
    }
}
