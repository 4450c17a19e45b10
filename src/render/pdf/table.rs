//! Tables: a row is not divided unless it is higher than a page; the head is repeated where a page begins within a table; a
//! narrow one stands in two columns; one whose words are too wide for the page is turned.

use super::columns::{Wish, evened, squeezed, widths};
use super::fonts::Face;
use super::lines::{Item, Style};
use super::setter::{Frame, Setter};
use super::strip::{HeadIx, Ink, Keep, Kind, Put, Strip, Tone, stacked};
use super::tags::{NodeIx, Role};
use crate::doc::{Cell, Column, Inline, Mark, Row, Table, TableKind, plain_text};

/// Above and below what stands in a row, pt.
const PAD: f32 = 3.0;
/// Between two lines of one cell that say different things, pt.
const APART: f32 = 1.4;
/// Between the halves of a table in two columns, pt.
const BETWEEN: f32 = 26.0;
/// A table of fewer rows stands in one column.
const FEW: usize = 8;
/// Of a row that is parted, no less is left for the next page, pt.
const LEAST_REST: f32 = 40.0;
/// Room for a signature, pt.
const SIGNED: f32 = 21.0;

/// What stands in one cell.
struct Set {
    /// Each with its words.
    lines: Vec<Vec<Item>>,
    /// Lines begin with a dash and hang.
    dashed: bool,
}

/// A table with its columns.
struct Grid {
    x: f32,
    widths: Vec<f32>,
    gap: f32,
    least_row: f32,
}

impl Grid {
    fn width(&self) -> f32 {
        self.widths.iter().sum::<f32>() + self.gap * self.widths.len().saturating_sub(1) as f32
    }

    fn left(&self, column: usize) -> f32 {
        self.x + self.widths.iter().take(column).map(|w| w + self.gap).sum::<f32>()
    }
}

impl Setter<'_> {
    /// A table with its caption.
    pub(super) fn table(&mut self, table: &Table, frame: Frame) -> Vec<Strip> {
        let caption = plain_text(&table.caption);
        let node = self.tags.block(Some(frame.node), Role::Table(caption));
        let mut strips = self.table_caption(table, Frame { node, ..frame });
        let head_row = {
            let head = self.tags.block(Some(node), Role::Head);
            self.tags.block(Some(head), Role::Row)
        };
        let heads: Vec<Set> = table.columns.iter().map(|c| self.head_cell(c, Some(head_row))).collect();
        let repeated: Vec<Set> = table.columns.iter().map(|c| self.head_cell(c, None)).collect();
        let body = self.tags.block(Some(node), Role::Rows);
        let rows: Vec<Vec<Set>> = table.rows.iter().map(|r| self.row_cells(table, r, body)).collect();
        let wishes = self.wishes(&heads, &rows);
        let gap = self.sheet.table.letters * if table.columns.len() > 6 { 0.75 } else { 1.15 };
        let gaps = gap * table.columns.len().saturating_sub(1) as f32;
        let (mut grid, turned) = self.grid(table, &wishes, (frame, gap, gaps));
        if table.columns.len() > 2 && !matches!(table.kind, TableKind::Walk | TableKind::Round) {
            let lengths = self.lengths(&rows);
            grid.widths = evened(grid.widths, &wishes, &lengths);
        }
        let head = self.row(&heads, &grid, Kind::Head);
        let bare = self.row(&repeated, &grid, Kind::Head);
        let again = self.captioned(table, (frame, &grid), bare.clone());
        let rows: Vec<Strip> = rows.iter().map(|r| self.row(r, &grid, Kind::Row)).collect();
        if turned {
            return self.turned_table((strips, head), &again, rows);
        }
        if let Some(double) = self.in_two(&head, &bare, &rows, &grid) {
            strips.push(double);
        } else {
            strips.extend(self.one_column((head, again), rows, &grid));
        }
        strips
    }

    fn table_caption(&mut self, table: &Table, frame: Frame) -> Vec<Strip> {
        let node = self.tags.block(Some(frame.node), Role::Caption);
        let items = self.words(&table.caption, Self::style(Face::Bold, Tone::Ink, Some(node)), false);
        let mut strips = self.lines(&items, self.sheet.text, (frame.x, frame.width.min(frame.measure)));
        for strip in &mut strips {
            (strip.kind, strip.keep) = (Kind::Head, Keep::Hard);
        }
        if strips.is_empty() {
            let mut empty = Strip::new(Kind::Head, (frame.x, frame.width), 0.0);
            empty.keep = Keep::Hard;
            strips.push(empty);
        }
        if let Some(last) = strips.last_mut() {
            last.height += 2.5;
        }
        strips[0].above = frame.size.leading * 1.1;
        strips[0].puts.insert(0, Put { x: 0.0, y: 0.0, ink: Ink::Anchor(table.id.clone()) });
        strips
    }

    /// A repeated head under the caption, so that a page says of what it tells; neither is content.
    fn captioned(&mut self, table: &Table, (frame, grid): (Frame, &Grid), head: Strip) -> Strip {
        if table.caption.is_empty() {
            return head;
        }
        let mut caption = table.caption.clone();
        caption.push(Inline::text(", continued"));
        let items = self.words(&caption, Self::style(Face::Bold, Tone::Ink, None), false);
        let mut strips =
            self.lines(&items, self.sheet.table, (frame.x, grid.width().max(frame.measure.min(frame.width))));
        if let Some(last) = strips.last_mut() {
            last.height += 2.5;
        }
        strips.push(head);
        stacked(Kind::Head, (grid.x, grid.width()), strips)
    }

    /// The cell of a head; without a node it is a repeated one and no content.
    fn head_cell(&mut self, column: &Column, row: Option<NodeIx>) -> Set {
        let node = row.map(|r| self.tags.block(Some(r), Role::ColumnHead));
        let words = self.plain_words(column.heading(), Self::style(Face::Bold, Tone::Soft, node));
        Set { lines: vec![words], dashed: false }
    }

    fn row_cells(&mut self, table: &Table, row: &Row, body: NodeIx) -> Vec<Set> {
        let naming = usize::from(matches!(table.columns.first(), Some(Column::Number)) && table.columns.len() > 1);
        let node = self.tags.block(Some(body), Role::Row);
        let cell = |(at, cell): (usize, &Cell)| {
            let role = if at == naming { Role::RowHead } else { Role::Cell };
            let cell_node = self.tags.block(Some(node), role);
            let bold = at == naming && !matches!(table.kind, TableKind::States | TableKind::Suspects);
            let face = if bold { Face::Bold } else { Face::Regular };
            self.cell(cell, (table.kind, bold), Self::style(face, Tone::Ink, Some(cell_node)))
        };
        row.cells.iter().enumerate().map(cell).collect()
    }

    fn cell(&mut self, cell: &Cell, (kind, names): (TableKind, bool), style: Style) -> Set {
        let plain_names = names && kind == TableKind::Round;
        let dashed = cell.lines.len() > 1 && !plain_names;
        let mut lines = Vec::with_capacity(cell.lines.len());
        for (at, line) in cell.lines.iter().enumerate() {
            let backs = plain_names && at > 0;
            let style = if backs { Style { face: Face::Regular, tone: Tone::Soft, ..style } } else { style };
            lines.push(self.words(line, style, true));
        }
        if let Some(mark) = cell.mark {
            let mut words = self.mark(mark, style);
            if let Some(first) = lines.first_mut().filter(|_| !dashed) {
                first.first_mut().into_iter().for_each(|i| i.space = true);
                words.append(first);
                *first = words;
            } else {
                lines.insert(0, words);
            }
        }
        if lines.iter().all(Vec::is_empty) {
            lines = vec![self.blank(style)]; // a cell with nothing in it is a cell all the same
        }
        Set { lines, dashed }
    }

    /// The word of a mark with its sign, which is no content.
    fn mark(&mut self, mark: Mark, style: Style) -> Vec<Item> {
        let (sign, tone, face) = match mark {
            Mark::Works => ("●", Tone::Ink, Face::Regular),
            Mark::Partly => ("◐", Tone::Ink, Face::Regular),
            Mark::Dead => ("○", Tone::Soft, Face::Regular),
            Mark::Misleads => ("≠", Tone::Ink, Face::Bold),
            Mark::NotReached => ("–", Tone::Soft, Face::Regular),
        };
        let style = Style { face, tone, ..style };
        let mut items = self.plain_words(&format!("{sign}\u{a0}"), Style { node: None, ..style });
        items.extend(self.plain_words(mark.word(), style));
        items
    }

    fn wishes(&mut self, heads: &[Set], rows: &[Vec<Set>]) -> Vec<Wish> {
        let letters = self.sheet.table.letters;
        let mut wishes = vec![Wish::default(); heads.len()];
        for (is_head, row) in rows.iter().map(|r| (false, r.as_slice())).chain([(true, heads)]) {
            for (wish, set) in wishes.iter_mut().zip(row) {
                let hang = if set.dashed { letters } else { 0.0 };
                for line in &set.lines {
                    let (least, all) = self.store.widths(line, &mut self.fonts, letters);
                    wish.least = wish.least.max(least + hang);
                    if !is_head || all <= wish.most * 1.5 {
                        wish.most = wish.most.max(all + hang);
                    }
                    wish.bulk += all;
                }
            }
        }
        wishes.iter().map(|w| Wish { least: w.least + 0.1, most: w.most.max(w.least) + 0.1, ..*w }).collect()
    }

    /// How long each line of each cell is.
    fn lengths(&mut self, rows: &[Vec<Set>]) -> Vec<Vec<Vec<f32>>> {
        let letters = self.sheet.table.letters;
        let (store, fonts) = (&self.store, &mut self.fonts);
        let mut cell = |set: &Set| set.lines.iter().map(|l| store.widths(l, fonts, letters).1).collect();
        rows.iter().map(|row| row.iter().map(&mut cell).collect()).collect()
    }

    /// The columns, and whether the table has to be turned.
    fn grid(&self, table: &Table, wishes: &[Wish], (frame, gap, gaps): (Frame, f32, f32)) -> (Grid, bool) {
        let room = frame.width - gaps;
        let least_row = if table.kind == TableKind::Walk { SIGNED } else { 0.0 };
        let mut grid = Grid { x: frame.x, widths: Vec::new(), gap, least_row };
        if table.kind == TableKind::Failure && wishes.len() == 2 {
            let first = (self.sheet.table.letters * 10.4).max(wishes[0].least).min(room * 0.5);
            grid.widths = vec![first, room - first];
            return (grid, false);
        }
        if table.kind == TableKind::Walk && wishes.len() == 5 {
            let blank = room * 0.26;
            if let Some(mut others) = widths(&wishes[..4], room - blank) {
                others.push(room - others.iter().sum::<f32>());
                grid.widths = others;
                return (grid, false);
            }
        }
        if table.kind == TableKind::Round {
            grid.widths = walked(wishes, room);
            return (grid, false);
        }
        let turned_room = self.sheet.high() - gaps;
        match widths(wishes, room) {
            Some(done) => grid.widths = done,
            None if frame.width >= self.sheet.wide() - 1.0 && self.sheet.high() > self.sheet.wide() => {
                if let Some(done) = widths(wishes, turned_room) {
                    (grid.widths, grid.x) = (done, 0.0);
                    return (grid, true);
                }
                grid.widths = squeezed(wishes, room);
            }
            None => grid.widths = squeezed(wishes, room),
        }
        (grid, false)
    }

    /// One row: what stands in its cells, under the line that is above it.
    fn row(&mut self, cells: &[Set], grid: &Grid, kind: Kind) -> Strip {
        let size = if kind == Kind::Head { self.sheet.small } else { self.sheet.table };
        let mut strip = Strip::new(kind, (grid.x, grid.width()), grid.least_row);
        let mut heights = Vec::with_capacity(cells.len());
        for (column, set) in cells.iter().enumerate().take(grid.widths.len()) {
            let mut y = PAD;
            let hang = if set.dashed { size.letters * 0.95 } else { 0.0 };
            let (left, wide) = (grid.left(column), grid.widths[column] - hang);
            for (at, items) in set.lines.iter().enumerate() {
                y += if at > 0 { APART } else { 0.0 };
                if set.dashed {
                    let (dash, _) = self.one_line("–", Self::style(Face::Regular, Tone::Soft, None), size.letters);
                    strip.put(left, y + size.rise(), Ink::Text(dash, size.letters));
                }
                for line in self.store.broken(items, &mut self.fonts, (size.letters, wide.max(4.0))) {
                    strip.put(left + hang, y + size.rise(), Ink::Text(line, size.letters));
                    y += size.leading;
                }
            }
            heights.push(y + PAD);
        }
        strip.height = heights.iter().fold(strip.height, |a, b| a.max(*b));
        if kind == Kind::Head {
            // Heads stand at the foot of their row.
            let high = strip.height;
            let shift = |x: f32| {
                let column = (0..grid.widths.len()).rev().find(|c| x >= grid.left(*c) - 0.01).unwrap_or(0);
                high - heights.get(column).copied().unwrap_or(high)
            };
            strip.puts.iter_mut().for_each(|p| p.y += shift(p.x));
            strip.puts.insert(0, Put { x: grid.x, y: 0.0, ink: Ink::Rule(grid.width(), 0.0, 1.1, Tone::Ink) });
        }
        strip
    }

    /// Rows under one another, with the head over the first and over each that begins a page.
    fn one_column(&mut self, (mut head, again): (Strip, Strip), rows: Vec<Strip>, grid: &Grid) -> Vec<Strip> {
        let ix = HeadIx(self.heads.len() as u32);
        self.heads.push(Strip { head: Some(ix), keep: Keep::Hard, ..again });
        (head.keep, head.head) = (Keep::Hard, Some(ix));
        let mut strips = vec![head];
        let count = rows.len();
        for (at, mut row) in rows.into_iter().enumerate() {
            line_over(&mut row, grid, at == 0);
            if at + 1 == count {
                line_under(&mut row, grid);
            }
            row.head = Some(ix);
            let alone = at == 0 || at + 2 == count;
            row.keep = if alone && at + 1 < count { Keep::Soft } else { Keep::Free };
            strips.push(row);
        }
        strips
    }

    /// A narrow table in two columns, if it is one and fits a page so.
    fn in_two(&self, head: &Strip, again: &Strip, rows: &[Strip], grid: &Grid) -> Option<Strip> {
        let wide = grid.width();
        if rows.len() < FEW || grid.x + 2.0 * wide + BETWEEN > self.sheet.wide() {
            return None;
        }
        let all: f32 = rows.iter().map(|r| r.height).sum();
        let (mut left_high, mut split) = (0.0, 0);
        while left_high < all / 2.0 && split < rows.len() {
            left_high += rows[split].height;
            split += 1;
        }
        if left_high + head.height > self.sheet.high() * 0.6 {
            return None;
        }
        let column = |head: &Strip, rows: &[Strip], right: f32| {
            let mut strips = vec![head.clone()];
            for (at, row) in rows.iter().enumerate() {
                let mut row = row.clone();
                line_over(&mut row, grid, at == 0);
                if at + 1 == rows.len() {
                    line_under(&mut row, grid);
                }
                strips.push(row);
            }
            let mut column = stacked(Kind::Row, (grid.x, wide), strips);
            column.puts.iter_mut().for_each(|p| p.x += right);
            column
        };
        let mut left = column(head, &rows[..split], 0.0);
        let right = column(again, &rows[split..], wide + BETWEEN);
        (left.height, left.width) = (left.height.max(right.height), 2.0 * wide + BETWEEN);
        left.take(right, 0.0);
        Some(left)
    }

    /// Pages of rows that are turned, each with the head, and the first with the caption.
    fn turned_table(&mut self, (mut first, head): (Vec<Strip>, Strip), again: &Strip, rows: Vec<Strip>) -> Vec<Strip> {
        let anchors = take_anchors(&mut first);
        first.push(head);
        let (room, mut filled) = (self.sheet.wide(), first.iter().map(|s| s.height).sum::<f32>());
        let mut pages = vec![first];
        for mut row in rows {
            let full = filled + row.height > room;
            if full {
                pages.push(vec![again.clone()]);
                filled = again.height;
            }
            let begins = pages.last().and_then(|p| p.last()).is_some_and(|s| s.kind == Kind::Head);
            let (weight, tone) = if begins { (0.7, Tone::Ink) } else { (0.4, Tone::Rule) };
            let (x, wide) = (row.x, row.width);
            row.puts.insert(0, Put { x, y: 0.0, ink: Ink::Rule(wide, 0.0, weight, tone) });
            filled += row.height;
            pages.last_mut().into_iter().for_each(|p| p.push(row.clone()));
        }
        let page = |strips: Vec<Strip>| {
            let (wide, high) = (self.sheet.wide(), self.sheet.high());
            let all = stacked(Kind::Row, (0.0, high), strips);
            Strip::turned(Kind::Row, all, (wide, high))
        };
        let mut pages: Vec<Strip> = pages.into_iter().map(page).collect();
        pages.first_mut().into_iter().for_each(|p| p.puts.extend(anchors.iter().cloned()));
        pages
    }
}

/// Takes the places that links lead to out of strips.
fn take_anchors(strips: &mut [Strip]) -> Vec<Put> {
    let mut anchors = Vec::new();
    for strip in strips {
        let (found, rest): (Vec<Put>, Vec<Put>) =
            std::mem::take(&mut strip.puts).into_iter().partition(|p| matches!(p.ink, Ink::Anchor(_)));
        anchors.extend(found);
        strip.puts = rest;
    }
    anchors
}

/// The columns of the walk round, the same in each of its tables: perhaps a number, the item, what it does, and the rest.
fn walked(wishes: &[Wish], room: f32) -> Vec<f32> {
    let mut widths: Vec<f32> = wishes.iter().map(|w| w.least).collect();
    if let [.., item, does, rest] = widths.as_mut_slice() {
        (*item, *does) = (item.max(room * 0.21).min(room * 0.3), room * 0.3);
        *rest = 0.0;
    }
    let left = room - widths.iter().sum::<f32>();
    widths.last_mut().into_iter().for_each(|w| *w = left.max(20.0));
    widths
}

fn line_over(row: &mut Strip, grid: &Grid, first: bool) {
    let (weight, tone) = if first { (0.7, Tone::Ink) } else { (0.4, Tone::Rule) };
    row.puts.insert(0, Put { x: grid.x, y: 0.0, ink: Ink::Rule(grid.width(), 0.0, weight, tone) });
}

fn line_under(row: &mut Strip, grid: &Grid) {
    row.put(grid.x, row.height, Ink::Rule(grid.width(), 0.0, 0.7, Tone::Ink));
}

/// A row in two parts, of which the first holds as many lines of every cell as there is room for; nothing if that is not much.
pub(super) fn parted(row: &Strip, room: f32) -> Option<(Strip, Strip)> {
    let is_in = |p: &Put| match p.ink {
        Ink::Text(..) => p.y + 3.0 <= room - PAD,
        _ => p.y <= 0.5,
    };
    let (here, rest): (Vec<Put>, Vec<Put>) = row.puts.iter().cloned().partition(is_in);
    let lines = |puts: &[Put]| puts.iter().filter(|p| matches!(p.ink, Ink::Text(..))).count();
    if lines(&here) < 3 || lines(&rest) < 1 {
        return None;
    }
    if row.height - room < LEAST_REST && room > LEAST_REST * 2.0 {
        return parted(row, row.height - LEAST_REST);
    }
    let base = |puts: &[Put]| {
        let text = puts.iter().filter(|p| matches!(p.ink, Ink::Text(..)));
        text.map(|p| p.y).fold((f32::MAX, 0.0_f32), |(low, high), y| (low.min(y), high.max(y)))
    };
    let ((_, low), (top, _)) = (base(&here), base(&rest));
    let up = (top - 10.0 - PAD).max(0.0);
    let mut first = Strip { kind: Kind::PartOfRow, puts: here, height: low + 2.5 + PAD, ..row.clone() };
    first.keep = Keep::Free;
    let puts = rest.into_iter().map(|p| Put { y: p.y - up, ..p }).collect();
    let second = Strip { kind: Kind::PartOfRow, puts, height: row.height - up, above: 0.0, ..row.clone() };
    Some((first, second))
}
