//! The phases of a model: what works in each once the alternator is lost, and what its absence would give.

use super::{Battery, BatteryError, Endurance, Phase};
use crate::analyse::answer::Situation;
use crate::analyse::load::{Consumer, Load, consumers, cranks, makers, mean, state_load};
use crate::analyse::measure::{Amps, Minutes, Volts};
use crate::analyse::network::Analysis;
use crate::model::{Control, ItemIx, Kind, Model, NodeIx, Place, PositionIx, StateIx};
use std::collections::BTreeSet;

/// What is done from the loss of the alternator on, as the model has it.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The battery.
    pub battery: ItemIx,
    /// The state in which the alternator is lost.
    pub state: StateIx,
    /// The phases in their order.
    pub phases: Vec<PhaseLoads>,
}

/// One phase with what the battery carries in it.
#[derive(Debug, Clone, PartialEq)]
pub struct PhaseLoads {
    /// Its name.
    pub name: String,
    /// Its time; none for what is left.
    pub lasts: Option<Minutes>,
    /// What is on, in node order.
    pub loads: Vec<Load>,
}

impl PhaseLoads {
    /// Mean current.
    pub fn current(&self) -> Amps {
        mean(&self.loads)
    }
}

impl Plan {
    /// Current and time of each phase.
    pub fn phases(&self) -> Vec<Phase> {
        self.phases.iter().map(|p| Phase { current: p.current(), lasts: p.lasts }).collect()
    }

    /// The same without some consumers.
    #[must_use]
    pub fn without(&self, nodes: &BTreeSet<NodeIx>) -> Self {
        let mut less = self.clone();
        less.phases.iter_mut().for_each(|p| p.loads.retain(|l| !nodes.contains(&l.node)));
        less
    }
}

/// The phases with these items shed from the first on: a control stands where it does not conduct, anything else draws nothing.
///
/// Without `[endurance]` there is one phase, in the reference state, on the battery that most consumers hang on. `None` where the model
/// has no battery with a rating, or no such state.
pub fn plan(model: &Model, analysis: &Analysis<'_>, shed: &[ItemIx]) -> Option<Plan> {
    plan_that(Keeps::Phases, model, analysis, shed)
}

/// Whether controls are moved from the loss of the alternator on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Keeps {
    /// As the phases of the model say.
    Phases,
    /// None: there is one phase.
    Everything,
}

fn plan_that(keeps: Keeps, model: &Model, analysis: &Analysis<'_>, shed: &[ItemIx]) -> Option<Plan> {
    let told = model.endurance.as_ref();
    let state = told.and_then(|p| p.state).or(model.reference_state)?;
    let battery = told.map(|p| p.battery).or_else(|| main_battery(model))?;
    let all = consumers(model, model[battery].voltage.as_ref().and_then(Volts::of));
    let carried: Vec<&Consumer> = all.iter().filter(|c| c.supply.sources.contains(&battery)).collect();
    let mut phase =
        Solving { model, analysis, state, carried, shed, situation: analysis.state(state).situation.clone() };
    phase.shed_controls();
    let told = if keeps == Keeps::Everything { None } else { told };
    let whole = || vec![("on the battery".to_owned(), None, Vec::new())];
    let told = told.map_or_else(whole, |p| {
        p.phases.iter().map(|f| (f.name.clone(), f.lasts.as_ref().and_then(Minutes::of), f.controls.clone())).collect()
    });
    let phases = told.into_iter().map(|(name, lasts, controls)| phase.next(name, lasts, &controls)).collect();
    Some(Plan { battery, state, phases })
}

/// How long the battery lasts if nothing at all is left off: the load of the state, with every alternator lost, to the end.
///
/// # Errors
/// [`BatteryError`]; [`BatteryError::NoPlan`] where the model has no battery with a rating, or no state to ask about.
pub fn nothing_off(model: &Model, analysis: &Analysis<'_>, battery: &Battery) -> Result<Endurance, BatteryError> {
    let plan = plan_that(Keeps::Everything, model, analysis, &[]).ok_or(BatteryError::NoPlan)?;
    battery.endurance(&plan.phases())
}

/// How long the battery of the plan lasts from the loss of every alternator, down to whole minutes: a time that is counted on is never
/// rounded up.
///
/// # Errors
/// [`BatteryError`]; [`BatteryError::NoPlan`] where the model has no battery with a rating, or no state to ask about.
pub fn time_alone(model: &Model, analysis: &Analysis<'_>) -> Result<Minutes, BatteryError> {
    let plan = plan(model, analysis, &[]).ok_or(BatteryError::NoPlan)?;
    let battery = Battery::of(model, plan.battery).ok_or(BatteryError::NoPlan)?;
    let total = battery.endurance(&plan.phases())?.total;
    // A sum that comes to a whole minute but for the last bit is that minute.
    Ok(Minutes(libm::floor(total.0 + 1e-6)))
}

fn main_battery(model: &Model) -> Option<ItemIx> {
    let all = consumers(model, None);
    let hang = |item: &ItemIx| all.iter().filter(|c| c.supply.sources.contains(item)).count();
    let batteries =
        model.item_indices().filter(|i| model[*i].kind == Kind::Battery && Battery::of(model, *i).is_some());
    batteries.max_by_key(|i| (hang(i), std::cmp::Reverse(*i)))
}

struct Solving<'a> {
    model: &'a Model,
    analysis: &'a Analysis<'a>,
    state: StateIx,
    carried: Vec<&'a Consumer>,
    shed: &'a [ItemIx],
    situation: Situation,
}

impl Solving<'_> {
    fn shed_controls(&mut self) {
        for item in self.shed {
            if let Some(off) = self.model.control(*item).and_then(opened) {
                self.situation.positions[item.usize()] = off;
            }
        }
    }

    fn next(&mut self, name: String, lasts: Option<Minutes>, controls: &[(ItemIx, PositionIx)]) -> PhaseLoads {
        for (item, position) in controls.iter().filter(|(item, _)| !self.shed.contains(item)) {
            self.situation.positions[item.usize()] = *position;
        }
        let (model, state) = (self.model, self.state);
        let lost: Vec<_> = makers(model).iter().filter_map(|m| model.find_fault(model[*m].id.as_str())).collect();
        let before = &self.analysis.state(state).solution.works;
        let drawing = self.analysis.drawing(&self.situation, &lost, before);
        let is_shed = |node| model.item_of(node).is_some_and(|i| self.shed.contains(&i));
        let on = self.carried.iter().filter(|c| c.is_on(&drawing) && !is_shed(c.node));
        let load = |c: &&Consumer| {
            let duty = model[c.node].duty.of(state);
            Load { node: c.node, draws: c.draws, duty, intermittent: c.intermittent }
        };
        PhaseLoads { name, lasts, loads: on.map(load).collect() }
    }
}

/// A position in which a control does not conduct: `off` where it has one, else the first.
fn opened(control: &Control) -> Option<PositionIx> {
    let off = control.find("off").filter(|p| !control.conducts_in.contains(p));
    off.or_else(|| (0..control.positions.len()).map(PositionIx::new).find(|p| !control.conducts_in.contains(p)))
}

/// How long the battery lasts with so many of the things shed.
#[derive(Debug, Clone, PartialEq)]
pub struct Stage {
    /// What is shed, in the order given; nothing in the first stage.
    pub shed: Vec<ItemIx>,
    /// What comes of it.
    pub endurance: Endurance,
}

/// The minutes left with nothing shed, then with one thing more at each stage.
///
/// # Errors
/// [`BatteryError`]; none where the model has no battery that can be worked out.
pub fn stages(
    model: &Model,
    analysis: &Analysis<'_>,
    shed: &[ItemIx],
    battery: &Battery,
) -> Result<Vec<Stage>, BatteryError> {
    let stage = |count: usize| {
        let shed = &shed[..count];
        let plan = plan(model, analysis, shed).ok_or(BatteryError::NoLoad)?;
        Ok(Stage { shed: shed.to_vec(), endurance: battery.endurance(&plan.phases())? })
    };
    (0..=shed.len()).map(stage).collect()
}

/// What the absence of one consumer would give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gain {
    /// The consumer.
    pub node: NodeIx,
    /// Its mean current in the phase that gets what is left.
    pub current: Amps,
    /// By how much the battery would last longer with this one off from the first phase on.
    pub gains: Minutes,
}

/// Which loads buy most minutes: each alone left out of all phases, the greatest gain first. What carries the current of others, as the
/// coil of a contactor does, is no load that can be shed alone, and is left out.
///
/// # Errors
/// [`BatteryError`].
pub fn gains(model: &Model, plan: &Plan, battery: &Battery) -> Result<Vec<Gain>, BatteryError> {
    let whole = battery.endurance(&plan.phases())?.total;
    let open = plan.phases.iter().find(|p| p.lasts.is_none());
    let nodes: BTreeSet<NodeIx> = plan.phases.iter().flat_map(|p| p.loads.iter().map(|l| l.node)).collect();
    let passed: BTreeSet<ItemIx> = consumers(model, None).into_iter().flat_map(|c| c.supply.passes).collect();
    let carries = |node: &NodeIx| model.item_of(*node).is_some_and(|i| passed.contains(&i));
    let nodes: Vec<NodeIx> = nodes.into_iter().filter(|n| !carries(n)).collect();
    let mut found = Vec::new();
    for node in nodes {
        let current = open.map(|p| mean(&of_node(&p.loads, node))).unwrap_or_default();
        match battery.endurance(&plan.without(&BTreeSet::from([node])).phases()) {
            Ok(less) => found.push(Gain { node, current, gains: less.total - whole }),
            Err(BatteryError::NoLoad) => {} // the only load: without it there is no end to tell
            Err(other) => return Err(other),
        }
    }
    found.sort_by(|a, b| b.gains.0.total_cmp(&a.gains.0).then(a.node.cmp(&b.node)));
    Ok(found)
}

fn of_node(loads: &[Load], node: NodeIx) -> Vec<Load> {
    loads.iter().filter(|l| l.node == node).copied().collect()
}

/// What the battery carries if the master is left on after a flight: the state, and each consumer by its duty there. The state is one
/// on the ground in which no alternator works and no starter turns, and in which a contactor draws from the battery: of more than one
/// that in which least is on. `None` where the model has no such state.
pub fn left_on(model: &Model, analysis: &Analysis<'_>, battery: ItemIx) -> Option<(StateIx, Vec<Load>)> {
    let all = consumers(model, model[battery].voltage.as_ref().and_then(Volts::of));
    let carried: Vec<&Consumer> = all.iter().filter(|c| c.supply.sources.contains(&battery)).collect();
    let parked = |s: &StateIx| analysis.state(*s).reached && model[*s].place == Place::OnTheGround;
    let loads = model.state_indices().filter(parked).map(|s| (s, state_load(model, analysis, s, &carried)));
    let holds = |l: &Load| is_coil(model, l.node);
    loads
        .filter(|(state, l)| l.alternators.0 == 0.0 && !cranks(model, analysis, *state) && l.loads.iter().any(holds))
        .min_by(|a, b| a.1.mean.0.total_cmp(&b.1.mean.0).then_with(|| model[a.0].id.cmp(&model[b.0].id)))
        .map(|(state, l)| (state, l.loads))
}

/// Whether what draws is the coil of a contactor.
pub fn is_coil(model: &Model, node: NodeIx) -> bool {
    model.item_of(node).is_some_and(|i| model[i].kind == Kind::Contactor)
}

/// What a battery carries with every control at rest and the aircraft cold: each consumer, by duty.
pub fn drain(model: &Model, analysis: &Analysis<'_>, battery: ItemIx) -> Vec<Load> {
    let rest = |i: ItemIx| model.control(i).map_or(PositionIx::new(0), |c| c.rest);
    let situation = Situation {
        positions: model.item_indices().map(rest).collect(),
        givens: model.givens.iter().map(|g| g.normally).collect(),
    };
    let drawing = analysis.drawing(&situation, &[], &BTreeSet::new());
    let all = consumers(model, model[battery].voltage.as_ref().and_then(Volts::of));
    let on = all.iter().filter(|c| c.is_on(&drawing) && c.supply.sources.contains(&battery));
    on.map(|c| Load { node: c.node, draws: c.draws, duty: model[c.node].duty.usual, intermittent: c.intermittent })
        .collect()
}
