//! Tables.

use super::inline;
use super::markup::Markup;
use crate::doc::{Cell, Column, Inline, Mark, Row, Subject, Table, TableKind};

/// Writes a table in a frame that scrolls sideways where the page is too narrow for it.
pub(super) fn write(out: &mut Markup, table: &Table) {
    let caption = format!("{}/caption", table.id);
    let frame = if table.columns.len() > 2 { "table-frame table-wide" } else { "table-frame" };
    out.open("div", &[("class", frame), ("tabindex", "0"), ("role", "region"), ("aria-labelledby", &caption)]);
    let (faults, state) = asked(&table.subject);
    let class = format!("table-{} columns-{}", kind_word(table.kind), table.columns.len());
    let about = if let Subject::One(id) = &table.subject { id.as_str() } else { "" };
    let attributes = [
        ("id", table.id.as_str()),
        ("class", &class),
        ("data-kind", kind_word(table.kind)),
        ("data-of", about),
        ("data-faults", &faults),
        ("data-state", state),
    ];
    out.open("table", &attributes);
    write_caption(out, &caption, &table.caption);
    write_head(out, &table.columns);
    out.open("tbody", &[]);
    let named = naming_column(&table.columns);
    for row in &table.rows {
        write_row(out, row, named);
    }
    out.close("tbody");
    out.close("table");
    out.close("div");
}

/// The caption keeps in view when the frame is scrolled, hence the span.
fn write_caption(out: &mut Markup, id: &str, caption: &[Inline]) {
    out.open("caption", &[("id", id)]);
    out.open("span", &[("class", "caption-text")]);
    inline::write(out, caption);
    out.close("span");
    out.close("caption");
}

fn write_head(out: &mut Markup, columns: &[Column]) {
    out.open("thead", &[]);
    out.open("tr", &[]);
    for column in columns {
        let state = if let Column::State { id, .. } = column { id.as_str() } else { "" };
        out.element("th", &[("scope", "col"), ("data-state", state)], column.heading());
    }
    out.close("tr");
    out.close("thead");
}

/// The column that says what a row is about.
fn naming_column(columns: &[Column]) -> usize {
    usize::from(matches!(columns.first(), Some(Column::Number)) && columns.len() > 1)
}

fn write_row(out: &mut Markup, row: &Row, named: usize) {
    out.open("tr", &[("data-about", &row.about)]);
    for (at, cell) in row.cells.iter().enumerate() {
        let tag = if at == named { "th" } else { "td" };
        let scope = if at == named { "row" } else { "" };
        out.open(tag, &[("scope", scope)]);
        write_cell(out, cell);
        out.close(tag);
    }
    out.close("tr");
}

/// The sign of a mark is drawn by the style sheet: the text of the cell is the word alone.
fn write_cell(out: &mut Markup, cell: &Cell) {
    if let Some(mark) = cell.mark {
        out.element("span", &[("class", mark_class(mark))], mark.word());
    }
    match cell.lines.as_slice() {
        [] => {}
        [line] => {
            if cell.mark.is_some() {
                out.text(" ");
            }
            inline::write(out, line);
        }
        lines => write_lines(out, lines),
    }
}

fn write_lines(out: &mut Markup, lines: &[Vec<Inline>]) {
    out.open("ul", &[("class", "lines")]);
    for line in lines {
        out.open("li", &[]);
        inline::write(out, line);
        out.close("li");
    }
    out.close("ul");
}

fn mark_class(mark: Mark) -> &'static str {
    match mark {
        Mark::Works => "mark mark-works",
        Mark::Partly => "mark mark-partly",
        Mark::Dead => "mark mark-dead",
        Mark::Misleads => "mark mark-false",
        Mark::NotReached => "mark mark-not-reached",
    }
}

fn asked(subject: &Subject) -> (String, &str) {
    match subject {
        Subject::Faults { faults, state } => (faults.join(" "), state),
        _ => (String::new(), ""),
    }
}

fn kind_word(kind: TableKind) -> &'static str {
    match kind {
        TableKind::Failure => "failure",
        TableKind::NothingLost => "nothing-lost",
        TableKind::States => "states",
        TableKind::Controls => "controls",
        TableKind::Items => "items",
        TableKind::Breakers => "breakers",
        TableKind::Quantities => "quantities",
        TableKind::Clocks => "clocks",
        TableKind::Alerts => "alerts",
        TableKind::Suspects => "suspects",
        TableKind::Round => "round",
        TableKind::Index => "index",
        TableKind::Topics => "topics",
        TableKind::Walk => "walk",
        TableKind::Inspections => "inspections",
        TableKind::Changes => "changes",
        TableKind::CardLosses => "card-losses",
        TableKind::CardNumbers => "card-numbers",
        TableKind::CardBreakers => "card-breakers",
        TableKind::Loads => "loads",
        TableKind::Circuits => "circuits",
        TableKind::PhaseLoads => "phase-loads",
        TableKind::Phases => "phases",
        TableKind::Stages => "stages",
        TableKind::Cold => "cold",
        TableKind::Gains => "gains",
        TableKind::FlightClocks => "flight-clocks",
        TableKind::Months => "months",
        TableKind::Blocked => "blocked",
        TableKind::Encoder => "encoder",
        TableKind::Due => "due",
        TableKind::Tanks => "tanks",
        TableKind::Reserves => "reserves",
        TableKind::OneTank => "one-tank",
        TableKind::Needles => "needles",
        TableKind::Plain => "plain",
    }
}
