//! Loads in states, and the time on the battery, from the audit's own solver and plain sums.
//!
//! # Source
//! AC 43.13-1B, paragraph 11-35, for the 80 %; W. Peukert, Elektrotechnische Zeitschrift 20 (1897), for currents above that of the rating.

use super::sums::{Battery, Plan, Sums};
use super::{ENDURANCE, Graph};
use crate::audit::page::{Plotted, Spot};
use crate::audit::parts::{FaultName, NodeKind, Number, PlainModel};
use crate::audit::tables::Desk;
use std::collections::{BTreeMap, BTreeSet};

/// The share of the rating, and the minutes of the rule.
const SHARE: f64 = 0.8;
const LEAST: f64 = 30.0;

/// A bar as it is seen.
struct SeenBar {
    label: String,
    shown: String,
    /// Its end; nothing that counts where it does not begin at the edge of the frame.
    length: f64,
    limit: Option<f64>,
}

impl Desk<'_> {
    pub(super) fn check_load(&mut self, plot: &Plotted, sums: &Sums) {
        self.check_reading(plot, "Currents are rounded to 0.1 A.");
        self.check_reading(plot, "at 80 % of the rating");
        let rows = self.rows(plot, &["State", "Continuous load", "At most"]);
        let (makers, states) = (self.model.maker_ids(), self.words.states.clone());
        let mut left: BTreeMap<String, String> = states.into_iter().map(|(id, name)| (name, id)).collect();
        let Some((graph, bars)) = self.bars(plot, rows.len(), "Continuous load, A") else { return };
        for (row, bar) in rows.iter().zip(&bars) {
            let [name, load, most] = row.as_slice() else { continue };
            let place = format!("{}, row “{name}”", plot.name());
            let Some(state) = left.remove(name) else {
                self.notes.find("name-extra", place, name, "a state, once");
                continue;
            };
            let works = self.answer(&state).map(|a| a.works.clone()).unwrap_or_default();
            let volts = sums.system_volts(&makers);
            let carried = |node: &str| makers.is_empty() || !self.model.carriers(node).is_disjoint(&makers);
            let on = |node: &str| carried(node) && self.model.draws_now(node, &works);
            let steady = sums.draws.iter().filter(|(node, draw)| !draw.moments_only && on(node));
            let truth: f64 = steady.filter_map(|(_, draw)| draw.amps(volts)).sum();
            let rating = |m: &&String| works.contains(*m);
            let rated: f64 = makers.iter().filter(rating).filter_map(|m| sums.ratings.get(m)).sum();
            let allowed = (rated > 0.0).then_some(rated * SHARE);
            self.check_value(&place, load, (truth, 0.1, "A"));
            match allowed {
                Some(allowed) => self.check_value(&place, most, (allowed, 0.1, "A")),
                None if most == "no alternator works" => {}
                None => self.notes.find("number-wrong", &place, most, "no alternator works"),
            }
            self.check_bar(&place, (&graph, bar), (name, load), (truth, allowed));
        }
        for name in left.keys() {
            self.notes.find("name-missing", plot.name(), "no bar", name);
        }
    }

    pub(super) fn check_endurance(&mut self, plot: &Plotted, sums: &Sums) {
        self.check_reading(plot, "Times are rounded to 0.1 min.");
        self.check_reading(plot, "at the 30 min that");
        let rows = self.rows(plot, &["What is shed", "Time to the empty battery"]);
        let plan = sums.plan.as_ref();
        let battery = plan.and_then(|p| sums.batteries.get(&p.battery));
        let state = plan.and_then(|p| p.state.clone()).or_else(|| self.reference.clone());
        let (Some(plan), Some(battery), Some(state)) = (plan, battery, state) else {
            return self.notes.find(
                "unreadable",
                plot.name(),
                "time on a battery",
                "no battery or phases in the model",
            );
        };
        let wants = format!("{ENDURANCE}{})", self.words.states.get(&state).cloned().unwrap_or_default());
        if plot.title != wants {
            self.notes.find("drawing-wrong", plot.name(), &plot.title, wants);
        }
        let Some((graph, bars)) = self.bars(plot, rows.len(), "Time to the empty battery, min") else { return };
        let mut shed: Vec<String> = Vec::new();
        for (at, (row, bar)) in rows.iter().zip(&bars).enumerate() {
            let [label, minutes] = row.as_slice() else { continue };
            let place = format!("{}, row “{label}”", plot.name());
            let more = label.strip_prefix("and ").and_then(|name| self.item_named(name));
            match (at, more) {
                (0, None) if label == "as planned" => {}
                (1.., Some(item)) => shed.push(item),
                _ => {
                    self.notes.find("unreadable", place, label, "as planned, then “and the …” with an item");
                    continue;
                }
            }
            let truth = self.minutes_left((plan, battery, &state), sums, &shed);
            self.check_value(&place, minutes, (truth, 0.1, "min"));
            self.check_bar(&place, (&graph, bar), (label, minutes), (truth, Some(LEAST)));
        }
    }

    fn item_named(&self, name: &str) -> Option<String> {
        let bare = crate::audit::speech::bare(name);
        let found = self.words.items().find(|(_, thing)| crate::audit::speech::bare(&thing.name) == bare);
        found.map(|(id, _)| id.clone())
    }

    /// Minutes from the loss of the alternator until the battery is empty.
    fn minutes_left(&mut self, (plan, battery, state): (&Plan, &Battery, &str), sums: &Sums, shed: &[String]) -> f64 {
        let (mut positions, givens) = self.model.setting(state);
        positions.extend(shed.iter().filter_map(|id| Some((id.clone(), self.model.opened(id)?))));
        let lost: Vec<FaultName> = self.model.maker_ids().iter().map(|id| FaultName::from_text(id)).collect();
        let before = self.answer(state).map(|a| a.works.clone()).unwrap_or_default();
        let volts = sums.volts.get(&plan.battery).copied();
        let mut currents = Vec::new();
        for (lasts, controls) in &plan.phases {
            positions.extend(controls.iter().filter(|(id, _)| !shed.contains(id)).map(|(a, b)| (a.clone(), b.clone())));
            let works = self.model.solve_situation(&positions, &givens, &lost, Some(&before)).unwrap_or_default().works;
            let on = |node: &str| {
                let item = node.split('.').next().unwrap_or(node);
                !shed.iter().any(|s| s == item)
                    && self.model.carriers(node).contains(&plan.battery)
                    && self.model.draws_now(node, &works)
            };
            let drawn = sums.draws.iter().filter(|(node, _)| on(node));
            let mean = drawn.filter_map(|(_, d)| Some(d.amps(volts)? * d.duty.get(state).copied().unwrap_or(d.usual)));
            currents.push((mean.sum::<f64>(), *lasts));
        }
        battery.minutes(&currents)
    }

    /// The bars of a chart from the top down, each with the letters at its height.
    fn bars(&mut self, plot: &Plotted, count: usize, heading: &str) -> Option<(Graph, Vec<SeenBar>)> {
        let graph = self.graph(plot, 0)?;
        if graph.heading != heading || plot.bars.len() != count {
            let says = format!("{}, {} bars", graph.heading, plot.bars.len());
            self.notes.find("curve-wrong", plot.name(), says, format!("{heading}, {count} bars"));
            return None;
        }
        let mut all = plot.bars.clone();
        all.sort_by(|a, b| a.0.1.total_cmp(&b.0.1));
        let seen = all.iter().map(|bar| seen(plot, &graph, &all, *bar)).collect();
        Some((graph, seen))
    }

    fn check_bar(
        &mut self,
        place: &str,
        (graph, bar): (&Graph, &SeenBar),
        (label, shown): (&str, &str),
        (truth, limit): (f64, Option<f64>),
    ) {
        self.notes.report.proved.numbers += 1;
        let near = |a: f64, b: f64| (a - b).abs() <= super::NEAR * graph.across.per_point();
        if bar.label != label || bar.shown != shown {
            let says = format!("{}, {}", bar.label, bar.shown);
            self.notes.find("curve-wrong", format!("{place}, letters at the bar"), says, format!("{label}, {shown}"));
        }
        if !near(bar.length, truth) {
            let (says, wants) = (format!("{:.2}", bar.length), format!("{truth:.2}"));
            self.notes.find("curve-wrong", format!("{place}, length of the bar"), says, wants);
        }
        let right = match (bar.limit, limit) {
            (None, None) => true,
            (Some(a), Some(b)) => near(a, b),
            _ => false,
        };
        if !right {
            let text = |l: Option<f64>| l.map_or("none".to_owned(), |l| format!("{l:.2}"));
            self.notes.find("curve-wrong", format!("{place}, upright"), text(bar.limit), text(limit));
        }
    }
}

fn seen(plot: &Plotted, graph: &Graph, all: &[(Spot, Spot)], bar: (Spot, Spot)) -> SeenBar {
    let middle = |b: &(Spot, Spot)| b.0.1.midpoint(b.1.1);
    let own = |y: f64| {
        let nearest = all.iter().min_by(|a, b| (middle(a) - y).abs().total_cmp(&(middle(b) - y).abs()));
        nearest.is_some_and(|n| (middle(n) - middle(&bar)).abs() < 0.01)
    };
    let inside = |y: f64| y > graph.frame.0.1 && y < graph.frame.1.1;
    let here = plot.letters.iter().filter(|l| own(l.at.1 - 3.5) && inside(l.at.1));
    let (label, shown): (Vec<_>, Vec<_>) = here.partition(|l| l.at.0 < graph.frame.0.0);
    let text =
        |all: Vec<&crate::audit::page::Letters>| all.iter().map(|l| l.text.as_str()).collect::<Vec<_>>().join(" ");
    let level = graph.levels.iter().find(|(_, (from, to))| own(from.midpoint(*to)));
    let from_the_edge = (bar.0.0 - graph.frame.0.0).abs() <= super::NEAR;
    SeenBar {
        label: text(label),
        shown: text(shown),
        length: if from_the_edge { graph.across.value(bar.1.0) } else { f64::NAN },
        limit: level.map(|(x, _)| graph.across.value(*x)),
    }
}

impl Battery {
    /// Minutes until it is empty or the last phase ends; the phase without a time gets what the others leave.
    fn minutes(&self, phases: &[(f64, Option<f64>)]) -> f64 {
        let rated = self.over.map_or(f64::INFINITY, |hours| self.rated / hours);
        let counts = |amps: f64| {
            if amps <= rated { amps } else { amps * libm::pow(amps / rated, self.exponent - 1.0) }
        };
        let whole = self.rated * self.usable * 60.0;
        let fixed: f64 = phases.iter().map(|(amps, lasts)| counts(*amps) * lasts.unwrap_or(0.0)).sum();
        let (mut left, mut total) = (whole, 0.0);
        for (amps, lasts) in phases {
            let amps = counts(*amps);
            let wanted = lasts.unwrap_or((whole - fixed).max(0.0) / amps);
            let minutes = if amps > 0.0 { wanted.min(left / amps) } else { wanted };
            left = (left - amps * minutes).max(0.0);
            total += minutes;
        }
        total
    }
}

impl PlainModel {
    /// What makes electricity.
    fn maker_ids(&self) -> BTreeSet<String> {
        let made = self.nodes.iter().filter(|n| n.is_kind("alternator") || n.is_kind("generator"));
        made.map(|n| n.id.clone()).collect()
    }

    /// A position in which a control is open: `off` where that is one, else the first.
    fn opened(&self, id: &str) -> Option<String> {
        let control = self.nodes[*self.number.get(id)?].control.as_ref()?;
        let open = |p: &&String| !control.conducts_in.contains(*p);
        let off = control.positions.iter().find(|p| *p == "off").filter(open);
        off.or_else(|| control.positions.iter().find(open)).cloned()
    }

    /// The sources of electricity that a node is fed by directly.
    fn fed_by(&self, node: Number) -> Vec<Number> {
        let mut feeds = Vec::new();
        self.nodes[node].needs.iter().for_each(|need| need.feeds(&mut feeds));
        let live = |n: &Number| self.nodes[*n].gives.as_deref() == Some("electricity");
        feeds.iter().map(|f| f.from).filter(live).collect()
    }

    /// The nodes through which something gets its current: itself, else its functions.
    fn takers(&self, node: &str) -> Vec<Number> {
        let Some(number) = self.number.get(node) else { return Vec::new() };
        let is_fed = |n: &Number| !self.fed_by(*n).is_empty();
        let functions: Vec<Number> = self.nodes[*number].functions.iter().copied().filter(is_fed).collect();
        if is_fed(number) || functions.is_empty() { vec![*number] } else { functions }
    }

    /// Whether something is on, with what works.
    fn draws_now(&self, node: &str, works: &BTreeSet<String>) -> bool {
        self.takers(node).iter().any(|n| works.contains(&self.nodes[*n].id))
    }

    /// The batteries and alternators at the upper ends of its feeds.
    fn carriers(&self, node: &str) -> BTreeSet<String> {
        let mut open = self.takers(node);
        let items: Vec<Number> = open.iter().map(|n| self.device(*n)).collect();
        open.extend(items);
        let (mut seen, mut found) = (BTreeSet::new(), BTreeSet::new());
        while let Some(at) = open.pop() {
            if !seen.insert(at) {
                continue;
            }
            for from in self.fed_by(at) {
                let item = &self.nodes[self.device(from)];
                if ["battery", "alternator", "generator"].iter().any(|kind| item.is_kind(kind)) {
                    found.insert(item.id.clone());
                } else {
                    open.push(from);
                }
            }
        }
        found
    }

    fn device(&self, node: Number) -> Number {
        match self.nodes[node].kind {
            NodeKind::Function { item } => item,
            NodeKind::Item { .. } | NodeKind::Given { .. } => node,
        }
    }
}
