//! The keys that the physics needs: wires, duty, discharge, flights, phases on the battery.

use super::{Decl, Form, Key};
use crate::base::Dimension;
use crate::model::WireGauge;

const DURATION: Form = Form::Quantity(&[Dimension::Duration]);
const SPEED: Form = Form::Quantity(&[Dimension::Speed]);
const LENGTH: Form = Form::Quantity(&[Dimension::Length]);

fn gauges() -> Vec<&'static str> {
    WireGauge::ALL.iter().map(|g| g.word()).collect()
}

const WIRE_TABLE: Decl = Decl {
    path: "[item.<id>.wire]",
    about: "The copper wire of the circuit that this item stands in.",
    keys: &[
        Key::new("gauge", Form::Word(gauges, "unknown-word"), "Its size, American wire gauge.").must(),
        Key::new("length", LENGTH, "From the bus to the load. The structure carries the return.")
            .must()
            .no("it is not above zero, or longer than 1000 ft"),
    ],
};

const COLD: Decl = Decl {
    path: "cold = [{ … }]",
    about: "What a cold battery gives.",
    keys: &[
        Key::new("at", Form::Quantity(&[Dimension::Temperature]), "The temperature of the battery.").must(),
        Key::new("gives", Form::Share, "The share of its rating, from 0 to 1, that is left there.").must(),
    ],
};

const DISCHARGE_TABLE: Decl = Decl {
    path: "[item.<id>.discharge]",
    about: "How much of its rating a battery gives.",
    keys: &[
        Key::new("over", DURATION, "The time over which the rating was taken.").no("it is not above zero"),
        Key::new("usable", Form::Share, "The share of the rating that is counted on: age, and the state of charge.")
            .or("1"),
        Key::new(
            "exponent",
            Form::Between(1.0, 2.0),
            "Exponent of Peukert's law: a greater current gives less in all.",
        )
        .or("1, the same at every current")
        .no("`over` is not said"),
        Key::new(
            "cold",
            Form::List(&Form::Table(&COLD)),
            "What is left of the rating at a temperature; between two, by proportion.",
        )
        .or("not known"),
    ],
};

pub const WIRE: Key = Key::new("wire", Form::Table(&WIRE_TABLE), "The wire of its circuit.");
pub const DISCHARGE: Key = Key::new("discharge", Form::Table(&DISCHARGE_TABLE), "What a battery gives of its rating.");
pub const DUTY: Key = Key::new(
    "duty",
    Form::OneOf(&[Form::Share, Form::Map("state", &Form::Share)]),
    "For what share of the time it draws, 0 to 1; one for all states, or by state.",
)
.or("1");
pub const INTERMITTENT: Key =
    Key::new("intermittent", Form::Bool, "It draws for moments only, so it is no part of the continuous load.")
        .or("false");
pub const USABLE: Key = Key::new(
    "usable",
    Form::Quantity(&[Dimension::Volume, Dimension::Mass]),
    "What of a tank's capacity can be used in flight.",
)
.no("it is negative, or more than the capacity");
pub const PRESSURE_OFFSET: Key = Key::new(
    "pressure-offset",
    Form::Quantity(&[Dimension::Pressure]),
    "Of a static source: its pressure less true static pressure, in cruise. Below zero where air is drawn out of the cabin.",
)
.no("it is more than 50 hPa either way");

const LEG: Decl = Decl {
    path: "[[flight.<id>.leg]]",
    about: "A stretch of a flight. Altitude and airspeed change evenly over it.",
    keys: &[
        Key::new("name", Form::Text, "Its printed name.").must(),
        Key::new("lasts", DURATION, "How long it takes.").must().no("it is not above zero, or longer than 10000 min"),
        Key::new("engine", Form::Quantity(&[Dimension::Rotation]), "Engine speed.")
            .or("the engine stands still")
            .no("it is negative, or more than 10000 rpm"),
        Key::new("state", Form::Name("state"), "The cockpit state.").must(),
        Key::new("altitude", LENGTH, "Altitude at its end, as a sound altimeter shows it.").or("as before"),
        Key::new("airspeed", SPEED, "Calibrated airspeed at its end.").or("as before"),
    ],
};

/// `[flight.<id>]`
pub const FLIGHT: Decl = Decl {
    path: "[flight.<id>]",
    about: "A flight in legs, for the clocks and for what blocked openings show.",
    keys: &[
        Key::new("name", Form::Text, "Its printed name.").must(),
        Key::new("monthly", Form::Whole, "How often it is flown in a month.").or("0"),
        Key::new("altitude", LENGTH, "Altitude at its beginning.").or("0 ft"),
        Key::new("airspeed", SPEED, "Calibrated airspeed at its beginning.").or("0 kt"),
        Key::new("leg", Form::List(&Form::Table(&LEG)), "The legs in their order.").must(),
    ],
};

const PHASE: Decl = Decl {
    path: "[[endurance.phase]]",
    about: "One phase on the battery alone.",
    keys: &[
        Key::new("name", Form::Text, "Its printed name.").must(),
        Key::new("lasts", DURATION, "How long it takes.")
            .or("what the battery has left when the others are taken off")
            .no("it is not above zero, or longer than 10000 min"),
        Key::new("controls", Form::Map("control", &Form::Name("position")), "Controls as they stand from here on.")
            .or("as before"),
    ],
};

/// `[endurance]`
pub const ENDURANCE: Decl = Decl {
    path: "[endurance]",
    about: "What is done from the loss of the alternator to the landing.",
    keys: &[
        Key::new("battery", Form::Name("item"), "The battery that carries the loads.").must(),
        Key::new("state", Form::Name("state"), "The state in which the alternator is lost.").or("the reference state"),
        Key::new("phase", Form::List(&Form::Table(&PHASE)), "The phases in their order.")
            .must()
            .no("not exactly one of them is without `lasts`"),
    ],
};
