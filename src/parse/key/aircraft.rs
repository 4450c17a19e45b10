//! `[aircraft]`, `[display]`, `[panel]`, `[time]`, `[[inspection]]`.

use super::{CITE, Decl, Form, Key, NOTE};
use crate::base::Dimension;
use crate::model::{InspectionBy, WalkGroup};

/// `[aircraft]`
pub const AIRCRAFT: Decl = Decl {
    path: "[aircraft]",
    about: "Which aircraft this is, and the revision of what is said of it.",
    keys: &[
        Key::new("name", Form::Text, "Name of the type.").must(),
        Key::new("maker", Form::Text, "Who makes it.").must(),
        Key::new("revision", Form::Whole, "Number of the revision of this model.").must().no("it is negative"),
        Key::new("date", Form::Date, "Date of the revision.").must(),
        Key::new("handbook", Form::Text, "Title of the governing handbook.").must(),
        Key::new("registration", Form::Text, "Registration of one individual aircraft; in tails."),
        Key::new("reference-state", Form::Name("state"), "The state that is meant when none is named.")
            .or("`cruise`, if there is one"),
        NOTE,
    ],
};

/// `[display]`
pub const DISPLAY: Decl = Decl {
    path: "[display]",
    about: "The unit in which a dimension is shown.",
    keys: &[
        Key::new("speed", Form::UnitOf(Dimension::Speed), "Unit of speeds."),
        Key::new("pressure", Form::UnitOf(Dimension::Pressure), "Unit of pressures."),
        Key::new("volume", Form::UnitOf(Dimension::Volume), "Unit of volumes."),
        Key::new("mass", Form::UnitOf(Dimension::Mass), "Unit of masses."),
        Key::new("length", Form::UnitOf(Dimension::Length), "Unit of lengths."),
        Key::new("temperature", Form::UnitOf(Dimension::Temperature), "Unit of temperatures."),
        Key::new("consumption", Form::UnitOf(Dimension::VolumeFlow), "Unit of fuel consumption."),
    ],
};

fn walk_groups() -> Vec<&'static str> {
    WalkGroup::ALL.iter().map(|g| g.word()).collect()
}

fn inspection_counts() -> Vec<&'static str> {
    InspectionBy::ALL.iter().map(|b| b.word()).collect()
}

const LENGTH: &[Dimension] = &[Dimension::Length];

/// `[panel]`
pub const PANEL: Decl = Decl {
    path: "[panel]",
    about: "Size of the panel, and the order in which a person walks it.",
    keys: &[
        Key::new("size", Form::List(&Form::Quantity(LENGTH)), "Width and height.")
            .must()
            .no("there are not two, or one is not above zero"),
        Key::new(
            "walk",
            Form::List(&Form::Word(walk_groups, "unknown-word")),
            "Walking groups in order; those not named follow.",
        )
        .or("instruments, radios, switches, breakers, levers, lights, sources"),
    ],
};

/// `[time]`
pub const TIME: Decl = Decl {
    path: "[time]",
    about: "What the recording instruments count.",
    keys: &[
        Key::new("tachometer", Form::Name("item"), "The recording tachometer."),
        Key::new("reference", Form::Quantity(&[Dimension::Rotation]), "The speed at which its time is clock time.")
            .no("it is not above zero"),
        Key::new("hour-meter", Form::Name("item"), "The hour meter."),
    ],
};

/// `[[inspection]]`
pub const INSPECTION: Decl = Decl {
    path: "[[inspection]]",
    about: "What must be inspected when.",
    keys: &[
        Key::new("name", Form::Text, "Its printed name.").must().no("another inspection has it"),
        Key::new("every", Form::Text, "The interval: a quantity of hours, `\"12 calendar months\"` or `\"30 days\"`.")
            .must()
            .no("it is none of the three"),
        Key::new("by", Form::Word(inspection_counts, "unknown-word"), "What is counted.")
            .must()
            .no("it does not fit the interval"),
        Key::new(
            "overrun",
            Form::Quantity(&[Dimension::Duration]),
            "By how much it may be exceeded on the way to where it is done. The excess counts in the next interval.",
        )
        .or("not at all; the next interval counts from when it is done")
        .no("it is not above zero, or the interval is not in hours"),
        CITE,
    ],
};
