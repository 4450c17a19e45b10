//! The resolved model of one aircraft: typed, whole, with every name turned into an index.
//!
//! What holds of every [`Model`] that `resolve` gives:
//! 1. every index points into its list, and lists are sorted by id (media: built-in ones first);
//! 2. `nodes` holds each item followed by its functions, then the givens; ids of nodes are unique;
//! 3. every control has at least two positions, a rest among them, and `conducts_in` among them;
//! 4. every item that can fail has a fault called `fails`, written or by default;
//! 5. every node that others are fed from has a medium in `gives`, unless an error was reported;
//! 6. `after`, `like` and `off-with` run in no ring.
//!
//! This module reads and writes nothing, and does not know what follows from the model.
mod fault;
mod index;
mod item;
mod kind;
mod medium;
mod need;
mod node;
mod numbers;
mod rest;
mod spoken;
mod state;
mod walk;

pub use fault::{Asked, Cue, Entry, Fault, FoundBy, Hazard, HazardLevel, Ignores, LeadsTo};
pub use index::{
    AlertIx, FaultIx, GivenIx, InformationIx, ItemIx, MediumIx, NodeIx, PositionIx, QuantityIx, StateIx, SystemIx,
};
pub use item::{ArcMark, Control, Face, Item, PanelPlace, Reach, Scale, ScaleArc, Seen, Unfed};
pub use kind::{Kind, WalkGroup};
pub use medium::{BUILT_IN_MEDIA, BuiltInMedium, LinePattern, Medium};
pub use need::{Condition, Feed, Need, When};
pub use node::{FalseLook, Given, How, Lasts, Looks, LossLook, LossOf, Node, NodeKind, Noun, Tells};
pub use numbers::{Discharge, Duty, EndurancePhase, EndurancePlan, Flight, FlightLeg, Wire, WireGauge};
pub use rest::{
    Aircraft, Alert, Change, ChangeKind, Information, Inspection, InspectionBy, Interval, NamedQuantity, Panel, System,
    TimeRecording,
};
pub use spoken::Spoken;
pub use state::{Place, Start, State};

use crate::base::{Dimension, Unit};
use std::collections::BTreeMap;

/// Everything that is known of one aircraft.
#[derive(Debug, Clone)]
pub struct Model {
    /// Type, maker, registration, revision.
    pub aircraft: Aircraft,
    /// Unit in which a dimension is shown, where the owner chose one.
    pub display: BTreeMap<Dimension, &'static Unit>,
    /// Built-in media in their order, then the model's own by id.
    pub media: Vec<Medium>,
    /// Systems by id.
    pub systems: Vec<System>,
    /// What the pilot needs to know, by id.
    pub information: Vec<Information>,
    /// Outside facts, by id.
    pub givens: Vec<Given>,
    /// Items, by id.
    pub items: Vec<Item>,
    /// Each item followed by its functions, then the givens.
    pub nodes: Vec<Node>,
    /// All faults: by node order, then `fails` first, then by id.
    pub faults: Vec<Fault>,
    /// Lights, flags and pointers that show when something is lost.
    pub alerts: Vec<Alert>,
    /// Cockpit states, by id.
    pub states: Vec<State>,
    /// The state that is meant when none is named.
    pub reference_state: Option<StateIx>,
    /// Numbers with names.
    pub quantities: Vec<NamedQuantity>,
    /// What the recording instruments count.
    pub time: Option<TimeRecording>,
    /// What must be inspected when.
    pub inspections: Vec<Inspection>,
    /// Flights in legs, by id.
    pub flights: Vec<Flight>,
    /// What is done from the loss of the alternator to the landing.
    pub endurance: Option<EndurancePlan>,
    /// Size of the panel and the order of walking it.
    pub panel: Option<Panel>,
    /// What a tail changes in its type, with reasons.
    pub changes: Vec<Change>,
}

impl Model {
    /// The node of that id (`vacuum-pump`, `transponder.altitude`, `airflow`).
    pub fn find_node(&self, id: &str) -> Option<NodeIx> {
        self.nodes.iter().position(|n| n.id == id).map(NodeIx::new)
    }

    /// The item of that id.
    pub fn find_item(&self, id: &str) -> Option<ItemIx> {
        self.items.binary_search_by(|i| i.id.as_str().cmp(id)).ok().map(ItemIx::new)
    }

    /// The state of that id.
    pub fn find_state(&self, id: &str) -> Option<StateIx> {
        self.states.binary_search_by(|s| s.id.as_str().cmp(id)).ok().map(StateIx::new)
    }

    /// The piece of information of that id.
    pub fn find_information(&self, id: &str) -> Option<InformationIx> {
        self.information.binary_search_by(|i| i.id.as_str().cmp(id)).ok().map(InformationIx::new)
    }

    /// The alert of that id.
    pub fn find_alert(&self, id: &str) -> Option<AlertIx> {
        self.alerts.binary_search_by(|a| a.id.as_str().cmp(id)).ok().map(AlertIx::new)
    }

    /// The medium of that id.
    pub fn find_medium(&self, id: &str) -> Option<MediumIx> {
        self.media.iter().position(|m| m.id.as_str() == id).map(MediumIx::new)
    }

    /// The fault written `item:fault`; a bare item or given means its `fails`.
    pub fn find_fault(&self, text: &str) -> Option<FaultIx> {
        let (node, fault) = text.split_once(':').unwrap_or((text, "fails"));
        let node = self.find_node(node)?;
        self.faults.iter().position(|f| f.of == node && f.id.as_str() == fault).map(FaultIx::new)
    }

    /// `item:fault`.
    pub fn fault_id(&self, fault: FaultIx) -> String {
        let fault = &self[fault];
        format!("{}:{}", self[fault.of].id, fault.id)
    }

    /// The item that a node is or belongs to.
    pub fn item_of(&self, node: NodeIx) -> Option<ItemIx> {
        match self[node].kind {
            NodeKind::Item(item) | NodeKind::Function(item, _) => Some(item),
            NodeKind::Given(_) => None,
        }
    }

    /// The faults of an item or given.
    pub fn faults_of(&self, node: NodeIx) -> impl Iterator<Item = FaultIx> + '_ {
        let of_node = move |(_, f): &(usize, &Fault)| f.of == node;
        self.faults.iter().enumerate().filter(of_node).map(|(i, _)| FaultIx::new(i))
    }

    /// The control that an item is, if it is one.
    pub fn control(&self, item: ItemIx) -> Option<&Control> {
        self[item].control.as_ref()
    }

    /// The controls, in order of id.
    pub fn controls(&self) -> impl Iterator<Item = (ItemIx, &Control)> {
        self.items.iter().enumerate().filter_map(|(i, item)| item.control.as_ref().map(|c| (ItemIx::new(i), c)))
    }

    /// All indices of nodes.
    pub fn node_indices(&self) -> impl Iterator<Item = NodeIx> + use<> {
        (0..self.nodes.len()).map(NodeIx::new)
    }

    /// All indices of items.
    pub fn item_indices(&self) -> impl Iterator<Item = ItemIx> + use<> {
        (0..self.items.len()).map(ItemIx::new)
    }

    /// All indices of faults.
    pub fn fault_indices(&self) -> impl Iterator<Item = FaultIx> + use<> {
        (0..self.faults.len()).map(FaultIx::new)
    }

    /// All indices of states.
    pub fn state_indices(&self) -> impl Iterator<Item = StateIx> + use<> {
        (0..self.states.len()).map(StateIx::new)
    }
}

macro_rules! indexed {
    ($($ix:ty => $list:ident : $of:ty),* $(,)?) => {$(
        impl std::ops::Index<$ix> for Model {
            type Output = $of;
            fn index(&self, ix: $ix) -> &$of {
                &self.$list[ix.usize()]
            }
        }
    )*};
}

indexed! {
    MediumIx => media: Medium,
    SystemIx => systems: System,
    InformationIx => information: Information,
    GivenIx => givens: Given,
    ItemIx => items: Item,
    NodeIx => nodes: Node,
    FaultIx => faults: Fault,
    AlertIx => alerts: Alert,
    StateIx => states: State,
    QuantityIx => quantities: NamedQuantity,
}
