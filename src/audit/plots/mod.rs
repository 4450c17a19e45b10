//! Plots: every corner of every curve and every bar, turned back into values by the ticks that are drawn, and every value of the table
//! beside it, held against sums of the audit's own.

mod air;
mod current;
mod graph;

use super::book::Chapter;
use super::page::{Page, Plotted, Spot};
use super::tables::Desk;
use graph::Graph;

/// How far a drawn corner may lie from its place, pt: places are written to hundredths, and ticks too.
const NEAR: f64 = 0.03;
/// How far a time may lie from where it was written, pt.
const WRITTEN: f64 = 0.006;

const AIR: &str = ": what the instruments show (";
const CLOCKS: &str = "What the tachometer counts in one hour of the clock";
const ENDURANCE: &str = "How long the battery lasts alone, from the loss of the alternator (";
const LOAD: &str = "Continuous load in each state beside 80 % of the alternator";

impl Desk<'_> {
    /// Every plot of the page, and that none is missing.
    pub(super) fn check_plots(&mut self, page: &Page, book: &[Chapter]) {
        for plot in &page.plots {
            self.check_told(plot);
            match kind(&plot.title) {
                Some("blocked") => self.check_air(plot),
                Some("clocks") => self.check_clocks_plot(plot),
                Some("endurance") => self.check_endurance(plot),
                Some("load") => self.check_load(plot),
                _ => self.notes.find("unreadable", plot.name(), &plot.title, "the title of a known plot"),
            }
        }
        for part in page.parts.iter().filter(|p| p.chapter) {
            let Some(chapter) = book.iter().find(|c| c.id == part.id) else { continue };
            for wanted in ["blocked", "clocks", "endurance", "load"] {
                let called =
                    chapter.calls.iter().filter(|c| c.name == "plot" && c.kind.as_deref() == Some(wanted)).count();
                let drawn = page.plots.iter().filter(|p| p.chapter == part.name && kind(&p.title) == Some(wanted));
                let drawn = drawn.count();
                if drawn != called {
                    let says = format!("{drawn} plots of the kind {wanted}");
                    self.notes.find("drawing-missing", &part.name, says, format!("{called}"));
                }
            }
        }
    }

    /// The words inside the drawing are those of the table.
    fn check_told(&mut self, plot: &Plotted) {
        let rows = plot.rows.iter().filter(|row| !row.is_empty());
        for row in rows.chain([&plot.head]) {
            let line = format!("{}.", row.join("; "));
            if !plot.told.lines().any(|told| told.trim_end_matches("</desc>") == line) {
                self.notes.find("drawing-wrong", format!("{}, in words", plot.name()), "another line, or none", line);
            }
        }
    }

    /// Heads of the table, and its rows.
    fn rows<'p>(&mut self, plot: &'p Plotted, head: &[&str]) -> Vec<&'p Vec<String>> {
        if plot.head != head {
            self.unreadable_plot(plot, &plot.head.join(" | "), &head.join(" | "));
        }
        plot.rows.iter().filter(|row| !row.is_empty()).collect()
    }

    fn unreadable_plot(&mut self, plot: &Plotted, says: &str, wants: &str) {
        self.notes.find("unreadable", plot.name(), says, wants);
    }

    /// A value as it is printed: in its unit, a multiple of its step, and within half a step of the truth.
    fn check_value(&mut self, place: &str, shown: &str, (truth, step, unit): (f64, f64, &str)) {
        self.notes.report.proved.numbers += 1;
        let read = shown.strip_suffix(unit).and_then(|n| graph::number(n.trim_end()));
        let right = read.is_some_and(|n| {
            let steps = n / step;
            (n - truth).abs() <= step / 2.0 + 1e-6 && (steps - libm::round(steps)).abs() < 1e-6
        });
        if !right {
            self.notes.find("number-wrong", place, shown, format!("{truth:.2} {unit}, rounded to {step}"));
        }
    }

    /// The step of rounding is said as it is.
    fn check_reading(&mut self, plot: &Plotted, wants: &str) {
        if !plot.reading.contains(wants) {
            self.notes.find("number-wrong", format!("{}, how to read it", plot.name()), &plot.reading, wants);
        }
    }

    /// One chart of a plot, read by its ticks.
    fn graph(&mut self, plot: &Plotted, at: usize) -> Option<Graph> {
        match Graph::read(plot, at) {
            Ok(graph) => Some(graph),
            Err(why) => {
                self.notes.find("tick-wrong", plot.name(), why, "round ticks at even places, each with its number");
                None
            }
        }
    }

    /// Corners of a curve against what belongs at their places; `truth` gives the least and the most that can stand at a time.
    fn check_curve(&mut self, place: &str, (graph, points): (&Graph, &[Spot]), truth: &dyn Fn(f64) -> (f64, f64)) {
        self.notes.report.proved.numbers += points.len();
        let slack = WRITTEN * graph.across.per_point();
        for (x, y) in points {
            let at = graph.across.value(*x);
            let around = [at - slack, at, at + slack].map(truth);
            let low = around.iter().map(|r| r.0).fold(f64::MAX, f64::min);
            let high = around.iter().map(|r| r.1).fold(f64::MIN, f64::max);
            let (high, low) = (graph.up.place(high), graph.up.place(low));
            if !(*y >= high - NEAR && *y <= low + NEAR) {
                let says = format!("{:.1} at {at:.2}", graph.up.value(*y));
                let wants = format!("{:.1}", truth(at).0);
                return self.notes.find("curve-wrong", place, says, wants);
            }
        }
    }

    /// A curve has a corner at each of these times.
    fn check_corners(&mut self, place: &str, (graph, points): (&Graph, &[Spot]), times: &[f64]) {
        for time in times {
            let x = graph.across.place(*time);
            if !points.iter().any(|p| (p.0 - x).abs() <= NEAR) {
                self.notes.find("curve-wrong", place, "no corner", format!("one at {time:.2}"));
            }
        }
    }

    fn check_clocks_plot(&mut self, plot: &Plotted) {
        let reference = self.words.reference_speed.as_deref().and_then(super::amount::Amount::read);
        let Some(reference) = reference.and_then(|a| a.number_in("rpm")) else {
            return self.unreadable_plot(plot, "a reference speed", "none in the model");
        };
        let counts = |rpm: f64| 60.0 * rpm / reference;
        self.check_reading(plot, "Times are rounded to 0.1 min.");
        for row in self.rows(plot, &["Engine speed", "Clock", "Tachometer"]) {
            let [speed, clock, tach] = row.as_slice() else { continue };
            let place = format!("{}, row “{speed}”", plot.name());
            let rpm = speed.strip_suffix(" rpm").and_then(graph::number).unwrap_or(f64::NAN);
            self.check_value(&place, clock, (60.0, 1.0, "min"));
            self.check_value(&place, tach, (counts(rpm), 0.1, "min"));
        }
        let Some(graph) = self.graph(plot, 0) else { return };
        let (place, end) = (plot.name(), graph.across.value(graph.frame.1.0));
        for (label, points) in self.named(plot, &graph, &["clock", "tachometer"]) {
            let truth: &dyn Fn(f64) -> f64 = if label == "clock" { &|_| 60.0 } else { &counts };
            self.check_curve(&format!("{place}, line “{label}”"), (&graph, &points), &|at| (truth(at), truth(at)));
            self.check_corners(&format!("{place}, line “{label}”"), (&graph, &points), &[0.0, end]);
        }
        let levels: Vec<f64> = graph.levels.iter().map(|(x, _)| graph.across.value(*x)).collect();
        let label = plot.letters.iter().any(|l| l.text == format!("{reference} rpm"));
        if !matches!(levels.as_slice(), [one] if (one - reference).abs() <= NEAR * graph.across.per_point()) || !label {
            let says = levels.iter().map(|l| format!("{l:.1}")).collect::<Vec<_>>().join(", ");
            self.notes.find("curve-wrong", format!("{place}, upright"), says, format!("{reference} rpm, named"));
        }
    }

    /// The curves of a chart by the labels at their ends; the label and its line hang together by a thin lead, and what is true or
    /// held against is whole, what is shown is broken.
    fn named(&mut self, plot: &Plotted, graph: &Graph, labels: &[&'static str; 2]) -> Vec<(&'static str, Vec<Spot>)> {
        let mut found = Vec::new();
        for (label, broken) in labels.iter().zip([false, true]) {
            let end = graph.label_end(plot, label);
            let curve = graph.curves.iter().find(|(is, points)| {
                *is == broken && points.last().zip(end).is_some_and(|(last, end)| (last.1 - end).abs() <= NEAR)
            });
            match curve {
                Some((_, points)) => found.push((*label, points.clone())),
                None => self.notes.find("curve-wrong", plot.name(), format!("no line at the label “{label}”"), "one"),
            }
        }
        if graph.curves.len() != 2 {
            self.notes.find("curve-wrong", plot.name(), format!("{} lines", graph.curves.len()), "two");
        }
        found
    }
}

fn kind(title: &str) -> Option<&'static str> {
    match title {
        CLOCKS => Some("clocks"),
        LOAD => Some("load"),
        _ if title.contains(AIR) => Some("blocked"),
        _ if title.starts_with(ENDURANCE) => Some("endurance"),
        _ => None,
    }
}
