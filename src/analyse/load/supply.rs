//! What draws current, and by which way it gets it.
//!
//! **Duty.** From each consumer upstream along its feeds of electricity to the batteries and alternators, with what is passed.
//!
//! **Does not know** how positions stand: every way counts that some position opens.

use crate::analyse::measure::{Amps, Volts};
use crate::base::Dimension;
use crate::model::{ItemIx, Kind, MediumIx, Model, NodeIx};
use std::collections::BTreeSet;

/// Something that draws current.
#[derive(Debug, Clone, PartialEq)]
pub struct Consumer {
    /// The item or function.
    pub node: NodeIx,
    /// It is on while one of these draws: itself, or those of its functions that are fed with electricity where it is not fed itself.
    pub on_with: Vec<NodeIx>,
    /// What it draws while it is on.
    pub draws: Amps,
    /// It draws for moments only.
    pub intermittent: bool,
    /// By which way.
    pub supply: Supply,
}

/// The ways by which current comes.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Supply {
    /// Batteries, alternators and generators at the ends.
    pub sources: BTreeSet<ItemIx>,
    /// Everything that is passed.
    pub passes: BTreeSet<ItemIx>,
}

/// True for what makes or stores electricity.
pub fn is_source(kind: Kind) -> bool {
    matches!(kind, Kind::Battery | Kind::Alternator | Kind::Generator)
}

/// True for what makes it.
pub fn is_maker(kind: Kind) -> bool {
    matches!(kind, Kind::Alternator | Kind::Generator)
}

/// Alternators and generators.
pub fn makers(model: &Model) -> Vec<ItemIx> {
    model.item_indices().filter(|i| is_maker(model[*i].kind)).collect()
}

/// The voltage of the system: that of its alternator, else of its battery; the highest where there are several.
pub fn system_voltage(model: &Model) -> Option<Volts> {
    let of = |test: fn(Kind) -> bool| {
        let items = model.items.iter().filter(|i| test(i.kind));
        let volts = items.filter_map(|i| Volts::of(i.voltage.as_ref()?));
        volts.max_by(|a, b| a.0.total_cmp(&b.0))
    };
    of(is_maker).or_else(|| of(|kind| kind == Kind::Battery))
}

/// Everything that says what it draws, in node order. What is given in watts is left out where no voltage is known.
pub fn consumers(model: &Model, volts: Option<Volts>) -> Vec<Consumer> {
    let of = |node: NodeIx| {
        let draws = model[node].draws.as_ref()?;
        let draws = match (draws.unit.dimension, volts) {
            (Dimension::Power, Some(volts)) if volts.0 > 0.0 => Amps(draws.si() / volts.0),
            _ => Amps::of(draws)?,
        };
        let on_with = fed(model, node);
        let supplies = on_with.iter().map(|n| supply(model, *n));
        let supply = supplies.fold(Supply::default(), Supply::with);
        Some(Consumer { node, on_with, draws, intermittent: model[node].intermittent, supply })
    };
    model.node_indices().filter_map(of).collect()
}

/// The nodes through which a consumer gets its current.
fn fed(model: &Model, node: NodeIx) -> Vec<NodeIx> {
    let electricity = model.find_medium("electricity");
    let is_fed =
        |n: &NodeIx| model[*n].needs.iter().flat_map(|x| x.feeds()).any(|f| model[f.from].gives == electricity);
    let functions = model.item_of(node).filter(|i| model[*i].node == node).map_or(&[][..], |i| &model[i].functions);
    let fed: Vec<NodeIx> = functions.iter().copied().filter(is_fed).collect();
    if is_fed(&node) || fed.is_empty() { vec![node] } else { fed }
}

impl Consumer {
    /// Whether it is on, with what draws (`Analysis::drawing`).
    pub fn is_on(&self, drawing: &BTreeSet<NodeIx>) -> bool {
        self.on_with.iter().any(|n| drawing.contains(n))
    }
}

impl Supply {
    fn with(mut self, other: Self) -> Self {
        self.sources.extend(other.sources);
        self.passes.extend(other.passes);
        self
    }
}

/// The ways by which a node gets its electricity.
pub fn supply(model: &Model, node: NodeIx) -> Supply {
    let mut found = Supply::default();
    let Some(electricity) = model.find_medium("electricity") else { return found };
    let mut seen = BTreeSet::from([node]);
    let mut open = vec![node];
    open.extend(model.item_of(node).map(|i| model[i].node).filter(|own| seen.insert(*own)));
    while let Some(at) = open.pop() {
        for next in upstream(model, at, electricity, &mut found) {
            if seen.insert(next) {
                open.push(next);
            }
        }
    }
    found
}

/// The nodes from which a node is fed with electricity and that are not sources themselves; sources and what is passed are noted.
fn upstream(model: &Model, node: NodeIx, electricity: MediumIx, found: &mut Supply) -> Vec<NodeIx> {
    let feeds = model[node].needs.iter().flat_map(|n| n.feeds());
    let mut next = Vec::new();
    for feed in feeds.filter(|f| model[f.from].gives == Some(electricity)) {
        found.passes.extend(feed.through.iter().filter_map(|n| model.item_of(*n)));
        let Some(item) = model.item_of(feed.from) else { continue };
        if is_source(model[item].kind) {
            found.sources.insert(item);
        } else {
            found.passes.insert(item);
            next.push(feed.from);
        }
    }
    next
}
