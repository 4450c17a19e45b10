//! Colours of media on dark paper.
//!
//! # Source
//! WCAG 2.2: relative luminance and contrast ratio; 4.5:1 is criterion 1.4.3.

/// The dark paper of `templates/page.css`.
pub const DARK_PAPER: &str = "#10161a";
/// What is taken where a colour is no `#rrggbb`.
pub const INK: &str = "#16202a";

/// Red, green and blue of `#rrggbb`.
fn channels(colour: &str) -> Option<[f64; 3]> {
    let digits = colour.strip_prefix('#').filter(|d| d.len() == 6 && d.is_ascii())?;
    let one = |at: usize| digits.get(at..at + 2).and_then(|d| u8::from_str_radix(d, 16).ok()).map(f64::from);
    Some([one(0)?, one(2)?, one(4)?])
}

/// The colour if it is one, else ink: so that nothing else can reach a style sheet.
pub fn checked(colour: &str) -> String {
    channels(colour).map_or_else(|| INK.to_owned(), written)
}

fn written(c: [f64; 3]) -> String {
    let digits = c.map(|n| format!("{:02x}", n.round().clamp(0.0, 255.0) as i64));
    format!("#{}", digits.concat())
}

fn luminance(c: [f64; 3]) -> f64 {
    let linear = |n: f64| {
        let n = n / 255.0;
        if n <= 0.04045 { n / 12.92 } else { libm::pow((n + 0.055) / 1.055, 2.4) }
    };
    let [r, g, b] = c.map(linear);
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// Contrast of two colours, 1 to 21; nothing if one of them is no `#rrggbb`.
pub fn contrast(a: &str, b: &str) -> Option<f64> {
    let (a, b) = (luminance(channels(a)?), luminance(channels(b)?));
    Some((a.max(b) + 0.05) / (a.min(b) + 0.05))
}

/// The colour made lighter, step by step, until it can be read on dark paper (5:1).
pub fn for_dark(colour: &str) -> String {
    let Some(start) = channels(colour) else { return "#dbe2e4".to_owned() };
    let lighter = |step: u8| written(start.map(|n| n + (255.0 - n) * f64::from(step) / 20.0));
    let reads = |c: &String| contrast(c, DARK_PAPER).is_some_and(|r| r >= 5.0);
    (0..=20).map(lighter).find(reads).unwrap_or_else(|| "#ffffff".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::BUILT_IN_MEDIA;

    #[test]
    fn media_can_be_read_on_light_and_on_dark_paper() {
        for medium in BUILT_IN_MEDIA {
            assert!(contrast(medium.colour, "#fcfcfa").unwrap() >= 4.5, "{}", medium.id);
            assert!(contrast(&for_dark(medium.colour), DARK_PAPER).unwrap() >= 4.5, "{}", medium.id);
        }
    }

    #[test]
    fn black_on_white_is_21_to_1() {
        // WCAG 2.2, definition of contrast ratio.
        assert!((contrast("#000000", "#ffffff").unwrap() - 21.0).abs() < 1e-9);
    }

    #[test]
    fn what_is_no_colour_becomes_ink() {
        for wrong in ["red;} *{", "#12345", "#12345g", "#é1234", ""] {
            assert_eq!(checked(wrong), INK);
        }
    }
}
