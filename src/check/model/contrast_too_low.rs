//! `contrast-too-low`: a colour cannot be read on white paper

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "contrast-too-low",
    summary: "a colour cannot be read on white paper",
    long: "Each colour of a medium reaches a contrast of 4.5 to 1 on white, as WCAG 2.2 asks for text (1.4.3), since its tag is printed in it.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for medium in model.media.iter().filter(|m| !m.built_in) {
        let contrast = contrast_on_white(&medium.colour);
        if contrast < LEAST {
            let at = sources.place(&format!("medium.{}.colour", medium.id));
            let message =
                format!("{} has a contrast of {contrast:.1} to 1 on white; {LEAST} is the least", medium.colour);
            found.push(Diagnostic::error(RULE.code, at, message).help("choose a darker colour"));
        }
    }
}

/// WCAG 2.2, 1.4.3, for text of ordinary size.
const LEAST: f64 = 4.5;

/// Contrast of a colour `#rrggbb` against white.
///
/// # Source
/// WCAG 2.2, definitions of contrast ratio and relative luminance.
pub fn contrast_on_white(colour: &str) -> f64 {
    let part = |at: usize| {
        let share =
            colour.get(at..at + 2).and_then(|h| u8::from_str_radix(h, 16).ok()).map_or(1.0, |n| f64::from(n) / 255.0);
        if share <= 0.040_45 { share / 12.92 } else { libm::pow((share + 0.055) / 1.055, 2.4) }
    };
    let luminance = 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
    1.05 / (luminance + 0.05)
}

#[cfg(test)]
mod tests {
    use super::contrast_on_white;

    #[test]
    fn grey_of_the_standard_has_its_published_contrast() {
        // WebAIM and W3C name #767676 as the lightest grey with 4.5 to 1 on white (4.54); black has 21.
        assert!((contrast_on_white("#767676") - 4.54).abs() < 0.01);
        assert!((contrast_on_white("#000000") - 21.0).abs() < 1e-9);
    }
}
