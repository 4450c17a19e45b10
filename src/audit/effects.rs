//! What a fault does in one state: what misleads, what is lost, what still tells, and how the pilot knows.

use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet};

use super::later::set;
use super::parts::{Alert, Fault, FaultName, Lapse, Need, Node, NodeKind, Number, PlainModel};
use super::remedies::Remedy;
use super::situation::{Situation, all_met};
use super::solver::but_not;
use super::states::Moment;

/// What a fault, or several at once, do in one state. Everything is named by id.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Effects {
    /// Whether the state is reached with the faults; where it is not, all else is said of the last state that is.
    pub reached: bool,
    /// What the faults themselves lose, take or trip, with the functions that go along; never counted in `lost`.
    pub named: BTreeSet<String>,
    /// Of that, what worked before and does not now.
    pub gone_itself: BTreeSet<String>,
    /// What still works and is false, the misleading thing itself included.
    pub misleading: BTreeSet<String>,
    /// What works truly with the faults, but only approximately, and did not so before.
    pub approximate: BTreeSet<String>,
    /// What still works, rough or less than full.
    pub weakened: BTreeSet<String>,
    /// What worked before and does not now, beyond what the faults name.
    pub lost: BTreeSet<String>,
    /// What no longer lets anything pass, and did before.
    pub blocked: BTreeSet<String>,
    /// For each lost node that can look dead: the media and nodes of its `on-loss` that are gone for it.
    pub missed: BTreeMap<String, BTreeSet<String>>,
    /// What works now and will not, and in how long.
    pub lost_later: BTreeMap<String, Lapse>,
    /// What hangs by one thread now: a target, and the next fault that takes it and did not before.
    pub no_backup: BTreeSet<(Target, FaultName)>,
    /// For each piece of information touched, the sources that remain, best first.
    pub still_tells: BTreeMap<String, Vec<Source>>,
    /// Alerts that show now and did not before.
    pub alerts: BTreeSet<String>,
    /// Gauges that show a loss now.
    pub gauges: BTreeSet<String>,
    /// Lost instruments that look dark, flagged, at zero or full.
    pub instruments: BTreeSet<String>,
    /// What the pilot feels, hears, smells or sees.
    pub cues: BTreeSet<String>,
    /// How the faults are found, where they say so.
    pub found_by: BTreeSet<String>,
    /// The first that there is of `alert`, `gauge`, `instrument`, `cue`, `use`; else `nothing`.
    pub how_you_know: String,
    /// Nothing tells of it.
    pub silent: bool,
    /// Alerts that could have shown before and cannot now.
    pub no_longer_warns: BTreeSet<String>,
    /// What works with the faults and not without them.
    pub runs_unasked: BTreeSet<String>,
    /// The smallest sets of moves that stop something that runs unasked.
    pub stopped_by: Vec<Remedy>,
    /// The smallest sets of moves after which something lost or misleading works truly again.
    pub restored_by: Vec<Remedy>,
    /// The hazards whose conditions hold now.
    pub hazards: Vec<HazardFact>,
}

/// A hazard, and the positions of controls that end it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct HazardFact {
    /// The sentence.
    pub text: String,
    /// `warning` or `caution`.
    pub level: String,
    /// For each control that it depends on, the positions in which it is no hazard.
    pub ends: BTreeMap<String, BTreeSet<String>>,
}

/// A source that still tells something.
#[derive(Debug, Clone, PartialEq)]
pub struct Source {
    /// The item or function.
    pub node: String,
    /// It tells it indirectly.
    pub indirectly: bool,
    /// It works only approximately.
    pub approximately: bool,
    /// In how long it is lost, where it will be.
    pub until: Option<Lapse>,
}

/// Something that may be left without a backup.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Target {
    /// A piece of information: there while any source of it works truly.
    Information(String),
    /// A bus: there while it works truly.
    Bus(String),
    /// A medium: there while anything that gives it works truly.
    Medium(String),
}

impl Target {
    fn is_item(&self, item: &str) -> bool {
        matches!(self, Target::Bus(bus) if bus == item)
    }
}

/// Whether pairs of faults are asked about, which costs one solution for each next fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pairs {
    /// Ask what is left without a backup.
    Ask,
    /// Leave `no_backup` empty.
    Skip,
}

/// One fault that may strike next.
struct Alone {
    name: FaultName,
    /// What it may change: all that hangs on what it says something of.
    cone: Vec<bool>,
    /// The targets that are there when it strikes alone, each with those that give it.
    givers: Vec<Vec<Number>>,
}

/// Many questions about faults in one state; what they share is worked out once.
pub struct Inquiry<'m> {
    model: &'m PlainModel,
    /// From running, the last state that is reached without faults; else the one asked about.
    state: String,
    reached: bool,
    cold: bool,
    pairs: Pairs,
    before: Moment,
    targets: Vec<(Target, Vec<Number>)>,
    /// What each fault that is asked about does alone; empty until pairs are asked about.
    alone: OnceCell<Vec<Alone>>,
}

impl PlainModel {
    /// What faults do in a state, all seven points; `cold` as in [`PlainModel::solve_state`].
    ///
    /// # Errors
    /// An unknown state or fault.
    pub fn effects(&self, state: &str, faults: &[FaultName], cold: bool) -> Result<Effects, String> {
        Inquiry::new(self, state, cold, Pairs::Ask)?.effects(faults)
    }

    /// What may be left without a backup, each with the nodes any of which keeps it there.
    fn targets(&self) -> Vec<(Target, Vec<Number>)> {
        let mut found: BTreeMap<Target, Vec<Number>> = BTreeMap::new();
        for (number, node) in self.nodes.iter().enumerate() {
            for telling in &node.tells {
                found.entry(Target::Information(telling.information.clone())).or_default().push(number);
            }
            if let Some(medium) = node.gives.as_ref().filter(|medium| !self.has_bus(medium)) {
                found.entry(Target::Medium(medium.clone())).or_default().push(number);
            }
            if node.is_kind("bus") {
                found.entry(Target::Bus(node.id.clone())).or_default().push(number);
            }
        }
        found.into_iter().collect()
    }

    /// Whether a medium is shared out by buses, which are asked about one by one.
    fn has_bus(&self, medium: &str) -> bool {
        self.nodes.iter().any(|n| n.is_kind("bus") && n.gives.as_deref() == Some(medium))
    }
}

impl<'m> Inquiry<'m> {
    /// Begins an inquiry into one state.
    ///
    /// # Errors
    /// An unknown state.
    pub fn new(model: &'m PlainModel, state: &str, cold: bool, pairs: Pairs) -> Result<Self, String> {
        let unknown = || format!("no state is called \"{state}\"");
        let stood = model.line(state, &BTreeSet::new()).ok_or_else(unknown)?;
        let reached = stood.reached || cold;
        let state = if cold { state.to_owned() } else { stood.state };
        let (targets, alone) = (model.targets(), OnceCell::new());
        Ok(Self { model, state, reached, cold, pairs, before: stood.moment, targets, alone })
    }

    /// What these faults do.
    ///
    /// # Errors
    /// An unknown fault.
    pub fn effects(&self, faults: &[FaultName]) -> Result<Effects, String> {
        self.model.known_faults(faults)?;
        let faults: BTreeSet<FaultName> = faults.iter().cloned().collect();
        if !self.cold {
            let effects = self.between(&self.model.struck(&self.before, faults));
            return Ok(Effects { reached: self.reached, ..effects });
        }
        let unknown = || format!("no state is called \"{}\"", self.state);
        let stood = self.model.line(&self.state, &faults).ok_or_else(unknown)?;
        if stood.reached {
            return Ok(self.between(&stood.moment));
        }
        let earlier = Self::new(self.model, &stood.state, true, self.pairs)?;
        Ok(Effects { reached: false, ..earlier.between(&stood.moment) })
    }

    /// Whether a fault sets anything going that did not run before, and its hazards there; none of what takes longer to work out.
    pub(super) fn begins(&self, fault: &FaultName) -> (bool, Vec<HazardFact>) {
        let now = self.model.struck(&self.before, BTreeSet::from([fault.clone()]));
        let unasked = but_not(&now.solution.first.works, &self.before.solution.first.works).contains(&true);
        (unasked, self.hazards(&now))
    }

    /// The alerts that show, with a fault or without any.
    pub(super) fn showing(&self, fault: Option<&FaultName>) -> BTreeSet<String> {
        let now = fault.map(|f| self.model.struck(&self.before, BTreeSet::from([f.clone()])));
        let at = now.as_ref().unwrap_or(&self.before);
        self.model.alerts.iter().filter(|(id, alert)| self.shows(id, alert, at)).map(|(id, _)| id.clone()).collect()
    }

    /// All that is different now.
    fn between(&self, now: &Moment) -> Effects {
        let before = &self.before;
        let mut effects = Effects { reached: true, ..Effects::default() };
        self.lost_and_false(before, now, &mut effects);
        effects.lost_later = self.model.lost_later(before, now);
        effects.no_backup = self.no_backup(before, now);
        effects.still_tells = self.still_tells(before, now, &effects.lost_later);
        self.how_you_know(before, now, &mut effects);
        effects.stopped_by = self.model.stopping(before, now, self.in_flight());
        effects.restored_by = self.model.restoring(before, now, self.in_flight());
        effects.hazards = self.hazards(now);
        effects
    }

    fn in_flight(&self) -> bool {
        self.model.states.get(&self.state).is_some_and(|state| state.in_flight)
    }

    fn lost_and_false(&self, before: &Moment, now: &Moment, effects: &mut Effects) {
        let model = self.model;
        let mut named = vec![false; model.nodes.len()];
        for fault in self.faults(now) {
            for list in [&fault.loses, &fault.takes, &fault.trips] {
                let here = list.iter().filter(|e| all_met(&e.when, &now.situation.met)).map(|e| e.what);
                model.with_functions(&here.collect::<Vec<_>>()).into_iter().for_each(|n| named[n] = true);
            }
            let rough = fault.weakens.iter().filter(|e| all_met(&e.when, &now.situation.met)).map(|e| e.what);
            let rough = rough.filter(|n| now.solution.first.works[*n]);
            effects.weakened.extend(rough.map(|n| model.nodes[n].id.clone()));
        }
        let (was, is) = (&before.solution.first.works, &now.solution.first.works);
        let approximate = |m: &Moment| but_not(&m.solution.truly.works, &m.solution.exactly.works);
        effects.lost = model.names(&but_not(&but_not(was, is), &named));
        effects.named = model.names(&named);
        let by_itself = but_not(&but_not(was, is), &but_not(&but_not(was, is), &named));
        effects.gone_itself = model.names(&by_itself);
        effects.misleading = model.names(&but_not(is, &now.solution.truly.works));
        effects.approximate = model.names(&but_not(&approximate(now), &approximate(before)));
        effects.runs_unasked = model.names(&but_not(is, was));
        effects.blocked = model.names(&but_not(&before.solution.first.conducts, &now.solution.first.conducts));
        effects.missed = self.missed(before, now);
    }

    fn faults(&self, now: &Moment) -> impl Iterator<Item = &'m Fault> {
        now.faults.iter().filter_map(|name| self.model.faults.get(name))
    }

    /// For each target what gives it, in the order of the targets. What does not conduct gives no medium and is no bus: a closed
    /// valve is no source. What tells something need not conduct.
    fn givers(&self, truly: &[bool], situation: &Situation) -> Vec<Vec<Number>> {
        let gives = |target: &Target, n: Number| {
            truly[n] && (matches!(target, Target::Information(_)) || self.model.lets_out(n, situation))
        };
        let each = self.targets.iter();
        each.map(|(target, givers)| givers.iter().copied().filter(|giver| gives(target, *giver)).collect()).collect()
    }

    fn givers_in(&self, moment: &Moment) -> Vec<Vec<Number>> {
        self.givers(&moment.solution.truly.works, &moment.situation)
    }

    /// What every fault that is asked about here does alone.
    fn alone(&self) -> &[Alone] {
        self.alone.get_or_init(|| {
            let asked = self.model.all_faults(&self.state).unwrap_or_default();
            let alone = |name: FaultName| {
                let fault = self.model.faults.get(&name)?;
                let givers = self.givers_with_next(&self.before, fault);
                Some(Alone { cone: self.model.cone_of(&self.model.touched(fault)), givers, name })
            };
            asked.into_iter().filter_map(alone).collect()
        })
    }

    /// What was there before, is there now and would be there under the next fault alone, but is not with both. It takes a
    /// target of which all that gives it now hangs on the next fault, and all that gives it under that one hangs on what
    /// is there now: other pairs need not be solved.
    fn no_backup(&self, before: &Moment, now: &Moment) -> BTreeSet<(Target, FaultName)> {
        let mut found = BTreeSet::new();
        if self.pairs == Pairs::Skip {
            return found;
        }
        let (was, is) = (self.givers_in(before), self.givers_in(now));
        let touched: Vec<Number> = self.faults(now).flat_map(|fault| self.model.touched(fault)).collect();
        let here = self.model.cone_of(&touched);
        let all_in = |givers: &[Number], cone: &[bool]| !givers.is_empty() && givers.iter().all(|n| cone[*n]);
        let apart = self.model.is_anchored_as_it_is(before) && self.model.is_anchored_as_it_is(now);
        for next in self.alone().iter().filter(|next| !now.faults.contains(&next.name)) {
            let at_stake = |i: &usize| {
                let (now, alone) = (&is[*i], &next.givers[*i]);
                let may_go = !apart || all_in(now, &next.cone) && all_in(alone, &here);
                !was[*i].is_empty() && !now.is_empty() && !alone.is_empty() && may_go
            };
            let stake: Vec<usize> = (0..self.targets.len()).filter(at_stake).collect();
            let Some(fault) = self.model.faults.get(&next.name).filter(|_| !stake.is_empty()) else { continue };
            let then = self.givers_with_next(now, fault);
            let gone = stake.into_iter().filter(|i| then[*i].is_empty()).map(|i| &self.targets[i].0);
            found.extend(gone.filter(|t| !t.is_item(&next.name.item)).map(|t| (t.clone(), next.name.clone())));
        }
        found
    }

    /// What gives each target when one more fault strikes then.
    fn givers_with_next(&self, now: &Moment, fault: &Fault) -> Vec<Vec<Number>> {
        let mut situation = (*now.situation).clone();
        self.model.add_fault(&mut situation, fault, true);
        let then = self.model.truly_again(&situation, now, &self.model.touched(fault));
        self.givers(&then.works, &situation)
    }

    fn still_tells(
        &self,
        before: &Moment,
        now: &Moment,
        later: &BTreeMap<String, Lapse>,
    ) -> BTreeMap<String, Vec<Source>> {
        let gone = but_not(&before.solution.truly.works, &now.solution.truly.works);
        let touched: BTreeSet<&String> =
            set(&gone).iter().flat_map(|n| self.model.nodes[*n].tells.iter().map(|t| &t.information)).collect();
        touched.into_iter().map(|information| (information.clone(), self.sources(information, now, later))).collect()
    }

    /// The sources of a piece of information that work truly: direct before indirect, then as preferred.
    fn sources(&self, information: &str, now: &Moment, later: &BTreeMap<String, Lapse>) -> Vec<Source> {
        let prefer = self.model.information.get(information);
        let rank = |id: &String| prefer.and_then(|list| list.iter().position(|p| p == id)).unwrap_or(usize::MAX);
        let mut found = Vec::new();
        for number in set(&now.solution.truly.works) {
            let node = &self.model.nodes[number];
            let Some(telling) = node.tells.iter().filter(|t| t.information == information).min_by_key(|t| t.indirectly)
            else {
                continue;
            };
            found.push(Source {
                node: node.id.clone(),
                indirectly: telling.indirectly,
                approximately: !now.solution.exactly.works[number],
                until: later.get(&node.id).copied(),
            });
        }
        found.sort_by_key(|source| (source.indirectly, rank(&source.node), source.node.clone()));
        found
    }

    fn how_you_know(&self, before: &Moment, now: &Moment, effects: &mut Effects) {
        for (id, alert) in &self.model.alerts {
            if self.shows(id, alert, now) && !self.shows(id, alert, before) {
                effects.alerts.insert(id.clone());
            }
            if self.can_show(id, alert, before) && !self.can_show(id, alert, now) {
                effects.no_longer_warns.insert(id.clone());
            }
        }
        effects.gauges = self.gauges(before, now);
        effects.instruments = self.instruments(&effects.missed, &effects.lost);
        let noticed = self.faults(now).filter_map(|fault| fault.cue.as_ref());
        effects.cues = noticed.filter(|c| all_met(&c.when, &now.situation.met)).map(|c| c.text.clone()).collect();
        effects.found_by = self.faults(now).filter_map(|fault| fault.found_by.clone()).collect();
        let ways = [
            ("alert", effects.alerts.is_empty()),
            ("gauge", effects.gauges.is_empty()),
            ("instrument", effects.instruments.is_empty()),
            ("cue", effects.cues.is_empty()),
            (
                "use",
                !effects
                    .found_by
                    .iter()
                    .any(|by| !self.in_flight() || ["in use", "press-to-test"].contains(&by.as_str())),
            ),
        ];
        let way = ways.iter().find(|(_, none)| !none).map_or("nothing", |(way, _)| way);
        effects.silent = way == "nothing";
        way.clone_into(&mut effects.how_you_know);
    }

    /// An alert can show while the item that shows it is intact, its needs hold and no fault hides it.
    fn can_show(&self, id: &str, alert: &Alert, moment: &Moment) -> bool {
        let met = &moment.situation.met;
        let hidden = self.faults(moment).flat_map(|f| &f.hides).any(|e| e.what == id && all_met(&e.when, met));
        !moment.situation.taken[alert.on] && !hidden && self.model.hold_at_large(&alert.needs, moment)
    }

    fn shows(&self, id: &str, alert: &Alert, moment: &Moment) -> bool {
        let met = &moment.situation.met;
        let shown = self.faults(moment).flat_map(|f| &f.shows).any(|e| e.what == id && all_met(&e.when, met));
        self.can_show(id, alert, moment) && (shown || !self.model.hold_at_large(&alert.watches, moment))
    }

    /// Gauges that work truly, and whose sensed thing held before and does not now.
    fn gauges(&self, before: &Moment, now: &Moment) -> BTreeSet<String> {
        let mut found = BTreeSet::new();
        for number in set(&now.solution.truly.works) {
            let node = &self.model.nodes[number];
            let held = |moment| self.model.all_hold(&node.senses, number, moment);
            if !node.senses.is_empty() && held(before) && !held(now) {
                found.insert(node.id.clone());
            }
        }
        found
    }

    /// Lost nodes whose look shows it, for something that they hang on and that is gone; what the faults name is not lost.
    fn instruments(&self, missed: &BTreeMap<String, BTreeSet<String>>, lost: &BTreeSet<String>) -> BTreeSet<String> {
        let seen =
            |looks: Option<&String>| looks.is_some_and(|l| matches!(l.as_str(), "dark" | "flag" | "zero" | "full"));
        let looks = |id: &String, what: &String| {
            self.model.number.get(id).map(|n| seen(self.model.nodes[*n].on_loss.get(what)))
        };
        let shows = |(id, what): &(&String, &BTreeSet<String>)| what.iter().any(|w| looks(id, w) == Some(true));
        missed.iter().filter(shows).filter(|(id, _)| lost.contains(*id)).map(|(id, _)| id.clone()).collect()
    }

    /// For each lost node, what its looks hang on and what is gone for it.
    fn missed(&self, before: &Moment, now: &Moment) -> BTreeMap<String, BTreeSet<String>> {
        let mut found: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for number in set(&but_not(&before.solution.first.works, &now.solution.first.works)) {
            let missing: Vec<&Node> =
                self.missing(number, before, now).into_iter().map(|n| &self.model.nodes[n]).collect();
            let is_gone = |what: &String| missing.iter().any(|n| n.id == *what || n.gives.as_ref() == Some(what));
            let node = &self.model.nodes[number];
            let gone: BTreeSet<String> = node.on_loss.keys().filter(|what| is_gone(what)).cloned().collect();
            if !gone.is_empty() {
                found.insert(node.id.clone(), gone);
            }
        }
        found
    }

    /// Sources of the feeds of a node that stopped, and what they pass that conducts no more; of a function, its item's too.
    fn missing(&self, who: Number, before: &Moment, now: &Moment) -> BTreeSet<Number> {
        let node = &self.model.nodes[who];
        let mut found = BTreeSet::new();
        for (needs, sensed) in [(&node.needs, false), (&node.senses, true)] {
            for need in needs {
                self.stopped(need, (who, sensed), (before, now), &mut found);
            }
        }
        if let NodeKind::Function { item } = node.kind
            && before.solution.first.works[item]
            && !now.solution.first.works[item]
        {
            found.extend(self.missing(item, before, now));
        }
        found
    }

    fn stopped(
        &self,
        need: &Need,
        (who, sensed): (Number, bool),
        (before, now): (&Moment, &Moment),
        found: &mut BTreeSet<Number>,
    ) {
        let model = self.model;
        if !model.need_holds(need, who, before, sensed) || model.need_holds(need, who, now, sensed) {
            return;
        }
        match need {
            Need::When(_) => {}
            Need::Any(list) | Need::All(list) | Need::AtLeast(_, list) => {
                for part in list {
                    self.stopped(part, (who, sensed), (before, now), found);
                }
            }
            Need::Feed(feed) => {
                found.insert(feed.from);
                let closed = |t: &&Number| model.passes(**t, who, before) && !model.passes(**t, who, now);
                found.extend(feed.through.iter().filter(closed));
            }
        }
    }

    fn hazards(&self, now: &Moment) -> Vec<HazardFact> {
        let mut found = Vec::new();
        for hazard in self.faults(now).flat_map(|fault| &fault.hazards) {
            if all_met(&hazard.when, &now.situation.met) {
                let ends = hazard.when.iter().filter_map(|c| self.ending(*c)).collect();
                found.push(HazardFact { text: hazard.text.clone(), level: hazard.level.clone(), ends });
            }
        }
        found
    }

    /// The control of a condition with the positions that do not meet it.
    fn ending(&self, condition: usize) -> Option<(String, BTreeSet<String>)> {
        let condition = self.model.conditions.get(condition)?;
        let node = self.model.nodes.get(condition.control)?;
        let others = node.control.as_ref()?.positions.iter().filter(|p| !condition.positions.contains(*p)).cloned();
        Some((node.id.clone(), others.collect()))
    }
}
