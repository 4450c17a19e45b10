//! What a drawing of the panel shows, face by face: facts from the analysis, for the drawing to draw and for nobody to solve again.

use super::inline::Inlines;
use std::collections::BTreeMap;

/// One panel, as it looks in one situation.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PanelShown {
    /// What stands over it.
    pub caption: Inlines,
    /// What the model says of the state beside.
    pub note: Option<String>,
    /// Ids of the items that wear each sign.
    pub signs: BTreeMap<Sign, Vec<String>>,
    /// Where needles stand, on their own scale, by id of the item. A needle that is not here stands nobody knows where.
    pub needles: BTreeMap<String, f64>,
    /// Where controls stand: number of the position, by id of the item.
    pub positions: BTreeMap<String, usize>,
    /// What else tells what was told directly and no longer is.
    pub still: Vec<StillTold>,
    /// Names of engines that stop; they have no face.
    pub stopped: Vec<String>,
}

/// One piece of information that lost a thing that tells it directly.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StillTold {
    /// Its name, with the part of it that was lost where that is not all.
    pub of: String,
    /// What tells it truly now, direct first.
    pub by: Vec<ToldBy>,
    /// A move of a control brings back something that tells it.
    pub comes_back: bool,
}

/// A thing that tells something.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ToldBy {
    /// Id of its item, whose face tells it.
    pub item: String,
    /// Its name.
    pub name: String,
    /// Within what limits: "indirectly", "of cylinder 1".
    pub limits: Vec<String>,
}

/// What is said of one face.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sign {
    /// It worked and does not, or it does not work in this state.
    Gone,
    /// It works, but something that it does is gone.
    GoneInPart,
    /// It works and is false.
    Misleading,
    /// It still tells what a thing told directly that no longer does.
    StillTells,
    /// A dial that works and shows that what it senses is gone.
    Shows,
    /// A light that is on.
    Lit,
    /// A breaker that has opened.
    Opened,
    /// A control that stands away from its rest.
    Set,
    /// It did not work before the failure either.
    Before,
}

impl Sign {
    /// Every sign, in the order of a legend.
    pub const ALL: [Self; 9] = [
        Self::Before,
        Self::Gone,
        Self::GoneInPart,
        Self::Misleading,
        Self::StillTells,
        Self::Shows,
        Self::Lit,
        Self::Opened,
        Self::Set,
    ];

    /// Its word in legends and text alternatives.
    pub fn word(self) -> &'static str {
        match self {
            Self::Gone => "Gone",
            Self::GoneInPart => "Gone in part",
            Self::Misleading => "Misleading",
            Self::StillTells => "Still tells",
            Self::Shows => "Shows the loss",
            Self::Lit => "Lit",
            Self::Opened => "Opened",
            Self::Set => "Set",
            Self::Before => "Not working before",
        }
    }
}
