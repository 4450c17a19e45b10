//! The tables of a guide, one file a sort.
mod aircraft;
mod alike;
mod carries;
mod clocks;
mod control;
mod failure;
mod feeds;
mod items;
mod round;
mod rows;
mod state;
mod suspects;

pub use rows::{Aspect, later_groups, matters};

use super::composer::Composer;
use super::phrase::say;
use crate::doc::{Block, Cell, Column, Inlines, Row, Subject, Table, TableKind};
use crate::model::NodeIx;

impl Composer<'_> {
    /// A table of the whole aircraft, or a sentence that says that there is nothing to table.
    pub fn table_or_none(
        &mut self,
        id: &str,
        kind: TableKind,
        caption: Inlines,
        columns: Vec<Column>,
        rows: Vec<Row>,
    ) -> Vec<Block> {
        if rows.is_empty() {
            return vec![Block::Para(say("none-such", &[]))];
        }
        let id = self.take_id(id);
        vec![Block::Table(Table { id, kind, subject: Subject::Aircraft, caption, columns, rows })]
    }
}

/// A cell of these lines.
fn lines(lines: Vec<Inlines>) -> Cell {
    Cell { mark: None, lines }
}

/// Of these nodes, those in sight that speak for themselves, in walking order.
pub fn told_in_sight(composer: &Composer<'_>, nodes: &[NodeIx]) -> Vec<NodeIx> {
    rows::told(composer, nodes, true)
}
