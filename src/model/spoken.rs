//! What the author of a model says of faults while the controls stand in one way.

use super::{Entry, Fault, FaultIx, ItemIx, LossOf, Model, NodeIx, PositionIx, When};

/// A sentence of the author, and the field that it stands in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spoken<'m> {
    /// `altimeter/on-false`, `main-bus:fails/misleads`.
    pub field: String,
    /// The sentence.
    pub text: &'m str,
}

impl Model {
    /// True if controls that are put so meet a condition, each counted as off while the one that it is off with does not conduct.
    pub fn is_met(&self, when: &When, positions: &[PositionIx]) -> bool {
        when.0.iter().all(|c| c.positions.contains(&self.counts_as(c.control, positions)))
    }

    fn counts_as(&self, item: ItemIx, positions: &[PositionIx]) -> PositionIx {
        let stands = positions.get(item.usize()).copied().unwrap_or(PositionIx::new(0));
        let Some(control) = self.control(item) else { return stands };
        let conducts = |above: ItemIx| {
            self.control(above).is_some_and(|c| c.conducts_in.contains(&self.counts_as(above, positions)))
        };
        if control.off_with.is_none_or(conducts) { stands } else { control.forced() }
    }

    /// The nodes that a list of a fault names while controls stand so, each once, in written order.
    pub fn named_by(&self, list: &[Entry<NodeIx>], positions: &[PositionIx]) -> Vec<NodeIx> {
        let mut found = Vec::new();
        for entry in list.iter().filter(|e| self.is_met(&e.when, positions)) {
            if !found.contains(&entry.what) {
                found.push(entry.what);
            }
        }
        found
    }

    /// What is noticed of a fault while controls stand so.
    pub fn cue_of(&self, fault: FaultIx, positions: &[PositionIx]) -> Option<&str> {
        self[fault].cue.as_ref().filter(|cue| self.is_met(&cue.when, positions)).map(|cue| cue.text.as_str())
    }

    /// What a false thing shows: the fault's own words of it, else its own of the nearest of these causes that it has a word for.
    pub fn said_of_false(
        &self,
        faults: &[FaultIx],
        positions: &[PositionIx],
        node: NodeIx,
        mut causes: impl Iterator<Item = NodeIx>,
    ) -> Option<Spoken<'_>> {
        let own = || causes.find_map(|cause| self.said_of_cause(node, cause));
        self.said_by_fault(faults, positions, node, ("misleads", |f| &f.misleads)).or_else(own)
    }

    fn said_of_cause(&self, node: NodeIx, cause: NodeIx) -> Option<Spoken<'_>> {
        let looks = &self[node].on_false;
        let by_node = looks.iter().find(|l| l.of == LossOf::Node(cause));
        let by_medium = || looks.iter().find(|l| self[cause].gives.is_some_and(|m| l.of == LossOf::Medium(m)));
        let look = by_node.or_else(by_medium)?;
        Some(Spoken { field: format!("{}/on-false", self[node].id), text: &look.text })
    }

    /// What the faults themselves say of a thing that they weaken.
    pub fn said_of_weakened(&self, faults: &[FaultIx], positions: &[PositionIx], node: NodeIx) -> Option<Spoken<'_>> {
        self.said_by_fault(faults, positions, node, ("weakens", |f| &f.weakens))
    }

    fn said_by_fault(
        &self,
        faults: &[FaultIx],
        positions: &[PositionIx],
        node: NodeIx,
        (key, list): (&str, fn(&Fault) -> &Vec<Entry<NodeIx>>),
    ) -> Option<Spoken<'_>> {
        let of_node = |e: &&Entry<NodeIx>| e.what == node && self.is_met(&e.when, positions);
        faults.iter().find_map(|fault| {
            let text = list(&self[*fault]).iter().filter(of_node).find_map(|e| e.text.as_deref())?;
            Some(Spoken { field: format!("{}/{key}", self.fault_id(*fault)), text })
        })
    }
}
