//! The quick-reference card: one A5 sheet, both sides, for the knee.
//!
//! It gets a document of one chapter with tables and sets them as large as they fit, no smaller than 7.5 pt. What does not fit is
//! not cut here: the caller is told by how much, and which rows take most. It does not know what the tables mean.
mod file;
mod grid;
mod press;
mod set;
mod sides;
mod structure;

use super::fonts::Fonts;
use crate::doc::{Block, Document, Table};
use set::Size;
use sides::Sides;

/// Width of the sheet, pt.
pub(super) const WIDTH: f32 = 419.53;
/// Height of the sheet, pt.
pub(super) const HEIGHT: f32 = 595.28;
/// From the edges to the text, pt: what a printer cannot reach.
pub(super) const MARGIN: f32 = 20.0;
/// The sheet has two sides.
const SIDES: usize = 2;
/// From the most comfortable to the smallest that is allowed.
const SIZES: [Size; 6] = [
    Size { letters: 9.5, leading: 11.4 },
    Size { letters: 9.0, leading: 10.8 },
    Size { letters: 8.5, leading: 10.2 },
    Size { letters: 8.0, leading: 9.6 },
    Size { letters: 7.75, leading: 9.2 },
    Size { letters: 7.5, leading: 8.8 },
];

/// Why there is no card.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CardError {
    /// It does not fit on two sides.
    #[error("the card does not fit on two sides: {lines} lines of {SMALLEST} pt are too many")]
    TooFull {
        /// So many lines of the smallest size are over.
        lines: usize,
        /// The rows that take most lines: what each is about, and how many.
        largest: Vec<(String, usize)>,
    },
    /// The library refuses it; a mistake of ours.
    #[error("the card cannot be written: {0}")]
    Refused(String),
}

/// The smallest size, pt.
const SMALLEST: f32 = SIZES[SIZES.len() - 1].letters;

/// The card as a PDF file.
///
/// # Errors
/// [`CardError::TooFull`] where it does not fit on two sides; [`CardError::Refused`] where the library finds it against its
/// standards.
pub fn write(document: &Document, fonts: &mut Fonts) -> Result<Vec<u8>, CardError> {
    let sides = laid_out(document, fonts)?;
    press::write(document, &sides, fonts)
}

/// How large the letters are and how much of the sheet is left, for those who look at the geometry.
///
/// # Errors
/// As [`write`].
pub fn measured(document: &Document, fonts: &mut Fonts) -> Result<(f32, f32), CardError> {
    let sides = laid_out(document, fonts)?;
    Ok((sides.size.letters, sides.left))
}

fn laid_out(document: &Document, fonts: &mut Fonts) -> Result<Sides, CardError> {
    let tables: Vec<&Table> = document
        .chapters
        .iter()
        .flat_map(|c| &c.blocks)
        .filter_map(|b| if let Block::Table(t) = b { Some(t) } else { None })
        .collect();
    let mut last = None;
    for size in SIZES {
        let sides = Sides::of(&tables, size, fonts);
        if sides.pages.len() <= SIDES {
            return Ok(sides);
        }
        last = Some(sides);
    }
    let lines = last.as_ref().map_or(0, Sides::lines_over);
    Err(CardError::TooFull { lines, largest: last.map(|s| s.largest).unwrap_or_default() })
}
