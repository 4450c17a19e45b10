//! Numbers with units: read from text, held against each other in one unit. The table of units is the audit's own.
//!
//! # Source
//! NIST SP 811 (2008), appendix B, from memory; foot, pound, gallon, knot and mile are exact by definition, inHg is the
//! conventional inch of mercury.

use super::finding::Notes;
use std::collections::BTreeMap;

/// A unit: what it measures, and `base = number * scale + shift`.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Unit {
    symbol: &'static str,
    measures: &'static str,
    scale: f64,
    shift: f64,
}

const fn of(symbol: &'static str, measures: &'static str, scale: f64) -> Unit {
    Unit { symbol, measures, scale, shift: 0.0 }
}

const UNITS: &[Unit] = &[
    of("V", "voltage", 1.0),
    of("A", "current", 1.0),
    of("Ah", "charge", 1.0),
    of("W", "power", 1.0),
    of("ohm", "resistance", 1.0),
    of("hPa", "pressure", 1.0),
    of("inHg", "pressure", 33.863_89),
    of("psi", "pressure", 68.947_572_931_683_61),
    of("kt", "speed", 1.852),
    of("mph", "speed", 1.609_344),
    of("ft/min", "speed", 0.018_288),
    of("mm", "length", 0.001),
    of("in", "length", 0.0254),
    of("ft", "length", 0.3048),
    of("m", "length", 1.0),
    of("degC", "temperature", 1.0),
    Unit { symbol: "degF", measures: "temperature", scale: 5.0 / 9.0, shift: -160.0 / 9.0 },
    of("rpm", "rotation", 1.0),
    of("s", "time", 1.0),
    of("min", "time", 60.0),
    of("h", "time", 3600.0),
    of("L", "volume", 1.0),
    of("gal", "volume", 3.785_411_784),
    of("kg", "mass", 1.0),
    of("lb", "mass", 0.453_592_37),
    of("lb/h", "mass flow", 1.0),
    of("gph", "volume flow", 1.0),
    of("deg", "angle", 1.0),
    of("kHz", "frequency", 1.0),
    of("MHz", "frequency", 1000.0),
    of("%", "share", 1.0),
];

/// The unit as typed, or with the sign of a degree as printed.
fn unit(symbol: &str) -> Option<Unit> {
    let symbol = match symbol {
        "°C" => "degC",
        "°F" => "degF",
        other => other,
    };
    UNITS.iter().find(|u| u.symbol == symbol).copied()
}

/// A number or a range with its unit.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Amount {
    low: f64,
    high: Option<f64>,
    unit: Unit,
    /// Half of the last digit that is shown.
    half: f64,
    rounded: bool,
}

impl Amount {
    /// Reads `35 Ah`, `4.8..5.2 inHg` as a model has it, `4.8 to 5.2 inHg (rounded)` as a page has it.
    pub(super) fn read(text: &str) -> Option<Self> {
        let (text, rounded) = match text.strip_suffix(" (rounded)") {
            Some(bare) => (bare, true),
            None => (text, false),
        };
        let (numbers, symbol) = text.trim().rsplit_once(' ').or_else(|| split_unit(text.trim()))?;
        let unit = unit(symbol)?;
        let numbers = numbers.trim();
        let (low, high) = match numbers.split_once("..").or_else(|| numbers.split_once(" to ")) {
            Some((low, high)) => (low, Some(number(high)?)),
            None => (numbers, None),
        };
        let decimals = low.split_once('.').map_or(0, |(_, after)| after.trim().len());
        let half = 0.5 / 10_f64.powi(i32::try_from(decimals).ok()?);
        Some(Self { low: number(low)?, high, unit, half, rounded })
    }

    /// The number in another unit of the same kind.
    pub(super) fn number_in(&self, symbol: &str) -> Option<f64> {
        let to = unit(symbol).filter(|u| u.measures == self.unit.measures)?;
        Some(turned(self.low, self.unit, to))
    }

    /// Whether a computed number, in some unit, is what is shown.
    pub(super) fn shows(&self, truth: f64, symbol: &str) -> bool {
        let truth = unit(symbol).filter(|u| u.measures == self.unit.measures).map(|u| turned(truth, u, self.unit));
        self.high.is_none() && truth.is_some_and(|truth| agrees(self.low, truth, self))
    }
}

fn number(text: &str) -> Option<f64> {
    text.trim().parse::<f64>().ok().filter(|n| n.is_finite())
}

/// `35Ah`: where the digits end.
fn split_unit(text: &str) -> Option<(&str, &str)> {
    let at = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+')))?;
    Some(text.split_at(at))
}

fn turned(number: f64, from: Unit, to: Unit) -> f64 {
    if from.symbol == to.symbol { number } else { (number * from.scale + from.shift - to.shift) / to.scale }
}

/// The unit that the owner chose for what it measures.
#[derive(Debug, Clone, Default)]
pub(super) struct Chosen(BTreeMap<&'static str, &'static str>);

impl Chosen {
    /// From the symbols under `[display]`.
    pub(super) fn of<'s>(symbols: impl Iterator<Item = &'s str>) -> Self {
        Self(symbols.filter_map(unit).map(|u| (u.measures, u.symbol)).collect())
    }

    /// Holds a printed number against the model's.
    pub(super) fn check(&self, shown: &str, model: &str, place: &str, notes: &mut Notes) {
        notes.report.proved.numbers += 1;
        let Some(truth) = Amount::read(model) else {
            return notes.find("unreadable", place, format!("the model's “{model}”"), "a number with its unit");
        };
        let Some(seen) = Amount::read(shown) else {
            return notes.find("unreadable", place, shown, model);
        };
        let wanted = self.0.get(truth.unit.measures).copied().unwrap_or(truth.unit.symbol);
        if seen.unit.symbol != wanted {
            return notes.find("unit-wrong", place, shown, format!("{model}, in {wanted}"));
        }
        let agree = |a: f64, b: f64| agrees(a, turned(b, truth.unit, seen.unit), &seen);
        let upper = match (seen.high, truth.high) {
            (Some(a), Some(b)) => agree(a, b),
            (None, None) => true,
            _ => false,
        };
        if !upper || !agree(seen.low, truth.low) {
            notes.find("number-wrong", place, shown, model);
        }
    }
}

/// What is shown as rounded is within half of its last digit; all else is the number itself.
fn agrees(shown: f64, truth: f64, seen: &Amount) -> bool {
    let room = if seen.rounded { seen.half } else { 0.0 };
    (shown - truth).abs() <= room + 1e-9 * truth.abs().max(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(shown: &str, model: &str, chosen: &[&str]) -> Vec<&'static str> {
        let mut notes = Notes::default();
        Chosen::of(chosen.iter().copied()).check(shown, model, "here", &mut notes);
        notes.report.findings.iter().map(|f| f.code).collect()
    }

    #[test]
    fn a_number_is_held_to_its_last_digit_only_where_it_says_that_it_is_rounded() {
        assert!(found("0.4 A", "0.4 A", &[]).is_empty());
        assert!(found("4.8 to 5.2 inHg", "4.8..5.2 inHg", &[]).is_empty());
        assert_eq!(found("0.4 A", "0.44 A", &[]), ["number-wrong"]);
        assert_eq!(found("4.8 to 5.3 inHg", "4.8..5.2 inHg", &[]), ["number-wrong"]);
        assert!(found("94.6 L (rounded)", "25 gal", &["L"]).is_empty());
        assert_eq!(found("94.7 L (rounded)", "25 gal", &["L"]), ["number-wrong"]);
    }

    #[test]
    fn the_unit_is_the_one_chosen_or_the_author_s() {
        assert_eq!(found("25 gal", "25 gal", &["L"]), ["unit-wrong"]);
        assert_eq!(found("400 A", "0.4 W", &[]), ["unit-wrong"]);
        assert_eq!(found("a few A", "0.4 A", &[]), ["unreadable"]);
    }

    #[test]
    fn degrees_are_turned_with_their_offset() {
        // Water boils at 100 degC and 212 degF: common knowledge.
        assert!(found("212 degF (rounded)", "100 degC", &["degF"]).is_empty());
        assert!(found("100 degC (rounded)", "212 degF", &["degC"]).is_empty());
    }
}
