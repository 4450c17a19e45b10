//! How wide text is, and how it is broken into lines, without any font at hand.
//!
//! A drawing says how wide each text is (`textLength`), so it keeps that width in whatever font it is shown.

/// Size of all lettering but numerals in faces, pt: the least that is allowed on a page.
pub const SIZE: f64 = 8.0;
/// From one line to the next, pt.
pub const LEADING: f64 = 9.5;
/// Width of a space, in thousandths of the size.
const SPACE: f64 = 278.0;
/// No label has more lines.
const MOST_LINES: usize = 4;

/// Widths of the printable ASCII characters from the space on, in thousandths of the size.
///
/// # Source
/// Adobe font metrics of Helvetica, from memory.
const WIDTHS: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556,
    556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334,
    260, 334, 584,
];

/// Width of a text, pt.
pub fn width(text: &str, size: f64) -> f64 {
    text.chars().map(width_of).sum::<f64>() * size / 1000.0
}

fn width_of(c: char) -> f64 {
    let c = if c == '\u{a0}' { ' ' } else { c };
    let at = u32::from(c).checked_sub(32).and_then(|n| usize::try_from(n).ok());
    let known = at.and_then(|n| WIDTHS.get(n)).copied();
    known.map_or(if u32::from(c) > 0x2e80 { 1000.0 } else { 600.0 }, f64::from)
}

/// The text in lines of at most `most` pt, at the size of lettering; a word that is wider is broken, and what does not fit
/// into four lines ends in `…`.
pub fn wrap(text: &str, most: f64) -> Vec<String> {
    let scaled = |units: f64| units * SIZE / 1000.0;
    let mut lines: Vec<String> = Vec::new();
    let mut units = 0.0;
    for word in text.split([' ', '\n', '\t']).filter(|w| !w.is_empty()).take(60).flat_map(|w| Pieces { rest: w, most })
    {
        let own = word.chars().map(width_of).sum::<f64>();
        let fits = scaled(units) + scaled(SPACE) + scaled(own) <= most;
        let full = lines.len() == MOST_LINES;
        match lines.last_mut() {
            Some(line) if fits => {
                line.push(' ');
                line.push_str(word);
                units += SPACE + own;
            }
            Some(line) if full => {
                line.push('…');
                break;
            }
            _ => {
                lines.push(word.to_owned());
                units = own;
            }
        }
    }
    lines
}

/// The pieces of a word that are no wider than `most` pt; of a very long one only the beginning.
struct Pieces<'a> {
    rest: &'a str,
    most: f64,
}

impl<'a> Iterator for Pieces<'a> {
    type Item = &'a str;

    fn next(&mut self) -> Option<&'a str> {
        let (mut wide, mut end) = (0.0, 0);
        for (at, c) in self.rest.char_indices() {
            let step = width_of(c) * SIZE / 1000.0;
            if wide + step > self.most && wide > 0.0 {
                break;
            }
            wide += step;
            end = at + c.len_utf8();
        }
        let (piece, rest) = self.rest.split_at(end);
        self.rest = rest;
        (!piece.is_empty()).then_some(piece)
    }
}

/// The widest of some lines, pt.
pub fn widest(lines: &[String]) -> f64 {
    lines.iter().map(|l| width(l, SIZE)).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_keep_within_the_width_and_words_that_are_wider_are_broken() {
        for text in ["battery half of the master switch", "Donaudampfschifffahrtsgesellschaft", "a"] {
            assert!(widest(&wrap(text, 60.0)) <= 66.0, "{:?}", wrap(text, 60.0));
        }
        assert_eq!(wrap("turn coordinator", 200.0), ["turn coordinator"]);
        assert_eq!(wrap(&"x ".repeat(500), 20.0).len(), 4);
    }
}
