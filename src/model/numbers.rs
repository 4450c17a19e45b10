//! What the physics needs to know beyond what hangs on what: wires, batteries, flights, phases.

use super::index::{ItemIx, PositionIx, StateIx};
use super::item::words;
use crate::base::{Id, Quantity, Span};

words! {
    /// American wire gauge of a copper wire.
    WireGauge {
        G24 = "24", G22 = "22", G20 = "20", G18 = "18", G16 = "16", G14 = "14", G12 = "12", G10 = "10", G8 = "8",
        G6 = "6", G4 = "4", G2 = "2", G1 = "1", G0 = "0", G00 = "00", G000 = "000", G0000 = "0000",
    }
}

/// The wire of a circuit.
#[derive(Debug, Clone, PartialEq)]
pub struct Wire {
    /// Its size.
    pub gauge: WireGauge,
    /// From the bus to the load; the structure carries the return.
    pub length: Quantity,
}

/// For what share of the time a consumer draws.
#[derive(Debug, Clone, PartialEq)]
pub struct Duty {
    /// Where no state says otherwise, 0 to 1.
    pub usual: f64,
    /// In single states.
    pub by_state: Vec<(StateIx, f64)>,
}

impl Duty {
    /// The share in a state.
    pub fn of(&self, state: StateIx) -> f64 {
        self.by_state.iter().find(|(s, _)| *s == state).map_or(self.usual, |(_, share)| *share)
    }
}

impl Default for Duty {
    fn default() -> Self {
        Self { usual: 1.0, by_state: Vec::new() }
    }
}

/// How much of its rating a battery gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Discharge {
    /// The time over which the rating was taken.
    pub over: Option<Quantity>,
    /// The share of the rating that is counted on, 0 to 1.
    pub usable: Option<f64>,
    /// Exponent of Peukert's law.
    pub exponent: Option<f64>,
    /// The share that is left at a temperature, coldest first.
    pub cold: Vec<(Quantity, f64)>,
}

/// A flight in legs.
#[derive(Debug, Clone, PartialEq)]
pub struct Flight {
    /// Its id.
    pub id: Id,
    /// Its printed name.
    pub name: String,
    /// How often it is flown in a month.
    pub monthly: u32,
    /// Altitude at its beginning.
    pub altitude: Option<Quantity>,
    /// Calibrated airspeed at its beginning.
    pub airspeed: Option<Quantity>,
    /// The legs in their order.
    pub legs: Vec<FlightLeg>,
    /// Where it is declared.
    pub span: Span,
}

/// A stretch of a flight in one cockpit state.
#[derive(Debug, Clone, PartialEq)]
pub struct FlightLeg {
    /// Its printed name.
    pub name: String,
    /// How long it takes.
    pub lasts: Quantity,
    /// Engine speed; none where the engine stands still.
    pub engine: Option<Quantity>,
    /// The cockpit state.
    pub state: StateIx,
    /// Altitude at its end; as before where none is said.
    pub altitude: Option<Quantity>,
    /// Calibrated airspeed at its end; as before where none is said.
    pub airspeed: Option<Quantity>,
}

/// What is done from the loss of the alternator to the landing.
#[derive(Debug, Clone, PartialEq)]
pub struct EndurancePlan {
    /// The battery that carries the loads.
    pub battery: ItemIx,
    /// The state in which the alternator is lost.
    pub state: Option<StateIx>,
    /// The phases in their order; one of them has no time of its own and gets what is left.
    pub phases: Vec<EndurancePhase>,
    /// Where it is declared.
    pub span: Span,
}

/// One phase on the battery alone.
#[derive(Debug, Clone, PartialEq)]
pub struct EndurancePhase {
    /// Its printed name.
    pub name: String,
    /// How long it takes; none: what is left.
    pub lasts: Option<Quantity>,
    /// Controls as they stand from here on.
    pub controls: Vec<(ItemIx, PositionIx)>,
}
