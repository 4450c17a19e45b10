//! Every item of a system: what it does, what drives it, what it shows when that is gone, what it draws, its breaker.

use super::lines;
use crate::base::Span;
use crate::compose::composer::{Composer, in_walking_order};
use crate::compose::phrase::say;
use crate::compose::say::{item_says, joined, names_cell, quoted};
use crate::doc::{Block, Cell, Column, Inline, Inlines, Row, Subject, Table, TableKind};
use crate::model::{Item, ItemIx, LossOf, Need, NodeIx, SystemIx};
use std::collections::BTreeSet;

/// What is told of one item and its functions, line by line.
pub(super) struct Told {
    pub(super) does: Vec<Inlines>,
    pub(super) driven: Vec<Inlines>,
    pub(super) gone: Vec<Inlines>,
    /// What each node draws.
    pub(super) draws: Vec<(NodeIx, Inline)>,
    /// Breakers and fuses that its feeds pass.
    pub(super) breakers: Vec<NodeIx>,
}

impl Composer<'_> {
    /// The table of a system's items.
    pub fn items(&mut self, system: SystemIx) -> Vec<Block> {
        let model = self.model;
        let mut nodes: Vec<NodeIx> = model.items.iter().filter(|i| i.system == system).map(|i| i.node).collect();
        in_walking_order(model, &mut nodes);
        let items: Vec<ItemIx> = nodes.into_iter().filter_map(|n| model.item_of(n)).collect();
        let rows: Vec<Row> = items.into_iter().map(|i| self.item_row(i)).collect();
        if rows.is_empty() {
            return vec![Block::Para(say("none-such", &[]))];
        }
        let id = self.take_id(&format!("items/{}", model[system].id));
        let caption = say("caption-items", &[("system", self.words.system(system).into())]);
        let columns =
            vec![Column::Item, Column::Does, Column::DrivenBy, Column::WhenGone, Column::Draws, Column::Breaker];
        let subject = Subject::One(model[system].id.to_string());
        vec![Block::Table(Table { id, kind: TableKind::Items, subject, caption, columns, rows })]
    }

    /// All that is told of an item and its functions.
    pub(super) fn told_of(&mut self, ix: ItemIx) -> Told {
        let item = &self.model[ix];
        let nodes: Vec<NodeIx> = std::iter::once(item.node).chain(item.functions.iter().copied()).collect();
        let driven: Vec<Inlines> = nodes.iter().flat_map(|n| self.driven_lines(*n, item)).collect();
        Told {
            does: nodes.iter().filter_map(|n| self.does_line(*n, item)).collect(),
            driven: if driven.is_empty() { self.undriven_lines(item) } else { driven },
            gone: nodes.iter().flat_map(|n| self.gone_lines(*n, item)).collect(),
            breakers: self.breakers_of(&nodes),
            draws: nodes.iter().filter_map(|n| Some((*n, self.drawn(*n)?))).collect(),
        }
    }

    fn item_row(&mut self, ix: ItemIx) -> Row {
        let told = self.told_of(ix);
        let item = &self.model[ix];
        let thing = self.words.node(item.node);
        let draws = told.draws.into_iter().map(|(n, fact)| self.by_function(n, item, vec![fact])).collect();
        let cells = vec![
            Cell::line(say("item-line", &[("thing", thing.into())])),
            lines(told.does),
            lines(told.driven),
            lines(told.gone),
            lines(draws),
            names_cell(&self.words.nodes(&told.breakers)),
        ];
        Row { about: item.id.to_string(), cells }
    }

    /// A line of a function begins with its own name.
    pub(super) fn by_function(&self, node: NodeIx, item: &Item, line: Inlines) -> Inlines {
        if node == item.node { line } else { item_says(self.words.own(node), line) }
    }

    fn does_line(&self, node: NodeIx, item: &Item) -> Option<Inlines> {
        let does = self.model[node].does.as_ref()?;
        let line = vec![quoted(format!("{}/does", self.model[node].id), does)];
        Some(self.by_function(node, item, line))
    }

    fn driven_lines(&self, node: NodeIx, item: &Item) -> Vec<Inlines> {
        let needs = self.model[node].needs.iter().map(|n| self.need(n, node == item.node));
        let senses = self.model[node].senses.iter().map(|n| say("senses", &[("part", self.need(n, false).into())]));
        needs.chain(senses).map(|line| self.by_function(node, item, line)).collect()
    }

    fn gone_lines(&self, node: NodeIx, item: &Item) -> Vec<Inlines> {
        let thing = self.words.node(node);
        let look = |look: &crate::model::LossLook| {
            let sentence = self.look_sentence(node, look, thing);
            match look.of {
                LossOf::Medium(m) => {
                    say("without-medium", &[("medium", self.words.medium(m).into()), ("part", sentence.into())])
                }
                LossOf::Node(n) => {
                    say("without-thing", &[("thing", self.words.node(n).into()), ("part", sentence.into())])
                }
            }
        };
        let mut found: Vec<Inlines> = self.model[node].on_loss.iter().map(look).collect();
        if let Some(text) = &self.model[node].reads_when_absent {
            let text = quoted(format!("{}/reads-when-absent", self.model[node].id), text);
            found.push(say("when-absent", &[("text", text.into())]));
        }
        found.into_iter().map(|line| self.by_function(node, item, line)).collect()
    }

    fn drawn(&mut self, node: NodeIx) -> Option<Inline> {
        let model = self.model;
        let draws = model[node].draws.as_ref()?;
        Some(self.quantity(&model[node].id, "draws", draws, model[node].span))
    }

    /// Breakers and fuses that feeds of these nodes pass.
    fn breakers_of(&self, nodes: &[NodeIx]) -> Vec<NodeIx> {
        let feeds = nodes.iter().flat_map(|n| self.model[*n].needs.iter().flat_map(Need::feeds));
        let passed: BTreeSet<NodeIx> = feeds.flat_map(|f| f.through.iter().copied().chain([f.from])).collect();
        passed.into_iter().filter(|n| self.protects(*n)).collect()
    }

    fn protects(&self, node: NodeIx) -> bool {
        self.model.item_of(node).is_some_and(|i| self.model[i].kind.protects())
    }

    /// Breakers and fuses, each with what is fed through it.
    pub fn breakers(&mut self) -> Vec<Block> {
        let model = self.model;
        let mut nodes: Vec<NodeIx> = model.items.iter().filter(|i| i.kind.protects()).map(|i| i.node).collect();
        in_walking_order(model, &mut nodes);
        let rows = nodes.into_iter().map(|n| self.breaker_row(n)).collect();
        let columns = vec![Column::Breaker, Column::Rating, Column::Protects];
        self.table_or_none("breakers", TableKind::Breakers, say("caption-breakers", &[]), columns, rows)
    }

    fn breaker_row(&mut self, node: NodeIx) -> Row {
        let model = self.model;
        let item = model.item_of(node).map(|i| &model[i]);
        let rating = item.and_then(|i| i.rating.as_ref().map(|r| (i.span, r)));
        let rating = rating.map(|(span, r): (Span, _)| self.quantity(&model[node].id, "rating", r, span));
        let carries: Vec<NodeIx> = model.node_indices().filter(|n| self.is_fed_by(*n, node)).collect();
        let mut told = super::rows::told(self, &carries, true);
        told.extend(super::rows::told(self, &carries, false));
        let name: Inline = self.words.node(node).inline();
        let cells = vec![
            Cell::line(capital_name(name)),
            rating.map(|r| Cell::line(joined(vec![vec![r]], ""))).unwrap_or_default(),
            names_cell(&self.words.nodes(&told)),
        ];
        Row { about: model[node].id.clone(), cells }
    }

    fn is_fed_by(&self, node: NodeIx, through: NodeIx) -> bool {
        let mut feeds = self.model[node].needs.iter().flat_map(Need::feeds);
        feeds.any(|f| f.through.contains(&through) || f.from == through)
    }
}

fn capital_name(name: Inline) -> Inlines {
    match name {
        Inline::Name { id, text } => vec![Inline::name(id, crate::base::text::capitalise(&text))],
        other => vec![other],
    }
}
