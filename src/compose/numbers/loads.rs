//! Electrical load analysis: what is drawn in each state, and each circuit against its breaker and its wire.

use super::{Printed, Work, beginning, chain, spell};
use crate::analyse::load::{self, BusDrop, Circuit, Load, StateLoad, WireCheck};
use crate::analyse::wire;
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::doc::{Block, Cell, Column, Inline, Inlines, Row, TableKind};
use crate::model::NodeIx;
use std::collections::BTreeSet;

impl Composer<'_> {
    /// The load in each state in which an alternator works, the sums against four fifths of its rating, and one state worked.
    pub fn loads(&mut self) -> Vec<Block> {
        let all: Vec<StateLoad> = load::by_state(self.model, self.analysis);
        let states: Vec<&StateLoad> = all.iter().filter(|s| s.alternators.0 > 0.0).collect();
        if states.is_empty() {
            return vec![Block::Para(say("none-such", &[]))];
        }
        let nodes: BTreeSet<NodeIx> = states.iter().flat_map(|s| s.loads.iter().map(|l| l.node)).collect();
        let mut rows: Vec<Row> = nodes.into_iter().map(|n| self.load_row(&states, n)).collect();
        rows.push(self.load_sum("continuous", &states, |s| (s.continuous.0, "A")));
        rows.push(self.load_sum("mean", &states, |s| (s.mean.0, "A")));
        rows.push(self.load_sum("allowed", &states, |s| (s.allowed().0, "A")));
        rows.push(self.load_sum("share", &states, |s| (100.0 * s.continuous.0 / s.alternators.0, "%")));
        let name = |s: &&StateLoad| Column::State {
            id: self.model[s.state].id.to_string(),
            name: self.model[s.state].name.clone(),
        };
        let columns = [Column::Consumer, Column::Draws].into_iter().chain(states.iter().map(name)).collect();
        let mut blocks = self.table_or_none("loads", TableKind::Loads, say("caption-loads", &[]), columns, rows);
        let worked = states.iter().find(|s| Some(s.state) == self.reference).or(states.first());
        blocks.extend(worked.map_or_else(Vec::new, |s| self.load_worked(s)));
        blocks
    }

    fn load_row(&mut self, states: &[&StateLoad], node: NodeIx) -> Row {
        let id = self.model[node].id.to_string();
        let mut cells = vec![self.row_name(node)];
        let draws = states.iter().find_map(|s| s.loads.iter().find(|l| l.node == node)).map(|l| l.draws.0);
        cells.push(self.printed(&format!("load/{id}/draws"), draws.unwrap_or_default(), "A", 3).cell());
        for state in states {
            let found = state.loads.iter().find(|l| l.node == node);
            let of = format!("load/{id}/{}", self.model[state.state].id);
            cells.push(found.map_or_else(Cell::default, |l| self.load_cell(&of, l)));
        }
        Row { about: id, cells }
    }

    /// What a load takes on and on, or by its duty where it takes that for moments.
    fn load_cell(&mut self, of: &str, load: &Load) -> Cell {
        let whole = self.printed(of, load.draws.0, "A", 3);
        if !load.intermittent && load.duty == 1.0 {
            return whole.cell();
        }
        let duty = self.printed(&format!("{of}/duty"), load.duty, "", 3);
        let phrase = if load.intermittent { "load-moments" } else { "load-duty" };
        Cell::line(say(phrase, &[("fact", whole.inline().into()), ("other", duty.inline().into())]))
    }

    fn load_sum(&mut self, what: &str, states: &[&StateLoad], of: impl Fn(&StateLoad) -> (f64, &'static str)) -> Row {
        let phrase = match what {
            "continuous" => "load-continuous",
            "mean" => "load-mean",
            "allowed" => "load-allowed",
            _ => "load-share",
        };
        let mut cells = vec![Cell::line(say(phrase, &[])), Cell::default()];
        for state in states {
            let (value, unit) = of(state);
            let name = format!("load/all/{what}/{}", self.model[state.state].id);
            cells.push(self.printed(&name, value, unit, if unit == "%" { 1 } else { 3 }).cell());
        }
        Row { about: what.to_owned(), cells }
    }

    fn load_worked(&mut self, state: &StateLoad) -> Vec<Block> {
        let id = self.model[state.state].id.to_string();
        let on: Vec<&Load> = state.loads.iter().filter(|l| !l.intermittent).collect();
        let each: Vec<Printed> = on
            .iter()
            .map(|l| {
                let of = format!("load/{}/{id}", self.model[l.node].id);
                self.printed(&of, l.draws.0, "A", 3)
            })
            .collect();
        let mut work = Work::default();
        let sum = self.printed(&format!("load/all/continuous/{id}"), state.continuous.0, "A", 3);
        work.step(say("load-adds", &[]), chain(" + ", &each), &sum);
        let rating = self.printed(&format!("load/rating/{id}"), state.alternators.0, "A", 3);
        let share = self.printed("load/continuous-share", 100.0 * load::CONTINUOUS_SHARE, "%", 0);
        let allowed = self.printed(&format!("load/all/allowed/{id}"), state.allowed().0, "A", 3);
        work.step(say("load-may", &[]), spell("# × #", &[&rating, &share]), &allowed);
        let part = self.printed(&format!("load/all/share/{id}"), 100.0 * sum.value / rating.value, "%", 1);
        work.step(say("load-part", &[]), spell("# ÷ #", &[&sum, &rating]), &part);
        let title = say("load-title", &[("state", self.words.state(state.state).into())]);
        work.block(self, "loads/worked", title, "load-source")
    }

    /// Each breaker or fuse against its loads and its wire; the wire that drops most of what it may is worked.
    pub fn circuits(&mut self) -> Vec<Block> {
        let all = load::circuits_in_states(self.model, self.analysis);
        let rows = all.iter().map(|c| self.circuit_row(c, load::drops_from_bus(self.model, &all, c))).collect();
        use Column::{Allowed, Drop, LargestForWire, Length, OpensAt, Wire};
        let columns = vec![Column::Circuit, OpensAt, Column::Load, Wire, LargestForWire, Length, Drop, Allowed];
        let mut blocks =
            self.table_or_none("circuits", TableKind::Circuits, say("caption-circuits", &[]), columns, rows);
        blocks.push(Block::Para(say("circuits-load", &[])));
        let used = |w: &WireCheck| w.allowed.map_or(0.0, |a| w.continuous_drop.0 / a.continuous.0);
        let wired = all.iter().filter_map(|c| c.wire.map(|w| (c, w))).filter(|(_, w)| w.continuous_drop.0 > 0.0);
        let most = wired.max_by(|a, b| used(&a.1).total_cmp(&used(&b.1)).then(b.0.item.cmp(&a.0.item)));
        blocks.extend(most.map_or_else(Vec::new, |(circuit, wire)| self.drop_worked(circuit, &wire)));
        blocks
    }

    fn circuit_row(&mut self, circuit: &Circuit, from_bus: Option<BusDrop>) -> Row {
        let id = self.model[circuit.item].id.to_string();
        let of = |what: &str| format!("circuit/{id}/{what}");
        let momentary = circuit.total > circuit.continuous;
        let amps = |c: &mut Self, what: &str, a: Option<f64>| {
            a.map_or_else(Cell::default, |a| c.printed(&of(what), a, "A", 3).cell())
        };
        let mut cells = vec![Cell::line(vec![beginning(self.words.item(self.model, circuit.item))])];
        cells.push(amps(self, "opens", circuit.opens_at.map(|a| a.0)));
        let known = !circuit.consumers.is_empty();
        let load = self.pair(&of("load"), (circuit.continuous.0, circuit.total.0), ("A", 3), momentary);
        cells.push(if known { load } else { Cell::default() });
        let Some(wire) = circuit.wire else {
            cells.resize(8, Cell::default());
            return Row { about: id, cells };
        };
        cells.push(Cell::line(vec![self.wire_size(&id, &wire)]));
        cells.push(amps(self, "largest", wire.protected_to.map(|a| a.0)));
        cells.push(self.printed(&of("length"), wire.length.0, "ft", 2).cell());
        let mut drop = self.pair(&of("drop"), (wire.continuous_drop.0, wire.total_drop.0), ("V", 3), momentary);
        drop.lines.extend(from_bus.map(|bus| {
            let volts = if momentary { bus.total } else { bus.continuous };
            let fact = self.printed(&of("drop/from-bus"), volts.0, "V", 3).inline();
            say("drop-from-bus", &[("fact", fact.into())])
        }));
        cells.push(if known { drop } else { Cell::default() });
        let allowed = wire.allowed.map(|a| (a.continuous.0, a.intermittent.0));
        cells.push(allowed.map_or_else(Cell::default, |a| self.pair(&of("allowed"), a, ("V", 1), momentary)));
        Row { about: id, cells }
    }

    fn wire_size(&mut self, id: &str, wire: &WireCheck) -> Inline {
        Inline::Quoted { of: format!("{id}/wire"), text: wire.gauge.word().to_owned() }
    }

    /// What holds on and on, and in a second line what holds for moments.
    fn pair(&mut self, of: &str, (steady, moments): (f64, f64), (unit, decimals): (&str, usize), both: bool) -> Cell {
        let first = vec![self.printed(of, steady, unit, decimals).inline()];
        let mut lines: Vec<Inlines> = vec![first];
        if both {
            let fact = self.printed(&format!("{of}/moments"), moments, unit, decimals).inline();
            lines.push(say("for-moments", &[("fact", fact.into())]));
        }
        Cell { mark: None, lines }
    }

    fn drop_worked(&mut self, circuit: &Circuit, wire: &WireCheck) -> Vec<Block> {
        let id = self.model[circuit.item].id.to_string();
        let of = |what: &str| format!("circuit/{id}/{what}");
        let mut work = Work::default();
        let ohm =
            self.printed(&format!("wire/{}/ohm", wire.gauge.word()), wire::row(wire.gauge).ohm_per_1000_ft, "ohm", 2);
        let thousand = self.printed("unit/thousand-feet", 1000.0, "ft", 0);
        let length = self.printed(&of("length"), wire.length.0, "ft", 2);
        let load = self.printed(&of("load"), circuit.continuous.0, "A", 3);
        let drop = self.printed(&of("drop"), wire.continuous_drop.0, "V", 3);
        work.step(say("drop-says", &[]), spell("# ÷ # × # × #", &[&ohm, &thousand, &length, &load]), &drop);
        let title = say("drop-title", &[("thing", self.words.item(self.model, circuit.item).into())]);
        work.block(self, "circuits/worked", title, "drop-source")
    }
}
