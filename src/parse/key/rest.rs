//! The other tables, and the table of all tables.

use super::aircraft::{AIRCRAFT, DISPLAY, INSPECTION, PANEL, TIME};
use super::item::{GIVEN, ITEM};
use super::numbers::{ENDURANCE, FLIGHT};
use super::{ALIASES, ARTICLE, CITE, Decl, Form, Key, NEEDS, NODES, NOTE, OFF_CARD, PLURAL};
use crate::model::LinePattern;

fn patterns() -> Vec<&'static str> {
    LinePattern::ALL.iter().map(|(_, word, _)| *word).collect()
}

const MEDIUM: Decl = Decl {
    path: "[medium.<id>]",
    about: "What flows in a feed, where it is not built in.",
    keys: &[
        Key::new("name", Form::Text, "Its name in running text.").must(),
        Key::new("tag", Form::Tag, "Two capitals, drawn at the line.").must().no("another medium has it"),
        Key::new("colour", Form::Colour, "For light paper.").must().no("its contrast with white is below 4.5 to 1"),
        Key::new("line", Form::Word(patterns, "unknown-word"), "The pattern of its line.")
            .must()
            .no("another medium has it"),
    ],
};

const INFORMATION: Decl = Decl {
    path: "[information.<id>]",
    about: "What the pilot needs to know.",
    keys: &[
        Key::new("name", Form::Text, "Its printed name.").must(),
        Key::new("prefer", NODES, "Its sources, best first."),
        ARTICLE,
        PLURAL,
    ],
};

const ALERT: Decl = Decl {
    path: "[alert.<id>]",
    about: "A light, flag or pointer that shows when something it watches is lost.",
    keys: &[
        Key::new("name", Form::Text, "Its printed name.").must(),
        Key::new("on", Form::Name("item"), "The item that shows it.").must(),
        Key::new("watches", NEEDS, "It shows when this does not hold.").must().no("it is empty"),
        Key::new("needs", NEEDS, "What it needs in order to show.").or("nothing"),
        Key::new("reads", Form::Sentence, "What is seen."),
        ARTICLE,
        PLURAL,
        ALIASES,
    ],
};

const STATE: Decl = Decl {
    path: "[state.<id>]",
    about: "A named cockpit state.",
    keys: &[
        Key::new("name", Form::Text, "Its printed name.").must(),
        Key::new(
            "controls",
            Form::Map("control", &Form::Name("position")),
            "Positions that it sets; the others are inherited.",
        )
        .or("from the state before; from cold, the rest of each control"),
        Key::new("givens", Form::Map("given", &Form::Bool), "Givens that it sets.")
            .or("from the state before; from cold, `normally`"),
        Key::new("after", Form::Name("state"), "It starts running, at the end of that state.")
            .no("it runs in a ring, or `like` is there too"),
        Key::new("like", Form::Name("state"), "It starts cold, with the controls and givens of that state.")
            .no("as `after`"),
        Key::new("reached-if", NODES, "What must work at the end of the state before."),
        Key::new("in-flight", Form::Bool, "Controls on the ground cannot be reached.")
            .or("as the state before; from cold, false"),
        Key::new("on-ground", Form::Bool, "Everything in a person's reach counts.")
            .or("the contrary of `in-flight`")
            .no("both are true"),
        NOTE,
    ],
};

const QUANTITY: Decl = Decl {
    path: "[quantity.<id>]",
    about: "A number with a name.",
    keys: &[
        Key::new("name", Form::Text, "Its printed name.").must(),
        Key::new("value", Form::Quantity(&[]), "The number.").must(),
        CITE,
        Key::new("of", Form::Name("item"), "The item that it is about."),
        NOTE,
        OFF_CARD,
    ],
};

const SYSTEM: Decl = Decl {
    path: "[system.<id>]",
    about: "A system with its published number.",
    keys: &[
        Key::new("name", Form::Text, "Its printed name.").must().no("another system has it"),
        Key::new("number", Form::TwoDigits, "The published two-digit number.").must(),
        Key::new("does", Form::Sentence, "What it does, in sentences for the student."),
    ],
};

/// `[tail]`
pub const TAIL: Decl = Decl {
    path: "[tail]",
    about: "The head of a tail: one individual aircraft, in `tails/` of its type's folder. Its `[aircraft]` and `[private]` take the place of the type's keys.",
    keys: &[Key::new("over", Form::Name("tail"), "Another tail of the folder that this one changes.")
        .or("the type itself")
        .no("it runs in a ring, or is not a bare name")],
};

/// One change that a tail makes.
pub const CHANGE: Decl = Decl {
    path: "[add.…], [replace.…], [remove.…]",
    about: "A change of the table whose path follows: a table that is new, keys that take the place of others, a table that goes. Other keys are those of that table.",
    keys: &[Key::new("reason", Form::Sentence, "Why this aircraft differs; it is printed.").must()],
};

/// All tables of a model file.
pub const TOP: Decl = Decl {
    path: "a model file",
    about: "What a model file may hold. All files of a folder are one model; each fact is declared once.",
    keys: &[
        Key::new("aircraft", Form::Table(&AIRCRAFT), "Which aircraft this is.").must(),
        Key::new("display", Form::Table(&DISPLAY), "Units for display."),
        Key::new("medium", Form::Ids(&MEDIUM), "Media that are not built in."),
        Key::new("given", Form::Ids(&GIVEN), "Outside facts."),
        Key::new("item", Form::Ids(&ITEM), "What the aircraft is made of."),
        Key::new("information", Form::Ids(&INFORMATION), "What the pilot needs to know."),
        Key::new("alert", Form::Ids(&ALERT), "What shows a loss."),
        Key::new("state", Form::Ids(&STATE), "Cockpit states."),
        Key::new("quantity", Form::Ids(&QUANTITY), "Numbers with names."),
        Key::new("system", Form::Ids(&SYSTEM), "Systems."),
        Key::new("time", Form::Table(&TIME), "What the recording instruments count."),
        Key::new("inspection", Form::List(&Form::Table(&INSPECTION)), "What must be inspected when."),
        Key::new("flight", Form::Ids(&FLIGHT), "Flights in legs."),
        Key::new("endurance", Form::Table(&ENDURANCE), "What is done from the loss of the alternator to the landing."),
        Key::new("panel", Form::Table(&PANEL), "The panel."),
        Key::new("private", Form::Anything, "The owner's notes: never printed, never embedded."),
    ],
};
