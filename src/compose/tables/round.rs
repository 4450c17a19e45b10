//! The walk round: every item in the order in which a person meets it, with what is told of it.

use super::lines;
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::doc::{Block, Cell, Column, Inline, Inlines, Row, Subject, Table, TableKind};
use crate::model::{ItemIx, NodeIx, WalkGroup};

impl Composer<'_> {
    /// The things of the panel, numbered as in its drawing, group by group; then those without a place there.
    pub fn walk_round(&mut self) -> Vec<Block> {
        let mut blocks = Vec::new();
        let mut number = 0;
        for group in self.model.walk_groups() {
            let items = self.model.on_panel(group);
            let rows = items.into_iter().map(|i| {
                number += 1;
                self.round_row(i, Some(number))
            });
            let rows = rows.collect();
            blocks.extend(self.round_table(group, true, rows));
        }
        for group in self.model.walk_groups() {
            let rows = self.off_panel(group).into_iter().map(|i| self.round_row(i, None)).collect();
            blocks.extend(self.round_table(group, false, rows));
        }
        if blocks.is_empty() { vec![Block::Para(say("none-such", &[]))] } else { blocks }
    }

    /// System by system, each by name.
    fn off_panel(&self, group: WalkGroup) -> Vec<ItemIx> {
        let model = self.model;
        let is_off = |i: &ItemIx| model[*i].panel.is_none() && model[*i].kind.group() == group;
        let mut found: Vec<ItemIx> = model.item_indices().filter(is_off).collect();
        let system = |i: &ItemIx| &model[model[*i].system];
        found.sort_by_key(|i| (&system(i).number, &system(i).name, &model[model[*i].node].noun.name, *i));
        found
    }

    fn round_table(&mut self, group: WalkGroup, on_panel: bool, rows: Vec<Row>) -> Option<Block> {
        if rows.is_empty() {
            return None;
        }
        let (id, caption) = match on_panel {
            true => (format!("walk-round/{}", group.word()), "caption-round-panel"),
            false => (format!("walk-round/{}/off-panel", group.word()), "caption-round-off"),
        };
        let caption = say(caption, &[("group", Inline::text(group.word()).into())]);
        let mut columns = vec![Column::Item, Column::Does, Column::DrivenAndSeen];
        if on_panel {
            columns.insert(0, Column::Number);
        }
        let id = self.take_id(&id);
        Some(Block::Table(Table { id, kind: TableKind::Round, subject: Subject::Aircraft, caption, columns, rows }))
    }

    fn round_row(&mut self, ix: ItemIx, number: Option<usize>) -> Row {
        let told = self.told_of(ix);
        let mut driven = told.driven;
        driven.extend(told.gone);
        driven.extend(told.draws.into_iter().map(|(node, fact)| self.draws_sentence(ix, node, fact)));
        driven.extend(self.rated_sentence(ix));
        if !told.breakers.is_empty() {
            driven.push(say("breaker-of", &[("things", self.words.nodes(&told.breakers).into())]));
        }
        let mut cells = vec![lines(self.round_name(ix)), lines(told.does), lines(driven)];
        if let Some(number) = number {
            cells.insert(0, Cell::line(vec![Inline::text(number.to_string())]));
        }
        Row { about: self.model[ix].id.to_string(), cells }
    }

    /// The name, then what is engraved beside it, or the system of what is not on the panel.
    fn round_name(&self, ix: ItemIx) -> Vec<Inlines> {
        let item = &self.model[ix];
        let mut says = vec![say("item-line", &[("thing", self.words.node(item.node).into())])];
        match &item.panel {
            Some(place) => says.extend(place.label.as_ref().map(|label| {
                let label = Inline::Code(label.clone());
                say("engraved", &[("label", label.into())])
            })),
            None => says.push(say("of-system", &[("system", self.words.system(item.system).into())])),
        }
        says
    }

    fn draws_sentence(&self, ix: ItemIx, node: NodeIx, fact: Inline) -> Inlines {
        self.by_function(node, &self.model[ix], say("draws-of", &[("fact", fact.into())]))
    }

    fn rated_sentence(&mut self, ix: ItemIx) -> Option<Inlines> {
        let model = self.model;
        let rating = model[ix].rating.as_ref()?;
        let fact = self.quantity(model[ix].id.as_str(), "rating", rating, model[ix].span);
        Some(say("rated-of", &[("fact", fact.into())]))
    }
}
