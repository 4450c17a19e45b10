//! Where the needle of a gauge stands in each cockpit state.
//!
//! **Duty.** From a gauge's scale and the solution of a state: a gauge that works and senses something that is there stands where it
//! usually stands; one whose thing is gone rests, which is the truth; one that is not fed does what its scale says; one that is false
//! says nothing. The coloured arc in which the needle then stands.
//!
//! **Does not know** how a reading changes with engine speed or heat: `usual` is what the model says of the reference state, and
//! `usual-in` what it says of others.
//!
//! # Source
//! FAA-H-8083-25, chapter on flight instruments, for suction between 4.5 and 5.5 inHg in general (weak); the type's own range is data.

use super::answer::StateSolution;
use super::network::Analysis;
use crate::base::Quantity;
use crate::model::{ArcMark, Feed, ItemIx, Model, Need, Scale, StateIx, Unfed, When};

/// Where a needle stands.
#[derive(Debug, Clone, PartialEq)]
pub enum Needle {
    /// Where it usually stands, since all is well.
    Usual(Quantity),
    /// Where it rests, since what it measures is not there: that is true.
    Rests(Quantity),
    /// As the model's sentence says: what it measures is not there, and its middle is no end of the scale.
    Said(String),
    /// At the lower end, since nothing drives it: that says nothing of what it measures.
    Falls(Quantity),
    /// Where it stood when it lost its feed.
    Stays,
    /// Anywhere.
    Drifts,
    /// A flag hides it.
    Flag,
    /// What it is fed with is false.
    False,
    /// The model does not say.
    NotSaid,
}

/// A needle in a state.
#[derive(Debug, Clone, PartialEq)]
pub struct NeedleIn {
    /// The state.
    pub state: StateIx,
    /// Where it stands.
    pub needle: Needle,
    /// The coloured arc there, where there is one.
    pub arc: Option<ArcMark>,
}

/// Where the needle of an item stands in each state that is reached; nothing for an item without a scale.
pub fn needles(model: &Model, analysis: &Analysis<'_>, item: ItemIx) -> Vec<NeedleIn> {
    let Some(scale) = &model[item].scale else { return Vec::new() };
    let solved = model.state_indices().map(|s| analysis.state(s)).filter(|s| s.reached);
    solved
        .map(|solved| {
            let needle = needle(model, item, scale, solved);
            let arc = match &needle {
                Needle::Usual(at) | Needle::Rests(at) => arc(scale, at),
                _ => None,
            };
            NeedleIn { state: solved.state, needle, arc }
        })
        .collect()
}

fn needle(model: &Model, item: ItemIx, scale: &Scale, solved: &StateSolution) -> Needle {
    let node = model[item].node;
    let (solution, of) = (&solved.solution, &model[node]);
    let at = |said: Option<&Quantity>, stands: fn(Quantity) -> Needle| said.cloned().map_or(Needle::NotSaid, stands);
    if !solution.works.contains(&node) {
        return match scale.unfed {
            Some(Unfed::Zero) => at(scale.rests.as_ref(), Needle::Falls),
            Some(Unfed::Stays) => Needle::Stays,
            Some(Unfed::Drifts) => Needle::Drifts,
            Some(Unfed::Flag) => Needle::Flag,
            None => Needle::NotSaid,
        };
    }
    if solution.misleads.contains(&node) {
        return Needle::False;
    }
    let there = of.senses.iter().all(|need| holds(model, need, solved));
    // A needle that rests in the middle (an ammeter) need not rest while the thing is gone: the model's sentence says what it does.
    let centred = scale.span.upper.is_some_and(|upper| scale.span.number < 0.0 && upper > 0.0);
    match (there, &of.reads_when_absent) {
        (true, _) => at(scale.usual_at(solved.state), Needle::Usual),
        (false, Some(sentence)) if centred => Needle::Said(sentence.clone()),
        (false, _) => at(scale.rests.as_ref(), Needle::Rests),
    }
}

/// Whether what is sensed is there: a need read in the solution of a state.
fn holds(model: &Model, need: &Need, solved: &StateSolution) -> bool {
    match need {
        Need::Feed(feed) => feed_holds(model, feed, solved),
        Need::When(when, _) => stands(when, solved),
        Need::Any(of, _) => of.iter().any(|n| holds(model, n, solved)),
        Need::All(of, _) => of.iter().all(|n| holds(model, n, solved)),
        Need::AtLeast { count, of, .. } => of.iter().filter(|n| holds(model, n, solved)).count() >= *count,
    }
}

fn feed_holds(model: &Model, feed: &Feed, solved: &StateSolution) -> bool {
    let conducts = |node| {
        let control = model.item_of(node).and_then(|i| model.control(i).map(|c| (i, c)));
        let closed = control.is_none_or(|(i, c)| c.conducts_in.contains(&solved.situation.positions[i.usize()]));
        solved.solution.works.contains(&node) && closed
    };
    conducts(feed.from) && feed.through.iter().all(|n| conducts(*n)) && stands(&feed.when, solved)
}

fn stands(when: &When, solved: &StateSolution) -> bool {
    let position = |item: ItemIx| solved.situation.positions[item.usize()];
    when.0.iter().all(|c| c.positions.contains(&position(c.control)))
}

/// The arc in which a value lies; of several, the one that stands first in the model.
pub fn arc(scale: &Scale, at: &Quantity) -> Option<ArcMark> {
    let inside = |over: &Quantity| {
        let (Some(value), Some(low)) = (at.in_unit(scale.span.unit), over.in_unit(scale.span.unit)) else {
            return false;
        };
        let high = over.upper.map_or(low, |upper| scale.span.unit.from_si(over.unit.to_si(upper)));
        (low..=high).contains(&value)
    };
    scale.arcs.iter().find(|a| inside(&a.over)).map(|a| a.mark)
}
