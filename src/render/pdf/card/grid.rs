//! A table as rows of set cells, in one column of the page or in two.

use super::set::{Line, Size, set};
use crate::doc::{Cell, Column, Table, TableKind, plain_text};
use crate::render::pdf::fonts::{Face, Fonts};

/// Space over and under the lines of a row, pt.
pub(super) const PAD: f32 = 1.3;
/// Space between columns, pt.
pub(super) const GAP: f32 = 6.0;

/// A cell: each thing that it says in lines.
pub(super) type Said = Vec<Vec<Line>>;

/// A row.
#[derive(Debug, Clone)]
pub(super) struct SetRow {
    /// What it is about.
    pub about: String,
    pub cells: Vec<Said>,
    pub height: f32,
    /// Lines of its highest cell.
    pub lines: usize,
}

/// A table that is ready to be placed.
#[derive(Debug, Clone)]
pub(super) struct Grid {
    pub caption: String,
    /// Heads of its columns.
    pub head: SetRow,
    pub rows: Vec<SetRow>,
    /// Left edges of its columns, pt from its own.
    pub lefts: Vec<f32>,
    /// Its width, pt.
    pub width: f32,
    /// How many stand beside one another on the page.
    pub beside: usize,
}

impl Grid {
    /// Sets a table for so wide a page.
    pub fn of(table: &Table, (size, page): (Size, f32), fonts: &mut Fonts) -> Self {
        let (beside, shares) = shape(table.kind, table.columns.len());
        let width = (page - GAP * 2.0 * (beside - 1) as f32) / beside as f32;
        let usable = width - GAP * (shares.len() - 1) as f32;
        let widths: Vec<f32> = shares.iter().map(|s| s * usable).collect();
        let lefts = widths.iter().scan(0.0, |x, w| Some(std::mem::replace(x, *x + w + GAP))).collect();
        let heads: Vec<Cell> = table.columns.iter().map(head).collect();
        // What is looked for is bold: the thing that fails, the number of what is named.
        let bold = if table.kind == TableKind::CardLosses { 0 } else { widths.len() - 1 };
        let face = |at: usize| if at == bold { Face::Bold } else { Face::Regular };
        let head = set_row("", &heads, (&widths, &|_| Face::Bold, size), fonts);
        let rows = table.rows.iter().map(|r| set_row(&r.about, &r.cells, (&widths, &face, size), fonts)).collect();
        Self { caption: plain_text(&table.caption), head, rows, lefts, width, beside }
    }
}

/// How many stand beside one another, and the share of each column.
fn shape(kind: TableKind, columns: usize) -> (usize, Vec<f32>) {
    match kind {
        TableKind::CardLosses => (1, vec![0.16, 0.42, 0.42]),
        TableKind::CardNumbers => (2, vec![0.66, 0.34]),
        TableKind::CardBreakers => (3, vec![0.74, 0.26]),
        _ => (1, vec![1.0 / columns.max(1) as f32; columns]),
    }
}

fn head(column: &Column) -> Cell {
    Cell::line(vec![crate::doc::Inline::text(column.heading())])
}

/// The face of each column, and how it is set.
type Columns<'c> = (&'c [f32], &'c dyn Fn(usize) -> Face, Size);

fn set_row(about: &str, cells: &[Cell], (widths, face, size): Columns<'_>, fonts: &mut Fonts) -> SetRow {
    let set_cell = |(at, (cell, width)): (usize, (&Cell, &f32))| -> Said {
        cell.lines.iter().map(|line| set(fonts, line, face(at), (size, *width))).collect()
    };
    let cells: Vec<Said> = cells.iter().zip(widths).enumerate().map(set_cell).collect();
    let lines = cells.iter().map(|said| said.iter().map(Vec::len).sum::<usize>()).max().unwrap_or(0).max(1);
    SetRow { about: about.to_owned(), cells, height: lines as f32 * size.leading + 2.0 * PAD, lines }
}
