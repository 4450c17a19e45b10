//! What still tells what a thing told directly that no longer does: the faces that wear a ring, and for what.

use super::composer::Composer;
use crate::analyse::answer::Effects;
use crate::doc::{PanelShown, Sign, StillTold, ToldBy};
use crate::model::{How, InformationIx, NodeIx, Tells};
use std::collections::{BTreeMap, BTreeSet};

/// Of some information, the parts that were told and are not; nothing where all of it was.
type Missed = Option<BTreeSet<String>>;

impl Composer<'_> {
    /// Each piece of information that lost a thing that tells it directly, with what tells it truly now.
    pub(super) fn still_told(&self, effects: &Effects) -> Vec<StillTold> {
        let one = |(of, missed): (InformationIx, Missed)| {
            let name = &self.words.information(of).name;
            let named = match &missed {
                Some(parts) => format!("{name} ({})", parts.iter().cloned().collect::<Vec<_>>().join(", ")),
                None => name.clone(),
            };
            StillTold { of: named, by: self.told_by(effects, of, &missed), comes_back: self.comes_back(effects, of) }
        };
        self.no_longer_told(effects).into_iter().map(one).collect()
    }

    fn no_longer_told(&self, effects: &Effects) -> BTreeMap<InformationIx, Missed> {
        let mut found: BTreeMap<InformationIx, Missed> = BTreeMap::new();
        let gone = |n: &NodeIx| effects.before.is_true(*n) && !effects.after.is_true(*n);
        for node in self.model.node_indices().filter(gone) {
            for tells in self.model[node].tells.iter().filter(|t| t.how == How::Directly) {
                let missed = found.entry(tells.information).or_insert_with(|| Some(BTreeSet::new()));
                match (&tells.only, missed.as_mut()) {
                    (Some(part), Some(parts)) => drop(parts.insert(part.clone())),
                    _ => *missed = None,
                }
            }
        }
        found
    }

    /// What tells it now: a source of another part of it tells something else.
    fn told_by(&self, effects: &Effects, of: InformationIx, missed: &Missed) -> Vec<ToldBy> {
        let fits = |tells: &Tells| match (missed, &tells.only) {
            (Some(parts), Some(only)) => tells.how == How::Indirectly || parts.contains(only),
            _ => true,
        };
        let sources = effects.still_tells.iter().filter(|s| s.information == of).flat_map(|s| &s.sources);
        let told = |(node, at): &(NodeIx, usize)| {
            let tells = self.model[*node].tells.get(*at).filter(|t| fits(t))?;
            let item = self.model.item_of(*node)?;
            let limits = (tells.how == How::Indirectly).then(|| "indirectly".to_owned());
            Some(ToldBy {
                item: self.model[item].id.to_string(),
                name: self.words.node(*node).name.clone(),
                limits: limits.into_iter().chain(tells.only.clone()).collect(),
            })
        };
        sources.filter_map(told).collect()
    }

    /// True if moves of controls bring back something that tells it directly.
    fn comes_back(&self, effects: &Effects, of: InformationIx) -> bool {
        let tells = |n: &NodeIx| self.model[*n].tells.iter().any(|t| t.information == of && t.how == How::Directly);
        effects.restores.iter().any(|r| r.what.iter().any(tells))
    }

    /// Puts a ring on each face that tells any of it.
    pub(super) fn ring(&self, shown: &mut PanelShown) {
        let by: BTreeSet<&String> = shown.still.iter().flat_map(|s| &s.by).map(|by| &by.item).collect();
        let faces = self.faces().into_iter().map(|i| self.model[i].id.to_string());
        let ringed: Vec<String> = faces.filter(|id| by.contains(id)).collect();
        if !ringed.is_empty() {
            shown.signs.insert(Sign::StillTells, ringed);
        }
    }
}
