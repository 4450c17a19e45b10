//! The order in which a person walks the panel: one for the drawing, its numbers and every table.

use super::{ItemIx, Model, PanelPlace, WalkGroup};

/// Things stand in one row when their middles are within the same 40 mm.
const ROW_MM: f64 = 40.0;

impl PanelPlace {
    /// Its place in the order of reading: rows from the top, each from the left, in millimetres.
    pub fn reading_order(&self) -> (i64, i64) {
        (libm::floor(self.y_mm / ROW_MM) as i64, libm::floor(self.x_mm) as i64)
    }
}

impl Model {
    /// Groups as they are walked: those that the model names, then the others.
    pub fn walk_groups(&self) -> Vec<WalkGroup> {
        let mut groups = self.panel.as_ref().map_or_else(Vec::new, |p| p.walk.clone());
        let others: Vec<WalkGroup> = WalkGroup::ALL.iter().copied().filter(|g| !groups.contains(g)).collect();
        groups.extend(others);
        groups
    }

    /// The things of a group with a place on the panel, as they are walked.
    pub fn on_panel(&self, group: WalkGroup) -> Vec<ItemIx> {
        let mut found: Vec<(ItemIx, (i64, i64))> = self
            .item_indices()
            .filter_map(|i| Some((i, self[i].panel.as_ref()?)))
            .filter(|(i, _)| self[*i].kind.group() == group)
            .map(|(i, place)| (i, place.reading_order()))
            .collect();
        let name = |i: ItemIx| &self[self[i].node].noun.name;
        found.sort_by(|(i, a), (j, b)| a.cmp(b).then_with(|| name(*i).cmp(name(*j))));
        found.into_iter().map(|(i, _)| i).collect()
    }
}
