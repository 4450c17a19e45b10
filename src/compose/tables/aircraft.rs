//! Tables of the whole aircraft: alerts, quantities, inspections, the walk, changes of a tail.

use super::lines;
use crate::compose::composer::{Composer, place_key};
use crate::compose::phrase::{NounPhrase, say};
use crate::compose::say::{names_cell, quoted};
use crate::doc::{Block, Cell, Column, Fact, FactOrigin, Inline, Inlines, Row, TableKind};
use crate::model::{AlertIx, ChangeKind, Inspection, InspectionBy, Interval, ItemIx, Need, NodeIx, Seen, WalkGroup};

impl Composer<'_> {
    /// Lights, flags and pointers, each with what it watches.
    pub fn alerts(&mut self) -> Vec<Block> {
        let rows = (0..self.model.alerts.len()).map(|a| self.alert_row(AlertIx::new(a))).collect();
        let columns = vec![Column::Alert, Column::Item, Column::ShowsWhen, Column::Looks];
        self.table_or_none("alerts", TableKind::Alerts, say("caption-alerts", &[]), columns, rows)
    }

    fn alert_row(&self, ix: AlertIx) -> Row {
        let alert = &self.model[ix];
        let watched: Vec<NodeIx> = alert.watches.iter().flat_map(Need::feeds).map(|f| f.from).collect();
        let reads = alert.reads.as_ref().map(|r| vec![quoted(format!("{}/reads", alert.id), r)]);
        let cells = vec![
            name_cell(self.words.alert(ix)),
            name_cell(self.words.item(self.model, alert.on)),
            names_cell(&self.words.nodes(&watched)),
            lines(reads.into_iter().collect()),
        ];
        Row { about: alert.id.to_string(), cells }
    }

    /// Numbers with names, each with where it stands.
    pub fn quantities(&mut self) -> Vec<Block> {
        let model = self.model;
        let mut rows = Vec::new();
        for named in &model.quantities {
            let id = format!("quantity/{}", named.id);
            let value = self.quantity(&id, "value", &named.value, named.span);
            let note = named.note.as_ref().map(|n| vec![quoted(format!("{id}/note"), n)]);
            let source = named.cite.as_ref().map(|c| vec![quoted(format!("{id}/cite"), c)]);
            let name = vec![Inline::name(named.id.as_str(), crate::base::text::capitalise(&named.name))];
            let first: Vec<Inlines> = std::iter::once(name).chain(note).collect();
            let cells = vec![lines(first), Cell::line(vec![value]), lines(source.into_iter().collect())];
            rows.push(Row { about: named.id.to_string(), cells });
        }
        let columns = vec![Column::Quantity, Column::Value, Column::Source];
        self.table_or_none("quantities", TableKind::Quantities, say("caption-quantities", &[]), columns, rows)
    }

    /// What must be inspected when, and what counts towards it.
    pub fn inspections(&mut self) -> Vec<Block> {
        let model = self.model;
        let rows = model.inspections.iter().enumerate().map(|(at, i)| self.inspection_row(at, i)).collect();
        let columns = vec![Column::Inspection, Column::Every, Column::CountedBy, Column::Source];
        self.table_or_none("inspections", TableKind::Inspections, say("caption-inspections", &[]), columns, rows)
    }

    fn inspection_row(&mut self, at: usize, inspection: &Inspection) -> Row {
        let id = format!("inspection/{}", at + 1);
        let name = vec![quoted(format!("{id}/name"), &crate::base::text::capitalise(&inspection.name))];
        let every = match &inspection.every {
            Interval::Hours(hours) => vec![self.quantity(&id, "every", hours, inspection.span)],
            Interval::CalendarMonths(months) => {
                let count = self.interval(&id, *months, "months", inspection);
                say("every-months", &[("count", count.into())])
            }
            Interval::Days(days) => {
                let count = self.interval(&id, *days, "days", inspection);
                say("every-days", &[("count", count.into())])
            }
        };
        let over = inspection.overrun.as_ref().map(|hours| self.quantity(&id, "overrun", hours, inspection.span));
        let over = over.map(|fact| say("due-overrun", &[("fact", fact.into())]));
        let times = std::iter::once(every).chain(over).collect();
        let by = match inspection.by {
            InspectionBy::Tachometer => "by-tachometer",
            InspectionBy::HourMeter => "by-hour-meter",
            InspectionBy::TimeInService => "by-time-in-service",
            InspectionBy::Calendar => "by-calendar",
        };
        let cite = inspection.cite.as_ref().map(|c| vec![quoted(format!("{id}/cite"), c)]);
        let cells = vec![Cell::line(name), lines(times), Cell::line(say(by, &[])), lines(cite.into_iter().collect())];
        Row { about: id, cells }
    }

    fn interval(&mut self, id: &str, number: u32, unit: &str, inspection: &Inspection) -> Inline {
        self.show(Fact {
            id: format!("{id}/every"),
            subject: id.to_owned(),
            aspect: "every".to_owned(),
            value: Some(f64::from(number)),
            unit: Some(unit.to_owned()),
            shown: number.to_string(),
            rounding: None,
            origin: FactOrigin::Typed(inspection.span),
        })
    }

    /// The sign-off sheet: every item in walking order.
    pub fn walk(&mut self) -> Vec<Block> {
        let order = self.walk_order();
        let rows = order.into_iter().enumerate().map(|(at, item)| self.walk_row(at + 1, item)).collect();
        let columns = vec![Column::Number, Column::Item, Column::Where, Column::Confirmed, Column::Initials];
        self.table_or_none("walk", TableKind::Walk, say("caption-walk", &[]), columns, rows)
    }

    fn walk_order(&self) -> Vec<ItemIx> {
        let walk = self.model.panel.as_ref().map_or(&[][..], |p| &p.walk);
        let rank = |g: WalkGroup| {
            let named = walk.iter().position(|w| *w == g);
            let usual = WalkGroup::ALL.iter().position(|w| *w == g).unwrap_or(0);
            named.unwrap_or(walk.len() + usual)
        };
        let mut items: Vec<ItemIx> = self.model.item_indices().collect();
        items.sort_by_key(|i| {
            let item = &self.model[*i];
            (rank(item.kind.group()), place_key(self.model, *i), self.model[item.node].noun.name.clone(), *i)
        });
        items
    }

    fn walk_row(&mut self, number: usize, ix: ItemIx) -> Row {
        let item = &self.model[ix];
        let place = if item.panel.is_some() {
            say("on-panel", &[])
        } else {
            say("in-system", &[("system", self.words.system(item.system).into())])
        };
        let seen = item.seen.as_ref().map(|s| seen_by(item.id.as_str(), s));
        let cells = vec![
            Cell::line(vec![Inline::text(number.to_string())]),
            name_cell(self.words.node(item.node)),
            Cell::line(place),
            lines(seen.into_iter().collect()),
            Cell::default(),
        ];
        Row { about: item.id.to_string(), cells }
    }

    /// What this aircraft changes in its type, with reasons.
    pub fn changes(&mut self) -> Vec<Block> {
        if self.model.changes.is_empty() {
            return vec![Block::Para(say("no-changes", &[]))];
        }
        let row = |change: &crate::model::Change| {
            let kind = match change.kind {
                ChangeKind::Add => "change-add",
                ChangeKind::Replace => "change-replace",
                ChangeKind::Remove => "change-remove",
            };
            let mut line = say(kind, &[]);
            line.push(Inline::text(": "));
            line.push(self.changed_thing(&change.path));
            let reason = vec![quoted(format!("{}/reason", change.path), &change.reason)];
            Row { about: change.path.clone(), cells: vec![Cell::line(line), Cell::line(reason)] }
        };
        let rows = self.model.changes.iter().map(row).collect();
        let columns = vec![Column::Change, Column::Reason];
        self.table_or_none("changes", TableKind::Changes, say("caption-changes", &[]), columns, rows)
    }

    /// The name of what a change means, where the aircraft has it; else its path.
    fn changed_thing(&self, path: &str) -> Inline {
        let id = path.split('.').nth(1).and_then(|id| self.words.find(id));
        id.map_or_else(|| Inline::Code(path.to_owned()), NounPhrase::inline)
    }
}

fn seen_by(item: &str, seen: &Seen) -> Inlines {
    let of = format!("{item}/seen");
    let how = seen.how.as_ref().map(|h| vec![quoted(&*of, h)]).unwrap_or_default();
    say(
        "seen-by",
        &[("initials", quoted(&*of, &seen.by).into()), ("date", quoted(&*of, &seen.on).into()), ("how", how.into())],
    )
}

fn name_cell(thing: &NounPhrase) -> Cell {
    Cell::line(say("item-line", &[("thing", thing.into())]))
}
