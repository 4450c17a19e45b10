//! What a text of each form may say.

use super::key::Form;
use super::printed::{shown, unprintable};
use super::raw::RawValue;
use super::wanted::join_words;
use crate::base::text::{did_you_mean, is_sentence, join_list};
use crate::base::{Diagnostic, Dimension, Quantity, QuantityError, Unit};

/// What is wrong with a text, if something is.
pub fn check(value: &RawValue, text: &str, form: &'static Form, key: &str) -> Option<Diagnostic> {
    match form {
        Form::Text | Form::MaybeEmpty => printed(value, text, form, key),
        Form::Sentence => sentence(value, text, key),
        Form::TwoDigits => two_digits(value, text),
        Form::Tag => tag(value, text),
        Form::Colour => colour(value, text),
        Form::Quantity(dimensions) => quantity(value, text, dimensions, key),
        Form::Range => range(value, text, key),
        Form::UnitOf(dimension) => unit_of(value, text, *dimension),
        Form::Word(words, code) => word(value, text, &words(), code, key),
        _ => None,
    }
}

fn printed(value: &RawValue, text: &str, form: &Form, key: &str) -> Option<Diagnostic> {
    if text.trim().is_empty() && !matches!(form, Form::MaybeEmpty) {
        let message = format!("`{key}` is empty");
        return Some(Diagnostic::error("empty-text", value.span, message).help("say it, or take the key out"));
    }
    markup(value, text, false)
}

fn markup(value: &RawValue, text: &str, lines: bool) -> Option<Diagnostic> {
    let (range, what) = unprintable(text, lines)?;
    let message = format!("this text is printed, and {what} cannot be");
    Some(Diagnostic::error("markup-in-name", value.inner_span(range), message).help("say it in plain words"))
}

fn sentence(value: &RawValue, text: &str, key: &str) -> Option<Diagnostic> {
    if let Some(found) = printed(value, text.trim(), &Form::MaybeEmpty, key).filter(|_| !text.contains('\n')) {
        return Some(found);
    }
    if let Some(found) = markup(value, text, true) {
        return Some(found);
    }
    let whole = is_sentence(text.trim());
    (!whole).then(|| {
        Diagnostic::error("not-a-sentence", value.span, format!("`{key}` is printed as a sentence, and this is none"))
            .help("begin with a capital and end with a full stop")
    })
}

fn two_digits(value: &RawValue, text: &str) -> Option<Diagnostic> {
    let fits = text.len() == 2 && text.bytes().all(|b| b.is_ascii_digit());
    (!fits).then(|| {
        let message = format!("`{}` is no system number", shown(text));
        Diagnostic::error("bad-system-number", value.span, message)
            .help("write the two digits of the published system number")
    })
}

fn tag(value: &RawValue, text: &str) -> Option<Diagnostic> {
    let fits = text.len() == 2 && text.bytes().all(|b| b.is_ascii_uppercase());
    (!fits).then(|| {
        Diagnostic::error("bad-tag", value.span, format!("`{}` is no tag", shown(text))).help("write two capitals")
    })
}

fn colour(value: &RawValue, text: &str) -> Option<Diagnostic> {
    let digits = text.strip_prefix('#').unwrap_or("");
    let fits = digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit() && !b.is_ascii_uppercase());
    (!fits).then(|| {
        Diagnostic::error("bad-colour", value.span, format!("`{}` is no colour", shown(text)))
            .help("write `#` and six digits of 0-9 and a-f")
    })
}

fn quantity(value: &RawValue, text: &str, dimensions: &[Dimension], key: &str) -> Option<Diagnostic> {
    let quantity = match Quantity::parse(text) {
        Ok(quantity) => quantity,
        Err(error) => return Some(bad_quantity(value, text, &error, key)),
    };
    let fits = dimensions.is_empty() || dimensions.contains(&quantity.unit.dimension);
    (!fits).then(|| {
        let names: Vec<&str> = dimensions.iter().map(|d| d.name()).collect();
        let (wanted, is) = (join_list(&names, "or"), quantity.unit.dimension.name());
        let start = text.trim_end().len().saturating_sub(quantity.unit.symbol.len());
        let span = value.inner_span(start..text.trim_end().len());
        Diagnostic::error(
            "wrong-dimension",
            span,
            format!("`{key}` is a {wanted}; `{}` is a unit of {is}", quantity.unit.symbol),
        )
        .help(format!("write it in {}", units_of(dimensions)))
    })
}

fn units_of(dimensions: &[Dimension]) -> String {
    let units = crate::base::unit::UNITS.iter().filter(|u| dimensions.contains(&u.dimension));
    join_words(&units.map(|u| u.symbol).collect::<Vec<_>>())
}

fn bad_quantity(value: &RawValue, text: &str, error: &QuantityError, key: &str) -> Diagnostic {
    let message = format!("`{key}` is no quantity: {error}");
    match error {
        QuantityError::UnknownUnit(unit, near) => {
            let start = text.rfind(unit.as_str()).unwrap_or(0);
            let span = value.inner_span(start..start + unit.len());
            let help = near.map_or_else(
                || "use a unit of the list in the reference page".to_owned(),
                |near| format!("write `{near}`, if that is meant"),
            );
            Diagnostic::error("unknown-unit", span, format!("`{}` is not a unit that is known here", shown(unit)))
                .help(help)
        }
        QuantityError::Backwards => Diagnostic::error("scale-backwards", value.span, format!("`{key}` runs backwards"))
            .help("write the lower end first"),
        QuantityError::TooLarge => Diagnostic::error("number-out-of-range", value.span, message)
            .help("write a number below a thousand million"),
        QuantityError::NoNumber | QuantityError::NoUnit => {
            Diagnostic::error("not-a-quantity", value.span, message).help("write a number and its unit, like \"35 Ah\"")
        }
    }
}

fn range(value: &RawValue, text: &str, key: &str) -> Option<Diagnostic> {
    if let Some(found) = quantity(value, text, &[], key) {
        return Some(found);
    }
    let range = Quantity::parse(text).ok().and_then(|q| q.range());
    range.is_none_or(|r| r.from >= r.to).then(|| {
        Diagnostic::error("not-a-range", value.span, format!("`{key}` goes from one value to a higher one"))
            .help("write both ends, like \"0..200 kt\"")
    })
}

fn unit_of(value: &RawValue, text: &str, dimension: Dimension) -> Option<Diagnostic> {
    let known = |u: &Unit| u.dimension == dimension;
    match Unit::find(text) {
        Some(unit) if known(unit) => None,
        Some(unit) => {
            let message = format!("`{text}` is a unit of {}, not of {}", unit.dimension.name(), dimension.name());
            Some(
                Diagnostic::error("wrong-dimension", value.span, message)
                    .help(format!("write {}", units_of(&[dimension]))),
            )
        }
        None => {
            let message = format!("`{}` is not a unit that is known here", shown(text));
            Some(
                Diagnostic::error("unknown-unit", value.span, message)
                    .help(format!("write {}", units_of(&[dimension]))),
            )
        }
    }
}

fn word(value: &RawValue, text: &str, words: &[&'static str], code: &'static str, key: &str) -> Option<Diagnostic> {
    if words.contains(&text) {
        return None;
    }
    let help = did_you_mean(text, words.iter().copied()).map_or_else(
        || format!("use one of {}", join_words(words)),
        |near| format!("write `{near}`, if that is meant"),
    );
    let span = value.inner_span(0..text.len());
    Some(
        Diagnostic::error(code, span, format!("`{}` is not among the words of `{}`", shown(text), shown(key)))
            .help(help),
    )
}

/// True for a day written `2026-05-02` that the calendar has.
pub fn is_date(text: &str) -> bool {
    let digits = |t: &str, n: usize| t.len() == n && t.bytes().all(|b| b.is_ascii_digit());
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts.as_slice() else { return false };
    if !digits(year, 4) || !digits(month, 2) || !digits(day, 2) {
        return false;
    }
    let number = |t: &str| t.parse::<u32>().unwrap_or(0);
    let (year, month, day) = (number(year), number(month), number(day));
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 => 28 + u32::from(leap),
        _ => return false,
    };
    (1..=days).contains(&day)
}
