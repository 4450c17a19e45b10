//! Tables of the battery: loads by phase, phases, stages of shedding, what each load costs; and the standing drain.

use super::battery::{OnBattery, phase_name};
use super::{Printed, Work, beginning, chain, spell};
use crate::analyse::battery::{self, Battery, Gain, Stage};
use crate::analyse::load::{Load, mean};
use crate::analyse::measure::Kelvin;
use crate::base::{Span, Spanned};
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::compose::say::quoted;
use crate::doc::{Block, Cell, Column, Inline, Inlines, Row, TableKind};
use crate::model::{ItemIx, NodeIx, StateIx};
use std::collections::BTreeSet;

/// What buys less than this is left out of the table of gains, min: it would be printed as nothing.
const LEAST_GAIN: f64 = 0.05;

impl Composer<'_> {
    /// What the battery carries in each phase: each consumer's draw by its duty, and the sum.
    pub fn phase_loads(&mut self, on: &OnBattery) -> Vec<Block> {
        let nodes: BTreeSet<NodeIx> = on.plan.phases.iter().flat_map(|p| p.loads.iter().map(|l| l.node)).collect();
        let mut rows: Vec<Row> = nodes.into_iter().map(|n| self.carried_row(on, n)).collect();
        let sums = (0..on.plan.phases.len())
            .map(|at| self.printed(&format!("battery/{at}/current"), on.plan.phases[at].current().0, "A", 3).cell());
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
        let mut blocks =
            self.table_or_none("battery/phases", TableKind::Phases, say("caption-phases", &[]), columns, rows);
        blocks.push(Block::Para(say("rounding-table", &[])));
        blocks
    }

    /// Minutes with nothing left off at all, then as the phases say, then with one thing more at each line.
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
        let nothing = match battery::nothing_off(self.model, self.analysis, &on.battery) {
            Ok(nothing) => nothing.total.0,
            Err(error) => {
                self.battery_error(span, error);
                return Vec::new();
            }
        };
        let whole = self.printed("battery/stage/nothing/time", nothing, "min", 1).cell();
        let cells = vec![Cell::line(say("shed-nothing", &[])), whole, Cell::default()];
        let mut rows = vec![Row { about: "nothing".to_owned(), cells }];
        rows.extend(stages.iter().enumerate().map(|(at, stage)| self.stage_row(at, stage, nothing)));
        let columns = vec![Column::LeftOff, Column::InAll, Column::Gained];
        self.table_or_none("battery/stages", TableKind::Stages, say("caption-stages", &[]), columns, rows)
    }

    fn stage_row(&mut self, at: usize, stage: &Stage, nothing: f64) -> Row {
        let last = stage.shed.last().copied();
        let name = last.map_or_else(|| say("shed-phases", &[]), |i| vec![beginning(self.words.item(self.model, i))]);
        let total = stage.endurance.total.0;
        let cells = vec![
            Cell::line(name),
            self.printed(&format!("battery/stage/{at}/time"), total, "min", 1).cell(),
            self.printed(&format!("battery/stage/{at}/gained"), total - nothing, "min", 1).cell(),
        ];
        Row { about: last.map_or_else(|| "phases".to_owned(), |i| self.model[i].id.to_string()), cells }
    }

    /// The time at each temperature that the model tells of; nothing where it tells of none.
    pub fn cold(&mut self, on: &OnBattery) -> Vec<Block> {
        let rows: Vec<Row> = on.battery.in_the_cold().filter_map(|(at, cold)| self.cold_row(on, at, &cold)).collect();
        if rows.is_empty() {
            return Vec::new();
        }
        let columns = vec![Column::Temperature, Column::CountedOn, Column::InAll, Column::NothingOff];
        self.table_or_none("battery/cold", TableKind::Cold, say("caption-cold", &[]), columns, rows)
    }

    fn cold_row(&mut self, on: &OnBattery, at: Kelvin, cold: &Battery) -> Option<Row> {
        let worked = cold.endurance(&on.plan.phases()).ok()?;
        let nothing = battery::nothing_off(self.model, self.analysis, cold).ok()?;
        let celsius = at.0 - 273.15;
        let of = |what: &str| format!("battery/cold/{celsius:.0}/{what}");
        let mut time = vec![vec![self.printed(&of("time"), worked.total.0, "min", 1).inline()]];
        if let Some(phase) = worked.empty_in {
            time.push(say("cold-empty", &[("part", phase_name(on, phase).into())]));
        }
        let cells = vec![
            self.printed(&of("temperature"), celsius, "°C", 1).cell(),
            self.printed(&of("counted"), worked.usable_a_min, "A·min", 1).cell(),
            Cell { mark: None, lines: time },
            self.printed(&of("nothing-off"), nothing.total.0, "min", 1).cell(),
        ];
        Some(Row { about: format!("at-{celsius:.0}"), cells })
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
        let rows = gains.iter().filter(|g| g.gains.0 >= LEAST_GAIN).map(|gain| self.gain_row(gain)).collect();
        let open = on.plan.phases.iter().position(|p| p.lasts.is_none()).unwrap_or(0);
        let caption = say("caption-gains", &[("part", phase_name(&on, open).into())]);
        let columns = vec![Column::Consumer, Column::MeanCurrent, Column::Buys];
        let mut blocks = self.table_or_none("battery/gains", TableKind::Gains, caption, columns, rows);
        blocks.push(Block::Para(say("gains-left-out", &[])));
        blocks
    }

    fn gain_row(&mut self, gain: &Gain) -> Row {
        let id = self.model[gain.node].id.to_string();
        let current = self.printed(&format!("battery/gain/{id}/current"), gain.current.0, "A", 3);
        let is_off = gain.current.0 == 0.0;
        let cells = vec![
            self.row_name(gain.node),
            if is_off { Cell::line(say("gains-off", &[])) } else { current.cell() },
            self.printed(&format!("battery/gain/{id}/time"), gain.gains.0, "min", 1).cell(),
        ];
        Row { about: id, cells }
    }

    /// How long the battery takes to go flat with everything off, and with the master left on.
    pub fn drain(&mut self, span: Span) -> Vec<Block> {
        let none = || vec![Block::Para(say("none-such", &[]))];
        let Some(on) = self.on_battery(span) else { return none() };
        let loads = battery::drain(self.model, self.analysis, on.plan.battery);
        let noun = self.words.item(self.model, on.plan.battery);
        let mut blocks = match on.battery.standing(mean(&loads)) {
            Ok(_) => self.drain_worked(&on, &loads),
            Err(_) => vec![Block::Para(say("drain-nothing", &[("thing", noun.into())]))],
        };
        if let Some((state, loads)) = battery::left_on(self.model, self.analysis, on.plan.battery) {
            blocks.extend(self.left_on_worked(&on, state, &loads));
        }
        blocks
    }

    fn drain_worked(&mut self, on: &OnBattery, loads: &[Load]) -> Vec<Block> {
        let mut work = Work::default();
        let each: Vec<Printed> = loads.iter().map(|l| self.drain_of(l)).collect();
        let current = self.printed("battery/drain/all", mean(loads).0, "A", 5);
        if each.len() > 1 {
            work.step(say("drain-sum", &[]), chain(" + ", &each), &current);
        }
        let rated = self.printed("battery/rated", on.battery.rated.0, "Ah", 3);
        let hours = self.printed("battery/drain/hours", rated.value / current.value, "h", 0);
        work.step(
            say("drain-hours", &[("part", self.drain_names(loads).into())]),
            spell("# ÷ #", &[&rated, &current]),
            &hours,
        );
        let day = self.printed("unit/day", 24.0, "h/day", 0);
        let days = self.printed("battery/drain/days", hours.value / 24.0, "days", 0);
        work.step(say("drain-days", &[]), spell("# ÷ #", &[&hours, &day]), &days);
        let title = say("drain-title", &[("thing", self.words.item(self.model, on.plan.battery).into())]);
        work.block(self, "battery/drain", title, "drain-source")
    }

    /// The coil of the contactor alone, then all that the state has on.
    fn left_on_worked(&mut self, on: &OnBattery, state: StateIx, loads: &[Load]) -> Vec<Block> {
        let mut work = Work::default();
        let rated = self.printed("battery/rated", on.battery.rated.0, "Ah", 3);
        let coils: Vec<Load> = loads.iter().filter(|l| battery::is_coil(self.model, l.node)).copied().collect();
        let name = say("left-on-coil", &[("part", self.drain_names(&coils).into())]);
        let whole = say("left-on-all", &[("state", self.words.state(state).into())]);
        for (what, says, amps) in [("coil", name, mean(&coils).0), ("all", whole, mean(loads).0)] {
            let current = self.printed(&format!("battery/left-on/{what}"), amps, "A", 3);
            let hours = self.printed(&format!("battery/left-on/{what}-hours"), rated.value / current.value, "h", 1);
            work.step(says, spell("# ÷ #", &[&rated, &current]), &hours);
        }
        let title = say("left-on-title", &[("thing", self.words.item(self.model, on.plan.battery).into())]);
        work.block(self, "battery/left-on", title, "drain-source")
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
