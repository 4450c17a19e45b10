//! The quick-reference card: what is lost with each source and bus, the numbers, the breakers.
//!
//! Its cells are those of the guide's own tables, without the sentences; so the audit can read them with the same grammar.

use super::composer::Composer;
use super::phrase::say;
use super::tables::told_in_sight;
use crate::analyse::answer::{Affected, Effects};
use crate::analyse::fuel;
use crate::base::Span;
use crate::base::text::capitalise;
use crate::doc::{Block, Cell, Chapter, Column, Inline, Inlines, Row, Subject, Table, TableKind};
use crate::model::{FaultIx, Kind, NodeIx};

impl Composer<'_> {
    /// The card as one chapter: three tables, each where there is anything in it.
    pub fn card(&mut self) -> Chapter {
        let aircraft = &self.model.aircraft;
        let name = aircraft.registration.as_ref().unwrap_or(&aircraft.name);
        let title = say("card-title", &[("part", Inline::text(name.as_str()).into())]);
        let tables = [self.card_losses(), Some(self.card_numbers()), Some(self.card_breakers())];
        let tables = tables.into_iter().flatten().filter(|t| !t.rows.is_empty());
        Chapter { id: "card".to_owned(), number: 1, title, blocks: tables.map(Block::Table).collect() }
    }

    /// A row for each source and bus; those of like effect share one.
    fn card_losses(&mut self) -> Option<Table> {
        let state = self.reference?;
        let mut rows: Vec<Row> = Vec::new();
        let mut asked = self.analysis.asked_in(state);
        asked.retain(|fault| self.is_on_card(*fault));
        for fault in asked {
            let effects = self.effects(state, fault);
            let (gone, still) = (self.gone_cell(&effects), self.still_cell(&effects));
            if gone.lines.is_empty() {
                continue;
            }
            let clause = capital(self.clause(fault));
            let alike = |row: &&mut Row| matches!(row.cells.as_slice(), [_, g, s] if *g == gone && *s == still);
            match rows.iter_mut().find(alike).and_then(|row| row.cells.first_mut()) {
                Some(cell) => cell.lines.push(clause),
                None => rows.push(self.loss_row(fault, vec![Cell::line(clause), gone, still])),
            }
        }
        let columns = vec![Column::Fault, Column::LostOrFalse, Column::StillTells];
        let caption = say("card-losses", &[("state", self.words.state(state).into())]);
        Some(self.card_table("card/losses", TableKind::CardLosses, caption, (columns, rows)))
    }

    fn loss_row(&self, fault: FaultIx, cells: Vec<Cell>) -> Row {
        let item = self.model.item_of(self.model[fault].of);
        Row { about: item.map_or_else(String::new, |i| self.model[i].id.to_string()), cells }
    }

    /// Whether a fault is told on the card: a source or bus that simply fails, and what leads pressure to the instruments.
    fn is_on_card(&self, fault: FaultIx) -> bool {
        let model = self.model;
        let of = model[fault].of;
        let item = model.item_of(of).map(|i| &model[i]).filter(|i| i.node == of && !i.off_card);
        let Some(item) = item.filter(|_| model[fault].id.as_str() == "fails") else { return false };
        let gives = model[of].gives.map(|m| model[m].id.as_str());
        match item.kind {
            Kind::Battery | Kind::Alternator | Kind::Generator | Kind::Bus | Kind::Engine | Kind::Pump => true,
            Kind::Line | Kind::Port => matches!(gives, Some("static-pressure" | "pitot-pressure")),
            _ => false,
        }
    }

    /// What is false, what is lost, what is lost later; nothing where all of it is out of sight.
    fn gone_cell(&mut self, effects: &Effects) -> Cell {
        let sight = |of: &[Affected]| told_in_sight(self, &of.iter().map(|a| a.node).collect::<Vec<NodeIx>>());
        let (wrong, lost) = (sight(&effects.misleads), sight(&effects.lost));
        let named = [("card-false", wrong), ("card-lost", lost)].into_iter().filter(|(_, nodes)| !nodes.is_empty());
        let mut lines: Vec<Inlines> =
            named.map(|(phrase, nodes)| say(phrase, &[("things", self.words.nodes(&nodes).into())])).collect();
        lines.extend(self.later_lines(effects).into_iter().map(|line| line.says));
        Cell { mark: None, lines }
    }

    fn still_cell(&mut self, effects: &Effects) -> Cell {
        let lines = effects.still_tells.iter().map(|still| self.still_tells_briefly(effects, still)).collect();
        Cell { mark: None, lines }
    }

    /// Numbers with names, the time on the battery, the fuel that can be used.
    fn card_numbers(&mut self) -> Table {
        let model = self.model;
        let mut rows = Vec::new();
        for named in model.quantities.iter().filter(|q| !q.off_card) {
            let value = self.quantity(&format!("quantity/{}", named.id), "value", &named.value, named.span);
            let name = vec![Inline::name(named.id.as_str(), capitalise(&named.name))];
            rows.push(number_row(named.id.as_str(), name, value));
        }
        if let Some(on) = self.on_battery(Span::default()) {
            let total = self.printed("card/battery", on.endurance.total.0, "min", 1).inline();
            rows.push(number_row(model[on.plan.battery].id.as_str(), say("card-battery", &[]), total));
        }
        for tank in fuel::tanks(model) {
            let item = &model[tank.item];
            if !item.off_card {
                let usable = self.printed(&format!("card/{}/usable", item.id), tank.usable.0, "gal", 2).inline();
                let name = say("card-usable", &[("thing", self.words.node(item.node).into())]);
                rows.push(number_row(item.id.as_str(), name, usable));
            }
        }
        let columns = vec![Column::Quantity, Column::Value];
        self.card_table("card/numbers", TableKind::CardNumbers, say("card-numbers", &[]), (columns, rows))
    }

    /// The list of breakers as the guide has it.
    fn card_breakers(&mut self) -> Table {
        let model = self.model;
        let table = self.breakers().into_iter().find_map(|b| if let Block::Table(t) = b { Some(t) } else { None });
        let mut rows = table.map(|t| t.rows).unwrap_or_default();
        rows.retain(|row| model.find_item(&row.about).is_none_or(|i| !model[i].off_card));
        let columns = vec![Column::Breaker, Column::Rating, Column::Protects];
        self.card_table("card/breakers", TableKind::Breakers, say("card-breakers", &[]), (columns, rows))
    }

    fn card_table(
        &mut self,
        id: &str,
        kind: TableKind,
        caption: Inlines,
        (columns, rows): (Vec<Column>, Vec<Row>),
    ) -> Table {
        Table { id: self.take_id(id), kind, subject: Subject::Aircraft, caption, columns, rows }
    }
}

fn number_row(about: &str, name: Inlines, value: Inline) -> Row {
    Row { about: about.to_owned(), cells: vec![Cell::line(name), Cell::line(vec![value])] }
}

/// A clause at the beginning of a cell.
fn capital(mut clause: Inlines) -> Inlines {
    if let Some(Inline::Name { text, .. } | Inline::Text(text)) = clause.first_mut() {
        *text = capitalise(text);
    }
    clause
}
