//! What takes current as things stand, for electrical load analysis.
//!
//! What works draws, with two differences: a horn, lamp or light that shows alerts draws only while one of them shows, and what makes
//! electricity draws for its field as long as its feed of electricity holds, whether or not it then gives anything. So an alternator
//! that was lost goes on taking field current from the battery until its switch is opened.

use super::Analysis;
use super::moment::Moment;
use super::view::View;
use crate::analyse::answer::Situation;
use crate::model::{AlertIx, FaultIx, ItemIx, Kind, MediumIx, Need, NodeIx, StateIx};
use std::collections::BTreeSet;
use std::sync::Arc;

impl Analysis<'_> {
    /// The nodes that draw in a state with no faults. Where it is not reached, in the last state that was.
    pub fn drawing_in(&self, state: StateIx) -> BTreeSet<NodeIx> {
        self.drawing_at(&self.states[state.usize()].moment, &[])
    }

    /// The nodes that draw in one situation settled with faults, from what worked before (empty: from cold).
    pub fn drawing(&self, situation: &Situation, faults: &[FaultIx], before: &BTreeSet<NodeIx>) -> BTreeSet<NodeIx> {
        let setting = Arc::new(self.setting(situation.clone()));
        let damage = self.damage(faults, &setting);
        let start = super::bits::Bits::of(self.model.nodes.len(), before);
        self.drawing_at(&self.settle(setting, damage, &start), faults)
    }

    fn drawing_at(&self, at: &Moment, faults: &[FaultIx]) -> BTreeSet<NodeIx> {
        let mut on = at.outcome.works.to_set();
        for item in self.model.item_indices() {
            let kind = self.model[item].kind;
            if matches!(kind, Kind::Horn | Kind::Lamp | Kind::Light) && self.is_unlit(item, faults, at) {
                on.retain(|n| self.model.item_of(*n) != Some(item));
            }
            if matches!(kind, Kind::Alternator | Kind::Generator) && self.is_excited(item, at) {
                on.insert(self.model[item].node);
            }
        }
        on
    }

    /// It shows alerts, and none of them now.
    fn is_unlit(&self, item: ItemIx, faults: &[FaultIx], at: &Moment) -> bool {
        let on_it: Vec<AlertIx> =
            (0..self.model.alerts.len()).map(AlertIx::new).filter(|a| self.model[*a].on == item).collect();
        !on_it.is_empty() && !on_it.into_iter().any(|a| self.alert_shows(a, faults, at))
    }

    /// It is fed with electricity, and that feed holds.
    fn is_excited(&self, item: ItemIx, at: &Moment) -> bool {
        let node = self.model[item].node;
        let Some(electricity) = self.model.find_medium("electricity") else { return false };
        let fed: Vec<Need> =
            self.model[node].needs.iter().filter(|n| self.is_electric(n, electricity)).cloned().collect();
        !fed.is_empty() && View::as_it_stands(self.model, at).all_hold(&fed, Some(node))
    }

    fn is_electric(&self, need: &Need, electricity: MediumIx) -> bool {
        need.feeds().iter().any(|f| self.model[f.from].gives == Some(electricity))
    }
}
