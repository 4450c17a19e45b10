//! A drawing as plain data: marks with places in points. SVG (and later other formats) are written from it.
//!
//! What a drawing says, it says by visible marks alone: a box is an item, a bar a bus, a feed an open line whose consumer end
//! wears a wedge, lines that meet are joined only at a dot, a device is a symbol on a feed, a bracket at a consumer says which
//! of its feeds are enough, a flag says when a feed counts, a port stands for something drawn elsewhere.

use super::geometry::{Point, Rect};
use super::symbol::Symbol;

/// One drawing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scene {
    /// What it shows.
    pub title: String,
    /// How to read it, in one line.
    pub reading: String,
    /// Width, pt; at most 180 mm.
    pub width: f64,
    /// Height, pt.
    pub height: f64,
    /// Media that occur, in order of the model.
    pub media: Vec<SceneMedium>,
    /// Marks, later ones over earlier ones.
    pub marks: Vec<Mark>,
    /// Where the drawing may be parted: after so many marks, at this height. What comes after the last is the legend.
    pub folds: Vec<Fold>,
    /// The same in words, a line a connection.
    pub alternative: Vec<String>,
    /// The same as a table, its heads first; where there is one, each line of `alternative` is a row of it.
    pub table: Vec<Vec<String>>,
    /// Shapes that many scenes have in common, written once a page.
    pub shared: Option<std::sync::Arc<Shared>>,
}

/// Shapes that many scenes have in common.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Shared {
    /// The id by which they are used.
    pub id: String,
    /// The shapes, later ones over earlier ones.
    pub shapes: Vec<Shape>,
}

/// A place at which a long drawing may be parted, so that it can go on on the next page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fold {
    /// Marks before it.
    pub marks: usize,
    /// How far down, pt.
    pub bottom: f64,
}

/// A medium with its three marks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SceneMedium {
    /// `m-electricity`: the class of its lines.
    pub class: String,
    /// Its name.
    pub name: String,
    /// Two capitals at the line.
    pub tag: String,
    /// `#rrggbb` on light paper.
    pub colour: String,
    /// Ink and gap in turn, hundredths of a millimetre; none for a solid line.
    pub dashes: &'static [u16],
}

/// One mark.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// An item: closed outline, name inside.
    Box(BoxMark),
    /// A bus.
    Bar {
        /// The node.
        of: String,
        /// Its outline.
        rect: Rect,
        /// Its name, above the bar.
        name: Lettering,
    },
    /// An open line. Its last point is the tip of the wedge, if it wears one.
    Feed {
        /// Which of the scene's media.
        medium: usize,
        /// Corners in order from the source.
        points: Vec<Point>,
        /// It ends here, at a consumer.
        wedge: bool,
    },
    /// The tag of a medium, on its line.
    Tag {
        /// Which of the scene's media.
        medium: usize,
        /// Middle of the tag.
        at: Point,
    },
    /// Where lines are joined.
    Dot(Point),
    /// A symbol on a feed, with its name.
    Device {
        /// The node.
        of: String,
        /// What it is.
        symbol: Symbol,
        /// Its middle, on the line.
        at: Point,
        /// The line runs down through it.
        down: bool,
        /// A control that the pilot can reach: it wears a stalk with a bar.
        reached: bool,
        /// Its name.
        name: Lettering,
    },
    /// How many of the feeds that it spans are enough; its hooks point to the consumer.
    Bracket {
        /// The upright.
        x: f64,
        /// Upper and lower end.
        span: (f64, f64),
        /// "either", "2 of 3".
        word: Lettering,
    },
    /// A condition on the feed that it stands on.
    Flag {
        /// Its outline; the pole is its left edge.
        rect: Rect,
        /// "when LEFT".
        words: Lettering,
    },
    /// Stands for something drawn elsewhere.
    Port {
        /// The node.
        of: String,
        /// Its outline, the point to the right included.
        rect: Rect,
        /// It takes a feed (true) or gives one.
        takes: bool,
        /// Its name, and where it is drawn.
        name: Lettering,
    },
    /// One medium of the legend.
    Key {
        /// Which of the scene's media.
        medium: usize,
        /// Left end of its sample.
        at: Point,
    },
    /// A line of a plot.
    Curve {
        /// `curve-plain`, `curve-broken`.
        class: &'static str,
        /// Width of its line, pt.
        weight: f64,
        /// Ink and gap in turn, pt; none for a whole line.
        dashes: &'static [f64],
        /// Its corners.
        points: Vec<Point>,
    },
    /// A shape of the panel, which carries no connection.
    Shape(Shape),
    /// The number of a callout.
    Callout {
        /// The item.
        of: String,
        /// Middle.
        at: Point,
        /// From 1.
        number: usize,
    },
    /// Lettering alone.
    Words(Lettering),
    /// The shapes that the scene shares with others, moved by so much and then scaled about that place.
    Shared(Point, f64),
}

/// A box.
#[derive(Debug, Clone, PartialEq)]
pub struct BoxMark {
    /// The node.
    pub of: String,
    /// Its outline.
    pub rect: Rect,
    /// Its name.
    pub name: Lettering,
    /// What it is rated or draws; names of functions.
    pub small: Vec<Lettering>,
    /// A device that needs something itself: its symbol stands inside and a feed passes.
    pub holds: Option<(Symbol, Point)>,
}

/// Lines of text that hang together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lettering {
    /// From top to bottom.
    pub lines: Vec<String>,
    /// Where the base line of the first line is anchored.
    pub at: Point,
    /// Where along the line the anchor is.
    pub anchor: Anchor,
    /// Small print.
    pub small: bool,
    /// Size, pt; nothing less than 8 but numerals on faces.
    pub size: f64,
}

/// Where along a line of text its anchor lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Anchor {
    /// Left end.
    #[default]
    Start,
    /// Middle.
    Middle,
    /// Right end.
    End,
}

/// A shape with a class of the style sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// `face`, `part`, `arc arc-green`.
    pub class: &'static str,
    /// Width of its line, pt.
    pub weight: f64,
    /// What it is.
    pub form: Form,
}

/// What a shape is.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// Straight lines through points.
    Line(Vec<Point>),
    /// The same, closed.
    Polygon(Vec<Point>),
    /// A circle.
    Circle(Point, f64),
    /// Part of a circle: middle, radius, from and to in degrees clockwise from the top.
    Arc(Point, f64, f64, f64),
    /// A rectangle with rounded corners.
    Rect(Rect, f64),
    /// Straight strokes, each from its begin to its end.
    Strokes(Vec<(Point, Point)>),
}

impl Lettering {
    /// Lines at the usual size.
    pub fn new(lines: Vec<String>, at: Point, anchor: Anchor) -> Self {
        Self { lines, at, anchor, small: false, size: super::lettering::SIZE }
    }

    /// The same as small print.
    #[must_use]
    pub fn small(self) -> Self {
        Self { small: true, ..self }
    }

    /// The space that it takes.
    pub fn rect(&self) -> Rect {
        let wide = self.lines.iter().map(|l| super::lettering::width(l, self.size)).fold(0.0, f64::max);
        let left = match self.anchor {
            Anchor::Start => self.at.x,
            Anchor::Middle => self.at.x - wide / 2.0,
            Anchor::End => self.at.x - wide,
        };
        let leading = super::lettering::LEADING * self.size / super::lettering::SIZE;
        let below = leading * (self.lines.len().max(1) - 1) as f64 + self.size * 0.22;
        Rect::new(left, self.at.y - self.size * 0.74, wide, self.size * 0.74 + below)
    }
}
