//! A tail over its type: additions, replacements, removals, each with a reason.

use crate::base::text::{did_you_mean, is_sentence};
use crate::base::{Diagnostic, Diagnostics, Span};
use crate::model::{Change, ChangeKind};
use crate::parse::key::TAIL;
use crate::parse::printed::{one_line, shown, unprintable};
use crate::parse::{RawEntry, RawKind, RawTable, RawValue, check_table};

/// Tables of the language that hold others by id.
const BY_ID: [&str; 8] = ["medium", "given", "item", "information", "alert", "state", "quantity", "system"];
/// Tables that stand alone.
const ALONE: [&str; 3] = ["display", "time", "panel"];
/// Tables inside an item or given that hold others by id.
const INNER_BY_ID: [&str; 2] = ["function", "fault"];
/// Tables inside an item that stand alone.
const INNER_ALONE: [&str; 2] = ["panel", "scale"];
/// What a tail may hold.
const TAIL_TABLES: [&str; 6] = ["tail", "aircraft", "private", "add", "replace", "remove"];

/// One table that a tail changes.
struct Target<'a> {
    path: Vec<&'a str>,
    span: Span,
    table: RawTable,
    value_span: Span,
}

/// Changes a tree as a tail says.
///
/// # Errors
/// `overlay-exists`, `overlay-missing`, `reason-missing`, `not-a-sentence`, `unknown-table`, `unknown-key`, `wrong-type`.
pub fn apply(whole: &mut RawTable, tail: RawTable, changes: &mut Vec<Change>, diagnostics: &mut Diagnostics) {
    for entry in tail.entries {
        match entry.key.as_str() {
            "tail" => check_tail(&entry, diagnostics),
            "aircraft" | "private" => replace_keys(whole, entry),
            "add" => change(whole, &entry, ChangeKind::Add, (changes, diagnostics)),
            "replace" => change(whole, &entry, ChangeKind::Replace, (changes, diagnostics)),
            "remove" => change(whole, &entry, ChangeKind::Remove, (changes, diagnostics)),
            other => diagnostics.push(unknown(other, entry.key_span, &TAIL_TABLES, "table", "a tail")),
        }
    }
}

fn unknown(key: &str, span: Span, known: &[&str], sort: &str, of: &str) -> Diagnostic {
    let code = if sort == "table" { "unknown-table" } else { "unknown-key" };
    let help = match did_you_mean(key, known.iter().copied()) {
        Some(near) => format!("write `{near}`, if that is meant"),
        None if of == "a tail" => "put it under `[add.…]`, `[replace.…]` or `[remove.…]`, with a reason".to_owned(),
        None => format!("take it out; known are {}", known.join(", ")),
    };
    Diagnostic::error(code, span, format!("`{}` is no {sort} of {of}", shown(key))).help(help)
}

fn check_tail(entry: &RawEntry, diagnostics: &mut Diagnostics) {
    match entry.value.as_table() {
        Some(table) => check_table(table, &TAIL, entry.key_span, diagnostics),
        None => diagnostics
            .push(Diagnostic::error("wrong-type", entry.value.span, "`tail` is a table").help("write `[tail]`")),
    }
}

/// The keys of `[aircraft]` and `[private]` take the place of those of the type without more ado.
fn replace_keys(whole: &mut RawTable, entry: RawEntry) {
    let RawEntry { key, key_span, value } = entry;
    let RawKind::Table(table) = value.kind else {
        whole.remove(&key);
        whole.entries.push(RawEntry { key, key_span, value });
        return;
    };
    if let Some(RawKind::Table(there)) = whole.get_mut(&key).map(|e| &mut e.value.kind) {
        set_keys(there, table);
    } else {
        let value = RawValue { kind: RawKind::Table(table), span: value.span };
        whole.entries.push(RawEntry { key, key_span, value });
    }
}

fn set_keys(there: &mut RawTable, with: RawTable) {
    for entry in with.entries {
        let deep = INNER_BY_ID.contains(&entry.key.as_str()) || INNER_ALONE.contains(&entry.key.as_str());
        match (there.get_mut(&entry.key).map(|e| &mut e.value.kind), entry) {
            (Some(RawKind::Table(old)), RawEntry { value: RawValue { kind: RawKind::Table(new), .. }, .. }) if deep => {
                set_deep(old, new);
            }
            (Some(_), entry) => {
                there.remove(&entry.key);
                there.entries.push(entry);
            }
            (None, entry) => there.entries.push(entry),
        }
    }
}

/// As [`set_keys`], one level further down for tables by id.
fn set_deep(there: &mut RawTable, with: RawTable) {
    for entry in with.entries {
        match (there.get_mut(&entry.key).map(|e| &mut e.value.kind), entry) {
            (Some(RawKind::Table(old)), RawEntry { value: RawValue { kind: RawKind::Table(new), .. }, .. }) => {
                set_keys(old, new);
            }
            (_, entry) => {
                there.remove(&entry.key);
                there.entries.push(entry);
            }
        }
    }
}

/// Changes that were made, and what was wrong with them.
type Told<'a> = (&'a mut Vec<Change>, &'a mut Diagnostics);

fn change(whole: &mut RawTable, entry: &RawEntry, kind: ChangeKind, told: Told<'_>) {
    let (changes, diagnostics) = told;
    for mut target in targets(entry, diagnostics) {
        let reason = take_reason(&mut target, diagnostics);
        let path = target.path.join(".");
        let done = match kind {
            ChangeKind::Add => add(whole, target, diagnostics),
            ChangeKind::Replace => replace(whole, target, diagnostics),
            ChangeKind::Remove => remove(whole, &target, diagnostics),
        };
        if let (Some(reason), Some(span)) = (reason, done) {
            changes.push(Change { kind, path, reason, span });
        }
    }
}

/// Every table that is meant, outer before inner.
fn targets<'a>(entry: &'a RawEntry, diagnostics: &mut Diagnostics) -> Vec<Target<'a>> {
    let mut found = Vec::new();
    for top in entry.value.as_table().map_or(&[][..], |t| &t.entries) {
        let known = BY_ID.contains(&top.key.as_str());
        match &top.value.kind {
            RawKind::Table(table) if known => {
                table.entries.iter().for_each(|e| inner(e, vec![&top.key], &mut found, diagnostics));
            }
            RawKind::Table(_) if ALONE.contains(&top.key.as_str()) => inner(top, Vec::new(), &mut found, diagnostics),
            _ => {
                let tables: Vec<&str> = BY_ID.iter().chain(&ALONE).copied().collect();
                diagnostics.push(unknown(&top.key, top.key_span, &tables, "table", "what a tail changes"));
            }
        }
    }
    found
}

fn inner<'a>(entry: &'a RawEntry, mut path: Vec<&'a str>, found: &mut Vec<Target<'a>>, diagnostics: &mut Diagnostics) {
    let Some(table) = entry.value.as_table() else {
        let message = format!("`{}` is a table, and here stands {}", shown(&entry.key), entry.value.sort());
        diagnostics.push(
            Diagnostic::error("wrong-type", entry.value.span, message).help("write it under the head of a table"),
        );
        return;
    };
    path.push(&entry.key);
    let nests = path.first() == Some(&"item") || path.first() == Some(&"given");
    let nests = nests && path.len() == 2;
    let own = table.entries.iter().any(|e| !nests || !is_inner(e)) || table.entries.is_empty();
    let mut rest = table.clone();
    let mut subs: Vec<(&'a RawEntry, Vec<&'a str>)> = Vec::new();
    for e in table.entries.iter().filter(|e| nests && is_inner(e)) {
        split_off(e, own, &path, &mut rest, &mut subs);
    }
    if own {
        found.push(Target { path, span: entry.key_span, table: rest, value_span: entry.value.span });
    }
    for (sub, around) in subs {
        inner(sub, around, found, diagnostics);
    }
}

fn is_inner(entry: &RawEntry) -> bool {
    let key = entry.key.as_str();
    (INNER_BY_ID.contains(&key) || INNER_ALONE.contains(&key)) && entry.value.as_table().is_some()
}

/// Tables within a changed table that have a reason of their own, or stand in one that has none, are changes of their own.
fn split_off<'a>(
    entry: &'a RawEntry,
    own: bool,
    path: &[&'a str],
    rest: &mut RawTable,
    subs: &mut Vec<(&'a RawEntry, Vec<&'a str>)>,
) {
    let Some(table) = entry.value.as_table() else { return };
    let apart = |t: Option<&RawTable>| !own || t.is_some_and(|t| t.get("reason").is_some());
    if INNER_ALONE.contains(&entry.key.as_str()) {
        if apart(Some(table)) {
            rest.remove(&entry.key);
            subs.push((entry, path.to_vec()));
        }
        return;
    }
    for sub in table.entries.iter().filter(|s| apart(s.value.as_table())) {
        if let Some(RawKind::Table(left)) = rest.get_mut(&entry.key).map(|e| &mut e.value.kind) {
            left.remove(&sub.key);
        }
        subs.push((sub, path.iter().copied().chain([entry.key.as_str()]).collect()));
    }
    if rest.table(&entry.key).is_some_and(|t| t.entries.is_empty()) {
        rest.remove(&entry.key);
    }
}

fn take_reason(target: &mut Target<'_>, diagnostics: &mut Diagnostics) -> Option<String> {
    let path = target.path.join(".");
    let Some(entry) = target.table.remove("reason") else {
        let message = format!("the change of `{}` has no reason", shown(&path));
        diagnostics.push(
            Diagnostic::error("reason-missing", target.span, message)
                .help("add `reason`: a sentence that says why this aircraft differs"),
        );
        return None;
    };
    let Some(text) = entry.value.as_text() else {
        let message = format!("`reason` is text, and here stands {}", entry.value.sort());
        diagnostics.push(Diagnostic::error("wrong-type", entry.value.span, message).help("write a sentence"));
        return None;
    };
    let reason = one_line(text);
    if let Some((range, what)) = unprintable(text, true) {
        let message = format!("this text is printed, and {what} cannot be");
        diagnostics.push(
            Diagnostic::error("markup-in-name", entry.value.inner_span(range), message).help("say it in plain words"),
        );
    } else if !is_sentence(&reason) {
        let message = "`reason` is printed as a sentence, and this is none";
        diagnostics.push(
            Diagnostic::error("not-a-sentence", entry.value.span, message)
                .help("begin with a capital and end with a full stop"),
        );
    }
    Some(reason)
}

/// The entry at a path.
fn at<'t>(whole: &'t mut RawTable, path: &[&str]) -> Option<&'t mut RawEntry> {
    let (last, around) = path.split_last()?;
    let mut table = whole;
    for step in around {
        table = match &mut table.get_mut(step)?.value.kind {
            RawKind::Table(inner) => inner,
            _ => return None,
        };
    }
    table.get_mut(last)
}

fn missing(target: &Target<'_>, what: &str) -> Diagnostic {
    let path = target.path.join(".");
    Diagnostic::error(
        "overlay-missing",
        target.span,
        format!("`{}` is not in the type, so it cannot be {what}", shown(&path)),
    )
    .help("mend the path, or write it under `[add.…]`")
}

fn add(whole: &mut RawTable, target: Target<'_>, diagnostics: &mut Diagnostics) -> Option<Span> {
    if let Some(there) = at(whole, &target.path) {
        let message = format!("`{}` is in the type already", shown(&target.path.join(".")));
        diagnostics.push(
            Diagnostic::error("overlay-exists", target.span, message)
                .also(there.key_span, "here it is declared")
                .help("write it under `[replace.…]`, or give it another id"),
        );
        return None;
    }
    if target.path.len() > 2 && at(whole, target.path.get(..2)?).is_none() {
        diagnostics.push(missing(&target, "added to"));
        return None;
    }
    let span = target.span;
    insert(whole, target);
    Some(span)
}

fn insert(whole: &mut RawTable, target: Target<'_>) {
    let mut table = whole;
    let Some((last, around)) = target.path.split_last() else { return };
    for step in around {
        if table.get(step).is_none() {
            let value = RawValue { kind: RawKind::Table(RawTable::default()), span: target.span };
            table.entries.push(RawEntry { key: (*step).to_owned(), key_span: target.span, value });
        }
        table = match table.get_mut(step).map(|e| &mut e.value.kind) {
            Some(RawKind::Table(inner)) => inner,
            _ => return,
        };
    }
    let value = RawValue { kind: RawKind::Table(target.table), span: target.value_span };
    table.entries.push(RawEntry { key: (*last).to_owned(), key_span: target.span, value });
}

fn replace(whole: &mut RawTable, target: Target<'_>, diagnostics: &mut Diagnostics) -> Option<Span> {
    if let Some(RawKind::Table(there)) = at(whole, &target.path).map(|e| &mut e.value.kind) {
        let span = target.span;
        set_keys(there, target.table);
        Some(span)
    } else {
        diagnostics.push(missing(&target, "replaced"));
        None
    }
}

fn remove(whole: &mut RawTable, target: &Target<'_>, diagnostics: &mut Diagnostics) -> Option<Span> {
    for key in &target.table.entries {
        diagnostics.push(unknown(&key.key, key.key_span, &["reason"], "key", "a removal"));
    }
    if at(whole, &target.path).is_none() {
        diagnostics.push(missing(target, "removed").help("mend the path, or take this removal out"));
        return None;
    }
    let (last, around) = target.path.split_last()?;
    let table = match around {
        [] => Some(whole),
        around => at(whole, around).and_then(|e| match &mut e.value.kind {
            RawKind::Table(inner) => Some(inner),
            _ => None,
        }),
    };
    table?.remove(last);
    Some(target.span)
}
