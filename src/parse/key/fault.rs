//! `[item.<id>.fault.<id>]`

use super::{Decl, Form, Key, LIKELY, NODES, WHEN};
use crate::base::Dimension;
use crate::model::{Asked, FoundBy, HazardLevel};

fn found_by() -> Vec<&'static str> {
    FoundBy::ALL.iter().map(|f| f.word()).collect()
}

fn asked() -> Vec<&'static str> {
    Asked::ALL.iter().map(|a| a.word()).collect()
}

fn levels() -> Vec<&'static str> {
    HazardLevel::ALL.iter().map(|l| l.word()).collect()
}

const ENTRY: Decl = Decl {
    path: "{ what, when }",
    about: "One thing that a fault does, and when.",
    keys: &[
        Key::new("what", Form::Name("node"), "The thing.").must(),
        Key::new("when", WHEN, "How controls must stand for it; all of them.").or("always"),
    ],
};

const TOLD_ENTRY: Decl = Decl {
    path: "{ what, text, when }",
    about: "One thing that a fault makes false or weakens, when, and what is seen of it.",
    keys: &[
        Key::new("what", Form::Name("node"), "The thing.").must(),
        Key::new("text", Form::Sentence, "What it shows then, or how it works; a sentence.")
            .or("`on-false` of the thing, for what is false"),
        Key::new("when", WHEN, "How controls must stand for it; all of them.").or("always"),
    ],
};

const IGNORES: Decl = Decl {
    path: "{ what, for, when }",
    about: "A control or coil whose conditions count as met.",
    keys: &[
        Key::new("what", Form::Name("item"), "The control, or the item with a coil.").must(),
        Key::new("for", NODES, "For these nodes; an item stands for itself and its functions.")
            .or("the item that fails"),
        Key::new("when", WHEN, "How other controls must stand for it.").or("always"),
    ],
};

const LEADS_TO: Decl = Decl {
    path: "{ what, in }",
    about: "A fault that follows in time.",
    keys: &[
        Key::new("what", Form::Name("fault"), "The fault: `item:fault`.").must(),
        Key::new("in", Form::Quantity(&[Dimension::Duration]), "After this time.").or("not known"),
    ],
};

const HAZARD: Decl = Decl {
    path: "{ text, level, when }",
    about: "What can hurt.",
    keys: &[
        Key::new("text", Form::Sentence, "What can hurt; no instruction.").must(),
        Key::new("level", Form::Word(levels, "unknown-word"), "How much it weighs, in the sense of flight manuals.")
            .or("`warning`"),
        Key::new("when", WHEN, "While controls stand so.").or("always"),
    ],
};

const CUE: Decl = Decl {
    path: "{ text, when }",
    about: "What is noticed.",
    keys: &[
        Key::new("text", Form::Sentence, "What the pilot feels, hears, smells or sees.").must(),
        Key::new("when", WHEN, "While controls stand so.").or("always"),
    ],
};

const ENTRIES: Form = Form::List(&Form::OneOf(&[Form::Name("node"), Form::Table(&ENTRY)]));
const TOLD_ENTRIES: Form = Form::List(&Form::OneOf(&[Form::Name("node"), Form::Table(&TOLD_ENTRY)]));
const ALERTS: Form = Form::List(&Form::OneOf(&[Form::Name("alert"), Form::Table(&ENTRY)]));

pub const FAULT: Decl = Decl {
    path: "[item.<id>.fault.<id>]",
    about: "One way to fail. `fails` need not be written where stopping to work is all there is to say.",
    keys: &[
        Key::new("said", Form::Text, "Verb phrase, printed after the name: \"is blocked\".").or("fails"),
        Key::new("loses", ENTRIES, "Functions of this item that stop working, or its own id for the whole item.")
            .or("the whole item, for `fails` without `loses` and `misleads`")
            .no("it names what is not of this item"),
        Key::new("takes", ENTRIES, "Other items or functions that stop working with it."),
        Key::new("weakens", TOLD_ENTRIES, "What still works, but rough or less than full."),
        Key::new("misleads", TOLD_ENTRIES, "What becomes false; its own id for itself.")
            .or("the line itself, for `fails` of a static or pitot line or port without `loses`"),
        Key::new(
            "traps",
            ENTRIES,
            "Where these would be lost, what was in them stays shut in: they go on working, false.",
        ),
        Key::new("trips", ENTRIES, "Breakers or resettable devices that stay open, in every position.")
            .no("it is neither"),
        Key::new(
            "ignores",
            Form::List(&Form::OneOf(&[Form::Name("item"), Form::Table(&IGNORES)])),
            "Controls or coils whose conditions count as met.",
        )
        .no("it has no hazard"),
        Key::new(
            "leads-to",
            Form::OneOf(&[
                Form::Name("fault"),
                Form::Table(&LEADS_TO),
                Form::List(&Form::OneOf(&[Form::Name("fault"), Form::Table(&LEADS_TO)])),
            ]),
            "A fault that follows in time.",
        ),
        Key::new("shows", ALERTS, "Alerts that show because of it."),
        Key::new("hides", ALERTS, "Alerts that do not show though they should."),
        Key::new("found-by", Form::Word(found_by, "unknown-word"), "When it is found, if nothing shows it."),
        Key::new(
            "cue",
            Form::OneOf(&[Form::Sentence, Form::Table(&CUE)]),
            "What the pilot feels, hears, smells or sees.",
        ),
        Key::new(
            "hazard",
            Form::OneOf(&[
                Form::Sentence,
                Form::Table(&HAZARD),
                Form::List(&Form::OneOf(&[Form::Sentence, Form::Table(&HAZARD)])),
            ]),
            "What can hurt.",
        ),
        Key::new("see", Form::Text, "Where the handbook speaks of it."),
        LIKELY,
        Key::new("transient", Form::Bool, "It may be mended by cycling a control that resets its item.").or("false"),
        Key::new("restorable", Form::Bool, "Restoring moves are offered though it has a hazard.").or("false"),
        Key::new("asked", Form::Word(asked, "unknown-word"), "Where it is asked about.").or("`always`"),
    ],
};
