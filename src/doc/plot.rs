//! What a plot shows: values from the analysis, for the drawing to draw and for nobody to work out again.

use super::inline::Inlines;

/// One plot: charts under one another with one text alternative.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PlotShown {
    /// How to read it, and how its values are rounded.
    pub reading: Inlines,
    /// Stretches of the axis across, named over the first chart.
    pub bands: Vec<Band>,
    /// A stretch in which something is different.
    pub span: Option<Band>,
    /// The charts from top to bottom. Charts of curves have the axis across in common.
    pub charts: Vec<Chart>,
    /// Heads of the columns of the text alternative.
    pub head: Vec<Inlines>,
    /// Its rows: every value that is told, as a fact.
    pub rows: Vec<Vec<Inlines>>,
}

/// A stretch of the axis across.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Its name.
    pub label: Inlines,
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// One chart.
#[derive(Debug, Clone, PartialEq)]
pub enum Chart {
    /// Lines over an axis.
    Curves(Curves),
    /// Bars that lie under one another.
    Bars(Bars),
}

/// An axis with its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// What it measures.
    pub name: Inlines,
    /// Symbol of its unit.
    pub unit: &'static str,
    /// The least that it has to hold.
    pub from: f64,
    /// The most that it has to hold.
    pub to: f64,
}

/// Lines over an axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Curves {
    /// From left to right; it begins and ends where it says.
    pub across: Axis,
    /// From the bottom up; it is widened to round numbers.
    pub up: Axis,
    /// The lines, later ones over earlier ones.
    pub curves: Vec<Curve>,
    /// A place on the axis across that matters.
    pub level: Option<(f64, Inlines)>,
}

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// What stands at its end.
    pub label: Inlines,
    /// How it is drawn.
    pub stroke: Stroke,
    /// Corners: across, up.
    pub points: Vec<(f64, f64)>,
}

/// How a line is drawn, so that two differ without their colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stroke {
    /// Thin and whole: what is true, or what others are held against.
    Plain,
    /// Thick and broken: what is shown.
    Broken,
}

/// Bars that lie under one another, each from zero.
#[derive(Debug, Clone, PartialEq)]
pub struct Bars {
    /// Along the bars; it is widened to round numbers.
    pub along: Axis,
    /// From top to bottom.
    pub bars: Vec<Bar>,
    /// What the limits of the bars are.
    pub limit: Inlines,
}

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Of what.
    pub label: Inlines,
    /// Its length, not rounded.
    pub value: f64,
    /// Its length as it is shown.
    pub shown: Inlines,
    /// What it is held against, where there is such a thing.
    pub limit: Option<f64>,
}
