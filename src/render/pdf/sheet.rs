//! The paper: its size, where the text stands on it, and how large letters are.

use crate::render::Paper;

/// Height and leading of letters, pt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Height of the letters.
    pub letters: f32,
    /// From one base line to the next.
    pub leading: f32,
}

impl Size {
    const fn new(letters: f32, leading: f32) -> Self {
        Self { letters, leading }
    }

    /// From the top of a line to its base line.
    pub fn rise(self) -> f32 {
        (self.leading - self.letters) / 2.0 + self.letters * 0.86
    }
}

/// A paper with all that is measured on it, pt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheet {
    /// Width of the paper.
    pub width: f32,
    /// Height of the paper.
    pub height: f32,
    /// From the left edge to the text, and from the text to the right edge.
    pub side: f32,
    /// From the upper edge to the text.
    pub top: f32,
    /// From the text to the lower edge.
    pub bottom: f32,
    /// The widest that running text is set.
    pub measure: f32,
    /// Of running text.
    pub text: Size,
    /// Of tables.
    pub table: Size,
    /// Of captions, heads of tables, head and foot of the page.
    pub small: Size,
    /// Of headings from the title of a chapter down.
    pub headings: [Size; 4],
}

impl Sheet {
    /// The sheet of a paper.
    pub const fn of(paper: Paper) -> Self {
        match paper {
            Paper::A4 => Self::large(595.28, 841.89),
            Paper::Letter => Self::large(612.0, 792.0),
            Paper::A5 => Self::handy(419.53, 595.28),
        }
    }

    /// Half of a sheet that is folded: A5 of A4, 5.5 in by 8.5 in of Letter.
    pub const fn half(paper: Paper) -> Self {
        match paper {
            Paper::A4 | Paper::A5 => Self::of(Paper::A5),
            Paper::Letter => Self::handy(396.0, 612.0),
        }
    }

    /// Paper on which a drawing of full width stands upright: 510 pt are left between the sides.
    const fn large(width: f32, height: f32) -> Self {
        Self {
            width,
            height,
            side: (width - 510.0) / 2.0,
            top: 62.0,
            bottom: 62.0,
            measure: 430.0,
            text: Size::new(10.0, 13.8),
            table: Size::new(8.8, 11.6),
            small: Size::new(8.0, 10.4),
            headings: [Size::new(22.0, 26.0), Size::new(14.0, 17.5), Size::new(11.5, 14.8), Size::new(10.0, 13.8)],
        }
    }

    /// Paper on which a drawing of full width stands turned: 511 pt are left between top and bottom.
    const fn handy(width: f32, height: f32) -> Self {
        Self {
            width,
            height,
            side: 28.0,
            top: 38.0,
            bottom: 46.0,
            measure: width - 56.0 + 0.47,
            text: Size::new(9.0, 12.2),
            table: Size::new(8.2, 10.6),
            small: Size::new(8.0, 10.2),
            headings: [Size::new(17.0, 20.5), Size::new(12.0, 15.0), Size::new(10.0, 13.0), Size::new(9.0, 12.2)],
        }
    }

    /// Width between the sides.
    pub fn wide(&self) -> f32 {
        self.width - 2.0 * self.side
    }

    /// Height between top and bottom.
    pub fn high(&self) -> f32 {
        self.height - self.top - self.bottom
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Nothing is set smaller than this, pt.
    const LEAST: f32 = 8.0;

    #[test]
    fn a_drawing_of_full_width_fits_upright_or_turned() {
        for paper in [Paper::A4, Paper::Letter, Paper::A5] {
            let sheet = Sheet::of(paper);
            assert!(sheet.wide().max(sheet.high()) >= 509.9, "{paper:?}");
        }
    }

    #[test]
    fn no_size_is_under_the_least() {
        for paper in [Paper::A4, Paper::Letter, Paper::A5] {
            let sheet = Sheet::of(paper);
            for size in [sheet.text, sheet.table, sheet.small].iter().chain(&sheet.headings) {
                assert!(size.letters >= LEAST && size.leading > size.letters);
            }
        }
    }
}
