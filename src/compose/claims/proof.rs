//! Each form of claim asked of the analysis.

use super::blame::Blame;
use super::grammar::{Cause, Claim, Indicator, Relation, Source, StateVerb};
use crate::analyse::answer::{Effects, HowYouKnow, Indication, Question, Restore, Start};
use crate::base::Quantity;
use crate::compose::composer::Composer;
use crate::compose::tables::told_in_sight;
use crate::model::{How, InformationIx, ItemIx, NodeIx, PositionIx, StateIx};
use std::collections::BTreeSet;

type Proof = Result<(), Blame>;

impl Composer<'_> {
    /// Proves a claim, or says why it is false.
    pub fn proved(&mut self, claim: &Claim) -> Proof {
        match claim {
            Claim::Needs { x, y, negative, state } => self.needs_holds(*x, y, *negative, *state),
            Claim::NeedsToStart { x, y, state } => self.needs_to_start_holds(*x, y, *state),
            Claim::CanUse { x, y } => self.can_use_holds(*x, *y),
            Claim::InState { x, verb, state } => self.in_state_holds(*x, *verb, *state),
            Claim::Takes { y, x, state } => self.takes_holds(y, *x, *state),
            Claim::TakesOnly { y, xs, state } => self.takes_only_holds(y, xs, *state),
            Claim::Survives { x, y, state } => self.survives_holds(*x, y, *state),
            Claim::Misleads { y, x, state } => self.misleads_holds(y, *x, *state),
            Claim::Shows { indicator, y, state } => self.shows_holds(*indicator, y, *state),
            Claim::NothingShows { y, state } => self.nothing_shows_holds(y, *state),
            Claim::Restores { moves, x, y, state } => self.restores_holds(moves, *x, y, *state),
            Claim::Lasts { x, time, y, state } => self.lasts_holds(*x, time, y, *state),
            Claim::Alone { x, information, indirectly, state } => {
                self.alone_holds(*x, *information, *indirectly, *state)
            }
            Claim::BacksUp { x, y, indirectly, state } => self.backs_up_holds(*x, y, *indirectly, *state),
            Claim::Value { path, relation, than } => self.value_stands(path, *relation, than),
        }
    }

    fn ask(&mut self, y: &Cause, state: StateIx) -> Effects {
        match y.faults.as_slice() {
            [one] => self.effects(state, *one),
            many => self.analysis.effects(&Question::faults(state, many.to_vec())),
        }
    }

    fn called(&self, x: NodeIx) -> String {
        self.words.node(x).the.clone()
    }

    fn named(&self, y: &Cause) -> String {
        match y.source {
            Source::Node(n) => self.called(n),
            Source::Medium(m) => self.words.medium(m).the.clone(),
        }
    }

    fn in_words(&self, state: StateIx) -> &str {
        &self.model[state].name
    }

    /// A thing must work before a fault, or nothing can be said of what the fault does to it.
    fn works_before(&self, effects: &Effects, x: NodeIx, state: StateIx) -> Proof {
        if effects.before.is_true(x) {
            return Ok(());
        }
        let message = format!("{} does not work in {} as it is", self.called(x), self.in_words(state));
        Err(self.blame_state(state, x, false, message))
    }

    fn needs_holds(&mut self, x: NodeIx, y: &Cause, negative: bool, state: StateIx) -> Proof {
        let effects = self.ask(y, state);
        self.works_before(&effects, x, state)?;
        let (thing, cause) = (self.called(x), self.named(y));
        match (effects.after.is_true(x), negative) {
            (false, false) | (true, true) => Ok(()),
            (true, false) => {
                let message = format!("without {cause}, {thing} still works in {}", self.in_words(state));
                Err(self.blame_work(&effects, x, message))
            }
            (false, true) => {
                let what = if effects.after.works.contains(&x) { "becomes false" } else { "stops" };
                let message = format!("without {cause}, {thing} {what} in {}", self.in_words(state));
                Err(self.blame_loss(&effects, x, message))
            }
        }
    }

    fn needs_to_start_holds(&mut self, x: NodeIx, y: &Cause, state: StateIx) -> Proof {
        let running = self.ask(y, state);
        self.works_before(&running, x, state)?;
        let (thing, cause) = (self.called(x), self.named(y));
        if !running.after.is_true(x) {
            let message = format!("{thing} needs {cause} not only to start: once running, it stops without it");
            return Err(self.blame_loss(&running, x, message));
        }
        let mut question = Question::faults(state, y.faults.clone());
        question.start = Start::Cold;
        let cold = self.analysis.effects(&question);
        if cold.reached && cold.after.is_true(x) {
            let message = format!("without {cause}, {thing} starts all the same");
            return Err(self.blame_work(&cold, x, message));
        }
        Ok(())
    }

    fn can_use_holds(&self, x: NodeIx, y: Source) -> Proof {
        let trace = self.analysis.trace(x);
        let is_it = match y {
            Source::Node(n) => trace.upstream.contains(&n),
            Source::Medium(m) => {
                trace.media.contains(&m) || trace.upstream.iter().any(|n| self.model[*n].gives == Some(m))
            }
        };
        if is_it {
            return Ok(());
        }
        let message = format!("nothing leads to {} from there", self.called(x));
        Err(Blame { places: vec![(self.model[x].span, "it is declared here".to_owned())], ..Blame::new(message) })
    }

    fn in_state_holds(&self, x: NodeIx, verb: StateVerb, state: StateIx) -> Proof {
        let solved = self.analysis.state(state);
        let (thing, name) = (self.called(x), self.in_words(state));
        if !solved.reached {
            return Err(Blame::new(format!("the state “{name}” is not reached")));
        }
        let works = solved.solution.works.contains(&x);
        let misleads = solved.solution.misleads.contains(&x);
        let (is_so, message) = match verb {
            StateVerb::Works => (works && !misleads, format!("{thing} does not work in {name}")),
            StateVerb::IsDead => (!works, format!("{thing} works in {name}")),
            StateVerb::Misleads => (misleads, format!("{thing} does not mislead in {name}")),
        };
        if is_so { Ok(()) } else { Err(self.blame_state(state, x, works, message)) }
    }

    fn takes_holds(&mut self, y: &Cause, x: NodeIx, state: StateIx) -> Proof {
        let effects = self.ask(y, state);
        self.works_before(&effects, x, state)?;
        if !effects.after.works.contains(&x) {
            return Ok(());
        }
        let false_now = if effects.after.misleads.contains(&x) { "works on, and is false," } else { "still works" };
        let message = format!("{} {false_now} without {}", self.called(x), self.named(y));
        Err(self.blame_work(&effects, x, message))
    }

    /// Only: of what is in sight, nothing else is lost or false.
    fn takes_only_holds(&mut self, y: &Cause, xs: &[NodeIx], state: StateIx) -> Proof {
        for x in xs {
            self.takes_holds(y, *x, state)?;
        }
        let effects = self.ask(y, state);
        let lost: Vec<NodeIx> = effects.lost.iter().chain(&effects.misleads).map(|a| a.node).collect();
        let item_of = |n: NodeIx| self.model.item_of(n).map(|i| self.model[i].node);
        let named = |n: &NodeIx| xs.contains(n) || item_of(*n).is_some_and(|i| xs.contains(&i));
        match told_in_sight(self, &lost).into_iter().find(|n| !named(n)) {
            None => Ok(()),
            Some(other) => {
                let message = format!("losing {} takes {} too", self.named(y), self.called(other));
                Err(self.blame_loss(&effects, other, message))
            }
        }
    }

    fn survives_holds(&mut self, x: NodeIx, y: &Cause, state: StateIx) -> Proof {
        self.needs_holds(x, y, true, state)
    }

    fn misleads_holds(&mut self, y: &Cause, x: NodeIx, state: StateIx) -> Proof {
        let effects = self.ask(y, state);
        if effects.after.misleads.contains(&x) {
            return Ok(());
        }
        let message = format!("{} is not false then", self.called(x));
        let faults = y.faults.iter().map(|f| (self.model[*f].span, "this fault does not mislead it".to_owned()));
        Err(Blame { places: faults.collect(), ..Blame::new(message) })
    }

    fn shows_holds(&mut self, indicator: Indicator, y: &Cause, state: StateIx) -> Proof {
        let effects = self.ask(y, state);
        let (is_so, span, name) = match indicator {
            Indicator::Alert(a) => {
                (effects.shows.contains(&Indication::Alert(a)), self.model[a].span, self.words.alert(a).the.clone())
            }
            Indicator::Node(n) => (self.node_shows(&effects, n), self.model[n].span, self.called(n)),
        };
        if is_so {
            return Ok(());
        }
        let places = vec![(span, "what it watches stands here".to_owned())];
        Err(Blame { places, ..Blame::new(format!("{name} does not show that")) })
    }

    /// A gauge, an alert on that item, or an instrument that looks dead.
    fn node_shows(&self, effects: &Effects, node: NodeIx) -> bool {
        let shows = |i: &Indication| match i {
            Indication::Gauge(n) => *n == node,
            Indication::Alert(a) => self.model[self.model[*a].on].node == node,
        };
        effects.shows.iter().any(shows) || effects.looks_dead.contains(&node)
    }

    fn nothing_shows_holds(&mut self, y: &Cause, state: StateIx) -> Proof {
        let effects = self.ask(y, state);
        if !matches!(effects.how_you_know, HowYouKnow::Alert | HowYouKnow::Gauge | HowYouKnow::Instrument) {
            return Ok(());
        }
        let first = effects.shows.first().map(|i| match i {
            Indication::Alert(a) => (self.words.alert(*a).the.clone(), self.model[*a].span),
            Indication::Gauge(n) => (self.called(*n), self.model[*n].span),
        });
        let dead = || effects.looks_dead.first().map(|n| (self.called(*n), self.model[*n].span));
        let Some((name, span)) = first.or_else(dead) else { return Err(Blame::new("something shows")) };
        Err(Blame { places: vec![(span, "it is declared here".to_owned())], ..Blame::new(format!("{name} shows it")) })
    }

    fn restores_holds(&mut self, moves: &[(ItemIx, PositionIx)], x: NodeIx, y: &Cause, state: StateIx) -> Proof {
        let effects = self.ask(y, state);
        let wanted: BTreeSet<(ItemIx, PositionIx)> = moves.iter().copied().collect();
        let same = |r: &Restore| r.moves.iter().map(|m| (m.control, m.to)).collect::<BTreeSet<_>>() == wanted;
        if effects.restores.iter().any(|r| same(r) && r.what.contains(&x)) {
            return Ok(());
        }
        let message = format!("that does not make {} work again", self.called(x));
        Err(Blame { places: vec![(self.model[x].span, "it is declared here".to_owned())], ..Blame::new(message) })
    }

    fn lasts_holds(&mut self, x: NodeIx, time: &Quantity, y: &Cause, state: StateIx) -> Proof {
        let effects = self.ask(y, state);
        let wanted_min = time.si() / 60.0;
        let later = effects.lost_later.iter().find(|l| l.node == x);
        match later.map(|l| l.in_min) {
            Some(Some(minutes)) if (minutes - wanted_min).abs() < 1e-6 => Ok(()),
            Some(Some(minutes)) => Err(Blame::new(format!("{} lasts {minutes} min then", self.called(x)))),
            Some(None) => Err(Blame::new(format!("the model does not say how long {} lasts", self.called(x)))),
            None => Err(Blame::new(format!("{} does not stop after a time then", self.called(x)))),
        }
    }

    /// Sources of a piece of information that work truly in a state.
    fn sources(&self, information: InformationIx, indirectly: bool, works: impl Fn(NodeIx) -> bool) -> Vec<NodeIx> {
        let tells = |n: &NodeIx| {
            let mut all = self.model[*n].tells.iter();
            all.any(|t| t.information == information && (indirectly || t.how == How::Directly))
        };
        self.model.node_indices().filter(tells).filter(|n| works(*n)).collect()
    }

    fn alone_holds(&self, x: NodeIx, information: InformationIx, indirectly: bool, state: StateIx) -> Proof {
        let solution = &self.analysis.state(state).solution;
        let sources = self.sources(information, indirectly, |n| solution.is_true(n));
        if sources == [x] {
            return Ok(());
        }
        let told = self.words.information(information).name.clone();
        let places =
            sources.iter().filter(|n| **n != x).map(|n| (self.model[*n].span, format!("this tells {told} too")));
        let places: Vec<_> = places.collect();
        let message = if sources.contains(&x) {
            format!("{} is not alone in telling {told}", self.called(x))
        } else {
            format!("{} does not tell {told}", self.called(x))
        };
        Err(Blame { places, ..Blame::new(message) })
    }

    fn backs_up_holds(&mut self, x: NodeIx, y: &Cause, indirectly: bool, state: StateIx) -> Proof {
        let effects = self.ask(y, state);
        self.works_before(&effects, x, state)?;
        let (thing, cause) = (self.called(x), self.named(y));
        if !effects.after.is_true(x) {
            return Err(self.blame_loss(&effects, x, format!("{thing} goes along with {cause}")));
        }
        let Source::Node(backed) = y.source else {
            return Err(Blame::new("only something that tells can be backed up"));
        };
        let common = (0..self.model.information.len()).map(InformationIx::new).any(|i| {
            let all = self.sources(i, indirectly, |_| true);
            all.contains(&x) && self.sources(i, indirectly, |_| true).contains(&backed)
        });
        if common {
            return Ok(());
        }
        let how = if indirectly { "" } else { " directly" };
        let places = [x, backed].map(|n| (self.model[n].span, "what it tells stands here".to_owned())).to_vec();
        Err(Blame { places, ..Blame::new(format!("{thing} tells{how} nothing that {cause} tells")) })
    }

    fn value_stands(&self, path: &str, relation: Relation, than: &Quantity) -> Proof {
        let Some(pulled) = self.pulled(path) else { return Err(Blame::new(format!("there is no value `{path}`"))) };
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0);
        let low = pulled.quantity.si();
        let high = pulled.quantity.upper.map_or(low, |u| pulled.quantity.unit.to_si(u));
        let wanted = than.si();
        let wanted_high = than.upper.map_or(wanted, |u| than.unit.to_si(u));
        let is_so = match relation {
            Relation::Is => close(low, wanted) && close(high, wanted_high),
            Relation::AtLeast => low >= wanted || close(low, wanted),
            Relation::AtMost => high <= wanted_high || close(high, wanted_high),
        };
        if is_so {
            return Ok(());
        }
        let places = vec![(pulled.span, "it is declared here".to_owned())];
        Err(Blame { places, ..Blame::new(format!("`{path}` is {}", pulled.quantity.typed)) })
    }
}
