//! Texts that are printed: no markup, nothing that hides or turns the reading order.

use std::ops::Range;

/// The first stretch of a text that must not be printed, and what it is.
pub fn unprintable(text: &str, lines: bool) -> Option<(Range<usize>, String)> {
    text.char_indices().find_map(|(at, c)| {
        let what = match c {
            '<' | '>' | '&' => format!("`{c}`, which is markup,"),
            '\n' | '\r' | '\t' if lines => return None,
            c if c.is_control() => format!("the control character U+{:04X}", u32::from(c)),
            c if turns_direction(c) => format!("the invisible character U+{:04X}", u32::from(c)),
            _ => return None,
        };
        Some((at..at + c.len_utf8(), what))
    })
}

/// Characters without ink that change how what follows is read.
///
/// # Source
/// Unicode Standard Annex 9, explicit directional formatting characters; zero-width characters and the byte order mark
/// from the Unicode Character Database, general category Cf (from memory).
fn turns_direction(c: char) -> bool {
    matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{61c}')
}

/// A text with every run of white space made one space.
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A text cut short, for a message.
pub fn shown(text: &str) -> String {
    let plain: String =
        text.chars().map(|c| if c.is_control() || turns_direction(c) { '\u{fffd}' } else { c }).collect();
    if plain.chars().count() <= 60 { plain } else { plain.chars().take(57).chain("…".chars()).collect() }
}
