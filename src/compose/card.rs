//! The quick-reference card: what is lost with each source and bus, the numbers, the breakers.
//!
//! Its cells are those of the guide's own tables, without the sentences; so the audit can read them with the same grammar.

use super::composer::Composer;
use super::phrase::{NounPhrase, say};
use super::say::joined;
use super::tables::{later_groups, told_in_sight};
use crate::analyse::answer::{Affected, Effects, LostLater, StillTells};
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
        asked.sort_by_key(|fault| self.system_of(*fault));
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

    /// The number of the system that a fault is of: the card goes through the systems in their order.
    fn system_of(&self, fault: FaultIx) -> Option<String> {
        let item = self.model.item_of(self.model[fault].of)?;
        Some(self.model[self.model[item].system].number.clone())
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
        for (later, nodes) in later_groups(effects) {
            lines.extend(self.card_later(effects, &later, &nodes));
        }
        Cell { mark: None, lines }
    }

    /// What is lost later and is in sight, and the buses; a bus that takes much with it stands for that.
    fn card_later(&mut self, effects: &Effects, later: &LostLater, nodes: &[NodeIx]) -> Option<Inlines> {
        let much = self.bus_with_much(effects, nodes);
        let covered = |n: &NodeIx| much.as_ref().is_some_and(|(bus, lost)| n == bus || lost.contains(n));
        let mut shown = told_in_sight(self, nodes);
        shown.extend(nodes.iter().copied().filter(|n| self.is_bus(*n)));
        shown.retain(|n| !covered(n));
        if shown.is_empty() && much.is_none() {
            return None;
        }
        let bus =
            much.map_or_else(Vec::new, |(bus, _)| say("card-with-bus", &[("thing", self.words.node(bus).into())]));
        let names = self.words.nodes(&shown).iter().map(|n| vec![n.inline()]).collect::<Vec<Inlines>>();
        let things = joined(Some(bus).filter(|b| !b.is_empty()).into_iter().chain(names).collect(), ", ");
        let cause = self.later_cause(effects, later);
        let fact = later.in_min.map(|minutes| self.minutes(later, minutes));
        let phrase = if fact.is_some() { "card-later-known" } else { "card-later-unknown" };
        let mut values = vec![("part", cause.into()), ("effect", things.into())];
        values.extend(fact.map(|fact| ("fact", fact.into())));
        Some(say(phrase, &values))
    }

    fn is_bus(&self, node: NodeIx) -> bool {
        self.model.item_of(node).map(|i| &self.model[i]).is_some_and(|i| i.node == node && i.kind == Kind::Bus)
    }

    /// What still tells, a line for each piece of information; what nothing tells stands in one line.
    fn still_cell(&mut self, effects: &Effects) -> Cell {
        let (told, untold): (Vec<&StillTells>, Vec<&StillTells>) =
            effects.still_tells.iter().partition(|still| !still.sources.is_empty());
        let mut lines: Vec<Inlines> = told.iter().map(|still| self.still_tells_briefly(effects, still)).collect();
        let nothing: Vec<&NounPhrase> = untold.iter().map(|s| self.words.information(s.information)).collect();
        if !nothing.is_empty() {
            lines.push(say("card-untold", &[("things", nothing.into())]));
        }
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
        if let Some(on) = model.endurance.as_ref().and_then(|_| self.on_battery(Span::default())) {
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

    /// The list of breakers as the guide has it, without what each carries.
    fn card_breakers(&mut self) -> Table {
        let model = self.model;
        let table = self.breakers().into_iter().find_map(|b| if let Block::Table(t) = b { Some(t) } else { None });
        let mut rows = table.map(|t| t.rows).unwrap_or_default();
        rows.retain(|row| model.find_item(&row.about).is_none_or(|i| !model[i].off_card));
        let columns = vec![Column::Breaker, Column::Rating];
        rows.iter_mut().for_each(|row| row.cells.truncate(columns.len()));
        self.card_table("card/breakers", TableKind::CardBreakers, say("card-breakers", &[]), (columns, rows))
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
