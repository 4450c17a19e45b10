//! Blocks: what stands under one another.

use super::inline::Inlines;
use super::plot::PlotShown;
use super::shown::PanelShown;
use super::table::{Subject, Table};

/// One block of a chapter.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading inside a chapter; level 2 is the first below the chapter's title.
    Heading {
        /// 2 to 4.
        level: u8,
        /// For links.
        id: String,
        /// Its text.
        text: Inlines,
    },
    /// A paragraph.
    Para(Inlines),
    /// A list.
    List {
        /// Numbered.
        ordered: bool,
        /// Each with blocks of its own.
        items: Vec<Vec<Block>>,
    },
    /// A table.
    Table(Table),
    /// A box in the sense of flight manuals.
    Notice {
        /// How much it weighs.
        level: NoticeLevel,
        /// What it is about: item id, chapter id.
        subject: Subject,
        /// Its text.
        body: Vec<Block>,
    },
    /// A drawing, made by `diagram`.
    Figure(Figure),
    /// A sum worked line by line.
    Worked {
        /// For links.
        id: String,
        /// What is worked out.
        title: Inlines,
        /// Lines in order.
        steps: Vec<Step>,
    },
}

/// A place where a drawing stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// `figure/electrical`.
    pub id: String,
    /// What sort.
    pub kind: FigureKind,
    /// Of what: a system id, a fault id, nothing for the whole aircraft.
    pub subject: Subject,
    /// Its caption.
    pub caption: Inlines,
    /// The panels that it shows, where it shows any in a situation.
    pub panels: Vec<PanelShown>,
    /// The plot that it is, where it is one.
    pub plot: Option<PlotShown>,
}

/// What a drawing shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FigureKind {
    /// The systems of the aircraft and what they give each other.
    Overview,
    /// One system with all its feeds.
    System,
    /// The panel to scale.
    Panel,
    /// The panel after a failure.
    After,
    /// The panel in each state.
    States,
    /// What one item hangs on.
    Chain,
    /// Values over an axis.
    Plot,
}

/// How much a box weighs, in the sense of flight manuals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum NoticeLevel {
    /// Immediate or important loss of flight safety.
    Warning,
    /// Minor or long-term loss of flight safety.
    Caution,
    /// Worth stressing; not safety.
    Note,
}

impl NoticeLevel {
    /// The word in the box.
    pub fn word(self) -> &'static str {
        match self {
            Self::Warning => "WARNING",
            Self::Caution => "CAUTION",
            Self::Note => "NOTE",
        }
    }
}

/// One line of a worked sum: `1200 rpm ÷ 2400 rpm × 60 min = 30 min`.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What the line works out.
    pub says: Inlines,
    /// The sum as printed, left of the equals sign; operands are facts, signs are text.
    pub sum: Inlines,
    /// The result; one fact.
    pub result: Inlines,
}
