//! One system: every item of it, every feed of its items, and every feed that its items give to others.
//!
//! What stands on feeds only (breakers, switches, lines) is drawn on its feed and not again as a box.

use super::item::{elsewhere, full_name, full_short, outside, own_part, scene_medium, short, symbol, unknown_medium};
use super::layout;
use super::plan::{Form, Input, Label, Link, Part, Plan, Row, Step};
use super::scene::Scene;
use super::symbol::Symbol;
use crate::base::text::join_list;
use crate::model::{Feed, Item, ItemIx, Kind, MediumIx, Model, Need, Node, NodeIx, NodeKind, Reach, SystemIx, When};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// How to read the drawing.
const READING: &str = "Read from left to right: a wedge stands at what hangs on the line, whichever way air, fuel or sound moves. \
                     Dots join lines. A device stands on every line that it can cut, whichever side of a thing it is wired on. \
                     A pointed frame stands for something that is drawn elsewhere.";

/// Draws the system of that id; an empty scene if there is none.
pub(super) fn draw(model: &Model, system: &str) -> Scene {
    let Some(at) = model.systems.iter().position(|s| s.id.as_str() == system) else { return Scene::default() };
    let own = model.item_indices().filter(|i| model[*i].system == SystemIx::new(at));
    let builder = Builder::new(model, own.collect(), true);
    finish(builder)
}

/// Draws these items and every feed of theirs, whatever system they belong to.
pub(super) fn draw_items(model: &Model, items: BTreeSet<ItemIx>) -> Scene {
    finish(Builder::new(model, items, false))
}

fn finish(mut builder: Builder<'_>) -> Scene {
    builder.gather();
    let Builder { plan, alternative, .. } = builder;
    let mut scene = layout::lay_out(&plan);
    scene.reading.push_str(READING);
    scene.alternative = alternative;
    scene
}

/// Turns the needs of a system into a plan.
struct Builder<'a> {
    model: &'a Model,
    own: BTreeSet<ItemIx>,
    /// Feeds that own items give to others are drawn too.
    leaving: bool,
    /// Every feed of the model, with the node that it ends at.
    feeds: Vec<(NodeIx, &'a Feed)>,
    plan: Plan,
    parts: BTreeMap<(NodeKey, bool), usize>,
    media: BTreeMap<Option<MediumIx>, usize>,
    /// Nodes that stand on some feed of the drawing.
    passed: BTreeSet<NodeIx>,
    /// Steps of the plan by node, and by words.
    devices: BTreeMap<NodeIx, usize>,
    flags: BTreeMap<String, usize>,
    alternative: Vec<String>,
}

/// A part stands for an item with its functions, or for a given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum NodeKey {
    Item(ItemIx),
    Given(NodeIx),
}

impl<'a> Builder<'a> {
    fn new(model: &'a Model, own: BTreeSet<ItemIx>, leaving: bool) -> Self {
        let mut feeds = Vec::new();
        for node in model.node_indices() {
            all_needs(&model[node]).for_each(|need| each_feed(need, &mut |feed| feeds.push((node, feed))));
        }
        Self {
            feeds,
            model,
            own,
            leaving,
            plan: Plan { titled: true, ..Plan::default() },
            parts: BTreeMap::new(),
            media: BTreeMap::new(),
            passed: BTreeSet::new(),
            devices: BTreeMap::new(),
            flags: BTreeMap::new(),
            alternative: Vec::new(),
        }
    }

    /// Own parts first, in order of id, then feeds of own nodes, then feeds that leave.
    fn gather(&mut self) {
        self.passed = self.find_passed();
        let own: Vec<ItemIx> = self.model.item_indices().filter(|i| self.is_own(*i)).collect();
        for item in &own {
            if self.stands_alone(*item) {
                self.own_part(*item);
            }
        }
        for item in &own {
            self.take_in(*item);
        }
        if !self.leaving {
            return;
        }
        for item in self.model.item_indices().filter(|i| !own.contains(i)) {
            self.give_out(item);
        }
        for given in self.model.node_indices() {
            if matches!(self.model[given].kind, NodeKind::Given(_)) {
                self.give_out_from(given, NodeKey::Given(given));
            }
        }
    }

    fn is_own(&self, item: ItemIx) -> bool {
        self.own.contains(&item)
    }

    fn is_own_node(&self, node: NodeIx) -> bool {
        self.model.item_of(node).is_some_and(|item| self.is_own(item))
    }

    /// Every feed that the drawing shows: it ends at, comes from or passes a thing of this system.
    fn shows(&self, consumer: NodeIx, feed: &Feed) -> bool {
        let touches = |n: &NodeIx| self.is_own_node(*n);
        touches(&consumer) || self.leaving && (touches(&feed.from) || feed.through.iter().any(touches))
    }

    /// Nodes that stand on some feed of this drawing.
    fn find_passed(&self) -> BTreeSet<NodeIx> {
        let shown = self.feeds.iter().filter(|(n, f)| self.shows(*n, f));
        shown.flat_map(|(_, f)| f.through.iter().copied()).collect()
    }

    /// An own item is a part unless it only stands on feeds: then it has no needs, and nothing starts at it.
    fn stands_alone(&self, item: ItemIx) -> bool {
        let model = self.model;
        let nodes: Vec<NodeIx> = nodes_of(&model[item]).collect();
        let needs = nodes.iter().any(|n| all_needs(&model[*n]).next().is_some());
        let passed = nodes.iter().any(|n| self.passed.contains(n));
        needs || !passed || self.feeds.iter().any(|(_, f)| nodes.contains(&f.from))
    }

    fn own_part(&mut self, item: ItemIx) -> usize {
        let (model, passed) = (self.model, self.passed.contains(&self.model[item].node));
        self.part((NodeKey::Item(item), true), || own_part(model, item, passed))
    }

    fn part(&mut self, key: (NodeKey, bool), make: impl FnOnce() -> Part) -> usize {
        if let Some(at) = self.parts.get(&key) {
            return *at;
        }
        self.plan.parts.push(make());
        self.parts.insert(key, self.plan.parts.len() - 1);
        self.plan.parts.len() - 1
    }

    /// The part from which a feed comes.
    fn source(&mut self, node: NodeIx) -> usize {
        let model = self.model;
        match model.item_of(node) {
            Some(item) if self.is_own(item) => self.own_part(item),
            Some(item) => self.part((NodeKey::Item(item), true), || elsewhere(model, item, node, Form::Outside)),
            None => self.part((NodeKey::Given(node), true), || outside(&model[node], Form::Outside)),
        }
    }

    /// Feeds of an own item and of its functions.
    fn take_in(&mut self, item: ItemIx) {
        let model = self.model;
        for (row, node) in nodes_of(&model[item]).enumerate() {
            let needs: Vec<&Need> = all_needs(&model[node]).collect();
            if needs.is_empty() {
                continue;
            }
            let part = self.own_part(item);
            let inputs: Vec<Input> = needs.into_iter().flat_map(|n| self.inputs(n, part, node, true)).collect();
            let name = if row == 0 { String::new() } else { model[node].noun.name.clone() };
            self.plan.parts[part].rows.push(Row { name: Label::in_part(name), inputs });
        }
    }

    /// The inputs that a need stands for; `outermost` needs are all asked for, so they have no bracket.
    fn inputs(&mut self, need: &Need, part: usize, node: NodeIx, outermost: bool) -> Vec<Input> {
        match need {
            Need::Feed(feed) => vec![Input::Link(self.link(feed, part, node))],
            Need::When(when, _) => vec![Input::Flag(Rc::new(Label::on_flag(self.says_when(when, node))))],
            Need::All(of, _) if outermost => of.iter().flat_map(|n| self.inputs(n, part, node, true)).collect(),
            _ => {
                let inner = need.parts().iter().flat_map(|n| self.inputs(n, part, node, false)).collect();
                vec![Input::Group(enough(need).into(), inner)]
            }
        }
    }

    /// The same of a thing that is drawn elsewhere: of its feeds those that this drawing shows, and no conditions of its own. A
    /// single one of several that are enough wears no bracket.
    fn taken(&mut self, need: &Need, part: usize, node: NodeIx, outermost: bool) -> Vec<Input> {
        match need {
            Need::Feed(feed) if self.shows(node, feed) => vec![Input::Link(self.link(feed, part, node))],
            Need::Feed(_) | Need::When(..) => Vec::new(),
            _ => {
                let all = outermost && matches!(need, Need::All(..));
                let inner: Vec<Input> = need.parts().iter().flat_map(|n| self.taken(n, part, node, all)).collect();
                if all || inner.len() < 2 { inner } else { vec![Input::Group(enough(need).into(), inner)] }
            }
        }
    }

    fn link(&mut self, feed: &Feed, to: usize, node: NodeIx) -> usize {
        let from = self.source(feed.from);
        let through = self.steps_of(feed, node);
        let medium = self.medium(self.model[feed.from].gives);
        self.alternative.push(self.in_words(feed, node));
        self.plan.links.push(Link { from, through, to, medium, sustained: feed.sustained });
        self.plan.links.len() - 1
    }

    fn steps_of(&mut self, feed: &Feed, node: NodeIx) -> Vec<usize> {
        let mut steps: Vec<usize> = feed.through.iter().map(|n| self.device(*n)).collect();
        let flags = [
            (!feed.when.is_always()).then(|| self.says_when(&feed.when, node)),
            feed.sustained.then(|| "once on".to_owned()),
            self.is_sensed(feed, node).then(|| "sensed".to_owned()),
            feed.approximate.is_some().then(|| "approximately".to_owned()),
        ];
        steps.extend(flags.into_iter().flatten().map(|words| self.flag(words)));
        steps
    }

    /// True of a feed that carries only the state of what is measured.
    fn is_sensed(&self, feed: &Feed, node: NodeIx) -> bool {
        let mut found = false;
        let mut look = |sensed: &Feed| found |= std::ptr::eq(sensed, feed);
        self.model[node].senses.iter().for_each(|need| each_feed(need, &mut look));
        found
    }

    fn flag(&mut self, words: String) -> usize {
        if let Some(at) = self.flags.get(&words) {
            return *at;
        }
        self.plan.steps.push(Step::Flag(Label::on_feed(words.clone())));
        self.flags.insert(words, self.plan.steps.len() - 1);
        self.plan.steps.len() - 1
    }

    fn device(&mut self, node: NodeIx) -> usize {
        if let Some(at) = self.devices.get(&node) {
            return *at;
        }
        let model = self.model;
        let item = model.item_of(node);
        let stands = |i: &ItemIx| self.is_own(*i) && model[*i].node == node && model[*i].kind != Kind::Bus;
        let own = item.filter(|i| stands(i) && all_needs(&model[node]).next().is_some());
        let symbol = item.map_or(Symbol::Plain, |i| symbol(model, i));
        let control = item.and_then(|i| model.control(i));
        let reached = control.is_some_and(|c| c.reachable == Reach::InFlight);
        let with = control.and_then(|c| c.off_with).map(|c| short(&model[model[c].node].noun));
        let name = full_short(model, node) + &with.map_or(String::new(), |w| format!(" (off with {w})"));
        // A rating keeps its unit beside it.
        let rated = item.is_some_and(|i| model[i].kind.protects());
        let name = name.strip_suffix(" A").filter(|_| rated).map_or(name.clone(), |start| format!("{start}\u{a0}A"));
        let (of, name, home) = (model[node].id.clone(), Label::at_device(name), own.map(|i| self.own_part(i)));
        self.plan.steps.push(Step::Device { of, symbol, name, reached, home });
        self.devices.insert(node, self.plan.steps.len() - 1);
        self.plan.steps.len() - 1
    }

    fn says_when(&self, when: &When, node: NodeIx) -> String {
        let model = self.model;
        let one = |c: &crate::model::Condition| {
            let at = |p: &crate::model::PositionIx| {
                model
                    .control(c.control)
                    .map_or(String::new(), |k| k.position(*p).as_str().replace('-', " ").to_uppercase())
            };
            let positions: Vec<String> = c.positions.iter().map(at).collect();
            let positions = join_list(&positions, "or");
            if model.item_of(node) == Some(c.control) {
                positions
            } else {
                format!("{} {positions}", short(&model[model[c.control].node].noun))
            }
        };
        format!("when {}", join_list(&when.0.iter().map(one).collect::<Vec<_>>(), "and"))
    }

    fn medium(&mut self, medium: Option<MediumIx>) -> usize {
        if let Some(at) = self.media.get(&medium) {
            return *at;
        }
        self.plan.media.push(medium.map_or_else(unknown_medium, |m| scene_medium(&self.model[m])));
        self.media.insert(medium, self.plan.media.len() - 1);
        self.plan.media.len() - 1
    }

    /// Feeds of another system's item that come from this system or pass through it.
    fn give_out(&mut self, item: ItemIx) {
        let model = self.model;
        for node in nodes_of(&model[item]) {
            self.give_out_from(node, NodeKey::Item(item));
        }
    }

    fn give_out_from(&mut self, node: NodeIx, key: NodeKey) {
        let model = self.model;
        let mut shown = false;
        let mut look = |feed: &Feed| shown |= self.shows(node, feed);
        all_needs(&model[node]).for_each(|need| each_feed(need, &mut look));
        if !shown {
            return;
        }
        let part = self.part((key, false), || match key {
            NodeKey::Item(item) => elsewhere(model, item, node, Form::Taker),
            NodeKey::Given(given) => outside(&model[given], Form::Taker),
        });
        let inputs: Vec<Input> = all_needs(&model[node]).flat_map(|need| self.taken(need, part, node, true)).collect();
        let rows = &mut self.plan.parts[part].rows;
        if rows.is_empty() {
            rows.push(Row::default());
        }
        rows[0].inputs.extend(inputs);
    }

    /// One connection as a line of words.
    fn in_words(&self, feed: &Feed, node: NodeIx) -> String {
        let model = self.model;
        let names: Vec<String> = feed.through.iter().map(|n| full_name(model, *n)).collect();
        let through = if names.is_empty() { String::new() } else { format!(" through {}", join_list(&names, "and")) };
        let when =
            if feed.when.is_always() { String::new() } else { format!(", {}", self.says_when(&feed.when, node)) };
        let sustained = if feed.sustained { ", once on" } else { "" };
        let sensed = if self.is_sensed(feed, node) { ", sensed" } else { "" };
        let what = model[feed.from].gives.map_or(String::new(), |m| format!(" ({})", model[m].name));
        format!("{} → {}{through}{when}{sustained}{sensed}{what}", full_name(model, feed.from), full_name(model, node))
    }
}

fn nodes_of(item: &Item) -> impl Iterator<Item = NodeIx> + '_ {
    std::iter::once(item.node).chain(item.functions.iter().copied())
}

/// The word of a bracket: how many of its feeds are enough.
fn enough(need: &Need) -> String {
    let two = need.parts().len() == 2;
    match need {
        Need::AtLeast { count, of, .. } => format!("{count} of {}", of.len()),
        Need::All(..) => if two { "both" } else { "all" }.to_owned(),
        _ => if two { "either" } else { "any" }.to_owned(),
    }
}

/// Goes through every feed of a need, in written order.
fn each_feed<'m>(need: &'m Need, visit: &mut dyn FnMut(&'m Feed)) {
    match need {
        Need::Feed(feed) => visit(feed),
        _ => need.parts().iter().for_each(|part| each_feed(part, visit)),
    }
}

/// What a node needs, then what it senses.
pub(super) fn all_needs(node: &Node) -> impl Iterator<Item = &Need> {
    node.needs.iter().chain(&node.senses)
}
