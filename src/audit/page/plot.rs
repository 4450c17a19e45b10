//! A plot as it is seen: frames, grid lines, curves, bars, letters with their places, and the table beside it.

use super::{Place, Spot, has_class, lines};
use scraper::ElementRef;
use scraper::node::Element;

/// A figure with at least one chart.
#[derive(Debug, Default, Clone)]
pub(in crate::audit) struct Plotted {
    pub(in crate::audit) chapter: Place,
    pub(in crate::audit) title: String,
    pub(in crate::audit) reading: String,
    /// Upper left and lower right corner of each frame.
    pub(in crate::audit) frames: Vec<(Spot, Spot)>,
    pub(in crate::audit) bars: Vec<(Spot, Spot)>,
    pub(in crate::audit) letters: Vec<Letters>,
    pub(in crate::audit) lines: Vec<Line>,
    /// What is told to those who do not see it.
    pub(in crate::audit) told: String,
    pub(in crate::audit) head: Vec<String>,
    pub(in crate::audit) rows: Vec<Vec<String>>,
}

/// A line of letters.
#[derive(Debug, Clone)]
pub(in crate::audit) struct Letters {
    pub(in crate::audit) at: Spot,
    /// `start`, `middle`, `end`.
    pub(in crate::audit) anchor: String,
    pub(in crate::audit) text: String,
}

/// What sort of line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::audit) enum Sort {
    Grid,
    Level,
    Lead,
    /// Where one stretch ends and the next begins.
    Bound,
    /// A whole curve.
    Plain,
    /// One with gaps.
    Broken,
}

/// A line with its corners.
#[derive(Debug, Clone)]
pub(in crate::audit) struct Line {
    pub(in crate::audit) sort: Sort,
    pub(in crate::audit) points: Vec<Spot>,
}

impl Plotted {
    /// Nothing of a figure without a chart.
    pub(super) fn read(figure: ElementRef<'_>, chapter: &Place) -> Option<Self> {
        let mut plot = Self { chapter: chapter.clone(), ..Self::default() };
        for inner in figure.descendent_elements() {
            plot.note(inner, inner.value());
        }
        (!plot.frames.is_empty()).then_some(plot)
    }

    fn note(&mut self, inner: ElementRef<'_>, element: &Element) {
        let words = || lines(inner).join(" ");
        match element.name() {
            "p" if has_class(element, "figure-title") => self.title = words(),
            "p" if has_class(element, "figure-reading") => self.reading = words(),
            "desc" => self.told = inner.text().collect(),
            "th" => self.head.push(words()),
            "tr" => self.rows.push(Vec::new()),
            "td" => self.rows.last_mut().into_iter().for_each(|row| row.push(words())),
            "text" => self.letters.push(Letters {
                at: (number(element, "x"), number(element, "y")),
                anchor: element.attr("text-anchor").unwrap_or("start").to_owned(),
                text: words(),
            }),
            "rect" if has_class(element, "chart") => self.frames.push(corners(element)),
            "rect" if has_class(element, "plot-bar") => self.bars.push(corners(element)),
            _ => self.lines.extend(line(element)),
        }
    }

    /// The drawing as a reader would name it.
    pub(in crate::audit) fn name(&self) -> String {
        format!("{}, plot “{}”", self.chapter, self.title)
    }
}

fn line(element: &Element) -> Option<Line> {
    let classes = [
        ("grid", Sort::Grid),
        ("level", Sort::Level),
        ("lead", Sort::Lead),
        ("bound", Sort::Bound),
        ("curve-plain", Sort::Plain),
    ];
    let known = classes.into_iter().chain([("curve-broken", Sort::Broken)]);
    let (_, mut sort) = known.into_iter().find(|(class, _)| has_class(element, class))?;
    if matches!(sort, Sort::Plain | Sort::Broken) {
        sort = if element.attr("stroke-dasharray").is_some() { Sort::Broken } else { Sort::Plain };
    }
    let text = element.attr("points").or_else(|| element.attr("d"))?;
    let numbers: Vec<f64> =
        text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).filter_map(|n| n.parse().ok()).collect();
    Some(Line { sort, points: numbers.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect() })
}

fn corners(element: &Element) -> (Spot, Spot) {
    let get = |key: &str| number(element, key);
    let (x, y) = (get("x"), get("y"));
    ((x, y), (x + get("width"), y + get("height")))
}

fn number(element: &Element, key: &str) -> f64 {
    element.attr(key).and_then(|text| text.parse().ok()).unwrap_or(f64::NAN)
}
