//! Which controls can be moved where, and what single moves end a hazard.

use super::Analysis;
use super::damage::Damage;
use super::moment::{Moment, put};
use super::setting::{Setting, effective};
use crate::analyse::answer::{ActiveHazard, Move};
use crate::model::{Control, FaultIx, ItemIx, Place, PositionIx, Reach, When};

impl Analysis<'_> {
    /// Moves within reach; those of breakers only `pulling`.
    pub(super) fn moves(&self, place: Place, setting: &Setting, damage: &Damage, pulling: bool) -> Vec<Move> {
        let mut moves = Vec::new();
        let controls = self.model.controls();
        for (item, control) in
            controls.filter(|(i, c)| self.can_move(*i, c, place, pulling) && self.is_whole(*i, damage))
        {
            let from = setting.situation.positions[item.usize()];
            let to = (0..control.positions.len()).map(PositionIx::new);
            let offered = to.filter(|p| *p != from && may_be_offered(control, *p));
            let protects = self.model[item].kind.protects();
            let offered = offered.filter(|p| !protects || !control.conducts_in.contains(p));
            moves.extend(offered.map(|to| Move { control: item, from, to }));
        }
        moves
    }

    fn can_move(&self, item: ItemIx, control: &Control, place: Place, pulling: bool) -> bool {
        let in_reach = match control.reachable {
            Reach::InFlight => true,
            Reach::OnTheGround => place == Place::OnTheGround,
            Reach::No => false,
        };
        let item = &self.model[item];
        in_reach && (!item.kind.protects() || (pulling && item.pull))
    }

    /// Neither taken nor tripped.
    fn is_whole(&self, item: ItemIx, damage: &Damage) -> bool {
        let node = self.model[item].node;
        damage.taken.binary_search(&node).is_err() && damage.tripped.binary_search(&node).is_err()
    }

    /// Cycles that mend one of the faults.
    pub(super) fn cycles(&self, place: Place, at: &Moment, faults: &[FaultIx]) -> Vec<Move> {
        let mends = |c: &Control| faults.iter().any(|f| self.is_mended_by(*f, c));
        let cycle = |item: ItemIx| {
            let position = at.setting.situation.positions[item.usize()];
            Move { control: item, from: position, to: position }
        };
        if !faults.iter().any(|f| self.model[*f].transient) {
            return Vec::new();
        }
        let stands = |i: ItemIx| at.setting.situation.positions[i.usize()];
        let can = |(i, c): &(ItemIx, &Control)| {
            self.can_move(*i, c, place, false) && self.is_whole(*i, &at.damage) && may_be_offered(c, stands(*i))
        };
        let controls = self.model.controls().filter(|pair| can(pair) && mends(pair.1));
        controls.map(|(item, _)| cycle(item)).collect()
    }

    /// A transient fault is mended where the control resets its item, or all that it trips.
    pub(super) fn is_mended_by(&self, fault: FaultIx, control: &Control) -> bool {
        let fault = &self.model[fault];
        let resets = |node| self.model.item_of(node).is_some_and(|i| control.resets.contains(&i));
        fault.transient && (resets(fault.of) || (!fault.trips.is_empty() && fault.trips.iter().all(|t| resets(t.what))))
    }

    /// Hazards of faults, whether they are there now, and the single moves that end each.
    pub(super) fn hazards(&self, faults: &[FaultIx], place: Place, at: &Moment) -> Vec<ActiveHazard> {
        let mut hazards = Vec::new();
        for fault in faults {
            for (hazard, row) in self.model[*fault].hazards.iter().enumerate() {
                let active = at.setting.matches(&row.when);
                let ends = active && !row.when.is_always();
                let ended_by = if ends { self.ending(&row.when, place, at) } else { Vec::new() };
                hazards.push(ActiveHazard { fault: *fault, hazard, active, ended_by });
            }
        }
        hazards
    }

    fn ending(&self, when: &When, place: Place, at: &Moment) -> Vec<Move> {
        let ends = |m: &Move| {
            let mut situation = at.setting.situation.clone();
            put(&mut situation, &[(m.control, m.to)]);
            let stands = effective(self.model, &situation.positions, self.rules);
            when.0.iter().any(|c| !stands.get(c.control.usize()).is_some_and(|p| c.positions.contains(p)))
        };
        self.moves(place, &at.setting, &at.damage, true).into_iter().filter(ends).collect()
    }
}

/// Neither a position nor the one that it springs to is one that is never offered.
fn may_be_offered(control: &Control, to: PositionIx) -> bool {
    let back = control.springs_to.iter().filter(|(from, _)| *from == to).map(|(_, back)| back);
    !std::iter::once(&to).chain(back).any(|p| control.never_offer.contains(p))
}
