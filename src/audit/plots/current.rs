//! Loads in states, and the time on the battery: the sums are those of the tables (`numbers`), held here against bars.
//!
//! # Source
//! AC 43.13-1B, paragraph 11-35, for the 80 %; 14 CFR 23.1353(h) before 2017 for the 30 min.

use super::{ENDURANCE, Graph};
use crate::audit::numbers::LoadIn;
use crate::audit::page::{Plotted, Spot};
use crate::audit::tables::Desk;
use std::collections::BTreeMap;

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
    pub(super) fn check_load(&mut self, plot: &Plotted) {
        self.check_reading(plot, "Currents are rounded to 0.1 A.");
        self.check_reading(plot, "at 80 % of the rating");
        let rows = self.rows(plot, &["State", "Continuous load", "At most"]);
        let states = self.words.states.clone().into_iter().filter_map(|(id, name)| Some((name, self.load_in(&id)?)));
        let mut left: BTreeMap<String, LoadIn> = states.collect();
        let Some((graph, bars)) = self.bars(plot, rows.len(), "Continuous load, A") else { return };
        for (row, bar) in rows.iter().zip(&bars) {
            let [name, load, most] = row.as_slice() else { continue };
            let place = format!("{}, row “{name}”", plot.name());
            let Some(truth) = left.remove(name) else {
                self.notes.find("name-extra", place, name, "a state that is reached, once");
                continue;
            };
            let allowed = (truth.rating > 0.0).then_some(truth.rating * SHARE);
            self.check_value(&place, load, (truth.steady, 0.1, "A"));
            match allowed {
                Some(allowed) => self.check_value(&place, most, (allowed, 0.1, "A")),
                None if most == "no alternator works" => {}
                None => self.notes.find("number-wrong", &place, most, "no alternator works"),
            }
            self.check_bar(&place, (&graph, bar), (name, load), (truth.steady, allowed));
        }
        for name in left.keys() {
            self.notes.find("name-missing", plot.name(), "no bar", name);
        }
    }

    pub(super) fn check_endurance(&mut self, plot: &Plotted) {
        self.check_reading(plot, "Times are rounded to 0.1 min.");
        self.check_reading(plot, "at the 30 min that the rules of certification asked for until 2017");
        let rows = self.rows(plot, &["What is off", "Time to the empty battery"]);
        let Some((_, state)) = self.battery_plan() else {
            let (says, wants) = ("time on a battery", "no battery or phases in the model");
            return self.notes.find("unreadable", plot.name(), says, wants);
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
            let more = label.strip_suffix(" off too").and_then(|name| self.item_named(name));
            match (at, more) {
                (0, None) if label == "nothing off" => {}
                (1, None) if label == "as planned" => {}
                (2.., Some(item)) => shed.push(item),
                _ => {
                    let wants = "nothing off, as planned, then “… off too” with an item";
                    self.notes.find("unreadable", place, label, wants);
                    continue;
                }
            }
            let truth = if at == 0 { self.minutes_with_all_on(1.0) } else { self.minutes_alone(&shed) };
            let truth = truth.unwrap_or(f64::NAN);
            self.check_value(&place, minutes, (truth, 0.1, "min"));
            self.check_bar(&place, (&graph, bar), (label, minutes), (truth, Some(LEAST)));
        }
    }

    fn item_named(&self, name: &str) -> Option<String> {
        let bare = crate::audit::speech::bare(name);
        let found = self.words.items().find(|(_, thing)| crate::audit::speech::bare(&thing.name) == bare);
        found.map(|(id, _)| id.clone())
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
