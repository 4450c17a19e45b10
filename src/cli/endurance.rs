//! `endurance`: electrical load analysis, and the time left on the battery.

use super::answers::{
    CircuitAnswer, EnduranceAnswer, GainAnswer, LeftOnAnswer, Names, PhaseAnswer, StageAnswer, StandingAnswer,
    StateLoadAnswer, VERSION, aircraft,
};
use super::arguments::EnduranceArguments;
use super::console::{Console, Stop};
use super::sound::Sound;
use super::text;
use crate::analyse::battery::{self, Battery, Plan};
use crate::analyse::load::{self, mean};
use crate::analyse::measure::Kelvin;
use crate::analyse::network::Analysis;
use crate::base::{Dimension, Quantity};
use crate::model::{ItemIx, Model};

/// Runs the verb.
///
/// # Errors
/// [`Stop::Usage`] where a temperature cannot be read; [`Stop::Findings`] where the model has errors or no battery that can be
/// worked out.
pub fn run(arguments: &EnduranceArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let temperature = arguments.temperature.as_deref().map(temperature).transpose()?;
    let mut sound = Sound::read(&arguments.aircraft, console)?;
    let shed = sound.ask(console, |asked| {
        let items: Vec<ItemIx> = arguments.shed.iter().filter_map(|id| asked.item("--shed ", id)).collect();
        (!asked.findings.has_errors()).then_some(items)
    })?;
    let analysis = Analysis::new(&sound.model);
    match answer(&sound.model, &analysis, &shed, temperature) {
        Ok(answer) if arguments.json => console.json(&answer),
        Ok(answer) => console.answer(&text::endurance(&answer)),
        Err(why) => {
            console.complain(&format!("error: {why}"));
            Err(Stop::Findings)
        }
    }
}

fn temperature(typed: &str) -> Result<Kelvin, Stop> {
    let quantity = Quantity::parse(typed).ok().filter(|q| q.unit.dimension == Dimension::Temperature);
    quantity.as_ref().and_then(Kelvin::of).ok_or_else(|| {
        let short: String = typed.chars().take(40).collect();
        Stop::Usage(format!("`{short}` is no temperature; write it like `-10 degC`"))
    })
}

/// The whole answer, or why there is none.
fn answer(
    model: &Model,
    analysis: &Analysis<'_>,
    shed: &[ItemIx],
    temperature: Option<Kelvin>,
) -> Result<EnduranceAnswer, String> {
    let none = "the model has no battery with a `capacity`, or no state to lose its alternator in";
    let plan = battery::plan(model, analysis, shed).ok_or(none)?;
    let battery = Battery::of(model, plan.battery).ok_or("the battery says no `capacity` in Ah")?;
    let battery = temperature.map_or(Ok(battery.clone()), |t| battery.at(t)).map_err(|e| e.to_string())?;
    let worked = battery.endurance(&plan.phases()).map_err(|e| e.to_string())?;
    let nothing = battery::nothing_off(model, analysis, &battery).map_err(|e| e.to_string())?;
    let stages = battery::stages(model, analysis, shed, &battery).map_err(|e| e.to_string())?;
    let gains = battery::gains(model, &plan, &battery).map_err(|e| e.to_string())?;
    let names = Names { model };
    let items = |items: &[ItemIx]| items.iter().map(|i| model[*i].id.to_string()).collect::<Vec<_>>();
    let open = worked.phases.iter().zip(&plan.phases).find(|(_, p)| p.lasts.is_none());
    Ok(EnduranceAnswer {
        ribstitch: VERSION,
        aircraft: aircraft(names),
        state: model[plan.state].id.to_string(),
        battery: model[plan.battery].id.to_string(),
        load_a: open.map_or(0.0, |(w, _)| w.current.0),
        battery_ah: battery.rated.0,
        usable_ah: battery.usable().0,
        minutes: worked.total.0,
        nothing_off_min: nothing.total.0,
        least_min: battery::LEAST.0,
        empty_in: worked.empty_in.and_then(|at| plan.phases.get(at)).map(|p| p.name.clone()),
        shed: items(shed),
        phases: worked.phases.iter().zip(&plan.phases).map(|(w, p)| phase(names, w, p)).collect(),
        stages: stages.iter().map(|s| StageAnswer { shed: items(&s.shed), minutes: s.endurance.total.0 }).collect(),
        gains: gains
            .iter()
            .map(|g| GainAnswer { id: names.id(g.node), name: names.node(g.node), a: g.current.0, min: g.gains.0 })
            .collect(),
        states: states(model, analysis),
        circuits: load::circuits_in_states(model, analysis).iter().map(|c| circuit(model, c)).collect(),
        standing: standing(model, analysis, &plan, &battery),
        left_on: left_on(model, analysis, &plan, &battery),
    })
}

fn phase(names: Names<'_>, worked: &battery::WorkedPhase, of: &battery::PhaseLoads) -> PhaseAnswer {
    PhaseAnswer {
        name: of.name.clone(),
        a: worked.current.0,
        counts_as_a: worked.counts_as.0,
        min: worked.time.0,
        takes_a_min: worked.takes_a_min,
        open: of.lasts.is_none(),
        on: names.ids(of.loads.iter().map(|l| l.node)),
    }
}

fn states(model: &Model, analysis: &Analysis<'_>) -> Vec<StateLoadAnswer> {
    let of = |s: &load::StateLoad| StateLoadAnswer {
        state: model[s.state].id.to_string(),
        continuous_a: s.continuous.0,
        mean_a: s.mean.0,
        allowed_a: s.allowed().0,
    };
    load::by_state(model, analysis).iter().map(of).collect()
}

fn circuit(model: &Model, of: &load::Circuit) -> CircuitAnswer {
    CircuitAnswer {
        id: model[of.item].id.to_string(),
        opens_at_a: of.opens_at.map(|a| a.0),
        continuous_a: of.continuous.0,
        total_a: of.total.0,
        gauge: of.wire.map(|w| w.gauge.word().to_owned()),
        protected_to_a: of.wire.and_then(|w| w.protected_to).map(|a| a.0),
        drop_v: of.wire.map(|w| w.continuous_drop.0),
        allowed_v: of.wire.and_then(|w| w.allowed).map(|a| a.continuous.0),
    }
}

fn left_on(model: &Model, analysis: &Analysis<'_>, plan: &Plan, battery: &Battery) -> Option<LeftOnAnswer> {
    let (state, loads) = battery::left_on(model, analysis, plan.battery)?;
    let coils: Vec<_> = loads.iter().filter(|l| battery::is_coil(model, l.node)).copied().collect();
    let (coil, all) = (mean(&coils), mean(&loads));
    let hours = |amps| battery.standing(amps).ok().map(|h| h.0);
    let (coil_h, h) = (hours(coil)?, hours(all)?);
    Some(LeftOnAnswer { state: model[state].id.to_string(), coil_a: coil.0, coil_h, a: all.0, h })
}

fn standing(model: &Model, analysis: &Analysis<'_>, plan: &Plan, battery: &Battery) -> StandingAnswer {
    let loads = battery::drain(model, analysis, plan.battery);
    let current = mean(&loads);
    StandingAnswer {
        on: loads.iter().map(|l| model[l.node].id.clone()).collect(),
        a: current.0,
        days: battery.standing(current).ok().map(|h| h.0 / 24.0),
    }
}
