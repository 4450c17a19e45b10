//! The keys that make an item a control, and its place and face.

use super::{Decl, Form, Key, POSITIONS};
use crate::base::Dimension;
use crate::model::{ArcMark, Face, Unfed};

fn faces() -> Vec<&'static str> {
    Face::ALL.iter().map(|f| f.word()).collect()
}

fn marks() -> Vec<&'static str> {
    ArcMark::ALL.iter().map(|m| m.word()).collect()
}

fn unfed() -> Vec<&'static str> {
    Unfed::ALL.iter().map(|u| u.word()).collect()
}

/// The words of `reachable`.
pub fn reaches() -> Vec<&'static str> {
    vec!["in flight", "on the ground", "no"]
}

pub const POSITIONS_KEY: Key = Key::new("positions", POSITIONS, "The positions of a control, in the order of moving.")
    .or("`off`, `on` for a switch; `in`, `out` for a breaker; else it is no control")
    .no("there are fewer than two, or one stands twice");
pub const REST: Key =
    Key::new("rest", Form::Name("position"), "Where it stands in the cold aircraft.").or("the first position");
pub const CONDUCTS_IN: Key = Key::new("conducts-in", POSITIONS, "In which positions it passes a feed.")
    .or("`on`, where the positions are exactly `off` and `on`; `in` for a breaker")
    .no("it is left out of a control with other positions");
pub const SPRINGS_TO: Key = Key::new(
    "springs-to",
    Form::Map("position", &Form::Name("position")),
    "A position that does not stay, and the one it falls back to.",
);
pub const OFF_WITH: Key =
    Key::new("off-with", Form::Name("control"), "It counts as `off` while that control does not conduct.")
        .no("it runs in a ring");
pub const NEVER_OFFER: Key = Key::new("never-offer", POSITIONS, "No restoring move ends there.").or("none");
pub const RESETS: Key =
    Key::new("resets", Form::List(&Form::Name("item")), "Cycling this control mends a transient fault of those.")
        .or("none");
pub const REACHABLE: Key = Key::new("reachable", Form::Word(reaches, "unknown-word"), "When a pilot can reach it.")
    .or("`in flight` with a place on the panel, else `no`");
pub const PULL: Key = Key::new("pull", Form::Bool, "A breaker that can be pulled.").or("false").no("it is no breaker");

/// `[item.<id>.panel]`
pub const PLACE: Decl = Decl {
    path: "[item.<id>.panel]",
    about: "Where an item sits on the panel and how its face is drawn.",
    keys: &[
        Key::new(
            "at",
            Form::List(&Form::Quantity(&[Dimension::Length])),
            "Its centre, from the panel's top left: across, down.",
        )
        .must()
        .no("there are not two, or it lies outside the panel"),
        Key::new(
            "size",
            Form::OneOf(&[Form::Quantity(&[Dimension::Length]), Form::List(&Form::Quantity(&[Dimension::Length]))]),
            "Its width and height, or one length for both.",
        )
        .must()
        .no("it is not above zero, or it covers another item"),
        Key::new("face", Form::Word(faces, "unknown-word"), "How it is drawn.").must(),
        Key::new("label", Form::Text, "What is engraved beside it."),
    ],
};

/// `[item.<id>.scale]`
pub const SCALE: Decl = Decl {
    path: "[item.<id>.scale]",
    about: "The scale of a face.",
    keys: &[
        Key::new("span", Form::Range, "From end to end.").must().no("it runs backwards"),
        Key::new("arcs", Form::List(&Form::Table(&ARC)), "Coloured arcs and radial lines.")
            .or("none")
            .no("an arc leaves the span"),
        Key::new("rests", Form::Quantity(&[]), "Where the needle rests.")
            .no("it is of another dimension than the span"),
        Key::new("usual", Form::Quantity(&[]), "Where the needle usually stands in the reference state.")
            .no("it is of another dimension than the span"),
        Key::new(
            "usual-in",
            Form::Map("state", &Form::Quantity(&[])),
            "Where the needle stands instead in states in which engine speed or heat differ.",
        )
        .or("as `usual`")
        .no("it is of another dimension than the span, leaves the span, or is of the reference state"),
        Key::new("unfed", Form::Word(unfed, "unknown-word"), "What the needle does when nothing drives it."),
        Key::new("unnumbered", Form::Bool, "Its marks have no figures.").or("false"),
    ],
};

/// One arc.
pub const ARC: Decl = Decl {
    path: "arcs = [{ … }]",
    about: "One coloured arc, or a radial line.",
    keys: &[
        Key::new("over", Form::Quantity(&[]), "A range, or one value for a radial line.").must(),
        Key::new("mark", Form::Word(marks, "unknown-word"), "Its colour.").must(),
    ],
};
