//! Where needles stand after a failure: only those of which that is certain.

use super::composer::Composer;
use crate::analyse::answer::{Effects, Indication};
use crate::base::Quantity;
use crate::doc::{PanelShown, Sign};
use crate::model::{Face, Item, ItemIx, Kind, Looks, LossOf, NodeIx, Scale, Unfed};
use std::collections::{BTreeMap, BTreeSet};

/// Where needles stand after a failure, of those of which that is known.
impl Composer<'_> {
    pub(super) fn needles(&self, effects: &Effects, shown: &PanelShown) -> BTreeMap<String, f64> {
        let wears = |sign: Sign, id: &str| shown.signs.get(&sign).is_some_and(|all| all.iter().any(|one| one == id));
        let mut needles = BTreeMap::new();
        for ix in self.faces() {
            let item = &self.model[ix];
            let dial = item.panel.as_ref().is_some_and(|p| matches!(p.face, Face::Dial | Face::Altimeter));
            let Some(scale) = item.scale.as_ref().filter(|_| dial) else { continue };
            let stands = if wears(Sign::Misleading, item.id.as_str()) || !effects.before.works.contains(&item.node) {
                None
            } else if effects.after.works.contains(&item.node) {
                self.fed_needle(effects, item, scale)
            } else {
                self.unfed_needle(effects, item, scale)
            };
            needles.extend(stands.map(|number| (item.id.to_string(), number)));
        }
        needles
    }

    /// Engines that run before and not after.
    pub(super) fn stopped(&self, effects: &Effects) -> Vec<ItemIx> {
        let stops = |n: NodeIx| effects.before.works.contains(&n) && !effects.after.works.contains(&n);
        let engine = |i: &ItemIx| self.model[*i].kind == Kind::Engine && stops(self.model[*i].node);
        self.model.item_indices().filter(engine).collect()
    }

    /// Of a dial that works: at its rest where what it senses is gone and it falls then; else at its usual place, unless an engine
    /// stops: then the flight is no longer the usual one.
    fn fed_needle(&self, effects: &Effects, item: &Item, scale: &Scale) -> Option<f64> {
        if !effects.shows.contains(&Indication::Gauge(item.node)) {
            return on_scale(scale, scale.usual.as_ref().filter(|_| self.stopped(effects).is_empty()));
        }
        on_scale(scale, scale.rests.as_ref().filter(|_| scale.unfed == Some(Unfed::Zero)))
    }

    /// Of a dial that is lost: by its look, else by what an unfed needle does. One that failed by itself can stand anywhere.
    fn unfed_needle(&self, effects: &Effects, item: &Item, scale: &Scale) -> Option<f64> {
        let lost = effects.lost.iter().find(|a| a.node == item.node)?;
        let missed = |of: &LossOf| match of {
            LossOf::Node(n) => lost.misses.contains(n),
            LossOf::Medium(m) => lost.misses.iter().any(|n| self.model[*n].gives == Some(*m)),
        };
        let looks: BTreeSet<Looks> =
            self.model[item.node].on_loss.iter().filter(|l| missed(&l.of)).map(|l| l.looks).collect();
        let span = scale.span.range()?;
        match (looks.len(), looks.first()) {
            (1, Some(Looks::Zero)) => on_scale(scale, scale.rests.as_ref()).or(Some(span.from)),
            (1, Some(Looks::Full)) => Some(span.to),
            (1, Some(Looks::Centred)) => Some(span.from.midpoint(span.to)),
            (1, Some(Looks::Freezes)) => on_scale(scale, scale.usual.as_ref()),
            (0, _) => match scale.unfed? {
                Unfed::Zero => on_scale(scale, scale.rests.as_ref()),
                Unfed::Stays => on_scale(scale, scale.usual.as_ref()),
                Unfed::Drifts | Unfed::Flag => None,
            },
            _ => None,
        }
    }
}

fn on_scale(scale: &Scale, of: Option<&Quantity>) -> Option<f64> {
    of.and_then(|q| q.in_unit(scale.span.unit))
}
