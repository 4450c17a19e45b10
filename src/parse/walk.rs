//! Holds a raw tree against the declarations of keys.

use super::key::{Decl, Form, Key};
use super::printed::{shown, unprintable};
use super::raw::{RawKind, RawTable, RawValue};
use crate::base::text::{did_you_mean, is_sentence, join_list};
use crate::base::{Diagnostic, Diagnostics, Dimension, Id, Quantity, QuantityError, Span, Unit};

/// Tells everything in a table that its declaration does not allow.
///
/// # Errors
/// `unknown-table`, `unknown-key`, `missing-key`, `wrong-type` and the codes of each form.
pub fn check_table(table: &RawTable, decl: &'static Decl, at: Span, diagnostics: &mut Diagnostics) {
    Walk { diagnostics }.table(table, decl, at, decl.path);
}

struct Walk<'a> {
    diagnostics: &'a mut Diagnostics,
}

impl Walk<'_> {
    fn push(&mut self, diagnostic: Diagnostic) {
        self.diagnostics.push(diagnostic);
    }

    fn table(&mut self, table: &RawTable, decl: &'static Decl, at: Span, place: &str) {
        for entry in &table.entries {
            match decl.find(&entry.key) {
                Some(key) => self.value(&entry.value, &key.form, &entry.key),
                None => self.unknown(&entry.key, entry.key_span, decl),
            }
        }
        let missing = decl.keys.iter().filter(|k| k.required && table.get(k.name).is_none());
        for key in missing {
            self.push(missing_key(key, at, place));
        }
    }

    fn unknown(&mut self, key: &str, span: Span, decl: &'static Decl) {
        let top = std::ptr::eq(decl.path, super::key::TOP.path) || decl.path == super::key::TOP.path;
        let code = if top { "unknown-table" } else { "unknown-key" };
        let sort = if top { "table" } else { "key" };
        let message = format!("`{}` is no {sort} of {}", shown(key), decl.path);
        let near = did_you_mean(key, decl.keys.iter().map(|k| k.name));
        let help = near.map_or_else(
            || {
                let names: Vec<String> = decl.keys.iter().map(|k| format!("`{}`", k.name)).collect();
                format!("take it out, or use one of {}", join_list(&names, "or"))
            },
            |near| format!("write `{near}`, if that is meant"),
        );
        self.push(Diagnostic::error(code, span, message).help(help));
    }

    fn value(&mut self, value: &RawValue, form: &'static Form, key: &str) {
        if !fits(value, form) {
            self.push(wrong_type(value, form, key));
            return;
        }
        match form {
            Form::List(of) => value.as_list().unwrap_or(&[]).iter().for_each(|v| self.value(v, of, key)),
            Form::OneOf(forms) => {
                if let Some(form) = forms.iter().find(|f| fits(value, f)) {
                    self.value(value, form, key);
                }
            }
            Form::Table(decl) => self.sub_table(value, decl, key),
            Form::Ids(decl) => self.ids(value, decl),
            Form::Map(_, form) => {
                for entry in value.as_table().map_or(&[][..], |t| &t.entries) {
                    self.value(&entry.value, form, &entry.key);
                }
            }
            Form::Date => self.date(value, key),
            Form::Whole => self.whole(value, key),
            Form::Share => self.share(value, key),
            _ => self.text(value, form, key),
        }
    }

    fn sub_table(&mut self, value: &RawValue, decl: &'static Decl, key: &str) {
        if let Some(table) = value.as_table() {
            self.table(table, decl, value.span, &format!("`{key}`"));
        }
    }

    fn ids(&mut self, value: &RawValue, decl: &'static Decl) {
        for entry in value.as_table().map_or(&[][..], |t| &t.entries) {
            if let Err(why) = Id::new(&entry.key) {
                let message = format!("`{}` cannot be an id: {why}", shown(&entry.key));
                self.push(
                    Diagnostic::error("bad-id", entry.key_span, message).help("use lower-case words joined by `-`"),
                );
            }
            match entry.value.as_table() {
                Some(table) => self.table(table, decl, entry.key_span, &format!("`{}`", shown(&entry.key))),
                None => self.push(wrong_type(&entry.value, &Form::Table(decl), &entry.key)),
            }
        }
    }

    fn date(&mut self, value: &RawValue, key: &str) {
        let whole_day = matches!(&value.kind, RawKind::Date(_, true));
        let in_text = value.as_text().is_some_and(is_date);
        if !whole_day && !in_text {
            let message = format!("`{key}` is a date without time of day, and this is not");
            self.push(
                Diagnostic::error("date-wrong", value.span, message).help("write it like 2026-05-02, without quotes"),
            );
        }
    }

    fn whole(&mut self, value: &RawValue, key: &str) {
        if value.as_whole().is_none_or(|n| n < 0) {
            let message = format!("`{key}` is a whole number from 0 up");
            self.push(
                Diagnostic::error("number-out-of-range", value.span, message).help("count from 1 up, in whole numbers"),
            );
        }
    }

    fn share(&mut self, value: &RawValue, key: &str) {
        if value.as_number().is_none_or(|n| !(0.0..=1.0).contains(&n)) {
            let message = format!("`{key}` is a number from 0 to 1");
            self.push(Diagnostic::error("number-out-of-range", value.span, message).help("write a number from 0 to 1"));
        }
    }

    fn text(&mut self, value: &RawValue, form: &'static Form, key: &str) {
        let Some(text) = value.as_text() else { return };
        let found = match form {
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
        };
        if let Some(diagnostic) = found {
            self.push(diagnostic);
        }
    }
}

fn missing_key(key: &Key, at: Span, place: &str) -> Diagnostic {
    let (code, message) = match place {
        "a model file" => ("missing-table", format!("there is no table `[{}]`", key.name)),
        _ if key.name == "normally" => ("given-normally-missing", format!("{place} has no `normally`")),
        _ => ("missing-key", format!("{place} has no `{}`", key.name)),
    };
    Diagnostic::error(code, at, message).help(format!("add `{}`: {}", key.name, lower_first(key.meaning)))
}

fn lower_first(text: &str) -> String {
    let mut letters = text.trim_end_matches('.').chars();
    letters.next().map_or_else(String::new, |c| c.to_lowercase().chain(letters).collect())
}

/// True if a value is of the TOML type that a form wants; what it says is looked at later.
fn fits(value: &RawValue, form: &Form) -> bool {
    match form {
        Form::Bool => matches!(value.kind, RawKind::Bool(_)),
        Form::Whole => matches!(value.kind, RawKind::Whole(_)),
        Form::Share => matches!(value.kind, RawKind::Whole(_) | RawKind::Number(_)),
        Form::Date => matches!(value.kind, RawKind::Date(..) | RawKind::Text(_)),
        Form::Need => matches!(value.kind, RawKind::Text(_) | RawKind::Table(_)),
        Form::List(_) => matches!(value.kind, RawKind::List(_)),
        Form::Table(_) | Form::Ids(_) | Form::Map(..) => matches!(value.kind, RawKind::Table(_)),
        Form::OneOf(forms) => forms.iter().any(|f| fits(value, f)),
        Form::Anything => true,
        _ => matches!(value.kind, RawKind::Text(_)),
    }
}

/// What a form wants, in words.
pub fn wanted(form: &Form) -> String {
    match form {
        Form::Text | Form::MaybeEmpty => "text".to_owned(),
        Form::Sentence => "text of whole sentences".to_owned(),
        Form::Bool => "true or false".to_owned(),
        Form::Whole => "a whole number".to_owned(),
        Form::Share => "a number from 0 to 1".to_owned(),
        Form::Date => "a date".to_owned(),
        Form::TwoDigits => "text of two digits".to_owned(),
        Form::Tag => "text of two capitals".to_owned(),
        Form::Colour => "text like \"#1f4fb0\"".to_owned(),
        Form::Quantity(dimensions) => match dimensions {
            [] => "number and unit, as text".to_owned(),
            some => {
                let names: Vec<&str> = some.iter().map(|d| d.name()).collect();
                format!("number and unit of {}, as text", join_list(&names, "or"))
            }
        },
        Form::Range => "a range and its unit, as text".to_owned(),
        Form::UnitOf(dimension) => format!("a unit of {}", dimension.name()),
        Form::Word(words, _) => {
            let words = words();
            if words.len() > 12 { "a word of a closed list".to_owned() } else { join_words(&words) }
        }
        Form::Name(of) => format!("the id of {} {of}", if of.starts_with(['a', 'i']) { "an" } else { "a" }),
        Form::Need => "a need".to_owned(),
        Form::List(of) => format!("a list, each {}", wanted(of)),
        Form::Table(decl) => format!("a table `{}`", decl.path),
        Form::Ids(decl) => format!("tables `{}`", decl.path),
        Form::Map(of, value) => format!("a table by {of}, each {}", wanted(value)),
        Form::OneOf(forms) => join_list(&forms.iter().map(wanted).collect::<Vec<_>>(), "or"),
        Form::Anything => "anything".to_owned(),
    }
}

fn join_words(words: &[&str]) -> String {
    join_list(&words.iter().map(|w| format!("`{w}`")).collect::<Vec<_>>(), "or")
}

fn wrong_type(value: &RawValue, form: &Form, key: &str) -> Diagnostic {
    let wanted = wanted(form);
    let message = format!("`{}` is {wanted}, and here stands {}", shown(key), value.sort());
    Diagnostic::error("wrong-type", value.span, message).help(format!("write {wanted}"))
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
