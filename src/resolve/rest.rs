//! The other tables of a model.

use super::build::{Builder, flag, list, name, name_list, quantity, text};
use super::item::{date, noun, two_lengths};
use super::need::needs;
use crate::base::{Diagnostic, Dimension, Quantity, Unit};
use crate::model::{
    Aircraft, Alert, BUILT_IN_MEDIA, Given, Information, Inspection, InspectionBy, Interval, ItemIx, LinePattern,
    Medium, NamedQuantity, Panel, StateIx, System, TimeRecording, WalkGroup,
};
use crate::parse::{RawTable, RawValue};
use std::collections::BTreeMap;

/// The aircraft and its reference state; `None` where the table is missing.
pub fn aircraft(whole: &RawTable, b: &mut Builder<'_, '_>) -> Option<(Aircraft, Option<StateIx>)> {
    let t = whole.table("aircraft")?;
    let reference = match name(t, "reference-state") {
        Some(name) => b.names.state("state-unknown-reference", &name, b.diagnostics),
        None => b.names.states.iter().position(|s| s.id.as_str() == "cruise").map(StateIx::new),
    };
    let aircraft = Aircraft {
        name: text(t, "name").unwrap_or_default(),
        maker: text(t, "maker").unwrap_or_default(),
        registration: text(t, "registration"),
        revision: t.get("revision").and_then(|e| e.value.as_whole()).unwrap_or(0),
        date: date(t, "date"),
        handbook: text(t, "handbook").unwrap_or_default(),
        note: text(t, "note"),
    };
    Some((aircraft, reference))
}

/// Units for display.
pub fn display(whole: &RawTable) -> BTreeMap<Dimension, &'static Unit> {
    let entries = whole.table("display").map_or(&[][..], |t| &t.entries);
    let units = entries.iter().filter_map(|e| e.value.as_text().and_then(Unit::find));
    units.map(|u| (u.dimension, u)).collect()
}

/// Built-in media, then the model's own.
pub fn media(b: &Builder<'_, '_>) -> Vec<Medium> {
    let built_in = BUILT_IN_MEDIA.iter().filter_map(|m| {
        let id = crate::base::Id::new(m.id).ok()?;
        let (name, tag, colour) = (m.name.to_owned(), m.tag.to_owned(), m.colour.to_owned());
        Some(Medium { id, name, tag, colour, line: m.line, built_in: true })
    });
    let own = b.names.media.iter().map(|d| Medium {
        id: d.id.clone(),
        name: text(d.table, "name").unwrap_or_default(),
        tag: text(d.table, "tag").unwrap_or_default(),
        colour: text(d.table, "colour").unwrap_or_default(),
        line: d.table.text("line").and_then(LinePattern::find).unwrap_or(LinePattern::Solid),
        built_in: false,
    });
    built_in.chain(own).collect()
}

/// Systems.
pub fn systems(b: &Builder<'_, '_>) -> Vec<System> {
    let of = |d: &super::names::Declared<'_>| System {
        id: d.id.clone(),
        name: text(d.table, "name").unwrap_or_default(),
        number: text(d.table, "number").unwrap_or_default(),
        does: text(d.table, "does"),
        span: d.span,
    };
    b.names.systems.iter().map(of).collect()
}

/// Pieces of information.
pub fn information(b: &mut Builder<'_, '_>) -> Vec<Information> {
    let all = b.names.information.clone();
    let mut of = |d: &super::names::Declared<'_>| Information {
        id: d.id.clone(),
        noun: noun(d.table),
        prefer: name_list(d.table, "prefer").iter().filter_map(|n| b.names.node(n, b.diagnostics)).collect(),
        span: d.span,
    };
    all.iter().map(&mut of).collect()
}

/// Givens.
pub fn givens(b: &Builder<'_, '_>) -> Vec<Given> {
    let of = |(at, d): (usize, &super::names::Declared<'_>)| Given {
        id: d.id.clone(),
        node: b.names.given_nodes[at],
        normally: flag(d.table, "normally"),
    };
    b.names.givens.iter().enumerate().map(of).collect()
}

/// Alerts.
pub fn alerts(b: &mut Builder<'_, '_>) -> Vec<Alert> {
    let all = b.names.alerts.clone();
    let mut of = |d: &super::names::Declared<'_>| Alert {
        id: d.id.clone(),
        noun: noun(d.table),
        on: name(d.table, "on").and_then(|n| b.names.item(&n, b.diagnostics)).unwrap_or(ItemIx::new(0)),
        watches: needs(b, d.table, "watches", None),
        needs: needs(b, d.table, "needs", None),
        reads: text(d.table, "reads"),
        span: d.span,
    };
    all.iter().map(&mut of).collect()
}

/// Numbers with names.
pub fn quantities(b: &mut Builder<'_, '_>) -> Vec<NamedQuantity> {
    let all = b.names.quantities.clone();
    let mut of = |d: &super::names::Declared<'_>| {
        Some(NamedQuantity {
            id: d.id.clone(),
            name: text(d.table, "name").unwrap_or_default(),
            value: quantity(d.table, "value")?,
            cite: text(d.table, "cite"),
            of: name(d.table, "of").and_then(|n| b.names.item(&n, b.diagnostics)),
            note: text(d.table, "note"),
            off_card: flag(d.table, "off-card"),
            span: d.span,
        })
    };
    all.iter().filter_map(&mut of).collect()
}

/// What the recording instruments count.
pub fn time(whole: &RawTable, b: &mut Builder<'_, '_>) -> Option<TimeRecording> {
    let entry = whole.get("time")?;
    let t = entry.value.as_table()?;
    let mut item = |key: &str| name(t, key).and_then(|n| b.names.item(&n, b.diagnostics));
    Some(TimeRecording {
        tachometer: item("tachometer"),
        hour_meter: item("hour-meter"),
        reference: quantity(t, "reference"),
        span: entry.key_span,
    })
}

/// Inspections by the kind and length of their intervals, then by name, since files have no order among each other.
pub fn inspections(whole: &RawTable, b: &mut Builder<'_, '_>) -> Vec<Inspection> {
    let all: Vec<&RawValue> = list(whole, "inspection").iter().collect();
    let mut found: Vec<Inspection> = all.into_iter().filter_map(|v| inspection(v, b)).collect();
    found.sort_by(|a, b| a.name.cmp(&b.name));
    for pair in found.windows(2) {
        let [first, second] = pair else { continue };
        if first.name == second.name {
            let message = format!("two inspections are called `{}`", second.name);
            b.diagnostics.push(
                Diagnostic::error("name-twice", second.span, message)
                    .also(first.span, "the other one")
                    .help("give one of the two another name"),
            );
        }
    }
    found.sort_by(|a, b| {
        length(&a.every).0.cmp(&length(&b.every).0).then(length(&a.every).1.total_cmp(&length(&b.every).1))
    });
    found
}

/// The kind of an interval, hours first, and how long it is in its kind.
fn length(of: &Interval) -> (u8, f64) {
    match of {
        Interval::Hours(hours) => {
            let h = crate::base::Unit::find("h");
            (0, h.and_then(|h| hours.in_unit(h)).unwrap_or(hours.number))
        }
        Interval::Days(days) => (1, f64::from(*days)),
        Interval::CalendarMonths(months) => (2, f64::from(*months)),
    }
}

fn inspection(value: &RawValue, b: &mut Builder<'_, '_>) -> Option<Inspection> {
    let t = value.as_table()?;
    let entry = t.get("every")?;
    let typed = entry.value.as_text()?;
    let by = t.text("by").and_then(InspectionBy::find)?;
    let Some(every) = interval(typed) else {
        b.diagnostics.push(
            Diagnostic::error(
                "bad-interval",
                entry.value.span,
                format!("`{}` is no interval", crate::parse::printed::shown(typed)),
            )
            .help("write hours (\"100 h\"), \"12 calendar months\" or \"30 days\""),
        );
        return None;
    };
    let calendar = !matches!(every, Interval::Hours(_));
    if calendar != (by == InspectionBy::Calendar) {
        let at = t.get("by").map_or(value.span, |e| e.value.span);
        let message = format!("`{typed}` cannot be counted by {}", by.word());
        b.diagnostics.push(
            Diagnostic::error("bad-interval", at, message)
                .help("count hours by an instrument or time in service, months and days by `calendar`"),
        );
    }
    let overrun = overrun(t, &every, b);
    Some(Inspection { name: text(t, "name")?, every, by, overrun, cite: text(t, "cite"), span: value.span })
}

/// By how much an interval of hours may be exceeded.
fn overrun(t: &RawTable, every: &Interval, b: &mut Builder<'_, '_>) -> Option<Quantity> {
    let found = quantity(t, "overrun")?;
    if matches!(every, Interval::Hours(_)) && found.number > 0.0 && found.upper.is_none() {
        return Some(found);
    }
    let at = t.get("overrun").map(|e| e.value.span)?;
    b.diagnostics.push(
        Diagnostic::error("bad-interval", at, format!("`{found}` is no overrun of this interval"))
            .help("write hours above zero, and only where the interval is in hours"),
    );
    None
}

fn interval(text: &str) -> Option<Interval> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let count = |word: &str| word.parse::<u32>().ok().filter(|n| (1..=10_000).contains(n));
    match words.as_slice() {
        [n, "calendar", "month" | "months"] => count(n).map(Interval::CalendarMonths),
        [n, "day" | "days"] => count(n).map(Interval::Days),
        _ => {
            let quantity = Quantity::parse(text).ok()?;
            let fits =
                quantity.unit.dimension == Dimension::Duration && quantity.number > 0.0 && quantity.upper.is_none();
            fits.then_some(Interval::Hours(quantity))
        }
    }
}

/// The panel.
pub fn panel(whole: &RawTable, b: &mut Builder<'_, '_>) -> Option<Panel> {
    let entry = whole.get("panel")?;
    let t = entry.value.as_table()?;
    let (width_mm, height_mm) = two_lengths(b, t, "size");
    let words = list(t, "walk").iter().filter_map(RawValue::as_text);
    let walk = words.filter_map(|w| WalkGroup::ALL.into_iter().find(|g| g.word() == w)).collect();
    Some(Panel { width_mm, height_mm, walk, span: entry.key_span })
}
