//! Lettering as text, squeezed or stretched to the width that the scene says.

use super::outlines::near;
use super::sheet::Sheet;
use crate::diagram::outline;
use crate::diagram::scene::{Anchor, Lettering};
use crate::render::pdf::fonts::{Face, Fonts};
use krilla::geom::Transform;

/// Whose widths differ by less than this part are left as they are.
const SAME: f32 = 0.002;

/// Lettering in its own colour: that of all, or of small print.
pub(super) fn write(sheet: &mut Sheet<'_, '_>, fonts: &mut Fonts, words: &Lettering, face: Face) {
    let colour = sheet.ink(if words.small { "small" } else { "" });
    coloured(sheet, fonts, (words, face), colour);
}

/// Lettering in a colour.
pub(super) fn coloured(
    sheet: &mut Sheet<'_, '_>,
    fonts: &mut Fonts,
    (words, face): (&Lettering, Face),
    colour: [u8; 3],
) {
    let surface = sheet.lettering(colour);
    let size = near(words.size);
    for line in outline::lines(words, face == Face::Bold) {
        let natural = fonts.width(line.text, face, size);
        if natural <= 0.0 {
            continue;
        }
        let left = match words.anchor {
            Anchor::Start => line.at.x,
            Anchor::Middle => line.at.x - line.length / 2.0,
            Anchor::End => line.at.x - line.length,
        };
        let (x, y, squeeze) = (near(left), near(line.at.y), line.length as f32 / natural);
        if (squeeze - 1.0).abs() < SAME {
            fonts.draw(surface, (x, y), line.text, (face, size));
        } else {
            let squeeze = (squeeze * 1000.0).round() / 1000.0;
            surface.push_transform(&Transform::from_row(squeeze, 0.0, 0.0, 1.0, x, y));
            fonts.draw(surface, (0.0, 0.0), line.text, (face, size));
            surface.pop();
        }
    }
}
