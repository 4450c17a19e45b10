//! What works in which state.

use super::lines;
use crate::compose::composer::{Composer, chain_order, in_walking_order};
use crate::compose::phrase::say;
use crate::doc::{Block, Cell, Column, Mark, Row, Subject, Table, TableKind};
use crate::model::{ItemIx, NodeIx, StateIx, SystemIx};

impl Composer<'_> {
    /// One table a system: a row for each item that needs something and is no mere conductor, a column for each state in the order
    /// of their chain.
    pub fn states(&mut self) -> Vec<Block> {
        let order = chain_order(self.model);
        let mut systems: Vec<SystemIx> = (0..self.model.systems.len()).map(SystemIx::new).collect();
        systems.sort_by_key(|s| (self.model[*s].number.clone(), *s));
        systems.into_iter().filter_map(|s| self.states_of(s, &order)).map(Block::Table).collect()
    }

    fn states_of(&mut self, system: SystemIx, order: &[StateIx]) -> Option<Table> {
        let model = self.model;
        let rowed = |i: &ItemIx| model[*i].system == system && self.has_a_row(*i);
        let mut nodes: Vec<NodeIx> = model.item_indices().filter(rowed).map(|i| model[i].node).collect();
        if nodes.is_empty() || order.is_empty() {
            return None;
        }
        in_walking_order(model, &mut nodes);
        let state = |s: &StateIx| Column::State { id: model[*s].id.to_string(), name: model[*s].name.clone() };
        let columns = std::iter::once(Column::Item).chain(order.iter().map(state)).collect();
        let rows = nodes.into_iter().filter_map(|n| model.item_of(n)).map(|i| self.state_row(i, order)).collect();
        let id = self.take_id(&format!("states/{}", model[system].id));
        let caption = say("caption-states", &[("system", self.words.system(system).into())]);
        Some(Table {
            id,
            kind: TableKind::States,
            subject: Subject::One(model[system].id.to_string()),
            caption,
            columns,
            rows,
        })
    }

    fn has_a_row(&self, item: ItemIx) -> bool {
        let nodes = std::iter::once(self.model[item].node).chain(self.model[item].functions.iter().copied());
        let needs = |n: NodeIx| !self.model[n].needs.is_empty() || !self.model[n].senses.is_empty();
        !self.model[item].kind.conducts() && nodes.into_iter().any(needs)
    }

    fn state_row(&self, item: ItemIx, order: &[StateIx]) -> Row {
        let thing = self.words.item(self.model, item);
        let name = Cell::line(say("item-line", &[("thing", thing.into())]));
        let cells = order.iter().map(|s| self.state_cell(item, *s));
        Row { about: thing.id.clone(), cells: std::iter::once(name).chain(cells).collect() }
    }

    fn state_cell(&self, item: ItemIx, state: StateIx) -> Cell {
        let solved = self.analysis.state(state);
        if !solved.reached {
            return Cell::mark(Mark::NotReached);
        }
        let item = &self.model[item];
        let solution = &solved.solution;
        if solution.misleads.contains(&item.node) {
            return Cell::mark(Mark::Misleads);
        }
        if !solution.works.contains(&item.node) {
            return Cell::mark(Mark::Dead);
        }
        let dead: Vec<NodeIx> = item.functions.iter().copied().filter(|f| !solution.works.contains(f)).collect();
        if dead.is_empty() {
            return Cell::mark(Mark::Works);
        }
        let own = dead.iter().map(|n| self.words.own(*n)).collect::<Vec<_>>();
        Cell { mark: Some(Mark::Partly), ..lines(vec![say("without-functions", &[("things", own.into())])]) }
    }
}
