//! Electrical load analysis: what is drawn in each cockpit state, and each circuit against its breaker and its wire.
//!
//! **Duty.** A load counts in a state where it draws there: see `Analysis::drawing_in` for lamps and fields. The continuous load is all that works and is not intermittent, at its full
//! draw; the mean load takes each draw by its duty. A circuit is a breaker or fuse, or any item whose wire is told, with all that gets
//! its current through it.
//!
//! **Does not know** what a consumer draws when it starts, nor what charging the battery takes.
//!
//! # Source
//! FAA AC 43.13-1B, chapter 11 (read): paragraph 11-35, a continuous load of at most 80 % of the alternator's rating unless placarded or
//! monitored; paragraph 11-48, a breaker opens before the rating of its wire is exceeded; Tables 11-3, 11-6 and 11-9 (see `wire`).

mod greatest;
mod supply;

pub use greatest::{BusDrop, circuits_in_states, drops_from_bus};
pub use supply::{Consumer, Supply, consumers, is_maker, is_source, makers, supply, system_voltage};

use super::measure::{Amps, Feet, Volts};
use super::network::Analysis;
use super::wire::{self, DropAllowed, drop, drop_allowed};
use crate::model::{ItemIx, Kind, Model, NodeIx, StateIx, WireGauge};

/// The share of an alternator's rating that a continuous load may take.
pub const CONTINUOUS_SHARE: f64 = 0.8;

/// One load in a state.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// What draws.
    pub node: NodeIx,
    /// While it is on.
    pub draws: Amps,
    /// For what share of the time, 0 to 1.
    pub duty: f64,
    /// For moments only.
    pub intermittent: bool,
}

/// What is drawn in a state.
#[derive(Debug, Clone, PartialEq)]
pub struct StateLoad {
    /// The state.
    pub state: StateIx,
    /// What draws there, of what an alternator can carry; in node order.
    pub loads: Vec<Load>,
    /// Sum of what is not intermittent.
    pub continuous: Amps,
    /// Sum by duty.
    pub mean: Amps,
    /// Ratings of the alternators that work there; nothing where none does.
    pub alternators: Amps,
}

impl StateLoad {
    /// Four fifths of the rating of the alternators that work.
    pub fn allowed(&self) -> Amps {
        self.alternators * CONTINUOUS_SHARE
    }

    /// True where alternators work and the continuous load is more than it may be.
    pub fn is_over(&self) -> bool {
        self.alternators.0 > 0.0 && self.continuous > self.allowed()
    }
}

/// The load in each state that is reached, in the order of states; but for those in which a starter turns.
pub fn by_state(model: &Model, analysis: &Analysis<'_>) -> Vec<StateLoad> {
    let all = consumers(model, system_voltage(model));
    let makers = makers(model);
    let carried: Vec<&Consumer> =
        all.iter().filter(|c| makers.is_empty() || makers.iter().any(|m| c.supply.sources.contains(m))).collect();
    let reached = model.state_indices().filter(|s| analysis.state(*s).reached && !cranks(model, analysis, *s));
    reached.map(|state| state_load(model, analysis, state, &carried)).collect()
}

/// Whether a starter turns the engine in a state. The alternator then turns too slowly to give much, and the battery carries all.
pub fn cranks(model: &Model, analysis: &Analysis<'_>, state: StateIx) -> bool {
    let works = &analysis.state(state).solution.works;
    model.item_indices().any(|i| model[i].kind == Kind::Starter && works.contains(&model[i].node))
}

/// What is drawn in a state, of these consumers.
pub(super) fn state_load(model: &Model, analysis: &Analysis<'_>, state: StateIx, carried: &[&Consumer]) -> StateLoad {
    let works = &analysis.state(state).solution.works;
    let drawing = analysis.drawing_in(state);
    let on = carried.iter().filter(|c| c.is_on(&drawing));
    let load = |c: &&Consumer| Load {
        node: c.node,
        draws: c.draws,
        duty: model[c.node].duty.of(state),
        intermittent: c.intermittent,
    };
    let loads: Vec<Load> = on.map(load).collect();
    let alive = makers(model).into_iter().filter(|m| works.contains(&model[*m].node));
    StateLoad {
        state,
        continuous: loads.iter().filter(|l| !l.intermittent).map(|l| l.draws).sum(),
        mean: mean(&loads),
        loads,
        alternators: alive.filter_map(|m| Amps::of(model[m].rating.as_ref()?)).sum(),
    }
}

/// Sum of loads by duty.
pub fn mean(loads: &[Load]) -> Amps {
    loads.iter().map(|l| l.draws * l.duty).sum()
}

/// A breaker or fuse, or an item whose wire is told, with what gets its current through it.
#[derive(Debug, Clone, PartialEq)]
pub struct Circuit {
    /// The item.
    pub item: ItemIx,
    /// The rating of a breaker or fuse: it carries that, and opens above it.
    pub opens_at: Option<Amps>,
    /// What draws through it, in node order.
    pub consumers: Vec<NodeIx>,
    /// Sum of what is not intermittent: all of it at once.
    pub continuous: Amps,
    /// Sum of everything at once.
    pub total: Amps,
    /// The wire and what it does.
    pub wire: Option<WireCheck>,
}

/// A wire against its breaker and its loads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WireCheck {
    /// Size.
    pub gauge: WireGauge,
    /// Length.
    pub length: Feet,
    /// The current that the wire is rated for.
    pub rating: Amps,
    /// The greatest breaker or fuse for this size, where the table gives one and the circuit has one.
    pub protected_to: Option<Amps>,
    /// Drop at the continuous load.
    pub continuous_drop: Volts,
    /// Drop with everything on.
    pub total_drop: Volts,
    /// What it may drop, where the voltage of the system is in the table.
    pub allowed: Option<DropAllowed>,
}

impl WireCheck {
    /// True where it drops more than it may: on and on, or for moments.
    pub fn drops_too_much(&self) -> bool {
        self.allowed.is_some_and(|a| self.continuous_drop > a.continuous || self.total_drop > a.intermittent)
    }
}

impl Circuit {
    /// True where the breaker or fuse opens later than the table has it for the wire.
    pub fn breaker_is_larger_than_wire(&self) -> bool {
        let most = self.wire.and_then(|w| w.protected_to);
        self.opens_at.zip(most).is_some_and(|(opens, most)| opens > most)
    }
}

/// Every circuit, in the order of items.
pub fn circuits(model: &Model) -> Vec<Circuit> {
    let volts = system_voltage(model);
    let all = consumers(model, volts);
    let is_one = |i: &ItemIx| model[*i].wire.is_some() || (model[*i].kind.protects() && model[*i].rating.is_some());
    model.item_indices().filter(is_one).map(|item| circuit(model, item, &all, volts)).collect()
}

impl WireCheck {
    /// The same wire with other loads.
    fn carrying(&self, continuous: Amps, total: Amps) -> Self {
        let drops = |amps| drop(self.gauge, self.length, amps);
        Self { continuous_drop: drops(continuous), total_drop: drops(total), ..*self }
    }
}

fn circuit(model: &Model, item: ItemIx, all: &[Consumer], volts: Option<Volts>) -> Circuit {
    let of = &model[item];
    let on: Vec<&Consumer> =
        all.iter().filter(|c| c.supply.passes.contains(&item) || model[item].node == c.node).collect();
    let continuous: Amps = on.iter().filter(|c| !c.intermittent).map(|c| c.draws).sum();
    let total: Amps = on.iter().map(|c| c.draws).sum();
    let wire = of.wire.as_ref().and_then(|wire| {
        let length = Feet::of(&wire.length)?;
        let row = wire::row(wire.gauge);
        Some(WireCheck {
            gauge: wire.gauge,
            length,
            rating: row.rating,
            protected_to: match of.kind {
                Kind::Breaker => row.breaker,
                Kind::Fuse => row.fuse,
                _ => None,
            },
            continuous_drop: drop(wire.gauge, length, continuous),
            total_drop: drop(wire.gauge, length, total),
            allowed: volts.and_then(drop_allowed),
        })
    });
    let opens_at = of.rating.as_ref().filter(|_| of.kind.protects()).and_then(Amps::of);
    Circuit { item, opens_at, consumers: on.iter().map(|c| c.node).collect(), continuous, total, wire }
}
