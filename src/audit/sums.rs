//! Sums as they are printed, done again: numbers of rpm and minutes with `+ × ÷` and brackets.

use super::amount::Amount;

/// What a sum comes to, with the powers of revolutions per minute and of minutes in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Worth {
    pub(super) number: f64,
    speed: i32,
    time: i32,
}

impl Worth {
    /// Does a sum; nothing if it cannot be read, or adds what cannot be added.
    pub(super) fn of(sum: &str) -> Option<Self> {
        let (worth, rest) = added(sum.trim())?;
        rest.is_empty().then_some(worth)
    }

    /// Whether it comes to minutes.
    pub(super) fn is_time(&self) -> bool {
        (self.speed, self.time) == (0, 1) && self.number.is_finite()
    }
}

fn added(text: &str) -> Option<(Worth, &str)> {
    let (mut worth, mut rest) = multiplied(text)?;
    while let Some(after) = rest.strip_prefix(" + ") {
        let (next, left) = multiplied(after)?;
        if (next.speed, next.time) != (worth.speed, worth.time) {
            return None;
        }
        worth.number += next.number;
        rest = left;
    }
    Some((worth, rest))
}

fn multiplied(text: &str) -> Option<(Worth, &str)> {
    let (mut worth, mut rest) = operand(text)?;
    loop {
        let (sign, after) = match (rest.strip_prefix(" × "), rest.strip_prefix(" ÷ ")) {
            (Some(after), _) => (1, after),
            (_, Some(after)) => (-1, after),
            _ => return Some((worth, rest)),
        };
        let (next, left) = operand(after)?;
        worth.number = if sign > 0 { worth.number * next.number } else { worth.number / next.number };
        worth.speed += sign * next.speed;
        worth.time += sign * next.time;
        rest = left;
    }
}

fn operand(text: &str) -> Option<(Worth, &str)> {
    if let Some(inside) = text.strip_prefix('(') {
        let (worth, rest) = added(inside)?;
        return Some((worth, rest.strip_prefix(')')?));
    }
    let end = [" + ", " × ", " ÷ ", ")"].iter().filter_map(|sign| text.find(sign)).min().unwrap_or(text.len());
    let (number, rest) = text.split_at(end);
    let amount = Amount::read(number)?;
    let worth = match (amount.number_in("rpm"), amount.number_in("min")) {
        (Some(number), _) => Worth { number, speed: 1, time: 0 },
        (_, Some(number)) => Worth { number, speed: 0, time: 1 },
        _ => return None,
    };
    Some((worth, rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn minutes(sum: &str) -> Option<f64> {
        Worth::of(sum).filter(Worth::is_time).map(|worth| worth.number)
    }

    #[test]
    fn sums_are_done_as_they_are_printed() {
        assert_eq!(minutes("1200 rpm ÷ 2400 rpm × 60 min"), Some(30.0));
        assert_eq!(minutes("(2400 rpm × 60 min + 1200 rpm × 1 h) ÷ 2400 rpm"), Some(90.0));
        assert_eq!(minutes("60 min + 60 min"), Some(120.0));
    }

    #[test]
    fn what_does_not_come_to_minutes_is_no_sum() {
        for wrong in ["1200 rpm", "60 min + 1200 rpm", "60 min ×", "(60 min", "1200 rpm ÷ 0 rpm × 60 min", "60 A", ""]
        {
            assert_eq!(minutes(wrong), None, "{wrong}");
        }
    }
}
