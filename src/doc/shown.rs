//! What a drawing of the panel shows, face by face: facts from the analysis, for the drawing to draw and for nobody to solve again.

use super::inline::Inlines;
use std::collections::BTreeMap;

/// One panel, as it looks in one situation.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PanelShown {
    /// What stands over it.
    pub caption: Inlines,
    /// Ids of the items that wear each sign.
    pub signs: BTreeMap<Sign, Vec<String>>,
    /// Where needles stand, on their own scale, by id of the item. A needle that is not here stands nobody knows where.
    pub needles: BTreeMap<String, f64>,
    /// Where controls stand: number of the position, by id of the item.
    pub positions: BTreeMap<String, usize>,
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
    /// It still tells something that another thing no longer tells.
    StillTells,
    /// A light that is on.
    Lit,
    /// A breaker that has opened.
    Opened,
    /// A control that stands away from its rest.
    Set,
}

impl Sign {
    /// Every sign, in the order of a legend.
    pub const ALL: [Self; 7] =
        [Self::Gone, Self::GoneInPart, Self::Misleading, Self::StillTells, Self::Lit, Self::Opened, Self::Set];

    /// Its word in legends and text alternatives.
    pub fn word(self) -> &'static str {
        match self {
            Self::Gone => "Gone",
            Self::GoneInPart => "Gone in part",
            Self::Misleading => "Misleading",
            Self::StillTells => "Still tells",
            Self::Lit => "Lit",
            Self::Opened => "Opened",
            Self::Set => "Set",
        }
    }
}
