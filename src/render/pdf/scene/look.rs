//! What a class looks like: read from the style of the SVG, so that print and screen agree.

use crate::diagram::svg::STYLE;
use krilla::color::rgb;
use krilla::num::NormalizedF32;
use std::collections::BTreeMap;

/// A colour of the style.
pub(super) type Colour = [u8; 3];

/// Fill and line of a class.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Look {
    /// Colour inside.
    pub fill: Option<Colour>,
    /// How much of what is under it is hidden, in hundredths.
    pub hides: u8,
    /// Colour of the line.
    pub line: Option<Colour>,
    /// Corners of the line are round.
    pub round: bool,
}

impl Look {
    /// What SVG does where nothing is said.
    const UNSAID: Self = Self { fill: Some([0, 0, 0]), hides: 100, line: None, round: false };

    /// A line of one colour.
    pub fn line(colour: Colour) -> Self {
        Self { fill: None, line: Some(colour), ..Self::UNSAID }
    }

    /// A filled shape without a line.
    pub fn filled(colour: Colour) -> Self {
        Self { fill: Some(colour), ..Self::UNSAID }
    }

    /// Opacity of the fill.
    pub fn opacity(&self) -> NormalizedF32 {
        NormalizedF32::new(f32::from(self.hides) / 100.0).unwrap_or(NormalizedF32::ONE)
    }

    fn change(&mut self, name: &str, value: &str) {
        match name {
            "fill" => self.fill = colour(value),
            "stroke" => self.line = colour(value),
            "fill-opacity" => self.hides = value.parse::<f32>().map_or(100, |o| (o * 100.0).round() as u8),
            "stroke-linejoin" => self.round = value == "round",
            _ => {}
        }
    }
}

/// `#rrggbb`; nothing for anything else.
pub(super) fn colour(text: &str) -> Option<Colour> {
    let digits = text.strip_prefix('#').filter(|d| d.len() == 6)?;
    let one = |at: usize| digits.get(at..at + 2).and_then(|d| u8::from_str_radix(d, 16).ok());
    Some([one(0)?, one(2)?, one(4)?])
}

/// A colour as the library takes it.
pub(super) fn paint([red, green, blue]: Colour) -> rgb::Color {
    rgb::Color::new(red, green, blue)
}

/// Looks by class, each worked out once.
pub(super) struct Looks {
    /// Selectors and declarations, in the order of the style.
    rules: Vec<(&'static str, &'static str)>,
    known: BTreeMap<&'static str, Look>,
}

impl Default for Looks {
    fn default() -> Self {
        let rules = STYLE.split('}').filter_map(|rule| rule.split_once('{')).collect();
        Self { rules, known: BTreeMap::new() }
    }
}

impl Looks {
    /// The look of a shape with these classes.
    pub fn of(&mut self, classes: &'static str) -> Look {
        if let Some(known) = self.known.get(classes) {
            return *known;
        }
        let look = self.worked_out(classes);
        self.known.insert(classes, look);
        look
    }

    /// The colour of lettering with this class, or of all lettering.
    pub fn words(&mut self, class: &'static str) -> Colour {
        let [all, own] = ["text", class].map(|c| self.of(c).fill);
        own.filter(|c| *c != [0, 0, 0]).or(all).unwrap_or_default()
    }

    fn worked_out(&self, classes: &str) -> Look {
        let mut look = Look::UNSAID;
        for (selectors, declarations) in &self.rules {
            let meant =
                |s: &str| s == classes || s.strip_prefix('.').is_some_and(|s| classes.split(' ').any(|c| c == s));
            if selectors.split(',').any(meant) {
                declarations.split(';').filter_map(|d| d.split_once(':')).for_each(|(n, v)| look.change(n, v));
            }
        }
        look
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn looks_are_those_of_the_style() {
        let mut looks = Looks::default();
        let ink = [0x16, 0x20, 0x2a];
        assert_eq!(looks.of("bar"), Look::filled(ink));
        assert_eq!(looks.of("arc arc-green"), Look::line([0x2f, 0x9e, 0x4f]));
        assert_eq!(looks.of("false"), Look::line([0xa3, 0x3b, 0]));
        assert_eq!((looks.of("veil").hides, looks.of("veil").line), (72, None));
        assert!(looks.of("curve curve-plain").round);
        assert_eq!((looks.words("small"), looks.words("")), ([0x4a, 0x56, 0x61], ink));
        assert_eq!(looks.words("call-number"), [255; 3]);
    }
}
