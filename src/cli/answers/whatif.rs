//! The answer of `whatif`.

use super::{Names, VERSION};
use crate::analyse::answer::{
    ActiveHazard, Affected, Effects, Indication, LostLater as Later, Move, NoBackup as Pair, Restore, Start,
    StillTells as Telling, Target,
};
use crate::model::{AlertIx, How, Looks, LossOf, NodeIx};
use schemars::JsonSchema;
use serde::Serialize;

/// What one or more faults do in one state.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WhatifAnswer {
    /// Version of this interface.
    pub ribstitch: u32,
    /// Name of the type, with the registration where there is one.
    pub aircraft: String,
    /// The state.
    pub state: String,
    /// `running`: the state stands, then the faults strike. `cold`: they are present from the cold aircraft on.
    pub from: String,
    /// False if the state is not reached with these faults; then the rest speaks of the last state that was.
    pub reached: bool,
    /// The faults, `item:fault`.
    pub faults: Vec<String>,
    /// Controls set before the faults strike, `control=position`.
    pub set: Vec<String>,
    /// Moves afterwards, `control=position`.
    pub then: Vec<String>,
    /// Still works, and what it gives is false.
    pub misleads: Vec<Misleads>,
    /// Works now, and stops later.
    pub lost_later: Vec<LostLater>,
    /// Worked, and does not.
    pub lost: Vec<Lost>,
    /// Still works, rough or less than full.
    pub weakened: Vec<Weakened>,
    /// Still works, and is not exact.
    pub approximate: Vec<NamedNode>,
    /// Each piece of information touched, with the sources that remain, best first.
    pub still_tells: Vec<StillTells>,
    /// What one more fault now takes that it did not take before.
    pub no_backup: Vec<NoBackup>,
    /// Alerts and gauges that show now and did not before.
    pub shows: Vec<Shows>,
    /// Alerts that show now and did before.
    pub already_on: Vec<Shows>,
    /// The first that applies: `alert`, `gauge`, `instrument`, `cue`, `use`, `nothing`.
    pub how_you_know: String,
    /// What the pilot feels, hears, smells or sees.
    pub cues: Vec<String>,
    /// Lost instruments that look dead.
    pub looks_dead: Vec<String>,
    /// Nothing tells of it at all.
    pub silent: bool,
    /// Moves of controls after which something lost or false works again.
    pub restores: Vec<Restores>,
    /// Works with the faults and not without.
    pub runs_unasked: Vec<NamedNode>,
    /// Moves of controls that end that.
    pub stops: Vec<Restores>,
    /// Alerts that could show before and cannot now.
    pub no_longer_warns_of: Vec<Shows>,
    /// What can hurt.
    pub hazards: Vec<Hazard>,
    /// Where the handbook speaks of it.
    pub see: Vec<String>,
}

/// Something with its printed name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct NamedNode {
    /// `item`, `item.function` or an outside fact.
    pub id: String,
    /// Its printed name.
    pub name: String,
}

/// Something that still works and is false.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Misleads {
    /// `item` or `item.function`.
    pub id: String,
    /// Its printed name.
    pub name: String,
    /// What is seen, where the model says.
    pub text: Option<String>,
    /// The chain of causes, the nearest to the fault first.
    pub because: Vec<String>,
}

/// Something that still works, rough or less than full.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Weakened {
    /// `item` or `item.function`.
    pub id: String,
    /// Its printed name.
    pub name: String,
    /// How it works, where the model says.
    pub text: Option<String>,
}

/// Something that stops later.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LostLater {
    /// `item` or `item.function`.
    pub id: String,
    /// Its printed name.
    pub name: String,
    /// After so long, min; nothing where it is not known.
    pub in_min: Option<f64>,
    /// The stores that are spent, or what fails next.
    pub because: Vec<String>,
}

/// Something that worked and does not.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Lost {
    /// `item` or `item.function`.
    pub id: String,
    /// Its printed name.
    pub name: String,
    /// dark, flag, zero, full, centred, freezes or wanders, where the model says.
    pub looks: Option<String>,
    /// What is seen, where the model says.
    pub text: Option<String>,
    /// The chain of causes, the nearest to the fault first.
    pub because: Vec<String>,
}

/// A piece of information and what still tells it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StillTells {
    /// Its id.
    pub information: String,
    /// Best first; empty if nothing tells it any more.
    pub sources: Vec<Source>,
}

/// Something that tells a piece of information.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Source {
    /// `item` or `item.function`.
    pub id: String,
    /// `directly` or `indirectly`.
    pub how: String,
    /// Within this limit.
    pub only: Option<String>,
    /// A remark.
    pub note: Option<String>,
    /// It works, and is not exact.
    pub approximate: bool,
    /// It stops after so long, min.
    pub for_min: Option<f64>,
}

/// What one more fault now takes that it did not take before.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct NoBackup {
    /// The next fault, `item:fault`; the nearest common cause.
    pub next_fault: String,
    /// Other faults that take the same.
    pub also: Vec<String>,
    /// Information, buses and media that it takes.
    pub of: Vec<String>,
}

/// An alert or gauge, and what is seen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Shows {
    /// Id of the alert, or of the gauge.
    pub alert: String,
    /// `alert` or `gauge`.
    pub kind: String,
    /// Its printed name.
    pub name: String,
    /// What is seen, where the model says.
    pub text: Option<String>,
}

/// One move of a control.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct MoveAnswer {
    /// The control.
    pub control: String,
    /// From this position.
    pub from: String,
    /// To this one; the same as `from` where the control is moved away and back.
    pub to: String,
}

/// Moves after which something works again, or stops.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Restores {
    /// What works again, or stops.
    pub what: Vec<String>,
    /// Of those, what is not exact.
    pub approximate: Vec<String>,
    /// All of them, in an order that loses nothing on the way.
    pub moves: Vec<MoveAnswer>,
    /// Something else is lost with it.
    pub costs: bool,
}

/// What can hurt.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Hazard {
    /// A sentence of the model's author.
    pub text: String,
    /// `warning` or `caution`, in the sense of flight manuals.
    pub level: String,
    /// The fault that brings it.
    pub fault: String,
    /// Its condition holds now.
    pub active: bool,
    /// Single moves that end its condition.
    pub ended_by: Vec<MoveAnswer>,
}

impl WhatifAnswer {
    /// The answer, from what the analysis found.
    pub fn new(names: Names<'_>, effects: &Effects) -> Self {
        let Names { model } = names;
        let question = &effects.question;
        let faults = || question.faults.iter().map(|f| &model[*f]);
        let list = |nodes: &[NodeIx]| nodes.iter().map(|n| NamedNode::new(names, *n)).collect();
        let alerts = |alerts: &[AlertIx]| alerts.iter().map(|a| Shows::alert(names, *a)).collect();
        let lost_side = |a: &Affected| Lost::new(names, a);
        let newly_rough: Vec<NodeIx> =
            effects.after.approximate.difference(&effects.before.approximate).copied().collect();
        Self {
            ribstitch: VERSION,
            aircraft: aircraft(names),
            state: model[question.state].id.to_string(),
            from: start_word(question.start).to_owned(),
            reached: effects.reached,
            faults: question.faults.iter().map(|f| model.fault_id(*f)).collect(),
            set: settings(names, &question.set),
            then: settings(names, &question.then),
            misleads: effects.misleads.iter().map(|a| Misleads::new(names, a, effects)).collect(),
            lost_later: effects.lost_later.iter().map(|l| LostLater::new(names, l)).collect(),
            lost: effects.lost.iter().map(lost_side).collect(),
            weakened: effects.weakened.iter().map(|n| Weakened::new(names, *n, effects)).collect(),
            approximate: list(&newly_rough),
            still_tells: effects.still_tells.iter().map(|t| StillTells::new(names, t, effects)).collect(),
            no_backup: effects.no_backup.iter().filter_map(|p| NoBackup::new(names, p)).collect(),
            shows: effects.shows.iter().map(|i| Shows::new(names, *i)).collect(),
            already_on: alerts(&effects.already_on),
            how_you_know: effects.how_you_know.word().to_owned(),
            cues: question
                .faults
                .iter()
                .filter_map(|f| model.cue_of(*f, &effects.situation.positions).map(str::to_owned))
                .collect(),
            looks_dead: names.ids(effects.looks_dead.iter().copied()),
            silent: effects.is_silent(),
            restores: effects.restores.iter().map(|r| Restores::new(names, r)).collect(),
            runs_unasked: list(&effects.runs_unasked),
            stops: effects.stops.iter().map(|r| Restores::new(names, r)).collect(),
            no_longer_warns_of: alerts(&effects.no_longer_warns),
            hazards: effects.hazards.iter().filter_map(|h| Hazard::new(names, h)).collect(),
            see: faults().filter_map(|f| f.see.clone()).collect(),
        }
    }
}

/// Name of the type, with the registration where there is one.
pub fn aircraft(names: Names<'_>) -> String {
    let aircraft = &names.model.aircraft;
    match &aircraft.registration {
        Some(registration) => format!("{} {} {registration}", aircraft.maker, aircraft.name),
        None => format!("{} {}", aircraft.maker, aircraft.name),
    }
}

fn start_word(start: Start) -> &'static str {
    match start {
        Start::Running => "running",
        Start::Cold => "cold",
    }
}

fn settings(names: Names<'_>, moves: &[(crate::model::ItemIx, crate::model::PositionIx)]) -> Vec<String> {
    moves.iter().map(|(c, p)| format!("{}={}", names.model[*c].id, names.position(*c, *p))).collect()
}

impl NamedNode {
    fn new(names: Names<'_>, node: NodeIx) -> Self {
        Self { id: names.id(node), name: names.node(node) }
    }
}

impl Misleads {
    fn new(names: Names<'_>, affected: &Affected, effects: &Effects) -> Self {
        let causes = affected.because.last().into_iter().chain(&affected.misses).copied();
        let (faults, positions) = (&effects.question.faults, &effects.situation.positions);
        let spoken = names.model.said_of_false(faults, positions, affected.node, causes);
        Self {
            id: names.id(affected.node),
            name: names.node(affected.node),
            text: spoken.map(|s| s.text.to_owned()),
            because: names.ids(affected.because.iter().copied()),
        }
    }
}

impl Weakened {
    fn new(names: Names<'_>, node: NodeIx, effects: &Effects) -> Self {
        let (faults, positions) = (&effects.question.faults, &effects.situation.positions);
        let spoken = names.model.said_of_weakened(faults, positions, node);
        Self { id: names.id(node), name: names.node(node), text: spoken.map(|s| s.text.to_owned()) }
    }
}

impl Lost {
    fn new(names: Names<'_>, affected: &Affected) -> Self {
        let look = look(names, affected);
        Self {
            id: names.id(affected.node),
            name: names.node(affected.node),
            looks: look.map(|(looks, _)| looks.word().to_owned()),
            text: look.and_then(|(_, text)| text.map(str::to_owned)),
            because: names.ids(affected.because.iter().copied()),
        }
    }
}

/// How a lost thing looks: the first of its `on-loss` that speaks of what it misses; a function's before its item's.
fn look<'a>(names: Names<'a>, affected: &Affected) -> Option<(Looks, Option<&'a str>)> {
    let model = names.model;
    let of_item = model.item_of(affected.node).map(|item| model[item].node);
    let nodes = [Some(affected.node), of_item.filter(|n| *n != affected.node)];
    let looks = nodes.into_iter().flatten().flat_map(|n| &model[n].on_loss);
    let missed = |of: LossOf| match of {
        LossOf::Node(node) => affected.misses.contains(&node),
        LossOf::Medium(medium) => affected.misses.iter().any(|n| model[*n].gives == Some(medium)),
    };
    looks.into_iter().find(|look| missed(look.of)).map(|look| (look.looks, look.text.as_deref()))
}

impl LostLater {
    fn new(names: Names<'_>, later: &Later) -> Self {
        Self {
            id: names.id(later.node),
            name: names.node(later.node),
            in_min: later.in_min,
            because: names.ids(later.because.iter().copied()),
        }
    }
}

impl StillTells {
    fn new(names: Names<'_>, telling: &Telling, effects: &Effects) -> Self {
        let source = |(node, tells): &(NodeIx, usize)| Source::new(names, *node, *tells, effects);
        Self {
            information: names.model[telling.information].id.to_string(),
            sources: telling.sources.iter().filter_map(source).collect(),
        }
    }
}

impl Source {
    fn new(names: Names<'_>, node: NodeIx, tells: usize, effects: &Effects) -> Option<Self> {
        let tells = names.model[node].tells.get(tells)?;
        let later = effects.lost_later.iter().find(|l| l.node == node);
        let how = match tells.how {
            How::Directly => "directly",
            How::Indirectly => "indirectly",
        };
        Some(Self {
            id: names.id(node),
            how: how.to_owned(),
            only: tells.only.clone(),
            note: tells.note.clone(),
            approximate: effects.after.approximate.contains(&node),
            for_min: later.and_then(|l| l.in_min),
        })
    }
}

impl NoBackup {
    fn new(names: Names<'_>, pair: &Pair) -> Option<Self> {
        let mut next = pair.next.iter().map(|f| names.model.fault_id(*f));
        let of = |target: &Target| match target {
            Target::Information(i) => names.model[*i].id.to_string(),
            Target::Bus(node) => names.id(*node),
            Target::Medium(m) => names.model[*m].id.to_string(),
        };
        Some(Self { next_fault: next.next()?, also: next.collect(), of: pair.of.iter().map(of).collect() })
    }
}

impl Shows {
    fn new(names: Names<'_>, indication: Indication) -> Self {
        match indication {
            Indication::Alert(alert) => Self::alert(names, alert),
            Indication::Gauge(node) => Self {
                alert: names.id(node),
                kind: "gauge".to_owned(),
                name: names.node(node),
                text: names.model[node].reads_when_absent.clone(),
            },
        }
    }

    fn alert(names: Names<'_>, alert: AlertIx) -> Self {
        let of = &names.model[alert];
        Self { alert: of.id.to_string(), kind: "alert".to_owned(), name: names.alert(alert), text: of.reads.clone() }
    }
}

impl MoveAnswer {
    fn new(names: Names<'_>, step: &Move) -> Self {
        Self {
            control: names.model[step.control].id.to_string(),
            from: names.position(step.control, step.from),
            to: names.position(step.control, step.to),
        }
    }
}

impl Restores {
    fn new(names: Names<'_>, restore: &Restore) -> Self {
        Self {
            what: names.ids(restore.what.iter().copied()),
            approximate: names.ids(restore.approximate.iter().copied()),
            moves: restore.moves.iter().map(|m| MoveAnswer::new(names, m)).collect(),
            costs: restore.costs,
        }
    }
}

impl Hazard {
    fn new(names: Names<'_>, active: &ActiveHazard) -> Option<Self> {
        let hazard = names.model[active.fault].hazards.get(active.hazard)?;
        Some(Self {
            text: hazard.text.clone(),
            level: hazard.level.word().to_owned(),
            fault: names.model.fault_id(active.fault),
            active: active.active,
            ended_by: active.ended_by.iter().map(|m| MoveAnswer::new(names, m)).collect(),
        })
    }
}
