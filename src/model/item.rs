//! Items: what a pilot can point at or a mechanic can replace.

use super::index::{ItemIx, NodeIx, PositionIx, StateIx, SystemIx};
use super::kind::Kind;
use super::numbers::{Discharge, Wire};
use crate::base::{Id, Quantity, Span};

/// Anything that a pilot can point at or a mechanic can replace.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Its id.
    pub id: Id,
    /// Its node.
    pub node: NodeIx,
    /// Nodes of its functions, by id.
    pub functions: Vec<NodeIx>,
    /// What sort of thing it is.
    pub kind: Kind,
    /// The system it belongs to.
    pub system: SystemIx,
    /// A.
    pub rating: Option<Quantity>,
    /// Ah, gal, L, lb or kg.
    pub capacity: Option<Quantity>,
    /// V.
    pub voltage: Option<Quantity>,
    /// What of a tank's capacity can be used in flight.
    pub usable: Option<Quantity>,
    /// The wire of its circuit.
    pub wire: Option<Wire>,
    /// What a battery gives of its rating.
    pub discharge: Option<Discharge>,
    /// Of a static source: its pressure less true static pressure.
    pub pressure_offset: Option<Quantity>,
    /// Rank of its failing, 0 to 1.
    pub likely: Option<f64>,
    /// Why it has no fault `fails`.
    pub cannot_fail: Option<String>,
    /// Confirmed at the aircraft.
    pub seen: Option<Seen>,
    /// Set if it has positions.
    pub control: Option<Control>,
    /// A breaker that can be pulled.
    pub pull: bool,
    /// It has no row on the quick-reference card.
    pub off_card: bool,
    /// Where it sits.
    pub panel: Option<PanelPlace>,
    /// Its face.
    pub scale: Option<Scale>,
    /// Where its table begins.
    pub span: Span,
}

/// What makes an item a control.
#[derive(Debug, Clone, PartialEq)]
pub struct Control {
    /// Ids of its positions, in the order of moving.
    pub positions: Vec<Id>,
    /// Where it stands in the cold aircraft.
    pub rest: PositionIx,
    /// Positions in which it passes a feed, sorted.
    pub conducts_in: Vec<PositionIx>,
    /// Position that does not stay, and the one it falls back to.
    pub springs_to: Vec<(PositionIx, PositionIx)>,
    /// Counts as `off` (or its rest, if it has no `off`) while that control does not conduct.
    pub off_with: Option<ItemIx>,
    /// Positions to which no restoring move goes.
    pub never_offer: Vec<PositionIx>,
    /// Cycling it mends a transient fault of those.
    pub resets: Vec<ItemIx>,
    /// When the pilot can reach it.
    pub reachable: Reach,
}

impl Control {
    /// The position of that id.
    pub fn find(&self, id: &str) -> Option<PositionIx> {
        self.positions.iter().position(|p| p.as_str() == id).map(PositionIx::new)
    }

    /// The id of a position.
    pub fn position(&self, ix: PositionIx) -> &Id {
        &self.positions[ix.usize()]
    }

    /// The position that `off-with` forces: `off`, or the rest where there is none of that name.
    pub fn forced(&self) -> PositionIx {
        self.find("off").unwrap_or(self.rest)
    }
}

/// When a control can be reached.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reach {
    /// From the seat.
    InFlight,
    /// Only standing beside it.
    OnTheGround,
    /// Not by a pilot.
    No,
}

/// Confirmation at the aircraft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seen {
    /// Initials.
    pub by: String,
    /// `2026-05-02`.
    pub on: String,
    /// `walked`, …
    pub how: Option<String>,
}

/// Where an item sits on the panel. Lengths in millimetres from the panel's top left.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelPlace {
    /// Centre, across.
    pub x_mm: f64,
    /// Centre, down.
    pub y_mm: f64,
    /// Width.
    pub width_mm: f64,
    /// Height.
    pub height_mm: f64,
    /// How it is drawn.
    pub face: Face,
    /// What is engraved beside it.
    pub label: Option<String>,
    /// Where it is declared.
    pub span: Span,
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($variant:ident = $word:literal),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        #[allow(missing_docs)]
        pub enum $name { $($variant),* }

        impl $name {
            /// Every one.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];

            /// The word in model files.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),* }
            }

            /// The one of that word.
            pub fn find(word: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|v| v.word() == word)
            }
        }
    };
}
pub(crate) use words;

words! {
    /// How a face is drawn.
    Face {
        Dial = "dial", Horizon = "horizon", Card = "card", Course = "course", Bearing = "bearing", Turn = "turn", Window = "window", Radio = "radio", Lamp = "lamp",
        Toggle = "toggle", Rocker = "rocker", Key = "key", Lever = "lever", Knob = "knob", Button = "button", Socket = "socket", Breaker = "breaker", Wheel = "wheel",
        PushPull = "push-pull", Altimeter = "altimeter",
    }
}

words! {
    /// Where a needle goes when nothing drives it.
    Unfed { Zero = "falls to zero", Stays = "stays", Drifts = "drifts", Flag = "flag" }
}

words! {
    /// The colour of an arc.
    ArcMark { White = "white", Green = "green", Yellow = "yellow", Red = "red", Blue = "blue" }
}

/// The scale of a face.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    /// From end to end.
    pub span: Quantity,
    /// Coloured arcs.
    pub arcs: Vec<ScaleArc>,
    /// Where the needle rests.
    pub rests: Option<Quantity>,
    /// Where it usually stands in the reference state.
    pub usual: Option<Quantity>,
    /// Where it stands instead in other states, in their order.
    pub usual_in: Vec<(StateIx, Quantity)>,
    /// What it does when nothing drives it.
    pub unfed: Option<Unfed>,
    /// Its marks have no figures.
    pub unnumbered: bool,
}

impl Scale {
    /// Where the needle stands in a state in which all is well with what it measures.
    pub fn usual_at(&self, state: StateIx) -> Option<&Quantity> {
        self.usual_in.iter().find(|(s, _)| *s == state).map(|(_, at)| at).or(self.usual.as_ref())
    }
}

/// One coloured arc or radial line.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleArc {
    /// A range, or one value for a radial line.
    pub over: Quantity,
    /// Its colour.
    pub mark: ArcMark,
}
