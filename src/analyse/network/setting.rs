//! Where the controls stand: effective positions, and the conditions that they meet.

use super::rules::{Rule, Rules};
use crate::analyse::answer::Situation;
use crate::model::{Condition, ItemIx, Model, PositionIx, Start, State, StateIx, When};

/// A situation with what follows from it for conditions.
#[derive(Debug, Clone)]
pub(super) struct Setting {
    /// Where the controls were put.
    pub situation: Situation,
    /// Where they count as standing: `off-with` applied.
    pub effective: Vec<PositionIx>,
    /// Truth of each condition of the graph.
    pub met: Vec<bool>,
}

impl Setting {
    /// The setting of a situation, for these conditions.
    pub fn new(model: &Model, conditions: &[Condition], situation: Situation, rules: Rules) -> Self {
        let effective = effective(model, &situation.positions, rules);
        let met = conditions.iter().map(|c| meets(&effective, c)).collect();
        Self { situation, effective, met }
    }

    /// True if one condition is met.
    pub fn meets(&self, condition: &Condition) -> bool {
        meets(&self.effective, condition)
    }

    /// True if all of them are.
    pub fn matches(&self, when: &When) -> bool {
        when.0.iter().all(|c| self.meets(c))
    }

    /// The effective position of a control.
    pub fn at(&self, control: ItemIx) -> PositionIx {
        at(&self.effective, control)
    }
}

fn at(positions: &[PositionIx], control: ItemIx) -> PositionIx {
    positions.get(control.usize()).copied().unwrap_or(PositionIx::new(0))
}

fn meets(effective: &[PositionIx], condition: &Condition) -> bool {
    condition.positions.contains(&at(effective, condition.control))
}

/// Positions after `off-with`: a half counts as off while the control that it hangs on does not conduct.
pub(super) fn effective(model: &Model, put: &[PositionIx], rules: Rules) -> Vec<PositionIx> {
    let mut out = put.to_vec();
    if !rules.hold(Rule::OffWith) {
        return out;
    }
    for (item, control) in model.controls() {
        if control.off_with.is_some() && !chain_conducts(model, put, item) {
            out[item.usize()] = control.forced();
        }
    }
    out
}

/// Whether everything that a control hangs on by `off-with` conducts; nearest the root first.
fn chain_conducts(model: &Model, put: &[PositionIx], item: ItemIx) -> bool {
    let mut chain = Vec::new();
    let mut above = model.control(item).and_then(|c| c.off_with);
    while let Some(next) = above.filter(|n| !chain.contains(n)) {
        chain.push(next);
        above = model.control(next).and_then(|c| c.off_with);
    }
    let mut conducts = true;
    for link in chain.into_iter().rev() {
        let Some(control) = model.control(link) else { continue };
        let forced = control.off_with.is_some() && !conducts;
        let position = if forced { control.forced() } else { at(put, link) };
        conducts = control.conducts_in.contains(&position);
    }
    conducts
}

/// The states from the first that begins cold (or like another) to this one, each after the one before.
pub(super) fn chain(model: &Model, state: StateIx) -> Vec<StateIx> {
    let mut chain = vec![state];
    let mut at = state;
    while let Start::After(before) = model[at].start {
        if chain.contains(&before) {
            break;
        }
        chain.push(before);
        at = before;
    }
    chain.reverse();
    chain
}

/// Positions and givens of a state.
pub(super) fn situation(model: &Model, state: StateIx, rules: Rules) -> Situation {
    let mut line = vec![state];
    let mut at = state;
    while let Start::After(before) | Start::Like(before) = model[at].start {
        if line.contains(&before) {
            break;
        }
        line.push(before);
        at = before;
    }
    let mut situation = at_rest(model);
    for state in line.into_iter().rev() {
        inherit(model, &mut situation, &model[state], rules);
    }
    situation
}

fn at_rest(model: &Model) -> Situation {
    let rest = |i: &crate::model::Item| i.control.as_ref().map_or(PositionIx::new(0), |c| c.rest);
    Situation {
        positions: model.items.iter().map(rest).collect(),
        givens: model.givens.iter().map(|g| g.normally).collect(),
    }
}

fn inherit(model: &Model, situation: &mut Situation, state: &State, rules: Rules) {
    if matches!(state.start, Start::After(_)) && rules.hold(Rule::Springs) {
        for (item, control) in model.controls() {
            let stands = &mut situation.positions[item.usize()];
            if let Some((_, to)) = control.springs_to.iter().find(|(from, _)| from == stands) {
                *stands = *to;
            }
        }
    }
    for (control, position) in &state.controls {
        situation.positions[control.usize()] = *position;
    }
    for (given, holds) in &state.givens {
        situation.givens[given.usize()] = *holds;
    }
}
