//! A drawing of the panel as it is seen: plates, signs and needles by where they stand, lettering, and the text alternative.

use super::{Place, has_class, lines};
use crate::audit::drawing::Ink;
use scraper::ElementRef;
use scraper::node::Element;

/// A place on a drawing.
pub(in crate::audit) type Spot = (f64, f64);

/// A figure with a title and a text alternative.
#[derive(Debug, Default)]
pub(in crate::audit) struct Drawn {
    /// The chapter that it stands in.
    pub(in crate::audit) chapter: Place,
    pub(in crate::audit) title: String,
    /// The same in words, a line each.
    pub(in crate::audit) alternative: Vec<String>,
    pub(in crate::audit) panels: Vec<DrawnPanel>,
    /// Lettering after the last panel.
    pub(in crate::audit) legend: Vec<String>,
    /// The marks, where it is no drawing of the panel.
    pub(in crate::audit) ink: Option<Ink>,
}

/// One panel of a figure.
#[derive(Debug, Default)]
pub(in crate::audit) struct DrawnPanel {
    /// The last lettering before it.
    pub(in crate::audit) heading: String,
    /// Upper left corner and width of its plate.
    pub(in crate::audit) corner: Spot,
    pub(in crate::audit) width: f64,
    pub(in crate::audit) height: f64,
    /// Where the outlines of faces are put, and how much they are enlarged.
    pub(in crate::audit) outlines: Vec<(Spot, f64)>,
    /// Classes and middles of what is drawn.
    pub(in crate::audit) marks: Vec<(String, Spot)>,
    /// From where to where.
    pub(in crate::audit) needles: Vec<(Spot, Spot)>,
    /// Numbers on the plate, with their middles.
    pub(in crate::audit) numbers: Vec<(usize, Spot)>,
    /// Lettering after it, up to the heading of the next.
    pub(in crate::audit) words: Vec<String>,
}

/// The middle of a figure is so far above its base line, pt.
const RISE: f64 = 2.9;

impl DrawnPanel {
    /// Whether it lies on the plate.
    pub(in crate::audit) fn holds(&self, at: Spot) -> bool {
        let (x, y) = (at.0 - self.corner.0, at.1 - self.corner.1);
        x >= 0.0 && y >= 0.0 && x <= self.width && y <= self.height
    }
}

impl Drawn {
    pub(super) fn read(figure: ElementRef<'_>, chapter: &Place) -> Self {
        let mut drawn = Self { chapter: chapter.clone(), ..Self::default() };
        for inner in figure.descendent_elements() {
            let element = inner.value();
            match element.name() {
                "p" if has_class(element, "figure-title") => drawn.title = lines(inner).join(" "),
                "li" => drawn.alternative.push(lines(inner).join(" ")),
                "text" => drawn.note_text(element, lines(inner).join(" ")),
                "rect" if has_class(element, "plate-edge") => drawn.begin_panel(element),
                "use" => drawn.note_use(element),
                _ => drawn.note_mark(element),
            }
        }
        drawn.ink = drawn.panels.is_empty().then(|| Ink::read(figure));
        drawn
    }

    /// The drawing as a reader would name it.
    pub(in crate::audit) fn name(&self) -> String {
        format!("{}, drawing “{}”", self.chapter, self.title)
    }

    fn begin_panel(&mut self, plate: &Element) {
        let heading = self.legend.pop().unwrap_or_default();
        let words = std::mem::take(&mut self.legend);
        if let Some(before) = self.panels.last_mut() {
            before.words = words;
        }
        let corner = (number(plate, "x"), number(plate, "y"));
        let (width, height) = (number(plate, "width"), number(plate, "height"));
        self.panels.push(DrawnPanel { heading, corner, width, height, ..DrawnPanel::default() });
    }

    /// A number on a plate is that of a face; all else is lettering beside.
    fn note_text(&mut self, element: &Element, text: String) {
        let at = (number(element, "x"), number(element, "y") - RISE);
        let plate = self.panels.last_mut().filter(|panel| panel.holds(at));
        match (plate, text.parse()) {
            (Some(panel), Ok(number)) => panel.numbers.push((number, at)),
            _ => self.legend.push(text),
        }
    }

    fn note_use(&mut self, element: &Element) {
        let moved = element.attr("transform").map(numbers).unwrap_or_default();
        if let (Some(panel), [x, y, rest @ ..]) = (self.panels.last_mut(), moved.as_slice()) {
            panel.outlines.push(((*x, *y), rest.first().copied().unwrap_or(1.0)));
        }
    }

    fn note_mark(&mut self, element: &Element) {
        let (Some(class), Some(panel)) = (element.attr("class"), self.panels.last_mut()) else { return };
        let points = outline(element);
        if let (true, [from, to]) = (has_class(element, "needle"), points.as_slice()) {
            panel.needles.push((*from, *to));
        } else if let Some(middle) = middle(&points) {
            panel.marks.push((class.to_owned(), middle));
        }
    }
}

/// The middles and sizes of the faces in the outlines that drawings of a page share.
pub(in crate::audit) fn faces(element: &Element) -> Option<(Spot, Spot)> {
    let points = outline(element);
    let middle = middle(&points).filter(|_| has_class(element, "face"))?;
    let size = |pick: fn(&Spot) -> f64, at: f64| 2.0 * points.iter().map(|p| (pick(p) - at).abs()).fold(0.0, f64::max);
    Some((middle, (size(|p| p.0, middle.0), size(|p| p.1, middle.1))))
}

/// Corners of a shape, or of what encloses it.
fn outline(element: &Element) -> Vec<Spot> {
    let get = |key: &str| number(element, key);
    match element.name() {
        "circle" => {
            let (x, y, r) = (get("cx"), get("cy"), get("r"));
            vec![(x - r, y - r), (x + r, y + r)]
        }
        "rect" => vec![(get("x"), get("y")), (get("x") + get("width"), get("y") + get("height"))],
        "path" => pairs(element.attr("d").unwrap_or_default()),
        "polyline" | "polygon" => pairs(element.attr("points").unwrap_or_default()),
        _ => Vec::new(),
    }
}

fn middle(points: &[Spot]) -> Option<Spot> {
    let span = |pick: fn(&Spot) -> f64| {
        let all = points.iter().map(pick);
        all.clone().fold(f64::MAX, f64::min).midpoint(all.fold(f64::MIN, f64::max))
    };
    (!points.is_empty()).then(|| (span(|p| p.0), span(|p| p.1)))
}

/// A number of an attribute; nothing written is zero.
pub(in crate::audit) fn number(element: &Element, key: &str) -> f64 {
    element.attr(key).and_then(|text| text.parse().ok()).unwrap_or(0.0)
}

/// Every number of a text.
pub(in crate::audit) fn numbers(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).filter_map(|n| n.parse().ok()).collect()
}

/// Every two numbers of a text as a spot.
pub(in crate::audit) fn pairs(text: &str) -> Vec<Spot> {
    numbers(text).chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}
