//! One chart, read by its ticks: from places back to values.

use crate::audit::page::{Letters, Plotted, PlottedSort, Spot};

/// Between the frame and the numbers at its left side, and below it, pt.
const GAP: f64 = 4.0;
/// From the middle of letters up or down to their base line, pt.
const MIDDLE: f64 = 3.5;
const CLOSE: f64 = 0.3;

/// Places and values along one axis.
#[derive(Debug, Clone)]
pub(super) struct Along {
    first: (f64, f64),
    last: (f64, f64),
}

impl Along {
    /// By ticks as place and value; they must be even.
    fn of(ticks: &[(f64, f64)]) -> Result<Self, String> {
        let (Some(first), Some(last)) = (ticks.first(), ticks.last()) else { return Err("no ticks".to_owned()) };
        let along = Self { first: *first, last: *last };
        if ticks.len() < 2 || (first.1 - last.1).abs() < 1e-12 || (first.0 - last.0).abs() < 1.0 {
            return Err("fewer than two ticks".to_owned());
        }
        match ticks.iter().find(|(place, value)| (along.place(*value) - place).abs() > super::NEAR) {
            Some((_, value)) => Err(format!("the tick {value} is not at its place")),
            None => Ok(along),
        }
    }

    pub(super) fn place(&self, value: f64) -> f64 {
        self.first.0 + (value - self.first.1) * (self.last.0 - self.first.0) / (self.last.1 - self.first.1)
    }

    pub(super) fn value(&self, place: f64) -> f64 {
        self.first.1 + (place - self.first.0) * self.per_point_signed()
    }

    fn per_point_signed(&self) -> f64 {
        (self.last.1 - self.first.1) / (self.last.0 - self.first.0)
    }

    /// How much one point stands for.
    pub(super) fn per_point(&self) -> f64 {
        self.per_point_signed().abs()
    }
}

/// A chart.
#[derive(Debug)]
pub(super) struct Graph {
    pub(super) frame: (Spot, Spot),
    /// What stands over it, or below a chart of bars.
    pub(super) heading: String,
    pub(super) across: Along,
    /// Of bars the same as `across`.
    pub(super) up: Along,
    /// Broken or whole, and corners.
    pub(super) curves: Vec<(bool, Vec<Spot>)>,
    /// Uprights: across, and from where to where.
    pub(super) levels: Vec<(f64, (f64, f64))>,
}

/// A number as ticks have it, perhaps with a true minus.
pub(super) fn number(text: &str) -> Option<f64> {
    text.trim().replace('\u{2212}', "-").parse().ok().filter(|n: &f64| n.is_finite())
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= CLOSE
}

impl Graph {
    /// Reads the chart in the frame of that number. The numbers across stand below the last frame.
    pub(super) fn read(plot: &Plotted, at: usize) -> Result<Self, String> {
        let (frame, last) = (plot.frames.get(at), plot.frames.last());
        let (Some(frame), Some(last)) = (frame.copied(), last.copied()) else { return Err("no frame".to_owned()) };
        let across = Along::of(&ticks_across(plot, last)?)?;
        let level_ticks = ticks_up(plot, frame)?;
        let up = if plot.bars.is_empty() { Along::of(&level_ticks)? } else { across.clone() };
        let inside = |p: &Spot| {
            p.0 >= frame.0.0 - CLOSE && p.0 <= frame.1.0 + CLOSE && p.1 >= frame.0.1 - CLOSE && p.1 <= frame.1.1 + CLOSE
        };
        let within = |points: &Vec<Spot>| points.iter().all(inside);
        let curves = plot.lines.iter().filter(|l| matches!(l.sort, PlottedSort::Plain | PlottedSort::Broken));
        let curves = curves.filter(|l| within(&l.points)).map(|l| (l.sort == PlottedSort::Broken, l.points.clone()));
        let levels = plot.lines.iter().filter(|l| l.sort == PlottedSort::Level && within(&l.points));
        let levels = levels.filter_map(|l| Some((l.points.first()?, l.points.last()?)));
        let heading = heading(plot, frame).ok_or("no heading")?;
        let levels = levels.map(|(a, b)| (a.0, (a.1.min(b.1), a.1.max(b.1)))).collect();
        Ok(Self { frame, heading, across, up, curves: curves.collect(), levels })
    }

    /// The height at which the lead of a label begins, at the right edge of the frame.
    pub(super) fn label_end(&self, plot: &Plotted, label: &str) -> Option<f64> {
        let beside = |l: &&Letters| {
            l.text == label && l.at.0 > self.frame.1.0 && l.at.1 > self.frame.0.1 - 9.0 && l.at.1 < self.frame.1.1 + 9.0
        };
        let letters = plot.letters.iter().find(beside)?;
        let leads = plot.lines.iter().filter(|l| l.sort == PlottedSort::Lead);
        let ends = leads.filter_map(|l| Some((l.points.first()?, l.points.last()?)));
        let mut own = ends.filter(|(from, to)| {
            close(from.0, self.frame.1.0) && close(to.0 + 2.0, letters.at.0) && close(to.1 + MIDDLE, letters.at.1)
        });
        own.next().map(|(from, _)| from.1)
    }
}

/// Over a chart of curves at its left, below a chart of bars.
fn heading(plot: &Plotted, (corner, end): (Spot, Spot)) -> Option<String> {
    let over =
        |l: &&Letters| l.anchor == "start" && l.at.1 < corner.1 && l.at.1 > corner.1 - 12.0 && l.at.0 <= corner.0;
    let below = |l: &&Letters| l.anchor == "start" && l.at.1 > end.1 && close(l.at.0, corner.0);
    let all = || plot.letters.iter();
    let found = if plot.bars.is_empty() { all().find(over) } else { all().find(below) };
    found.map(|l| l.text.clone())
}

/// Place and value of each upright grid line in a frame.
fn ticks_across(plot: &Plotted, (corner, end): (Spot, Spot)) -> Result<Vec<(f64, f64)>, String> {
    let mut found = Vec::new();
    for line in plot.lines.iter().filter(|l| l.sort == PlottedSort::Grid) {
        let (Some(a), Some(b)) = (line.points.first(), line.points.last()) else { continue };
        if !close(a.0, b.0) || !close(a.1.max(b.1), end.1) || !close(a.1.min(b.1), corner.1) {
            continue;
        }
        let below =
            |l: &&Letters| l.anchor == "middle" && close(l.at.0, a.0) && l.at.1 > end.1 && l.at.1 < end.1 + 18.0;
        let text = plot.letters.iter().find(below).ok_or("a grid line without a number below it")?;
        found.push((a.0, number(&text.text).ok_or_else(|| format!("“{}” is no number", text.text))?));
    }
    Ok(found)
}

/// Place and value of each level grid line in a frame.
fn ticks_up(plot: &Plotted, (corner, end): (Spot, Spot)) -> Result<Vec<(f64, f64)>, String> {
    let mut found = Vec::new();
    for line in plot.lines.iter().filter(|l| l.sort == PlottedSort::Grid) {
        let (Some(a), Some(b)) = (line.points.first(), line.points.last()) else { continue };
        let within = a.1 >= corner.1 - CLOSE && a.1 <= end.1 + CLOSE;
        if !close(a.1, b.1) || !within || close(a.0, b.0) {
            continue;
        }
        let left = |l: &&Letters| l.anchor == "end" && close(l.at.0, corner.0 - GAP) && close(l.at.1 - MIDDLE, a.1);
        let text = plot.letters.iter().find(left).ok_or("a grid line without a number beside it")?;
        found.push((a.1, number(&text.text).ok_or_else(|| format!("“{}” is no number", text.text))?));
    }
    Ok(found)
}
