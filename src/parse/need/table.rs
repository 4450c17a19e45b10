//! Needs as tables.

use super::sentence::out_of_range;
use super::{RawFeed, RawNeed, name_of, parse_needs, parse_when};
use crate::base::{Diagnostic, Diagnostics, Span};
use crate::parse::key::{Decl, Form, Key, NEEDS, NODES, WHEN};
use crate::parse::printed::one_line;
use crate::parse::raw::{RawTable, RawValue};
use crate::parse::walk::check_table;

/// The keys of a need that is written as a table.
pub const NEED_TABLE: Decl = Decl {
    path: "a need",
    about: "A need as a table: one of `from`, `when` alone, `any`, `all`, `at-least` with `of`.",
    keys: &[
        Key::new("from", Form::Name("node"), "The node that it comes from."),
        Key::new("through", NODES, "What the feed passes, in order from the source.").no("there is no `from`"),
        Key::new("when", WHEN, "How controls must stand; all of them."),
        Key::new("sustained", Form::Bool, "The output of the node that needs it may keep it up once it runs.")
            .or("false")
            .no("there is no `from`"),
        Key::new("approximate", Form::Sentence, "What is not exact when this feed alone carries.")
            .no("there is no `from`"),
        Key::new("any", NEEDS, "One of them is enough.").no("it is empty"),
        Key::new("all", NEEDS, "All of them must hold.").no("it is empty"),
        Key::new("at-least", Form::Whole, "So many of them must hold.").no("it is zero, or more than there are"),
        Key::new("of", NEEDS, "Those that are counted.").no("there is no `at-least`"),
    ],
};

/// Reads a table.
pub fn parse(table: &RawTable, span: Span, diagnostics: &mut Diagnostics) -> Option<RawNeed> {
    let before = diagnostics.len();
    check_table(table, &NEED_TABLE, span, diagnostics);
    let heads: Vec<&str> = ["from", "any", "all", "at-least"].into_iter().filter(|k| table.get(k).is_some()).collect();
    let form = match heads.as_slice() {
        [] if table.get("when").is_some() => "when",
        [] => {
            diagnostics.push(
                Diagnostic::error("empty-need", span, "this need says nothing")
                    .help("give it `from`, `when`, `any`, `all` or `at-least`"),
            );
            return None;
        }
        [one] => one,
        _ => {
            let message = format!("a need is one of {}, and not several", heads.join(", "));
            diagnostics.push(Diagnostic::error("need-grammar", span, message).help("make several needs of it"));
            return None;
        }
    };
    refuse_strays(table, form, diagnostics);
    if diagnostics.len() > before { None } else { read(table, form, span, diagnostics) }
}

fn refuse_strays(table: &RawTable, form: &str, diagnostics: &mut Diagnostics) {
    let taken: &[&str] = match form {
        "from" => &["from", "through", "when", "sustained", "approximate"],
        "at-least" => &["at-least", "of"],
        "any" => &["any"],
        "all" => &["all"],
        _ => &["when"],
    };
    for entry in table.entries.iter().filter(|e| NEED_TABLE.find(&e.key).is_some() && !taken.contains(&e.key.as_str()))
    {
        let message = format!("`{}` says nothing beside `{form}`", entry.key);
        diagnostics.push(
            Diagnostic::error("need-grammar", entry.key_span, message).help("take it out, or nest one need in another"),
        );
    }
}

fn read(table: &RawTable, form: &str, span: Span, diagnostics: &mut Diagnostics) -> Option<RawNeed> {
    let value = &table.get(form)?.value;
    match form {
        "from" => feed(table, value, span).map(RawNeed::Feed),
        "when" => Some(RawNeed::When(parse_when(value), span)),
        "any" | "all" => {
            let of = parse_needs(value, diagnostics);
            if value.as_list().is_none_or(<[_]>::is_empty) {
                diagnostics.push(
                    Diagnostic::error("empty-need", value.span, format!("`{form}` of nothing"))
                        .help("name what is needed"),
                );
                return None;
            }
            Some(if form == "any" { RawNeed::Any(of, span) } else { RawNeed::All(of, span) })
        }
        _ => at_least(table, value, span, diagnostics),
    }
}

fn feed(table: &RawTable, from: &RawValue, span: Span) -> Option<RawFeed> {
    let through = table.get("through").and_then(|e| e.value.as_list()).unwrap_or(&[]);
    Some(RawFeed {
        from: name_of(from)?,
        through: through.iter().filter_map(name_of).collect(),
        when: table.get("when").map(|e| parse_when(&e.value)).unwrap_or_default(),
        sustained: table.get("sustained").and_then(|e| e.value.as_bool()).unwrap_or(false),
        approximate: table.text("approximate").map(one_line),
        span,
    })
}

fn at_least(table: &RawTable, count: &RawValue, span: Span, diagnostics: &mut Diagnostics) -> Option<RawNeed> {
    let Some(list) = table.get("of").and_then(|e| e.value.as_list()) else {
        diagnostics.push(
            Diagnostic::error("empty-need", span, "`at-least` of nothing").help("add `of` with those that are counted"),
        );
        return None;
    };
    let number = count.as_whole().and_then(|n| usize::try_from(n).ok()).unwrap_or(usize::MAX);
    if number == 0 || number > list.len() {
        diagnostics.push(out_of_range(count.span, number, list.len()));
        return None;
    }
    let of: Vec<RawNeed> = table.get("of").map(|e| parse_needs(&e.value, diagnostics)).unwrap_or_default();
    (of.len() == list.len()).then_some(RawNeed::AtLeast(number, of, span))
}
