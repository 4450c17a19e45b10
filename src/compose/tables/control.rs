//! What each position of each control changes, seen from the reference state.

use super::lines;
use super::rows::told;
use crate::analyse::answer::Question;
use crate::compose::composer::{Composer, in_walking_order};
use crate::compose::phrase::say;
use crate::compose::say::{engraved, joined, then_sentence};
use crate::doc::{Block, Cell, Column, Inlines, Row, TableKind};
use crate::model::{Control, ItemIx, Kind, NodeIx, PositionIx, StateIx};
use std::collections::BTreeSet;

impl Composer<'_> {
    /// Controls but breakers and fuses.
    pub fn controls(&mut self) -> Vec<Block> {
        let Some(state) = self.reference else { return Vec::new() };
        let model = self.model;
        let controls = model.controls().filter(|(i, _)| !model[*i].kind.protects());
        let mut nodes: Vec<NodeIx> = controls.map(|(i, _)| model[i].node).collect();
        in_walking_order(model, &mut nodes);
        let items = nodes.into_iter().filter_map(|n| model.item_of(n));
        let rows = items.filter_map(|i| model.control(i).map(|c| self.control_row(state, i, c))).collect();
        let caption = say("caption-controls", &[("state", self.words.state(state).into())]);
        let columns = vec![Column::Control, Column::Positions, Column::Changes];
        self.table_or_none("controls", TableKind::Controls, caption, columns, rows)
    }

    fn control_row(&self, state: StateIx, item: ItemIx, control: &Control) -> Row {
        let thing = self.words.item(self.model, item);
        let all = (0..control.positions.len()).map(PositionIx::new);
        let engravings = all.clone().map(|p| vec![engraved(self.model, item, p)]).collect();
        let changes = all.map(|p| self.position_line(state, item, control, p)).collect();
        let name = say("item-line", &[("thing", thing.into())]);
        let cells = vec![Cell::line(name), Cell::line(joined(engravings, ", ")), lines(changes)];
        Row { about: thing.id.clone(), cells }
    }

    fn position_line(&self, state: StateIx, item: ItemIx, control: &Control, to: PositionIx) -> Inlines {
        let position = || engraved(self.model, item, to).into();
        let solved = self.analysis.state(state);
        if solved.situation.positions.get(item.usize()) == Some(&to) {
            return say("position-reference", &[("position", position()), ("state", self.words.state(state).into())]);
        }
        let mut question = Question::faults(state, Vec::new());
        question.set.push((item, to));
        let after = self.analysis.effects(&question).after.works;
        let before = &solved.solution.works;
        let starts = self.words.nodes(&self.told_changes(&after, before));
        let stops = self.words.nodes(&self.told_changes(before, &after));
        let mut line = match (starts.is_empty(), stops.is_empty()) {
            (true, true) => say("position-same", &[("position", position())]),
            (false, true) => say("position-starts", &[("position", position()), ("things", starts.into())]),
            (true, false) => say("position-stops", &[("position", position()), ("things", stops.into())]),
            (false, false) => {
                say("position-both", &[("position", position()), ("things", starts.into()), ("others", stops.into())])
            }
        };
        if let Some((_, back)) = control.springs_to.iter().find(|(from, _)| *from == to) {
            let other = engraved(self.model, item, *back);
            then_sentence(&mut line, say("springs-back", &[("position", position()), ("other", other.into())]));
        }
        line
    }

    /// What works in the one and not in the other; lines, switches and other conductors but buses are left out.
    fn told_changes(&self, one: &BTreeSet<NodeIx>, other: &BTreeSet<NodeIx>) -> Vec<NodeIx> {
        let kind = |n: &NodeIx| self.model.item_of(*n).map(|i| self.model[i].kind);
        let told_kind = |n: &NodeIx| kind(n).is_none_or(|k| !k.conducts() || k == Kind::Bus);
        let changed: Vec<NodeIx> = one.difference(other).copied().collect();
        let mut nodes = told(self, &changed, true);
        nodes.extend(told(self, &changed, false));
        nodes.into_iter().filter(told_kind).collect()
    }
}
