//! What passes 3 to 7 work on: vertices in columns, and edges that join each column to the next.

use crate::diagram::plan::Label;
use std::rc::Rc;

/// Space for a wedge at the border of a part, pt.
pub(super) const WEDGE: f64 = 7.0;
/// Space for one bracket with its word, pt.
pub(super) const BRACKET: f64 = 31.0;
/// Space for the tag of a medium after a source, pt.
pub(super) const TAG: f64 = 17.0;
/// Thickness of a bar, pt.
pub(super) const BAR: f64 = 6.0;
/// From the left edge of a chain that runs down to its line, pt.
pub(super) const CHAIN_INSET: f64 = 11.0;
/// Width of a pennant beside its words, pt.
pub(super) const PENNANT: f64 = 10.0;

/// One band in columns.
#[derive(Debug, Clone, Default)]
pub(super) struct Layers {
    /// Vertices; edges refer to them by place.
    pub vertices: Vec<Vertex>,
    /// Edges.
    pub edges: Vec<Edge>,
    /// Vertices of each column from top to bottom.
    pub columns: Vec<Vec<usize>>,
    /// Left edge of each column, then its width; set by `route`.
    pub places: Vec<(f64, f64)>,
    /// Width of the whole; set by `route`.
    pub width: f64,
    /// Height of the whole; set by `place`.
    pub height: f64,
    /// Place of each vertex in its column; set by `seat`.
    pub seats: Vec<usize>,
    /// Edges that leave each vertex, and edges that come to it; set when the columns are filled.
    pub joined: Vec<(Vec<usize>, Vec<usize>)>,
}

/// What a vertex stands for.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Stands {
    /// A part.
    Part(usize),
    /// Devices and flags, by place among the steps; true if they stand one below the other.
    Chain(Rc<[usize]>, bool),
    /// A part that is drawn elsewhere.
    Port(usize),
    /// A bus that is drawn in another band too; true if all of this band hangs on it.
    Bus(usize, bool),
    /// An edge that passes a column.
    Passing,
    /// A node of a graph that has nothing but a size.
    Plain,
}

/// Where something comes in.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Slot {
    /// Of a link.
    Link(usize),
    /// The line that passes a device.
    Pass,
    /// A condition on its own.
    Flag(Rc<Label>),
}

/// A bracket beside a part.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bracket {
    /// From the part's border to the left: 0 is the innermost.
    pub level: usize,
    /// Slots that it spans, and the two between which its word stands.
    pub slots: (usize, usize),
    /// Slots between which the word stands.
    pub word_between: (usize, usize),
    /// Its word.
    pub word: Rc<str>,
}

/// One vertex.
#[derive(Debug, Clone)]
pub(super) struct Vertex {
    /// What it stands for.
    pub stands: Stands,
    /// Its column.
    pub column: usize,
    /// Space left of the body: wedge, brackets, flags.
    pub left: f64,
    /// Width of the body.
    pub body: f64,
    /// Height.
    pub height: f64,
    /// Where the line leaves, from the top.
    pub out: f64,
    /// Where its own line leaves, if one passes it besides.
    pub own_out: f64,
    /// Where lines come in.
    pub slots: Vec<(Slot, f64)>,
    /// Brackets.
    pub brackets: Vec<Bracket>,
    /// Upper edge; set by `place`.
    pub y: f64,
    /// A bus: feeds leave it at heights of their own.
    pub is_bar: bool,
}

/// One edge.
#[derive(Debug, Clone)]
pub(super) struct Edge {
    /// From.
    pub from: usize,
    /// To.
    pub to: usize,
    /// Where it comes in.
    pub slot: usize,
    /// It ends at a consumer.
    pub wedge: bool,
    /// It is the own line of a device that another line passes.
    pub own: bool,
    /// What flows.
    pub medium: usize,
    /// Where it leaves; set by `place`.
    pub leaves: f64,
    /// Track between the columns; set by `route`, none if it runs straight.
    pub track: Option<f64>,
}

impl Layers {
    /// Edges that come from a vertex.
    pub fn out_of(&self, vertex: usize) -> impl Iterator<Item = usize> + '_ {
        self.joined.get(vertex).into_iter().flat_map(|(out, _)| out.iter().copied())
    }

    /// Edges that come to a vertex.
    pub fn ins(&self, vertex: usize) -> impl Iterator<Item = usize> + '_ {
        self.joined.get(vertex).into_iter().flat_map(|(_, ins)| ins.iter().copied())
    }

    /// About how wide and high it will be, before anything is placed; the columns need not be filled.
    pub fn extent(&self) -> (f64, f64) {
        let mut columns: Vec<Extent> = Vec::new();
        let mut gives = vec![false; self.vertices.len()];
        self.edges.iter().for_each(|edge| gives[edge.from] = true);
        for (vertex, gives) in self.vertices.iter().zip(gives) {
            if columns.len() <= vertex.column {
                columns.resize(vertex.column + 1, Extent::default());
            }
            columns[vertex.column].add(vertex, gives);
        }
        columns.iter().fold((0.0, 0.0), |(wide, high), column| {
            (wide + column.left + column.body + column.gap(), f64::max(high, column.high))
        })
    }

    /// Notes the place of each vertex in its column.
    pub fn seat(&mut self) {
        self.seats.resize(self.vertices.len(), 0);
        for column in &self.columns {
            column.iter().enumerate().for_each(|(at, vertex)| self.seats[*vertex] = at);
        }
    }

    /// Fills the columns and notes which edges are joined to which vertex.
    pub fn fill_columns(&mut self) {
        let count = self.vertices.iter().map(|v| v.column + 1).max().unwrap_or(0);
        self.columns = vec![Vec::new(); count];
        self.joined = vec![(Vec::new(), Vec::new()); self.vertices.len()];
        for (at, vertex) in self.vertices.iter().enumerate() {
            self.columns[vertex.column].push(at);
        }
        for (at, edge) in self.edges.iter().enumerate() {
            self.joined[edge.from].0.push(at);
            self.joined[edge.to].1.push(at);
        }
    }

    /// Where an edge comes in, from the top of the page.
    pub fn enters(&self, edge: &Edge) -> f64 {
        let to = &self.vertices[edge.to];
        to.y + to.slots.get(edge.slot).map_or(to.out, |s| s.1)
    }
}

/// About how large a column will be.
#[derive(Debug, Clone, Copy, Default)]
struct Extent {
    left: f64,
    body: f64,
    high: f64,
    sources: usize,
    /// Something that gives is more than a line or a chain of devices.
    tagged: bool,
}

impl Extent {
    fn add(&mut self, vertex: &Vertex, gives: bool) {
        self.left = self.left.max(vertex.left);
        self.body = self.body.max(vertex.body);
        self.high += vertex.height + 5.0;
        if gives {
            self.sources += 1;
            self.tagged |= !matches!(vertex.stands, Stands::Chain(..) | Stands::Passing);
        }
    }

    /// Space after the column.
    fn gap(&self) -> f64 {
        match (self.sources, self.tagged) {
            (0, _) => 0.0,
            (some, false) => 10.0 + some.min(2) as f64 * 4.0,
            (some, true) => TAG + 8.0 + some.min(8) as f64 * 4.0,
        }
    }
}

impl Vertex {
    /// Its size and nothing of what comes in.
    pub fn bare(&self, stands: Stands) -> Self {
        let Self { left, body, height, is_bar, .. } = *self;
        Self { left, body, height, is_bar, ..empty(stands) }
    }
}

/// A vertex without size.
pub(super) fn empty(stands: Stands) -> Vertex {
    Vertex {
        stands,
        column: 0,
        left: 0.0,
        body: 0.0,
        height: 0.0,
        out: 0.0,
        own_out: 0.0,
        slots: Vec::new(),
        brackets: Vec::new(),
        y: 0.0,
        is_bar: false,
    }
}
