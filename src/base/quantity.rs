//! Numbers with units, as authors type them: `"35 Ah"`, `"4.8..5.2 inHg"`.

use super::text::did_you_mean;
use super::unit::{UNITS, Unit};
use std::fmt;

/// A number with a unit, kept as it was typed.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// The number in `unit`; for a range its lower end.
    pub number: f64,
    /// The upper end of a range.
    pub upper: Option<f64>,
    /// The unit.
    pub unit: &'static Unit,
    /// How the author typed it, spaces made single.
    pub typed: String,
}

/// A range in one unit, for scales and arcs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NumberRange {
    /// Lower end.
    pub from: f64,
    /// Upper end.
    pub to: f64,
}

/// Why a text is no quantity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum QuantityError {
    /// There is no number at its start.
    NoNumber,
    /// There is a number and no unit.
    NoUnit,
    /// The unit is not known; the one that may be meant.
    UnknownUnit(String, Option<&'static str>),
    /// A range that runs backwards.
    Backwards,
    /// A number that is not finite, or greater than 10^9.
    TooLarge,
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoNumber => write!(f, "there is no number here"),
            Self::NoUnit => write!(f, "the number has no unit"),
            Self::UnknownUnit(unit, _) => write!(f, "`{unit}` is not a unit that is known here"),
            Self::Backwards => write!(f, "the range runs backwards"),
            Self::TooLarge => write!(f, "the number is out of all reason"),
        }
    }
}

impl Quantity {
    /// Reads a quantity.
    ///
    /// # Errors
    /// Says why the text is none.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        let text = text.trim();
        let split = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+'))).unwrap_or(text.len());
        let (numbers, symbol) = (text[..split].trim(), text[split..].trim());
        let (number, upper) = match numbers.split_once("..") {
            Some((low, high)) => (parse_number(low)?, Some(parse_number(high)?)),
            None => (parse_number(numbers)?, None),
        };
        if upper.is_some_and(|high| high < number) {
            return Err(QuantityError::Backwards);
        }
        let unit = find_unit(symbol)?;
        Ok(Self { number, upper, unit, typed: format!("{numbers} {symbol}") })
    }

    /// The value in SI units; for a range its lower end.
    pub fn si(&self) -> f64 {
        self.unit.to_si(self.number)
    }

    /// The number in another unit of the same dimension.
    pub fn in_unit(&self, unit: &Unit) -> Option<f64> {
        (unit.dimension == self.unit.dimension).then(|| unit.from_si(self.si()))
    }

    /// The range, if it is one.
    pub fn range(&self) -> Option<NumberRange> {
        self.upper.map(|to| NumberRange { from: self.number, to })
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.typed)
    }
}

fn parse_number(text: &str) -> Result<f64, QuantityError> {
    let number: f64 = text.trim().parse().map_err(|_| QuantityError::NoNumber)?;
    if number.is_finite() && number.abs() <= 1e9 { Ok(number) } else { Err(QuantityError::TooLarge) }
}

fn find_unit(symbol: &str) -> Result<&'static Unit, QuantityError> {
    if symbol.is_empty() {
        return Err(QuantityError::NoUnit);
    }
    Unit::find(symbol).ok_or_else(|| {
        let same = UNITS.iter().find(|u| u.symbol.eq_ignore_ascii_case(symbol)).map(|u| u.symbol);
        let near = same.or_else(|| did_you_mean(symbol, UNITS.iter().map(|u| u.symbol)));
        QuantityError::UnknownUnit(symbol.chars().take(40).collect(), near)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_and_single_numbers_are_read() {
        let one = Quantity::parse("35 Ah").unwrap();
        assert_eq!((one.number, one.upper, one.unit.symbol), (35.0, None, "Ah"));
        let range = Quantity::parse("4.8..5.2 inHg").unwrap();
        assert_eq!((range.number, range.upper), (4.8, Some(5.2)));
        assert_eq!(Quantity::parse("-1000 ft/min").unwrap().number, -1000.0);
    }

    #[test]
    fn what_is_no_quantity_says_why() {
        assert_eq!(Quantity::parse("Ah"), Err(QuantityError::NoNumber));
        assert_eq!(Quantity::parse("35"), Err(QuantityError::NoUnit));
        assert_eq!(Quantity::parse("5..4 V"), Err(QuantityError::Backwards));
        assert_eq!(Quantity::parse("9999999999 rpm"), Err(QuantityError::TooLarge));
        assert!(matches!(Quantity::parse("3 v"), Err(QuantityError::UnknownUnit(_, Some("V")))));
    }
}
