//! What a drawing of connections has to show, before anything has a place: parts, links between them, brackets and flags.

use super::lettering::{LEADING, widest, wrap};
use super::scene::SceneMedium;
use super::symbol::Symbol;
use std::rc::Rc;

/// Widest line of a part's name, pt.
const NAME_WIDTH: f64 = 62.0;
/// Widest line of a port, pt.
const PORT_WIDTH: f64 = 74.0;
/// Widest line of a device's name, pt.
const DEVICE_WIDTH: f64 = 50.0;
/// Widest line on a flag that stands on a feed, pt.
const STEP_FLAG_WIDTH: f64 = 54.0;
/// Widest line on a flag that stands on no feed, pt.
const FLAG_WIDTH: f64 = 60.0;

/// All parts and links of one drawing.
#[derive(Debug, Clone, Default)]
pub(super) struct Plan {
    /// Parts; links refer to them by place.
    pub parts: Vec<Part>,
    /// Links.
    pub links: Vec<Link>,
    /// What stands on links, each once; links refer to them by place.
    pub steps: Vec<Step>,
    /// Media; links refer to them by place.
    pub media: Vec<SceneMedium>,
    /// Where it is drawn in pieces, each says what it is about.
    pub titled: bool,
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

/// A text, and how it stands in lines.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Label {
    /// The text.
    pub text: String,
    /// From top to bottom.
    pub lines: Vec<String>,
    /// Width of the widest line, pt.
    pub wide: f64,
}

impl Label {
    /// The text in lines of at most so many points.
    fn new(text: String, most: f64) -> Self {
        let lines = wrap(&text, most);
        Self { wide: widest(&lines), lines, text }
    }

    /// What stands in or at a box or bar.
    pub fn in_part(text: String) -> Self {
        Self::new(text, NAME_WIDTH)
    }

    /// What stands in a port.
    pub fn in_port(text: String) -> Self {
        Self::new(text, PORT_WIDTH)
    }

    /// What stands beside a device.
    pub fn at_device(text: String) -> Self {
        Self::new(text, DEVICE_WIDTH)
    }

    /// What stands on a flag on a feed.
    pub fn on_feed(text: String) -> Self {
        Self::new(text, STEP_FLAG_WIDTH)
    }

    /// What stands on a flag that stands on no feed.
    pub fn on_flag(text: String) -> Self {
        Self::new(text, FLAG_WIDTH)
    }

    /// Height of its lines, pt.
    pub fn height(&self) -> f64 {
        self.lines.len() as f64 * LEADING
    }
}

/// One part.
#[derive(Debug, Clone)]
pub(super) struct Part {
    /// The node (or system).
    pub of: String,
    /// How it is drawn.
    pub form: Form,
    /// Its name.
    pub name: Label,
    /// Small print under the name.
    pub detail: Label,
    /// Name and small print where it stands as a port.
    pub port: [Label; 2],
    /// What comes in, row by row: the item itself first, then its functions with their names.
    pub rows: Vec<Row>,
}

impl Part {
    /// A part in which nothing comes in yet.
    pub fn new(of: String, form: Form, name: String, detail: String) -> Self {
        let where_drawn = if form.is_elsewhere() { detail.clone() } else { "in this drawing".to_owned() };
        let port = [Label::in_port(name.clone()), Label::in_port(where_drawn)];
        Self { of, form, name: Label::in_part(name), detail: Label::in_part(detail), port, rows: Vec::new() }
    }
}

impl Form {
    /// True if the part is drawn elsewhere.
    pub fn is_elsewhere(self) -> bool {
        matches!(self, Self::Outside | Self::Taker)
    }
}

/// One row of a part: the item, or one of its functions.
#[derive(Debug, Clone, Default)]
pub(super) struct Row {
    /// Name of the function; nothing for the item.
    pub name: Label,
    /// What comes in.
    pub inputs: Vec<Input>,
}

/// Something that comes in.
#[derive(Debug, Clone)]
pub(super) enum Input {
    /// A link, by place.
    Link(usize),
    /// A condition on its own.
    Flag(Rc<Label>),
    /// Several with a bracket.
    Group(Rc<str>, Vec<Input>),
}

/// One connection.
#[derive(Debug, Clone)]
pub(super) struct Link {
    /// From this part.
    pub from: usize,
    /// Through these steps, by place.
    pub through: Vec<usize>,
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
        name: Label,
        /// A control that the pilot can reach.
        reached: bool,
        /// The part that it also is, if it needs something itself.
        home: Option<usize>,
    },
    /// A condition.
    Flag(Label),
}

impl Step {
    /// Its name or its words.
    pub fn label(&self) -> &Label {
        match self {
            Self::Device { name, .. } => name,
            Self::Flag(words) => words,
        }
    }

    /// The part that it also is.
    pub fn home(&self) -> Option<usize> {
        if let Self::Device { home, .. } = self { *home } else { None }
    }
}

impl Plan {
    /// The steps of a link.
    pub fn steps_of(&self, link: &Link) -> impl Iterator<Item = &Step> {
        link.through.iter().filter_map(|step| self.steps.get(*step))
    }
}

impl Input {
    /// Goes through every link in it.
    pub fn each_link(&self, visit: &mut dyn FnMut(usize)) {
        match self {
            Self::Link(link) => visit(*link),
            Self::Flag(_) => {}
            Self::Group(_, of) => of.iter().for_each(|input| input.each_link(visit)),
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

/// Height of a flag that stands on no feed, with the space around it, pt.
pub(super) fn flag_height(words: &Label) -> f64 {
    (words.height() + 6.0).max(PITCH)
}
