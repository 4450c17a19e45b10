//! Holds a raw tree against the declarations of keys.

use super::key::{Decl, Form, Key};
use super::printed::shown;
use super::raw::{RawKind, RawTable, RawValue};
use super::texts::{self, is_date};
use super::wanted::wanted;
use crate::base::text::{did_you_mean, join_list};
use crate::base::{Diagnostic, Diagnostics, Id, Span};

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
            Form::Share => self.between(value, 0.0, 1.0, key),
            Form::Between(low, high) => self.between(value, *low, *high, key),
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

    fn between(&mut self, value: &RawValue, low: f64, high: f64, key: &str) {
        if value.as_number().is_none_or(|n| !(low..=high).contains(&n)) {
            let message = format!("`{key}` is a number from {low} to {high}");
            let help = format!("write a number from {low} to {high}");
            self.push(Diagnostic::error("number-out-of-range", value.span, message).help(help));
        }
    }

    fn text(&mut self, value: &RawValue, form: &'static Form, key: &str) {
        if let Some(diagnostic) = value.as_text().and_then(|text| texts::check(value, text, form, key)) {
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
        Form::Share | Form::Between(..) => matches!(value.kind, RawKind::Whole(_) | RawKind::Number(_)),
        Form::Date => matches!(value.kind, RawKind::Date(..) | RawKind::Text(_)),
        Form::Need => matches!(value.kind, RawKind::Text(_) | RawKind::Table(_)),
        Form::List(_) => matches!(value.kind, RawKind::List(_)),
        Form::Table(_) | Form::Ids(_) | Form::Map(..) => matches!(value.kind, RawKind::Table(_)),
        Form::OneOf(forms) => forms.iter().any(|f| fits(value, f)),
        Form::Anything => true,
        _ => matches!(value.kind, RawKind::Text(_)),
    }
}

fn wrong_type(value: &RawValue, form: &Form, key: &str) -> Diagnostic {
    let wanted = wanted(form);
    let message = format!("`{}` is {wanted}, and here stands {}", shown(key), value.sort());
    Diagnostic::error("wrong-type", value.span, message).help(format!("write {wanted}"))
}
