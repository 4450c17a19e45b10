//! Blocks.

use super::markup::Markup;
use super::{Drawings, inline, table};
use crate::diagram::Drawing;
use crate::doc::{Block, Figure, Inline, NoticeLevel, Step, Subject};

/// Writes one block.
pub(super) fn write(out: &mut Markup, block: &Block, drawings: &Drawings) {
    match block {
        Block::Heading { level, id, text } => write_heading(out, *level, id, text),
        Block::Para(text) => {
            out.open("p", &[]);
            inline::write(out, text);
            out.close("p");
        }
        Block::List { ordered, items } => write_list(out, *ordered, items, drawings),
        Block::Table(table) => table::write(out, table),
        Block::Notice { level, subject, body } => write_notice(out, *level, subject, body, drawings),
        Block::Figure(figure) => write_figure(out, figure, drawings.get(&figure.id)),
        Block::Worked { id, title, steps } => write_worked(out, id, title, steps),
    }
}

/// A heading of the tree stands one level lower on the page, since the chapter's title is the second there.
fn write_heading(out: &mut Markup, level: u8, id: &str, text: &[Inline]) {
    let tag = match level {
        0..=2 => "h3",
        3 => "h4",
        _ => "h5",
    };
    out.open(tag, &[("id", id)]);
    inline::write(out, text);
    out.close(tag);
}

fn write_list(out: &mut Markup, ordered: bool, items: &[Vec<Block>], drawings: &Drawings) {
    let tag = if ordered { "ol" } else { "ul" };
    out.open(tag, &[]);
    for item in items {
        out.open("li", &[]);
        match item.as_slice() {
            [Block::Para(text)] => inline::write(out, text),
            blocks => blocks.iter().for_each(|b| write(out, b, drawings)),
        }
        out.close("li");
    }
    out.close(tag);
}

fn write_notice(out: &mut Markup, level: NoticeLevel, subject: &Subject, body: &[Block], drawings: &Drawings) {
    let class = match level {
        NoticeLevel::Warning => "notice notice-warning",
        NoticeLevel::Caution => "notice notice-caution",
        NoticeLevel::Note => "notice notice-note",
    };
    let about = if let Subject::One(id) = subject { id.as_str() } else { "" };
    out.open("aside", &[("role", "note"), ("class", class), ("data-of", about)]);
    out.element("p", &[("class", "notice-word")], level.word());
    out.open("div", &[("class", "notice-body")]);
    for b in body {
        write(out, b, drawings);
    }
    out.close("div");
    out.close("aside");
}

fn write_figure(out: &mut Markup, figure: &Figure, drawing: Option<&Drawing>) {
    out.open("figure", &[("id", &figure.id), ("data-kind", figure_kind(figure))]);
    out.open("figcaption", &[]);
    out.open("p", &[("class", "figure-title")]);
    inline::write(out, &figure.caption);
    out.close("p");
    if let Some(drawing) = drawing {
        out.element("p", &[("class", "figure-reading")], &drawing.reading);
    }
    out.close("figcaption");
    if let Some(drawing) = drawing {
        write_drawing(out, drawing);
    }
    if let Some(drawing) = drawing.filter(|d| !d.alternative.is_empty()) {
        write_alternative(out, drawing);
    }
    out.close("figure");
}

fn figure_kind(figure: &Figure) -> &'static str {
    match figure.kind {
        crate::doc::FigureKind::Overview => "overview",
        crate::doc::FigureKind::System => "system",
        crate::doc::FigureKind::Panel => "panel",
        crate::doc::FigureKind::After => "after",
        crate::doc::FigureKind::States => "states",
        crate::doc::FigureKind::Chain => "chain",
        crate::doc::FigureKind::Plot => "plot",
    }
}

/// The drawing itself, in a frame that scrolls sideways where the page is too narrow for it.
pub(super) fn write_drawing(out: &mut Markup, drawing: &Drawing) {
    let label = format!("Drawing: {}", drawing.title);
    out.open("div", &[("class", "drawing"), ("tabindex", "0"), ("role", "region"), ("aria-label", &label)]);
    for piece in &drawing.pieces {
        out.raw(piece);
    }
    out.close("div");
}

/// Only the first band of a drawing.
pub(super) fn write_first_piece(out: &mut Markup, drawing: &Drawing) {
    out.open("div", &[("class", "drawing")]);
    for piece in drawing.pieces.iter().take(1) {
        out.raw(piece);
    }
    out.close("div");
}

fn write_alternative(out: &mut Markup, drawing: &Drawing) {
    out.open("details", &[("class", "alternative")]);
    if let Some((head, rows)) = drawing.table.split_first() {
        out.element("summary", &[], "The same as a table");
        write_values(out, head, rows);
    } else {
        out.element("summary", &[], "The same in words");
        out.open("ul", &[]);
        for line in &drawing.alternative {
            out.element("li", &[], line);
        }
        out.close("ul");
    }
    out.close("details");
}

/// The values of a plot; a frame scrolls sideways where the page is too narrow for them.
fn write_values(out: &mut Markup, head: &[String], rows: &[Vec<String>]) {
    out.open(
        "div",
        &[("class", "values"), ("tabindex", "0"), ("role", "region"), ("aria-label", "Values of the plot")],
    );
    out.open("table", &[]);
    out.open("tr", &[]);
    for cell in head {
        out.element("th", &[("scope", "col")], cell);
    }
    out.close("tr");
    for row in rows {
        out.open("tr", &[]);
        for cell in row {
            out.element("td", &[], cell);
        }
        out.close("tr");
    }
    out.close("table");
    out.close("div");
}

fn write_worked(out: &mut Markup, id: &str, title: &[Inline], steps: &[Step]) {
    out.open("section", &[("class", "worked"), ("id", id)]);
    out.open("p", &[("class", "worked-title")]);
    inline::write(out, title);
    out.close("p");
    out.open("ol", &[]);
    for step in steps {
        out.open("li", &[]);
        write_part(out, "says", &step.says);
        out.text(" ");
        out.open("span", &[("class", "working")]);
        write_part(out, "sum", &step.sum);
        out.element("span", &[("class", "equals")], " = ");
        write_part(out, "result", &step.result);
        out.close("span");
        out.close("li");
    }
    out.close("ol");
    out.close("section");
}

fn write_part(out: &mut Markup, class: &str, text: &[Inline]) {
    out.open("span", &[("class", class)]);
    inline::write(out, text);
    out.close("span");
}
