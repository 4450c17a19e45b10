//! Where needles stand in each state: suction, oil, fuel pressure.

use super::beginning;
use crate::analyse::gauges::{self, Needle, NeedleIn};
use crate::base::{Quantity, Spanned};
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::compose::say::quoted;
use crate::doc::{Block, Cell, Column, Inlines, Row, TableKind};
use crate::model::{ArcMark, ItemIx, StateIx};

impl Composer<'_> {
    /// A row for each gauge, a column for each state that is reached.
    pub fn needle_table(&mut self, of: &Spanned<String>) -> Vec<Block> {
        let mut gauges: Vec<(ItemIx, Vec<NeedleIn>)> = Vec::new();
        for name in of.value.split_whitespace() {
            let item = self.model.find_item(name).filter(|i| self.model[*i].scale.is_some());
            let Some(item) = item else {
                let message = format!("`{}` is no gauge with a scale", crate::compose::value::clip(name));
                self.error("name-unknown", of.span, message, "use ids of items that have a `scale`");
                return Vec::new();
            };
            gauges.push((item, gauges::needles(self.model, self.analysis, item)));
        }
        let states: Vec<StateIx> =
            gauges.first().map_or_else(Vec::new, |(_, all)| all.iter().map(|n| n.state).collect());
        let rows = gauges.iter().map(|(item, all)| self.needle_row(*item, all)).collect();
        let state =
            |s: &StateIx| Column::State { id: self.model[*s].id.to_string(), name: self.model[*s].name.clone() };
        let columns = std::iter::once(Column::Needle).chain(states.iter().map(state)).collect();
        self.table_or_none("needles", TableKind::Needles, say("caption-needles", &[]), columns, rows)
    }

    fn needle_row(&mut self, item: ItemIx, all: &[NeedleIn]) -> Row {
        let id = self.model[item].id.to_string();
        let mut cells = vec![Cell::line(vec![beginning(self.words.item(self.model, item))])];
        for needle in all {
            let of = format!("needle/{id}/{}", self.model[needle.state].id);
            cells.push(Cell::line(self.needle(&of, needle)));
        }
        Row { about: id, cells }
    }

    fn needle(&mut self, of: &str, at: &NeedleIn) -> Inlines {
        match &at.needle {
            Needle::Usual(q) | Needle::Rests(q) => {
                let fact = self.quantity_at(of, q);
                match at.arc {
                    Some(arc) => say("needle-arc", &[("fact", fact.into()), ("text", quoted(of, mark(arc)).into())]),
                    None => say("needle-at", &[("fact", fact.into())]),
                }
            }
            Needle::Said(sentence) => vec![quoted(of, sentence)],
            Needle::Falls(q) => {
                let fact = self.quantity_at(of, q);
                say("needle-dead", &[("fact", fact.into())])
            }
            Needle::Stays => say("needle-stays", &[]),
            Needle::Drifts => say("needle-drifts", &[]),
            Needle::Flag => say("needle-flag", &[]),
            Needle::False => say("needle-false", &[]),
            Needle::NotSaid => say("needle-unknown", &[]),
        }
    }

    fn quantity_at(&mut self, of: &str, at: &Quantity) -> crate::doc::Inline {
        self.printed(of, at.number, at.unit.sign(), 6).inline()
    }
}

fn mark(arc: ArcMark) -> &'static str {
    match arc {
        ArcMark::White => "white",
        ArcMark::Green => "green",
        ArcMark::Yellow => "yellow",
        ArcMark::Red => "red",
        ArcMark::Blue => "blue",
    }
}
