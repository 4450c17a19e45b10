//! Ids and printed names of what answers speak of.

use crate::model::{AlertIx, FaultIx, ItemIx, Model, Node, NodeIx, NodeKind, PositionIx};

/// Looks names up in a model.
#[derive(Clone, Copy)]
pub struct Names<'a> {
    /// The model.
    pub model: &'a Model,
}

impl Names<'_> {
    /// Id of a node.
    pub fn id(self, node: NodeIx) -> String {
        self.model[node].id.clone()
    }

    /// Ids of nodes.
    pub fn ids(self, nodes: impl IntoIterator<Item = NodeIx>) -> Vec<String> {
        nodes.into_iter().map(|n| self.id(n)).collect()
    }

    /// Printed name of a node, without article; a function is told with its item.
    pub fn node(self, node: NodeIx) -> String {
        let Node { noun, kind, .. } = &self.model[node];
        match kind {
            NodeKind::Function(item, _) => format!("{} of the {}", noun.name, self.item(*item)),
            NodeKind::Item(_) | NodeKind::Given(_) => noun.name.clone(),
        }
    }

    /// Printed name of an item.
    pub fn item(self, item: ItemIx) -> String {
        self.model[self.model[item].node].noun.name.clone()
    }

    /// Printed name of a node given by id, or the id itself where it is none.
    pub fn by_id(self, id: &str) -> String {
        let node = self.model.find_node(id).map(|n| self.node(n));
        let information = || self.model.find_information(id).map(|i| self.model[i].noun.name.clone());
        let medium = || self.model.find_medium(id).map(|m| self.model[m].name.clone());
        node.or_else(information).or_else(medium).unwrap_or_else(|| id.to_owned())
    }

    /// Printed name of an alert.
    pub fn alert(self, alert: AlertIx) -> String {
        self.model[alert].noun.name.clone()
    }

    /// Id of a position of a control.
    pub fn position(self, control: ItemIx, position: PositionIx) -> String {
        let positions = self.model.control(control).map(|c| c.positions.as_slice()).unwrap_or_default();
        positions.get(position.usize()).map(ToString::to_string).unwrap_or_default()
    }

    /// `vacuum pump fails`, as a clause after "if".
    pub fn fault(self, fault: FaultIx) -> String {
        let fault = &self.model[fault];
        let noun = &self.model[fault.of].noun;
        let of_given = matches!(self.model[fault.of].kind, NodeKind::Given(_));
        let usual = match (of_given, noun.plural) {
            (false, false) => "fails",
            (false, true) => "fail",
            (true, false) => "is gone",
            (true, true) => "are gone",
        };
        let said = fault.said.clone().unwrap_or_else(|| usual.to_owned());
        format!("the {} {said}", self.node(fault.of))
    }

    /// The same, of a fault given by `item:fault`.
    pub fn fault_by_id(self, id: &str) -> String {
        self.model.find_fault(id).map_or_else(|| id.to_owned(), |f| self.fault(f))
    }
}
