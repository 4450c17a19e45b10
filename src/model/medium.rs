//! What flows in a feed.

use crate::base::Id;

/// The pattern of a line, so that a medium is known without its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum LinePattern {
    Solid,
    LongDash,
    Dash,
    ShortDash,
    Dot,
    DashDot,
    DashDotDot,
    LongDashDot,
    LongDashDotDot,
    LongShort,
    LongShortShort,
    DashDotDotDot,
    SparseDot,
    SparseDash,
    PairedDash,
    PairedDot,
    LongDashShortDot,
    ShortShortLong,
    TripleDash,
    WideDash,
}

impl LinePattern {
    /// Every pattern, its word and its lengths of ink and gap in hundredths of a millimetre; `Solid` has none.
    pub const ALL: &'static [(Self, &'static str, &'static [u16])] = &[
        (Self::Solid, "solid", &[]),
        (Self::LongDash, "long-dash", &[400, 120]),
        (Self::Dash, "dash", &[220, 110]),
        (Self::ShortDash, "short-dash", &[120, 80]),
        (Self::Dot, "dot", &[40, 80]),
        (Self::DashDot, "dash-dot", &[220, 80, 40, 80]),
        (Self::DashDotDot, "dash-dot-dot", &[220, 80, 40, 80, 40, 80]),
        (Self::LongDashDot, "long-dash-dot", &[400, 80, 40, 80]),
        (Self::LongDashDotDot, "long-dash-dot-dot", &[400, 80, 40, 80, 40, 80]),
        (Self::LongShort, "long-short", &[400, 80, 120, 80]),
        (Self::LongShortShort, "long-short-short", &[400, 80, 120, 80, 120, 80]),
        (Self::DashDotDotDot, "dash-dot-dot-dot", &[220, 80, 40, 80, 40, 80, 40, 80]),
        (Self::SparseDot, "sparse-dot", &[40, 200]),
        (Self::SparseDash, "sparse-dash", &[120, 240]),
        (Self::PairedDash, "paired-dash", &[160, 60, 160, 200]),
        (Self::PairedDot, "paired-dot", &[40, 60, 40, 200]),
        (Self::LongDashShortDot, "long-dash-short-dot", &[500, 60, 40, 60]),
        (Self::ShortShortLong, "short-short-long", &[80, 60, 80, 60, 300, 60]),
        (Self::TripleDash, "triple-dash", &[160, 60, 160, 60, 160, 200]),
        (Self::WideDash, "wide-dash", &[600, 160]),
    ];

    /// The pattern of that word.
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(_, w, _)| *w == word).map(|(p, _, _)| *p)
    }

    /// The word in model files.
    pub fn word(self) -> &'static str {
        self.row().1
    }

    /// Lengths of ink and gap in turn, in hundredths of a millimetre.
    pub fn lengths(self) -> &'static [u16] {
        self.row().2
    }

    fn row(self) -> &'static (Self, &'static str, &'static [u16]) {
        &Self::ALL[self as usize]
    }
}

/// A medium: what flows, with its three marks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Medium {
    /// Its id.
    pub id: Id,
    /// Its name in running text.
    pub name: String,
    /// Two capitals, drawn at the line.
    pub tag: String,
    /// `#rrggbb`, for light paper.
    pub colour: String,
    /// The pattern of its line.
    pub line: LinePattern,
    /// Whether the tool brings it.
    pub built_in: bool,
}

/// One of the media that the tool brings.
#[derive(Debug, Clone, Copy)]
#[allow(missing_docs)]
pub struct BuiltInMedium {
    pub id: &'static str,
    pub name: &'static str,
    pub tag: &'static str,
    pub colour: &'static str,
    pub line: LinePattern,
}

const fn built_in(
    id: &'static str,
    name: &'static str,
    tag: &'static str,
    colour: &'static str,
    line: LinePattern,
) -> BuiltInMedium {
    BuiltInMedium { id, name, tag, colour, line }
}

/// The media that every model may use.
///
/// Each colour reaches a contrast of 4.5:1 on white (WCAG 2.2, 1.4.3); `tests/outside` computes it.
///
/// # Source
/// Hues start from the identification colours of aircraft lines in MIL-STD-1247 (as shown in FAA-H-8083-30; from memory):
/// fuel red, lubrication yellow, hydraulic blue and yellow, pneumatic orange and blue, instrument air orange and grey,
/// electrical conduit brown and orange, compressed gas orange; each darkened.
pub const BUILT_IN_MEDIA: &[BuiltInMedium] = &[
    built_in("electricity", "electricity", "EL", "#8a4b08", LinePattern::Solid),
    built_in("suction", "suction", "SU", "#5a5f66", LinePattern::LongDash),
    built_in("pitot-pressure", "pitot pressure", "PT", "#b3410e", LinePattern::Dash),
    built_in("static-pressure", "static pressure", "ST", "#0b6a8f", LinePattern::DashDot),
    built_in("fuel", "fuel", "FU", "#b3161b", LinePattern::LongDashDot),
    built_in("oil-pressure", "oil pressure", "OI", "#7a6000", LinePattern::LongShort),
    built_in("rotation", "rotation", "RO", "#333333", LinePattern::WideDash),
    built_in("power", "power", "PW", "#6b2d7a", LinePattern::PairedDash),
    built_in("spark", "spark", "SP", "#a3195b", LinePattern::ShortDash),
    built_in("ram-air", "ram air", "RA", "#2f6f3e", LinePattern::Dot),
    built_in("data", "data", "DA", "#1f4fb0", LinePattern::PairedDot),
    built_in("sound", "sound", "SO", "#00695c", LinePattern::SparseDash),
    built_in("heat", "heat", "HE", "#9c3d00", LinePattern::DashDotDot),
    built_in("hydraulic-pressure", "hydraulic pressure", "HY", "#2a3f8f", LinePattern::LongDashDotDot),
    built_in("motion", "motion", "MO", "#4d4d00", LinePattern::TripleDash),
    built_in("air", "air", "AI", "#3d6470", LinePattern::SparseDot),
];
