//! Which parts and connections a drawing must show, from the plain model.

use super::labels::Labels;
use crate::audit::parts::{Feed, Need, Node, NodeKind, Number, PlainModel};
use crate::audit::speech::{engraved, spoken};
use crate::audit::words::Words;
use std::collections::{BTreeMap, BTreeSet};

/// One connection that must be there.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct WantedFeed {
    /// Ids of an item, a given or a system.
    pub(super) from: String,
    pub(super) to: String,
    /// What is read beside the devices.
    pub(super) devices: Vec<String>,
    pub(super) flags: Vec<String>,
    /// The medium, by id.
    pub(super) medium: Option<String>,
    /// The same as a line of words.
    pub(super) line: String,
}

/// What stands at the left border of a part.
#[derive(Debug, Clone)]
pub(super) enum Input {
    /// A connection, by place.
    Feed(usize),
    Flag(String),
    Group(String, Vec<Input>),
}

/// A drawing as it should be.
#[derive(Debug, Default)]
pub(super) struct Wanted {
    pub(super) feeds: Vec<WantedFeed>,
    /// Boxes and bars, each with what comes in: of the item itself, then of each of its functions.
    pub(super) parts: BTreeMap<String, Vec<Vec<Input>>>,
    /// What comes in at the ports of those that take something from the drawing.
    pub(super) takers: BTreeMap<String, Vec<Input>>,
    /// Items that are called by their short names, since feeds pass them.
    pub(super) passed: BTreeSet<String>,
}

/// No chain goes through more items.
const LONGEST_CHAIN: usize = 8;
/// Where a chain ends.
const SOURCES: &[&str] = &["alternator", "antenna", "battery", "engine", "generator", "starter", "tank"];

/// What a model has to say of a drawing.
#[derive(Clone, Copy)]
pub(super) struct Teller<'m> {
    pub(super) model: &'m PlainModel,
    pub(super) words: &'m Words,
    pub(super) labels: &'m Labels,
}

impl<'m> Teller<'m> {
    pub(super) fn node(&self, number: Number) -> &'m Node {
        &self.model.nodes[number]
    }

    /// The item of a node, itself if it is one; none of a given.
    fn item_of(&self, number: Number) -> Option<Number> {
        match self.node(number).kind {
            NodeKind::Item { .. } => Some(number),
            NodeKind::Function { item } => Some(item),
            NodeKind::Given { .. } => None,
        }
    }

    fn id_of(&self, number: Number) -> String {
        self.node(self.item_of(number).unwrap_or(number)).id.clone()
    }

    pub(super) fn system_of(&self, number: Number) -> Option<&'m str> {
        let item = self.item_of(number)?;
        self.words.things.get(&self.node(item).id).map(|t| t.system.as_str())
    }

    pub(super) fn feeds_of(&self, number: Number) -> Vec<&'m Feed> {
        let mut feeds = Vec::new();
        self.needs_of(number).for_each(|need| need.feeds(&mut feeds));
        feeds
    }

    fn needs_of(&self, number: Number) -> impl Iterator<Item = &'m Need> + use<'m> {
        let node = &self.model.nodes[number];
        node.needs.iter().chain(&node.senses)
    }

    fn whole(&self, item: Number) -> impl Iterator<Item = Number> + use<'m> {
        std::iter::once(item).chain(self.model.nodes[item].functions.iter().copied())
    }

    /// A system: every feed that ends at, comes from or passes an item of it.
    pub(super) fn system(&self, system: &str) -> Wanted {
        let own: BTreeSet<Number> = self.items().filter(|n| self.system_of(*n) == Some(system)).collect();
        self.drawing(&own, true)
    }

    /// What an item hangs on: it, the items that feed it and those on the way that need something, rank after rank as long as no
    /// more than so many items stand there, up to sources; every feed that ends at one of them.
    pub(super) fn chain(&self, item: Number) -> Wanted {
        let mut own = BTreeSet::from([item]);
        let mut last = vec![item];
        while !last.is_empty() {
            let mut next = BTreeSet::new();
            for feed in last.iter().flat_map(|n| self.whole(*n)).flat_map(|n| self.feeds_of(n)).filter(|f| !f.sustained)
            {
                let powered =
                    feed.through.iter().filter(|n| self.item_of(**n) == Some(**n) && !self.node(**n).needs.is_empty());
                next.extend(powered.copied().chain(self.item_of(feed.from)));
            }
            next.retain(|n| !own.contains(n) && !SOURCES.iter().any(|kind| self.node(*n).is_kind(kind)));
            last = if own.len() + next.len() > LONGEST_CHAIN { Vec::new() } else { next.into_iter().collect() };
            own.extend(&last);
        }
        self.drawing(&own, false)
    }

    fn items(&self) -> impl Iterator<Item = Number> + use<'m> {
        let nodes = &self.model.nodes;
        (0..nodes.len()).filter(|n| matches!(nodes[*n].kind, NodeKind::Item { .. }))
    }

    fn drawing(&self, own: &BTreeSet<Number>, leaving: bool) -> Wanted {
        let is_own = |n: Number| self.item_of(n).is_some_and(|item| own.contains(&item));
        let shows = |to: Number, feed: &Feed| {
            is_own(to) || leaving && (is_own(feed.from) || feed.through.iter().any(|n| is_own(*n)))
        };
        let all: Vec<(Number, &Feed)> =
            (0..self.model.nodes.len()).flat_map(|n| self.feeds_of(n).into_iter().map(move |f| (n, f))).collect();
        let shown = all.iter().filter(|(to, feed)| shows(*to, feed));
        let passed: BTreeSet<Number> = shown.clone().flat_map(|(_, feed)| &feed.through).copied().collect();
        let mut wanted = Wanted::default();
        for item in own {
            let needs = self.whole(*item).any(|n| self.needs_of(n).next().is_some());
            let on_feeds = self.whole(*item).any(|n| passed.contains(&n));
            let gives = all.iter().any(|(_, feed)| self.item_of(feed.from) == Some(*item));
            let needs_itself = self.needs_of(*item).next().is_some();
            if passed.contains(item) && needs_itself && !self.node(*item).is_kind("bus") {
                wanted.passed.insert(self.node(*item).id.clone());
            }
            if needs || !on_feeds || gives {
                let inputs = self.whole(*item).map(|n| self.inputs_of(n, &mut wanted.feeds)).collect();
                wanted.parts.insert(self.node(*item).id.clone(), inputs);
            }
        }
        let takers: BTreeSet<Number> = shown.map(|(to, _)| *to).filter(|to| !is_own(*to)).collect();
        for to in takers {
            let needs = self.needs_of(to);
            let inputs: Vec<Input> =
                needs.flat_map(|need| self.taken((need, true), to, &shows, &mut wanted.feeds)).collect();
            wanted.takers.entry(self.id_of(to)).or_default().extend(inputs);
        }
        wanted
    }

    /// Of a need of a thing outside the drawing the feeds that it shows; brackets where more than one is left.
    fn taken(
        &self,
        (need, outermost): (&Need, bool),
        to: Number,
        shows: &dyn Fn(Number, &Feed) -> bool,
        feeds: &mut Vec<WantedFeed>,
    ) -> Vec<Input> {
        let (of, word) = match need {
            Need::Feed(feed) => {
                let shown = shows(to, feed);
                feeds.extend(shown.then(|| self.feed(feed, to)));
                return if shown { vec![Input::Feed(feeds.len() - 1)] } else { Vec::new() };
            }
            Need::When(_) => return Vec::new(),
            Need::All(of) => (of, if of.len() == 2 { "both".to_owned() } else { "all".to_owned() }),
            Need::Any(of) => (of, if of.len() == 2 { "either".to_owned() } else { "any".to_owned() }),
            Need::AtLeast(count, of) => (of, format!("{count} of {}", of.len())),
        };
        let all = outermost && matches!(need, Need::All(_));
        let inner: Vec<Input> = of.iter().flat_map(|n| self.taken((n, all), to, shows, feeds)).collect();
        if all || inner.len() < 2 { inner } else { vec![Input::Group(word, inner)] }
    }

    fn inputs_of(&self, node: Number, feeds: &mut Vec<WantedFeed>) -> Vec<Input> {
        self.needs_of(node).flat_map(|need| self.inputs(need, node, true, feeds)).collect()
    }

    fn inputs(&self, need: &Need, node: Number, outermost: bool, feeds: &mut Vec<WantedFeed>) -> Vec<Input> {
        let mut group = |word: String, of: &[Need]| {
            vec![Input::Group(word, of.iter().flat_map(|n| self.inputs(n, node, false, feeds)).collect())]
        };
        let word = |of: &[Need], two: &str, more: &str| if of.len() == 2 { two.to_owned() } else { more.to_owned() };
        match need {
            Need::Feed(feed) => {
                feeds.push(self.feed(feed, node));
                vec![Input::Feed(feeds.len() - 1)]
            }
            Need::When(when) => vec![Input::Flag(self.when(when, node))],
            Need::All(of) if outermost => of.iter().flat_map(|n| self.inputs(n, node, true, feeds)).collect(),
            Need::All(of) => group(word(of, "both", "all"), of),
            Need::Any(of) => group(word(of, "either", "any"), of),
            Need::AtLeast(count, of) => group(format!("{count} of {}", of.len()), of),
        }
    }

    fn feed(&self, feed: &Feed, to: Number) -> WantedFeed {
        let mut flags = Vec::new();
        if !feed.when.is_empty() {
            flags.push(self.when(&feed.when, to));
        }
        let mut line = format!("{} → {}", self.name(feed.from), self.name(to));
        if !feed.through.is_empty() {
            let names: Vec<String> = feed.through.iter().map(|n| self.name(*n)).collect();
            line = format!("{line} through {}", spoken(&names));
        }
        flags.extend(feed.sustained.then(|| "once on".to_owned()));
        flags.extend(self.is_sensed(feed, to).then(|| "sensed".to_owned()));
        line.extend(flags.iter().map(|flag| format!(", {flag}")));
        flags.extend(feed.approximate.then(|| "approximately".to_owned()));
        let medium = self.node(feed.from).gives.clone();
        line.extend(medium.as_ref().map(|m| format!(" ({})", self.words.medium(m))));
        let devices = feed.through.iter().map(|n| self.device(*n)).collect();
        WantedFeed { from: self.id_of(feed.from), to: self.id_of(to), devices, flags, medium, line }
    }

    /// Whether a feed stands among those that a thing senses.
    fn is_sensed(&self, feed: &Feed, to: Number) -> bool {
        let mut sensed = Vec::new();
        self.node(to).senses.iter().for_each(|need| need.feeds(&mut sensed));
        sensed.iter().any(|one| std::ptr::eq(*one, feed))
    }

    /// Functions of an item that need something, by their own names.
    pub(super) fn fed_functions(&self, id: &str) -> Vec<String> {
        let Some(number) = self.model.number.get(id) else { return Vec::new() };
        let fed = self.node(*number).functions.iter().filter(|n| self.needs_of(**n).next().is_some());
        fed.filter_map(|n| self.words.things.get(&self.node(*n).id)).map(|t| t.own.clone()).collect()
    }

    fn name(&self, number: Number) -> String {
        self.words.name(&self.node(number).id)
    }

    /// `alternator half (off with battery half)`.
    pub(super) fn device(&self, number: Number) -> String {
        let node = self.node(number);
        let own = self.short(&node.id);
        let whole = match node.kind {
            NodeKind::Function { item } => format!("{}: {own}", self.short(&self.node(item).id)),
            _ => own,
        };
        let with = node.control.as_ref().and_then(|c| c.off_with.as_ref());
        with.map_or(whole.clone(), |with| format!("{whole} (off with {})", self.short(with)))
    }

    /// The short name of a thing, or else its own name.
    pub(super) fn short(&self, id: &str) -> String {
        let own = || self.words.things.get(id).map_or(String::new(), |t| t.own.clone());
        self.labels.short.get(id).cloned().unwrap_or_else(own)
    }

    /// `when LEFT or BOTH` of a condition on the thing itself, else with the name of the control.
    fn when(&self, when: &[usize], node: Number) -> String {
        let one = |number: &usize| {
            let condition = &self.model.conditions[*number];
            let control = self.node(condition.control);
            let known = control.control.as_ref().map_or(&[][..], |c| &c.positions);
            let positions: Vec<String> =
                known.iter().filter(|p| condition.positions.contains(*p)).map(|p| engraved(p)).collect();
            let (last, most) = positions.split_last().map_or(("", &[][..]), |(l, m)| (l.as_str(), m));
            let positions = if most.is_empty() { last.to_owned() } else { format!("{} or {last}", most.join(", ")) };
            if self.item_of(node) == Some(condition.control) {
                positions
            } else {
                format!("{} {positions}", self.short(&control.id))
            }
        };
        format!("when {}", spoken(&when.iter().map(one).collect::<Vec<_>>()))
    }
}
