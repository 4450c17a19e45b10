//! A flight with an opening blocked: what each instrument shows at any time, from plain formulas.
//!
//! # Source
//! ICAO Doc 7488/3 for pressure and height below 11 km; NASA RP-1046 (1980) for impact pressure and calibrated airspeed.

use super::{AIR, Graph};
use crate::audit::numbers::{Facts, Flight, airspeed, altitude, impact, points, pressure};
use crate::audit::page::{Plotted, PlottedLine, PlottedSort, Spot};
use crate::audit::tables::Desk;

const OPENINGS: [(&str, Opening); 4] = [
    ("Static ports blocked", Opening::Static),
    ("Ram hole blocked, drain open", Opening::Ram),
    ("Ram hole and drain blocked", Opening::RamAndDrain),
    ("Alternate static source open to the cabin", Opening::Cabin),
];
const HEAD: [&str; 8] = [
    "Leg",
    "Its end",
    "Airspeed, as it is",
    "Airspeed, shown",
    "Altitude, as it is",
    "Altitude, shown",
    "Vertical speed, as it is",
    "Vertical speed, shown",
];
const INSTRUMENTS: [(&str, f64, &str); 3] =
    [("Airspeed, kt", 1.0, "kt"), ("Altitude, ft", 10.0, "ft"), ("Vertical speed, ft/min", 10.0, "ft/min")];

#[derive(Debug, Clone, Copy, PartialEq)]
enum Opening {
    Static,
    Ram,
    RamAndDrain,
    Cabin,
}

/// The flight with what is blocked.
struct Flown<'s> {
    flight: &'s Flight,
    /// Height and airspeed at the beginning, then at the end of each leg.
    points: Vec<(f64, f64)>,
    opening: Opening,
    /// The first leg in which it is so.
    from: usize,
    cabin_hpa: f64,
}

impl Flown<'_> {
    /// When each leg begins, and when the last one ends.
    fn times(&self) -> Vec<f64> {
        let mut times = vec![0.0];
        for leg in &self.flight.legs {
            times.push(times.last().copied().unwrap_or(0.0) + leg.minutes);
        }
        times
    }

    /// Height and airspeed in a leg.
    fn real(&self, leg: usize, at: f64) -> (f64, f64) {
        let (from, to, begin) = (self.points[leg], self.points[leg + 1], self.times()[leg]);
        let share = ((at - begin) / self.flight.legs[leg].minutes).clamp(0.0, 1.0);
        (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share)
    }

    /// Pressures in the static and the pitot line.
    fn lines(&self, leg: usize, at: f64) -> (f64, f64) {
        let (feet, knots) = self.real(leg, at);
        let still = pressure(feet);
        if leg < self.from {
            return (still, still + impact(knots));
        }
        let (then, fast) = self.points[self.from];
        match self.opening {
            Opening::Static => (pressure(then), still + impact(knots)),
            Opening::Ram => (still, still),
            Opening::RamAndDrain => (still, pressure(then) + impact(fast)),
            Opening::Cabin => (still + self.cabin_hpa, still + impact(knots)),
        }
    }

    /// Airspeed, altitude and vertical speed in a leg: true, then shown.
    fn readings(&self, leg: usize, at: f64) -> [(f64, f64); 3] {
        let (feet, knots) = self.real(leg, at);
        let (still, whole) = self.lines(leg, at);
        let (begin, end) = (self.times()[leg], self.times()[leg + 1]);
        let rate = |of: &dyn Fn(f64) -> f64| (of(end) - of(begin)) / (end - begin);
        let climb = rate(&|at| self.real(leg, at).0);
        let shown = rate(&|at| altitude(self.lines(leg, at).0));
        [(knots, airspeed(whole - still)), (feet, altitude(still)), (climb, shown)]
    }

    /// The least and the most that can stand at a time: two legs meet at some.
    fn around(&self, which: usize, shown: bool, at: f64) -> (f64, f64) {
        let times = self.times();
        let here = (0..self.flight.legs.len()).filter(|leg| at >= times[*leg] - 1e-3 && at <= times[leg + 1] + 1e-3);
        let pick = |leg: usize| {
            let (real, seen) = self.readings(leg, at)[which];
            if shown { seen } else { real }
        };
        let all: Vec<f64> = here.map(pick).collect();
        // Within a leg the drawn rate is taken over parts of it, the rate here over all of it.
        let slack = if which == 2 { 1.5 } else { 0.0 };
        let least = all.iter().copied().fold(f64::MAX, f64::min) - slack;
        (least, all.iter().copied().fold(f64::MIN, f64::max) + slack)
    }
}

impl Desk<'_> {
    /// Shown beside true, over the legs of a flight.
    pub(super) fn check_air(&mut self, plot: &Plotted) {
        let Some(flown) = flown(&plot.title, &self.words.facts) else {
            let wants = "an opening, a flight of the model, and a leg of it";
            return self.notes.find("unreadable", plot.name(), &plot.title, wants);
        };
        let wants = "Airspeed is rounded to 1 kt, altitude to 10 ft, vertical speed to 10 ft/min.";
        self.check_reading(plot, wants);
        self.check_legs(plot, &flown);
        self.check_bands(plot, &flown);
        self.check_bounds(plot, &flown);
        for (at, (heading, ..)) in INSTRUMENTS.iter().enumerate() {
            let Some(graph) = self.graph(plot, at) else { continue };
            if graph.heading != *heading {
                self.notes.find("curve-wrong", plot.name(), &graph.heading, *heading);
            }
            for (label, points) in self.named(plot, &graph, &["as it is", "shown"]) {
                let place = format!("{}, {heading}, line “{label}”", plot.name());
                let shown = label == "shown";
                self.check_curve(&place, (&graph, &points), &|time| flown.around(at, shown, time));
                self.check_corners(&place, (&graph, &points), &flown.times());
                self.check_ends(
                    &place,
                    (&graph, &points),
                    &|leg, time| {
                        let (real, seen) = flown.readings(leg, time)[at];
                        if shown { seen } else { real }
                    },
                    &flown.times(),
                );
            }
        }
        if plot.frames.len() != INSTRUMENTS.len() {
            self.notes.find("curve-wrong", plot.name(), format!("{} charts", plot.frames.len()), "three");
        }
    }

    /// At both ends of each leg the line has a corner with the value of that leg.
    fn check_ends(
        &mut self,
        place: &str,
        (graph, points): (&Graph, &[Spot]),
        truth: &dyn Fn(usize, f64) -> f64,
        times: &[f64],
    ) {
        for (leg, ends) in times.windows(2).enumerate() {
            for time in ends {
                let (x, y) = (graph.across.place(*time), graph.up.place(truth(leg, *time)));
                let room = super::NEAR + 1.5 / graph.up.per_point().max(1.0);
                if !points.iter().any(|p| (p.0 - x).abs() <= super::NEAR && (p.1 - y).abs() <= room) {
                    let wants = format!("{:.1} at {time:.1} min", truth(leg, *time));
                    return self.notes.find("curve-wrong", place, "no corner there", wants);
                }
            }
        }
    }

    fn check_legs(&mut self, plot: &Plotted, flown: &Flown<'_>) {
        let rows = self.rows(plot, &HEAD);
        let names: Vec<&String> = rows.iter().filter_map(|row| row.first()).collect();
        let legs: Vec<&String> = flown.flight.legs.iter().map(|l| &l.name).collect();
        if names != legs {
            let said = |all: &[&String]| all.iter().map(|n| n.as_str()).collect::<Vec<_>>().join(", ");
            return self.notes.find("name-missing", plot.name(), said(&names), said(&legs));
        }
        for (leg, row) in rows.iter().enumerate() {
            let end = flown.times()[leg + 1];
            let place = |column: usize| format!("{}, row “{}”, column “{}”", plot.name(), row[0], HEAD[column]);
            if row.len() != HEAD.len() {
                self.notes.find("unreadable", place(0), format!("{} cells", row.len()), "eight");
                continue;
            }
            self.check_value(&place(1), &row[1], (end, 1.0, "min"));
            for (at, (real, seen)) in flown.readings(leg, end).into_iter().enumerate() {
                let (_, step, unit) = INSTRUMENTS[at];
                self.check_value(&place(2 + 2 * at), &row[2 + 2 * at], (real, step, unit));
                self.check_value(&place(3 + 2 * at), &row[3 + 2 * at], (seen, step, unit));
            }
        }
    }

    /// In each chart an upright stands where one leg ends and the next begins.
    fn check_bounds(&mut self, plot: &Plotted, flown: &Flown<'_>) {
        let Some(graph) = self.graph(plot, 0) else { return };
        let times = flown.times();
        let places: Vec<f64> =
            times.iter().skip(1).take(times.len().saturating_sub(2)).map(|time| graph.across.place(*time)).collect();
        for (top, end) in plot.frames.iter().map(|frame| (frame.0.1, frame.1.1)) {
            let lines = plot.lines.iter().filter(|l| l.sort == PlottedSort::Bound);
            let spans = |l: &&PlottedLine| {
                let heights = || l.points.iter().map(|p| p.1);
                let (low, high) = (heights().fold(f64::MAX, f64::min), heights().fold(f64::MIN, f64::max));
                (low - top).abs() <= super::NEAR && (high - end).abs() <= super::NEAR
            };
            let mut seen: Vec<f64> = lines
                .filter(spans)
                .filter_map(|l| Some((l.points.first()?.0, l.points.last()?.0)))
                .map(|l| l.0)
                .collect();
            seen.sort_by(f64::total_cmp);
            let near = |(a, b): (&f64, &f64)| (a - b).abs() <= super::NEAR;
            if seen.len() != places.len() || !seen.iter().zip(&places).all(near) {
                let (says, wants) =
                    (format!("{} at other places", seen.len()), format!("{} ends of legs", places.len()));
                self.notes.find("curve-wrong", format!("{}, uprights of legs", plot.name()), says, wants);
            }
        }
    }

    /// Each leg is named over its middle, or by its number.
    fn check_bands(&mut self, plot: &Plotted, flown: &Flown<'_>) {
        let Some(graph) = self.graph(plot, 0) else { return };
        for (leg, ends) in flown.times().windows(2).enumerate() {
            let x = graph.across.place(ends[0].midpoint(ends[1]));
            let name = &flown.flight.legs[leg].name;
            let numbered = format!("{}  {name}", leg + 1).split_whitespace().collect::<Vec<_>>().join(" ");
            let over = plot.letters.iter().filter(|l| (l.at.0 - x).abs() <= 0.3 && l.at.1 < graph.frame.0.1);
            let here: Vec<&str> = over.map(|l| l.text.as_str()).collect();
            let by_number =
                here.contains(&(leg + 1).to_string().as_str()) && plot.letters.iter().any(|l| l.text == numbered);
            if !here.contains(&name.as_str()) && !by_number {
                self.notes.find("name-missing", format!("{}, over the chart", plot.name()), here.join(", "), name);
            }
        }
    }
}

/// `Static ports blocked: what the instruments show (lesson, from the leg “climb” on)`.
fn flown<'s>(title: &str, facts: &'s Facts) -> Option<Flown<'s>> {
    let (opening, rest) = title.split_once(AIR)?;
    let (_, opening) = OPENINGS.iter().find(|(words, _)| *words == opening)?;
    let (name, leg) = rest.strip_suffix("” on)")?.rsplit_once(", from the leg “")?;
    let flight = facts.flights.values().find(|f| f.name == name)?;
    let from = flight.legs.iter().position(|l| l.name == leg)?;
    let cabin_hpa = if *opening == Opening::Cabin { facts.cabin_hpa()? } else { 0.0 };
    Some(Flown { flight, points: points(flight), opening: *opening, from, cabin_hpa })
}
