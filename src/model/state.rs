//! Cockpit states.

use super::index::{GivenIx, ItemIx, NodeIx, PositionIx, StateIx};
use crate::base::{Id, Span};

/// A named cockpit state.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// Its id.
    pub id: Id,
    /// Its printed name.
    pub name: String,
    /// Where it begins.
    pub start: Start,
    /// Controls that it sets; the others are inherited.
    pub controls: Vec<(ItemIx, PositionIx)>,
    /// Givens that it sets.
    pub givens: Vec<(GivenIx, bool)>,
    /// What must work at the end of the state before.
    pub reached_if: Vec<NodeIx>,
    /// In flight or on the ground.
    pub place: Place,
    /// A sentence.
    pub note: Option<String>,
    /// Where it is declared.
    pub span: Span,
}

/// How a state begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Start {
    /// Cold, every control at rest.
    Cold,
    /// Cold, with the controls and givens of another state.
    Like(StateIx),
    /// From running: the solution, controls and givens of another state.
    After(StateIx),
}

/// Where the aircraft is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Controls on the ground cannot be reached.
    InFlight,
    /// Everything within a person's reach counts.
    OnTheGround,
}
