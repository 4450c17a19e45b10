//! `untied-number`: a number with a unit that comes from nowhere.

use super::Subject;
use crate::base::Diagnostic;
use crate::base::unit::UNITS;
use crate::doc::{Piece, Tie};
use std::ops::Range;

/// The long explanation.
pub const EXPLAIN: &str = "A number with a unit is pulled from the model with `{{ value(of=\"…\") }}`, so that it has a source and stays true. \
    A claim around a number does not tie it.";

/// Units as they are spoken.
const SPOKEN: [&str; 18] = [
    "hour", "hours", "minute", "minutes", "second", "seconds", "knots", "volts", "amps", "amperes", "feet", "inches",
    "gallons", "pounds", "degrees", "months", "days", "litres",
];

/// Checks every stretch of free text and of claims.
pub fn check(subject: &Subject<'_>) -> Vec<Diagnostic> {
    let pieces = subject.prose.sentences.iter().flat_map(|s| s.pieces.iter());
    pieces.filter(|p| matches!(p.tie, Tie::Untied | Tie::Claim(_))).flat_map(untied).collect()
}

fn untied(piece: &Piece) -> Vec<Diagnostic> {
    let warn = |range: Range<usize>| {
        let message = format!("“{}” is not pulled from the model", piece.text.get(range.clone()).unwrap_or(""));
        let help =
            "write `{{ value(of=\"…\") }}`; a number that the model lacks goes into a `[quantity.…]` with its source";
        Diagnostic::warning("untied-number", piece.span.inner(range), message).help(help)
    };
    numbers(&piece.text).into_iter().map(warn).collect()
}

/// Numbers that a unit follows.
fn numbers(text: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut from = 0;
    while let Some(start) = text.get(from..).and_then(|t| t.find(|c: char| c.is_ascii_digit())).map(|i| from + i) {
        let rest = text.get(start..).unwrap_or("");
        let digits = rest.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ','))).unwrap_or(rest.len());
        from = start + digits;
        let in_word = text.get(..start).is_some_and(|t| t.ends_with(|c: char| c.is_alphanumeric()));
        let after = text.get(from..).unwrap_or("");
        let unit = after.trim_start_matches([' ', '\u{a0}']);
        let length = unit_length(unit);
        if length > 0 && !in_word {
            found.push(start..from + (after.len() - unit.len()) + length);
        }
    }
    found
}

/// How long the unit is that a text begins with; nothing if it begins with none. Bare `in` is a word more often than an inch.
fn unit_length(text: &str) -> usize {
    let word = text.find(|c: char| !(c.is_alphabetic() || matches!(c, '/' | '%'))).unwrap_or(text.len());
    let unit = text.get(..word).unwrap_or("");
    let known = unit != "in" && (UNITS.iter().any(|u| u.symbol == unit) || SPOKEN.contains(&unit));
    if known { word } else { 0 }
}

#[cfg(test)]
mod tests {
    use super::numbers;

    #[test]
    fn number_with_a_unit_is_found_and_a_bare_one_is_not() {
        assert_eq!(numbers("at 14 V and 4.8 inHg, 30 minutes"), vec![3..7, 12..20, 22..32]);
        assert!(numbers("com 1 in flight, see 3.4, in 2 steps").is_empty());
    }
}
