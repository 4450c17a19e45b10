//! Sums as they are printed, done again: numbers with their units, `+ − × ÷ ^` and brackets. The table of units is this file's own.
//!
//! # Source
//! NIST SP 811 (2008), appendix B, from memory, for the factors; foot, knot, pound and gallon are exact by definition.

/// Powers of length, mass, time, current and turns.
type Powers = [i8; 5];

/// What a sum comes to, in metres, kilograms, seconds, amperes and turns.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Worth {
    number: f64,
    powers: Powers,
}

const fn unit(symbol: &'static str, factor: f64, powers: Powers) -> (&'static str, f64, Powers) {
    (symbol, factor, powers)
}

const TIME: Powers = [0, 0, 1, 0, 0];
const CHARGE: Powers = [0, 0, 1, 1, 0];
const LENGTH: Powers = [1, 0, 0, 0, 0];
const SPEED: Powers = [1, 0, -1, 0, 0];
const VOLUME: Powers = [3, 0, 0, 0, 0];
const PRESSURE: Powers = [-1, 1, -2, 0, 0];

const UNITS: &[(&str, f64, Powers)] = &[
    unit("A·min", 60.0, CHARGE),
    unit("Ah", 3600.0, CHARGE),
    unit("A", 1.0, [0, 0, 0, 1, 0]),
    unit("V", 1.0, [2, 1, -3, -1, 0]),
    unit("W", 1.0, [2, 1, -3, 0, 0]),
    unit("ohm", 1.0, [2, 1, -3, -2, 0]),
    unit("min", 60.0, TIME),
    unit("h", 3600.0, TIME),
    unit("h/day", 3600.0 / 86_400.0, [0; 5]),
    unit("days", 86_400.0, TIME),
    unit("ft", 0.3048, LENGTH),
    unit("ft/min", 0.3048 / 60.0, SPEED),
    unit("kt", 1852.0 / 3600.0, SPEED),
    unit("hPa", 100.0, PRESSURE),
    unit("rpm", 1.0 / 60.0, [0, 0, -1, 0, 1]),
    unit("gal", 0.003_785_411_784, VOLUME),
    unit("gph", 0.003_785_411_784 / 3600.0, [3, 0, -1, 0, 0]),
    unit("lb", 0.453_592_37, [0, 1, 0, 0, 0]),
    unit("lb/gal", 0.453_592_37 / 0.003_785_411_784, [-3, 1, 0, 0, 0]),
    unit("%", 0.01, [0; 5]),
];

/// A bare number, and half of its last digit.
pub(super) fn number(text: &str) -> Option<(f64, f64)> {
    let is_plain = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-'));
    let number = text.parse::<f64>().ok().filter(|n| is_plain && n.is_finite())?;
    let decimals = text.split_once('.').map_or(0, |(_, after)| after.len());
    Some((number, 0.5 / 10_f64.powi(i32::try_from(decimals).ok()?)))
}

/// The minutes that a printed sum comes to; nothing where it cannot be read or comes to something else.
pub(in crate::audit) fn minutes(sum: &str) -> Option<f64> {
    let (worth, rest) = added(sum.trim())?;
    let is_time = rest.is_empty() && worth.powers == TIME && worth.number.is_finite();
    is_time.then(|| worth.number / 60.0)
}

/// Whether a printed sum comes to the printed result, within so many halves of its last digit.
pub(super) fn comes_to(sum: &str, result: &str, halves: f64) -> bool {
    let Some((worth, "")) = added(sum.trim()) else { return false };
    let (digits, symbol) = result.trim().split_once(' ').unwrap_or((result.trim(), ""));
    let Some((shown, half)) = number(digits) else { return false };
    let Some((factor, powers)) = factor(symbol) else { return false };
    let truth = worth.number / factor;
    worth.powers == powers && (shown - truth).abs() <= half * halves * (1.0 + 1e-6) + 1e-9 * truth.abs()
}

fn factor(symbol: &str) -> Option<(f64, Powers)> {
    if symbol.is_empty() {
        return Some((1.0, [0; 5]));
    }
    UNITS.iter().find(|(s, ..)| *s == symbol).map(|(_, factor, powers)| (*factor, *powers))
}

fn added(text: &str) -> Option<(Worth, &str)> {
    let (mut worth, mut rest) = multiplied(text)?;
    loop {
        let (sign, after) = match (rest.strip_prefix(" + "), rest.strip_prefix(" − ")) {
            (Some(after), _) => (1.0, after),
            (_, Some(after)) => (-1.0, after),
            _ => return Some((worth, rest)),
        };
        let (next, left) = multiplied(after)?;
        if next.powers != worth.powers {
            return None;
        }
        worth.number += sign * next.number;
        rest = left;
    }
}

fn multiplied(text: &str) -> Option<(Worth, &str)> {
    let (mut worth, mut rest) = raised(text)?;
    loop {
        let (sign, after) = match (rest.strip_prefix(" × "), rest.strip_prefix(" ÷ ")) {
            (Some(after), _) => (1, after),
            (_, Some(after)) => (-1, after),
            _ => return Some((worth, rest)),
        };
        let (next, left) = raised(after)?;
        worth.number = if sign > 0 { worth.number * next.number } else { worth.number / next.number };
        for (power, more) in worth.powers.iter_mut().zip(next.powers) {
            *power += sign * more;
        }
        rest = left;
    }
}

/// Only a plain number is raised to a power, and only to a plain one.
fn raised(text: &str) -> Option<(Worth, &str)> {
    let (base, rest) = operand(text)?;
    let Some(after) = rest.strip_prefix(" ^ ") else { return Some((base, rest)) };
    let (power, left) = operand(after)?;
    let plain = base.powers == [0; 5] && power.powers == [0; 5];
    plain.then(|| (Worth { number: base.number.powf(power.number), powers: [0; 5] }, left))
}

fn operand(text: &str) -> Option<(Worth, &str)> {
    if let Some(inside) = text.strip_prefix('(') {
        let (worth, rest) = added(inside)?;
        return Some((worth, rest.strip_prefix(')')?));
    }
    let signs = [" + ", " − ", " × ", " ÷ ", " ^ ", ")"];
    let end = signs.iter().filter_map(|sign| text.find(sign)).min().unwrap_or(text.len());
    let (amount, rest) = text.split_at(end);
    let (digits, symbol) = amount.split_once(' ').unwrap_or((amount, ""));
    let (factor, powers) = factor(symbol)?;
    Some((Worth { number: number(digits)?.0 * factor, powers }, rest))
}

#[cfg(test)]
mod tests {
    use super::{comes_to, minutes};

    #[test]
    fn sums_come_to_their_results_to_the_last_digit() {
        for (sum, result) in [
            ("25 Ah × 0.75", "18.75 Ah"),
            ("18.75 Ah × 60 min ÷ 1 h", "1125 A·min"),
            ("778.3 A·min ÷ 14.32 A", "54.4 min"),
            ("3.06 ohm ÷ 1000 ft × 16 ft × 7 A", "0.343 V"),
            ("30 A × (30 A ÷ 25 A) ^ (1.15 − 1)", "30.83 A"),
            ("25 Ah ÷ 0.02 A", "1250 h"),
            ("1250 h ÷ 24 h/day", "52 days"),
            ("(2300 ft − 1800 ft) ÷ 2 min", "250 ft/min"),
            ("20 A ÷ 60 A", "33.3 %"),
            ("23 gal ÷ 9 gph", "2.56 h"),
        ] {
            assert!(comes_to(sum, result, 1.0), "{sum} = {result}");
        }
    }

    #[test]
    fn times_of_a_tachometer_come_to_minutes() {
        assert_eq!(minutes("1200 rpm ÷ 2400 rpm × 60 min"), Some(30.0));
        assert_eq!(minutes("(2400 rpm × 60 min + 1200 rpm × 1 h) ÷ 2400 rpm"), Some(90.0));
        assert_eq!(minutes("60 min + 60 min"), Some(120.0));
    }

    #[test]
    fn what_comes_to_no_time_gives_no_minutes() {
        for wrong in ["1200 rpm", "60 min + 1200 rpm", "60 min ×", "(60 min", "1200 rpm ÷ 0 rpm × 60 min", "60 A", ""]
        {
            assert_eq!(minutes(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn what_does_not_come_to_its_result_is_told() {
        for (sum, result) in [
            ("25 Ah × 0.75", "18.76 Ah"),
            ("25 Ah × 0.75", "18.75 A"),
            ("1125 A·min − 82 A", "1043 A·min"),
            ("25 Ah × 0.75 +", "18.75 Ah"),
            ("(25 Ah × 0.75", "18.75 Ah"),
            ("25 Ah ^ 2", "625 Ah"),
            ("25 Ah × x", "18.75 Ah"),
            ("", "0"),
        ] {
            assert!(!comes_to(sum, result, 1.0), "{sum} = {result}");
        }
    }
}
