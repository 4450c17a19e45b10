//! Tables of the battery: loads by phase, phases, stages of shedding, what each load costs; and the standing drain.

use super::battery::{OnBattery, phase_name};
use super::{Printed, Work, beginning, chain, spell};
use crate::analyse::battery::{self, Gain};
use crate::analyse::load::{Load, mean};
use crate::base::{Span, Spanned};
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::compose::say::quoted;
use crate::doc::{Block, Cell, Column, Inline, Inlines, Row, TableKind};
use crate::model::{ItemIx, NodeIx};
use std::collections::BTreeSet;

impl Composer<'_> {
    /// What the battery carries in each phase: each consumer's draw by its duty, and the sum.
    pub fn phase_loads(&mut self, on: &OnBattery) -> Vec<Block> {
        let nodes: BTreeSet<NodeIx> = on.plan.phases.iter().flat_map(|p| p.loads.iter().map(|l| l.node)).collect();
        let mut rows: Vec<Row> = nodes.into_iter().map(|n| self.carried_row(on, n)).collect();
        let sums = (0..on.plan.phases.len()).map(|at| {
            self.printed(&format!("battery/{at}/current"), on.plan.phases[at].current().0, "A", 3).cell()
        });
        let cells = std::iter::once(Cell::line(say("mean-current", &[]))).chain(sums).collect();
        rows.push(Row { about: "mean".to_owned(), cells });
        let columns = std::iter::once(Column::OnBattery)
            .chain(on.plan.phases.iter().map(|p| Column::PhaseNamed(p.name.clone())))
            .collect();
        let state = self.words.state(on.plan.state);
        let caption = say("caption-phase-loads", &[("state", state.into())]);
        self.table_or_none("battery/loads", TableKind::PhaseLoads, caption, columns, rows)
    }

    fn carried_row(&mut self, on: &OnBattery, node: NodeIx) -> Row {
        let id = self.model[node].id.to_string();
        let mut cells = vec![self.row_name(node)];
        for (at, phase) in on.plan.phases.iter().enumerate() {
            let load = phase.loads.iter().find(|l| l.node == node);
            cells.push(load.map_or_else(Cell::default, |l| {
                self.printed(&format!("battery/{at}/of/{id}"), l.draws.0 * l.duty, "A", 3).cell()
            }));
        }
        Row { about: id, cells }
    }

    /// The phases with current, time and what they take.
    pub fn phases(&mut self, on: &OnBattery) -> Vec<Block> {
        let mut rows = Vec::new();
        for (at, worked) in on.endurance.phases.iter().enumerate() {
            let of = |what: &str| format!("battery/phase/{at}/{what}");
            let cells = vec![
                Cell::line(phase_name(on, at)),
                self.printed(&of("current"), worked.current.0, "A", 3).cell(),
                self.printed(&of("counts"), worked.counts_as.0, "A", 2).cell(),
                self.printed(&of("time"), worked.time.0, "min", 1).cell(),
                self.printed(&of("takes"), worked.takes_a_min, "A·min", 1).cell(),
            ];
            rows.push(Row { about: format!("phase-{}", at + 1), cells });
        }
        let total = self.printed("battery/phase/all/time", on.endurance.total.0, "min", 1).cell();
        let taken: f64 = on.endurance.phases.iter().map(|p| p.takes_a_min).sum();
        let taken = self.printed("battery/phase/all/takes", taken, "A·min", 1).cell();
        let cells = vec![Cell::line(say("in-all", &[])), Cell::default(), Cell::default(), total, taken];
        rows.push(Row { about: "all".to_owned(), cells });
        let columns = vec![Column::Phase, Column::MeanCurrent, Column::CountsAs, Column::Time, Column::Takes];
        self.table_or_none("battery/phases", TableKind::Phases, say("caption-phases", &[]), columns, rows)
    }

    /// Minutes with nothing more left off, then with one thing more at each line.
    pub fn stages(&mut self, shed: &Spanned<String>, span: Span) -> Vec<Block> {
        let Some(items) = self.shed_items(shed) else { return Vec::new() };
        let Some(on) = self.on_battery(span) else { return vec![Block::Para(say("none-such", &[]))] };
        let stages = match battery::stages(self.model, self.analysis, &items, &on.battery) {
            Ok(stages) => stages,
            Err(error) => {
                self.battery_error(span, error);
                return Vec::new();
            }
        };
        let whole = stages.first().map_or(0.0, |s| s.endurance.total.0);
        let mut rows = Vec::new();
        for (at, stage) in stages.iter().enumerate() {
            let last = stage.shed.last().copied();
            let name = last.map_or_else(|| say("shed-nothing", &[]), |i| vec![beginning(self.words.item(self.model, i))]);
            let gained = self.printed(&format!("battery/stage/{at}/gained"), stage.endurance.total.0 - whole, "min", 1);
            let cells = vec![
                Cell::line(name),
                self.printed(&format!("battery/stage/{at}/time"), stage.endurance.total.0, "min", 1).cell(),
                if last.is_some() { gained.cell() } else { Cell::default() },
            ];
            rows.push(Row { about: last.map_or_else(|| "nothing".to_owned(), |i| self.model[i].id.to_string()), cells });
        }
        let columns = vec![Column::LeftOff, Column::InAll, Column::Gained];
        self.table_or_none("battery/stages", TableKind::Stages, say("caption-stages", &[]), columns, rows)
    }

    fn shed_items(&mut self, shed: &Spanned<String>) -> Option<Vec<ItemIx>> {
        let mut items = Vec::new();
        for name in shed.value.split_whitespace() {
            match self.model.find_item(name) {
                Some(item) => items.push(item),
                None => {
                    self.unknown_name(&Spanned::new(name.to_owned(), shed.span));
                    return None;
                }
            }
        }
        Some(items)
    }

    /// What each load costs in minutes.
    pub fn gains(&mut self, span: Span) -> Vec<Block> {
        let Some(on) = self.on_battery(span) else { return vec![Block::Para(say("none-such", &[]))] };
        let gains = match battery::gains(self.model, &on.plan, &on.battery) {
            Ok(gains) => gains,
            Err(error) => {
                self.battery_error(span, error);
                return Vec::new();
            }
        };
        let rows = gains.iter().map(|gain| self.gain_row(gain)).collect();
        let open = on.plan.phases.iter().position(|p| p.lasts.is_none()).unwrap_or(0);
        let caption = say("caption-gains", &[("part", phase_name(&on, open).into())]);
        let columns = vec![Column::Consumer, Column::MeanCurrent, Column::Buys];
        self.table_or_none("battery/gains", TableKind::Gains, caption, columns, rows)
    }

    fn gain_row(&mut self, gain: &Gain) -> Row {
        let id = self.model[gain.node].id.to_string();
        let cells = vec![
            self.row_name(gain.node),
            self.printed(&format!("battery/gain/{id}/current"), gain.current.0, "A", 3).cell(),
            self.printed(&format!("battery/gain/{id}/time"), gain.gains.0, "min", 1).cell(),
        ];
        Row { about: id, cells }
    }

    /// How long the battery takes to go flat with everything off.
    pub fn drain(&mut self, span: Span) -> Vec<Block> {
        let none = || vec![Block::Para(say("none-such", &[]))];
        let Some(on) = self.on_battery(span) else { return none() };
        let loads = battery::drain(self.model, self.analysis, on.plan.battery);
        let noun = self.words.item(self.model, on.plan.battery);
        let Ok(time) = on.battery.standing(mean(&loads)) else {
            return vec![Block::Para(say("drain-nothing", &[("thing", noun.into())]))];
        };
        let mut work = Work::default();
        let each: Vec<Printed> = loads.iter().map(|l| self.drain_of(l)).collect();
        let current = self.printed("battery/drain/all", mean(&loads).0, "A", 5);
        if each.len() > 1 {
            work.step(say("drain-sum", &[]), chain(" + ", &each), &current);
        }
        let rated = self.printed("battery/rated", on.battery.rated.0, "Ah", 3);
        let hours = self.printed("battery/drain/hours", time.0, "h", 0);
        work.step(say("drain-hours", &[("part", self.drain_names(&loads).into())]), spell("# ÷ #", &[&rated, &current]), &hours);
        let day = self.printed("unit/day", 24.0, "h/day", 0);
        let days = self.printed("battery/drain/days", hours.value / 24.0, "days", 0);
        work.step(say("drain-days", &[]), spell("# ÷ #", &[&hours, &day]), &days);
        let title = say("drain-title", &[("thing", self.words.item(self.model, on.plan.battery).into())]);
        work.block(self, "battery/drain", title, "drain-source")
    }

    fn drain_of(&mut self, load: &Load) -> Printed {
        let id = self.model[load.node].id.to_string();
        self.printed(&format!("battery/drain/{id}"), load.draws.0 * load.duty, "A", 5)
    }

    fn drain_names(&self, loads: &[Load]) -> Inlines {
        let mut line = Inlines::new();
        for (at, load) in loads.iter().enumerate() {
            if at > 0 {
                line.push(Inline::text(if at + 1 == loads.len() { " and " } else { ", " }));
            }
            let noun = self.words.node(load.node);
            line.push(Inline::name(&noun.id, &noun.the));
        }
        line
    }

    /// The author's sentence as a line of its own.
    pub fn told(&self, of: &str, text: &str) -> Cell {
        Cell::line(vec![quoted(of, text)])
    }
}
