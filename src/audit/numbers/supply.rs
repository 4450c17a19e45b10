//! What draws current, from which sources and by way of what; and what of it is on at a moment.

use crate::audit::parts::{Need, NodeKind, Number, PlainModel};
use crate::audit::states::Moment;
use crate::audit::tables::Desk;
use std::collections::BTreeSet;

/// Something that draws.
pub(super) struct Consumer {
    pub(super) id: String,
    pub(super) amps: f64,
    /// It is on while one of these draws.
    on_with: Vec<Number>,
    /// Batteries and alternators at the ends of its feeds.
    pub(super) sources: BTreeSet<Number>,
    /// Items that its current passes.
    pub(super) passes: BTreeSet<Number>,
}

impl Consumer {
    /// Whether it is on, with what draws at a moment.
    pub(super) fn is_on(&self, drawing: &[bool]) -> bool {
        self.on_with.iter().any(|n| drawing[*n])
    }
}

impl PlainModel {
    fn is_source(&self, item: Number) -> bool {
        ["battery", "alternator", "generator"].iter().any(|kind| self.nodes[item].is_kind(kind))
    }

    /// Alternators and generators.
    pub(super) fn makers(&self) -> Vec<Number> {
        let is_one = |n: &Number| self.nodes[*n].is_kind("alternator") || self.nodes[*n].is_kind("generator");
        (0..self.nodes.len()).filter(is_one).collect()
    }

    /// Where a node gets electricity from, and by way of what.
    fn electric(&self, node: Number) -> Vec<(Number, &[Number])> {
        let mut feeds = Vec::new();
        self.nodes[node].needs.iter().for_each(|need| need.feeds(&mut feeds));
        let live = feeds.into_iter().filter(|f| self.nodes[f.from].gives.as_deref() == Some("electricity"));
        live.map(|f| (f.from, f.through.as_slice())).collect()
    }

    /// What draws, by number: what works, but a horn, lamp or light with alerts only while one of them shows, and what makes
    /// electricity whenever its own feed of electricity holds: that is its field.
    pub(super) fn drawing(&self, moment: &Moment) -> Vec<bool> {
        let mut on = moment.solution.first.works.clone();
        for (number, node) in self.nodes.iter().enumerate() {
            let warns = ["horn", "lamp", "light"].iter().any(|kind| node.is_kind(kind));
            let mut alerts = self.alerts.values().filter(|a| a.on == number).peekable();
            if warns && alerts.peek().is_some() {
                let lit = alerts.any(|a| {
                    let able = !moment.situation.taken[number] && self.hold_at_large(&a.needs, moment);
                    able && !self.hold_at_large(&a.watches, moment)
                });
                std::iter::once(&number).chain(&node.functions).for_each(|n| on[*n] &= lit);
            }
            if node.is_kind("alternator") || node.is_kind("generator") {
                let fed: Vec<Need> = node.needs.iter().filter(|need| self.is_electric(need)).cloned().collect();
                on[number] |= !fed.is_empty() && self.all_hold(&fed, number, moment);
            }
        }
        on
    }

    fn is_electric(&self, need: &Need) -> bool {
        let mut feeds = Vec::new();
        need.feeds(&mut feeds);
        feeds.iter().any(|f| self.nodes[f.from].gives.as_deref() == Some("electricity"))
    }

    fn is_item(&self, number: Number) -> bool {
        matches!(self.nodes[number].kind, NodeKind::Item { .. })
    }

    /// The nodes through which something gets its current: itself, else those of its functions that are fed.
    fn fed(&self, node: Number) -> Vec<Number> {
        let own = !self.electric(node).is_empty();
        let functions: Vec<Number> =
            self.nodes[node].functions.iter().copied().filter(|f| !self.electric(*f).is_empty()).collect();
        if own || functions.is_empty() { vec![node] } else { functions }
    }

    /// What the current of an item passes before it.
    pub(super) fn passed_before(&self, item: Number) -> BTreeSet<Number> {
        let (sources, passes) = (BTreeSet::new(), BTreeSet::new());
        let mut at = Consumer { id: String::new(), amps: 0.0, on_with: vec![item], sources, passes };
        self.follow(&mut at);
        at.passes.remove(&item);
        at.passes
    }

    fn follow(&self, consumer: &mut Consumer) {
        let mut open: Vec<Number> = consumer.on_with.iter().flat_map(|n| [*n, self.item_of(*n)]).collect();
        let mut seen: BTreeSet<Number> = BTreeSet::new();
        while let Some(at) = open.pop() {
            if !seen.insert(at) {
                continue;
            }
            for (from, through) in self.electric(at) {
                let items = through.iter().map(|t| self.item_of(*t)).filter(|i| self.is_item(*i));
                consumer.passes.extend(items);
                let source = self.item_of(from);
                if !self.is_item(source) {
                    continue;
                }
                if self.is_source(source) {
                    consumer.sources.insert(source);
                } else {
                    consumer.passes.insert(source);
                    open.push(from);
                }
            }
        }
    }
}

impl Desk<'_> {
    /// The voltage of the system: the highest of its alternators, else of its batteries.
    pub(super) fn system_volts(&self) -> Option<f64> {
        let of = |kinds: &[&str]| {
            let items = self.words.items().filter(|(_, t)| kinds.contains(&t.kind.as_str()));
            items.filter_map(|(id, _)| self.words.facts.quantity(id, "voltage", "V")).reduce(f64::max)
        };
        of(&["alternator", "generator"]).or_else(|| of(&["battery"]))
    }

    /// Everything that says what it draws.
    pub(super) fn consumers(&self, volts: Option<f64>) -> Vec<Consumer> {
        let (facts, model) = (&self.words.facts, self.model);
        let of = |(number, node): (Number, &crate::audit::parts::Node)| {
            let watts = || Some(facts.quantity(&node.id, "draws", "W")? / volts.filter(|v| *v > 0.0)?);
            let amps = facts.quantity(&node.id, "draws", "A").or_else(watts)?;
            let (sources, passes) = (BTreeSet::new(), BTreeSet::new());
            let mut consumer = Consumer { id: node.id.clone(), amps, on_with: model.fed(number), sources, passes };
            model.follow(&mut consumer);
            Some(consumer)
        };
        model.nodes.iter().enumerate().filter_map(of).collect()
    }

    /// For what share of the time something draws in a state.
    pub(super) fn duty(&self, id: &str, state: &str) -> f64 {
        self.words.facts.of.get(id).map_or(1.0, |f| f.duty_in.get(state).copied().unwrap_or(f.duty))
    }
}
