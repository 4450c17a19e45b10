//! Strips: what stands under one another on a page and is not divided, with the ink in it.
//!
//! A strip knows its height and how it wants to stand to the next one, and nothing of pages.

use super::lines::Line;
use super::scene::Piece;
use super::tags::NodeIx;

/// A colour of the print.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tone {
    /// Letters.
    Ink,
    /// Letters that stand back.
    Soft,
    /// The one accent.
    Accent,
    /// Thin lines.
    Rule,
    /// A ground under letters.
    Tint,
    /// Letters on ink.
    Paper,
}

impl Tone {
    /// Red, green, blue.
    pub fn rgb(self) -> (u8, u8, u8) {
        match self {
            Self::Ink => (0x10, 0x18, 0x20),
            Self::Soft => (0x43, 0x4f, 0x59),
            Self::Accent => (0x0b, 0x56, 0x69),
            Self::Rule => (0x9a, 0xa6, 0xad),
            Self::Tint => (0xee, 0xf2, 0xf3),
            Self::Paper => (0xff, 0xff, 0xff),
        }
    }
}

/// How a strip stands to the one after it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Keep {
    /// A page may end here.
    Free,
    /// A page ends here only where it would be nearly empty otherwise.
    Soft,
    /// No page ends here.
    Hard,
}

/// What a strip is, for those who look at the geometry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A line of running text.
    Line,
    /// A heading.
    Heading,
    /// A box or a worked sum.
    Box,
    /// A drawing or a band of one.
    Figure,
    /// A caption or the head of a table.
    Head,
    /// A row of a table.
    Row,
    /// Part of a row that is higher than a page.
    PartOfRow,
    /// Anything else.
    Other,
}

/// Number of a head that is repeated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct HeadIx(pub u32);

/// Ink of one sort.
#[derive(Debug, Clone, PartialEq)]
pub enum Ink {
    /// Letters; the place is the left end of the base line.
    Text(Line, f32),
    /// A line that is no content: width, height, weight, tone.
    Rule(f32, f32, f32, Tone),
    /// A ground that is no content: width, height, tone.
    Ground(f32, f32, Tone),
    /// A closed outline that is no content, with lines of that form.
    Outline(Vec<(f32, f32)>, Paint),
    /// A circle that is no content: its middle is the place.
    Circle(f32, Paint),
    /// A drawing, or a band of it.
    Scene(Drawn),
    /// A place that links lead to.
    Anchor(String),
    /// Ink turned by a quarter, for who turns the paper: its width before, its distance from the left edge after, and itself.
    Turned(f32, f32, Vec<Put>),
}

/// How an outline is filled and drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Paint {
    /// Its ground.
    pub fill: Option<Tone>,
    /// Weight and tone of its edge.
    pub edge: Option<(f32, Tone)>,
}

/// A drawing, or a band of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// The id of its figure.
    pub figure: String,
    /// Which part.
    pub piece: Piece,
    /// How large; 1 is its true size.
    pub scale: f32,
    /// Where it stands in the reading order.
    pub node: NodeIx,
}

/// Ink at its place within a strip, or a turned page.
#[derive(Debug, Clone, PartialEq)]
pub struct Put {
    /// From the left edge.
    pub x: f32,
    /// From the upper edge.
    pub y: f32,
    /// What it is.
    pub ink: Ink,
}

/// What stands on a page and is not divided.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// What it is.
    pub kind: Kind,
    /// Left edge.
    pub x: f32,
    /// Width.
    pub width: f32,
    /// Height.
    pub height: f32,
    /// Space over it, unless it stands at the top of a page.
    pub above: f32,
    /// How it stands to the next one.
    pub keep: Keep,
    /// The head of its table.
    pub head: Option<HeadIx>,
    /// It may stand on the next page, while what comes after it fills this one.
    pub floats: bool,
    /// It fills a page with turned ink, which takes so much of the width.
    pub turned: Option<f32>,
    /// Its ink, relative to the left edge of the text and to its own top.
    pub puts: Vec<Put>,
}

impl Strip {
    /// A strip without ink.
    pub fn new(kind: Kind, (x, width): (f32, f32), height: f32) -> Self {
        let (above, keep, head, floats, turned) = (0.0, Keep::Free, None, false, None);
        Self { kind, x, width, height, above, keep, head, floats, turned, puts: Vec::new() }
    }

    /// Adds ink.
    pub fn put(&mut self, x: f32, y: f32, ink: Ink) {
        self.puts.push(Put { x, y, ink });
    }

    /// Adds the ink of another strip, so far down.
    pub fn take(&mut self, other: Strip, down: f32) {
        self.puts.extend(other.puts.into_iter().map(|p| Put { y: p.y + down, ..p }));
    }
}

/// Between two turned drawings of a page, pt.
const BESIDE: f32 = 18.0;

impl Strip {
    /// A strip that fills a page of that width and height with the ink of another one, turned.
    pub fn turned(kind: Kind, other: Strip, (wide, high): (f32, f32)) -> Self {
        let mut page = Self::new(kind, (0.0, wide), high);
        page.turned = Some(other.height);
        page.floats = true;
        page.put(0.0, 0.0, Ink::Turned(high, ((wide - other.height) / 2.0).max(0.0), other.puts));
        page
    }

    /// Takes another turned strip onto the same page, beside what is there; gives it back where there is no room.
    pub fn take_beside(&mut self, other: Strip) -> Option<Strip> {
        let (Some(here), Some(there)) = (self.turned, other.turned) else { return Some(other) };
        let all = here + BESIDE + there;
        if all > self.width {
            return Some(other);
        }
        let right = here + BESIDE;
        for put in other.puts {
            let own = self.puts.iter_mut().find_map(|p| match &mut p.ink {
                Ink::Turned(_, down, puts) => Some((down, puts)),
                _ => None,
            });
            match (put.ink, own) {
                (Ink::Turned(_, _, puts), Some((down, own))) => {
                    own.extend(puts.into_iter().map(|p| Put { y: p.y + right, ..p }));
                    *down = ((self.width - all) / 2.0).max(0.0);
                }
                (ink, _) => self.puts.push(Put { ink, ..put }),
            }
        }
        self.turned = Some(all);
        None
    }
}

/// All strips as one, with the space between them.
pub fn stacked(kind: Kind, place: (f32, f32), strips: Vec<Strip>) -> Strip {
    let mut all = Strip::new(kind, place, 0.0);
    for (at, strip) in strips.into_iter().enumerate() {
        if at > 0 {
            all.height += strip.above;
        }
        let down = all.height;
        all.height += strip.height;
        all.take(strip, down);
    }
    all
}
