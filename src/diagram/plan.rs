//! What a drawing of connections has to show, before anything has a place: parts, links between them, brackets and flags.

use super::lettering::{LEADING, wrap};
use super::scene::SceneMedium;
use super::symbol::Symbol;

/// All parts and links of one drawing.
#[derive(Debug, Clone, Default)]
pub(super) struct Plan {
    /// Parts; links refer to them by place.
    pub parts: Vec<Part>,
    /// Links.
    pub links: Vec<Link>,
    /// Media; links refer to them by place.
    pub media: Vec<SceneMedium>,
}

/// How a part is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    /// An item.
    Box,
    /// A bus.
    Bar,
    /// A device that needs something itself, so that a feed passes it and others end at it.
    Device(Symbol),
    /// Drawn elsewhere, gives to this drawing.
    Outside,
    /// Drawn elsewhere, takes from this drawing.
    Taker,
}

/// One part.
#[derive(Debug, Clone)]
pub(super) struct Part {
    /// The node (or system).
    pub of: String,
    /// How it is drawn.
    pub form: Form,
    /// Its name.
    pub name: String,
    /// Small print under the name.
    pub detail: String,
    /// What comes in, row by row: the item itself first, then its functions with their names.
    pub rows: Vec<Row>,
}

/// One row of a part: the item, or one of its functions.
#[derive(Debug, Clone, Default)]
pub(super) struct Row {
    /// Name of the function; nothing for the item.
    pub name: String,
    /// What comes in.
    pub inputs: Vec<Input>,
}

/// Something that comes in.
#[derive(Debug, Clone)]
pub(super) enum Input {
    /// A link, by place.
    Link(usize),
    /// A condition on its own.
    Flag(String),
    /// Several with a bracket.
    Group(String, Vec<Input>),
}

/// One connection.
#[derive(Debug, Clone)]
pub(super) struct Link {
    /// From this part.
    pub from: usize,
    /// Through these.
    pub through: Vec<Step>,
    /// To this part.
    pub to: usize,
    /// What flows.
    pub medium: usize,
    /// May be cut first where links run in a ring.
    pub sustained: bool,
}

/// Something on a connection.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Step {
    /// A device.
    Device {
        /// The node.
        of: String,
        /// Its symbol.
        symbol: Symbol,
        /// Its name.
        name: String,
        /// A control that the pilot can reach.
        reached: bool,
        /// The part that it also is, if it needs something itself.
        home: Option<usize>,
    },
    /// A condition.
    Flag(String),
}

impl Input {
    /// Every link in it.
    pub fn links(&self) -> Vec<usize> {
        match self {
            Self::Link(link) => vec![*link],
            Self::Flag(_) => Vec::new(),
            Self::Group(_, of) => of.iter().flat_map(Self::links).collect(),
        }
    }

    /// Height that its lines and flags take at the border of a part, pt.
    pub fn height(&self) -> f64 {
        match self {
            Self::Link(_) => PITCH,
            Self::Flag(words) => flag_height(words),
            Self::Group(_, of) => of.iter().map(Self::height).sum(),
        }
    }

    /// How deep its brackets are nested.
    pub fn depth(&self) -> usize {
        match self {
            Self::Group(_, of) => 1 + of.iter().map(Self::depth).max().unwrap_or(0),
            _ => 0,
        }
    }
}

/// Least distance of two feeds that end at one part, pt.
pub(super) const PITCH: f64 = LEADING + 4.5;

/// Widest line on a flag that stands on no feed, pt.
pub(super) const FLAG_WIDTH: f64 = 60.0;

/// Height of a flag that stands on no feed, with the space around it, pt.
pub(super) fn flag_height(words: &str) -> f64 {
    (wrap(words, FLAG_WIDTH).len() as f64 * LEADING + 6.0).max(PITCH)
}
