//! Rows at their places on the sides of the sheet.

use super::grid::{GAP, Grid};
use super::set::Size;
use super::{HEIGHT, MARGIN, SIDES, WIDTH};
use crate::doc::Table;
use crate::render::pdf::fonts::Fonts;

/// Height of what stands over the tables: the title, pt.
const OVER: f32 = 19.0;
/// Height of what stands under the tables: the sentence and the edition, pt.
const UNDER: f32 = 26.0;
/// Space over a caption, pt.
const ABOVE: f32 = 5.0;

/// Something at its place on a side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Placed {
    /// The caption of a table; the upper edge. It goes on from the side before where it says so.
    Caption { table: usize, y: f32, again: bool },
    /// The head of a table's columns; it is no content where it is repeated.
    Head { table: usize, x: f32, y: f32, again: bool },
    /// A row.
    Row { table: usize, row: usize, x: f32, y: f32 },
}

/// The sides of the sheet.
#[derive(Debug)]
pub(super) struct Sides {
    pub size: Size,
    pub grids: Vec<Grid>,
    /// Two, if it fits.
    pub pages: Vec<Vec<Placed>>,
    /// How high the last side is still empty, pt.
    pub left: f32,
    /// The rows that take most lines.
    pub largest: Vec<(String, usize)>,
}

impl Sides {
    /// Sets tables at a size.
    pub fn of(tables: &[&Table], size: Size, fonts: &mut Fonts) -> Self {
        let page = WIDTH - 2.0 * MARGIN;
        let grids: Vec<Grid> = tables.iter().map(|t| Grid::of(t, (size, page), fonts)).collect();
        let mut agent = Filling { size, pages: vec![Vec::new()], y: top() };
        for (table, grid) in grids.iter().enumerate() {
            agent.table(table, grid);
        }
        let left = bottom() - agent.y;
        let pages = agent.pages;
        let mut largest: Vec<(String, usize)> =
            grids.iter().flat_map(|g| &g.rows).map(|r| (r.about.clone(), r.lines)).collect();
        largest.sort_by_key(|(_, lines)| std::cmp::Reverse(*lines));
        largest.truncate(3);
        Self { size, grids, pages, left, largest }
    }

    /// How many lines are over.
    pub fn lines_over(&self) -> usize {
        let over = self.pages.len().saturating_sub(SIDES + 1) as f32 * (bottom() - top());
        ((over + (bottom() - top()) - self.left) / self.size.leading).ceil().max(1.0) as usize
    }
}

fn top() -> f32 {
    MARGIN + OVER
}

fn bottom() -> f32 {
    HEIGHT - MARGIN - UNDER
}

/// Height of a caption, pt.
fn caption_height(size: Size) -> f32 {
    size.leading + 3.0
}

/// Fills one side after another.
struct Filling {
    size: Size,
    pages: Vec<Vec<Placed>>,
    y: f32,
}

impl Filling {
    fn put(&mut self, placed: Placed) {
        if let Some(page) = self.pages.last_mut() {
            page.push(placed);
        }
    }

    fn next_side(&mut self) {
        self.pages.push(Vec::new());
        self.y = top();
    }

    fn table(&mut self, table: usize, grid: &Grid) {
        let mut from = 0;
        while from < grid.rows.len() {
            let again = from > 0;
            let first = grid.rows.get(from).map_or(0.0, |r| r.height);
            let over = ABOVE + caption_height(self.size) + grid.head.height;
            let fresh = (self.y - top()).abs() < 0.01;
            if self.y + over + first > bottom() && !fresh {
                self.next_side();
                continue;
            }
            if !fresh {
                self.y += ABOVE;
            }
            self.put(Placed::Caption { table, y: self.y, again });
            self.y += caption_height(self.size);
            from = self.columns(table, grid, (from, again));
            if from < grid.rows.len() {
                self.next_side();
            }
        }
    }

    /// Rows in the columns that stand beside one another; gives the row to go on with.
    fn columns(&mut self, table: usize, grid: &Grid, (from, again): (usize, bool)) -> usize {
        let room = bottom() - self.y - grid.head.height;
        let cuts = balanced(grid, from, room);
        let (mut start, mut lowest, y) = (from, self.y, self.y);
        for (column, end) in cuts.iter().enumerate() {
            let x = MARGIN + column as f32 * (grid.width + 2.0 * GAP);
            self.put(Placed::Head { table, x, y, again: again || column > 0 });
            let mut down = y + grid.head.height;
            for row in start..*end {
                self.put(Placed::Row { table, row, x, y: down });
                down += grid.rows.get(row).map_or(0.0, |r| r.height);
            }
            (start, lowest) = (*end, lowest.max(down));
        }
        self.y = lowest;
        start
    }
}

/// Where each column ends: all of them as low as needed and no lower, or as many rows as there is room for. A row that is
/// higher than a side stands alone, over its edge, so that the sheet counts as too small.
fn balanced(grid: &Grid, from: usize, room: f32) -> Vec<usize> {
    let fill = |height: f32| {
        let (mut ends, mut at) = (Vec::new(), from);
        for _ in 0..grid.beside {
            let mut sum = 0.0;
            while let Some(row) = grid.rows.get(at).filter(|r| sum + r.height <= height) {
                (sum, at) = (sum + row.height, at + 1);
            }
            ends.push(at);
        }
        (ends, at)
    };
    let (mut ends, last) = fill(room);
    if last == from {
        return vec![from + 1];
    }
    if last < grid.rows.len() {
        return ends;
    }
    let all: f32 = grid.rows.iter().skip(from).map(|r| r.height).sum();
    let mut height = all / grid.beside as f32;
    while height < room {
        let (tried, reached) = fill(height);
        if reached == grid.rows.len() {
            ends = tried;
            break;
        }
        height += 1.0;
    }
    ends
}
