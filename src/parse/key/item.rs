//! `[item.<id>]` and `[item.<id>.function.<id>]`

use super::control::{
    CONDUCTS_IN, NEVER_OFFER, OFF_WITH, PLACE, POSITIONS_KEY, PULL, REACHABLE, RESETS, REST, SCALE, SPRINGS_TO,
};
use super::fault::FAULT;
use super::numbers::{DISCHARGE, DUTY, INTERMITTENT, PRESSURE_OFFSET, USABLE, WIRE};
use super::{ALIASES, ARTICLE, CITE, Decl, Form, Key, LIKELY, NEEDS, NOTE, OFF_CARD, PLURAL, SAID};
use crate::base::Dimension;
use crate::model::{Kind, Looks};

fn kinds() -> Vec<&'static str> {
    Kind::ALL.iter().map(|k| k.word()).collect()
}

fn looks() -> Vec<&'static str> {
    Looks::ALL.iter().map(|l| l.word()).collect()
}

fn hows() -> Vec<&'static str> {
    vec!["directly", "indirectly"]
}

fn results() -> Vec<&'static str> {
    vec!["endurance"]
}

const TOLD: Decl = Decl {
    path: "tells = [{ … }]",
    about: "One piece of information that a node tells.",
    keys: &[
        Key::new("information", Form::Name("information"), "What is told.").must(),
        Key::new("how", Form::Word(hows, "unknown-word"), "Whether it shows the thing itself or what it follows from.")
            .or("`directly`"),
        Key::new("only", Form::Text, "The limit within which it tells: \"in steady, level flight\"."),
        NOTE,
    ],
};

const LOSS: Decl = Decl {
    path: "on-loss = { … = { … } }",
    about: "What is seen when something is gone.",
    keys: &[
        Key::new(
            "looks",
            Form::Word(looks, "unknown-word"),
            "How it looks. What freezes, wanders or centres looks alive.",
        )
        .must(),
        Key::new("text", Form::Sentence, "The same in words."),
    ],
};

const RESULT: Decl = Decl {
    path: "lasts = { result = … }",
    about: "A time that is computed.",
    keys: &[Key::new("result", Form::Word(results, "unknown-word"), "Name of the result.").must()],
};

const SEEN: Decl = Decl {
    path: "seen = { … }",
    about: "Confirmed at the aircraft.",
    keys: &[
        Key::new("by", Form::Text, "Initials.").must(),
        Key::new("on", Form::Date, "The day.").must(),
        Key::new("how", Form::Text, "How it was confirmed: `walked`, `tested`."),
    ],
};

const DOES: Key = Key::new("does", Form::Sentence, "What it does, in sentences for the student.");
const NEEDS_KEY: Key = Key::new("needs", NEEDS, "What it needs in order to work; all of it.")
    .or("nothing")
    .no("it feeds itself, and not sustained");
const SENSES: Key = Key::new(
    "senses",
    NEEDS,
    "What a gauge measures. The way there must be whole; the thing measured need not be there.",
);
const GIVES: Key = Key::new("gives", Form::Name("medium"), "The medium that others get from it.")
    .or("that of the first feed, for kinds that conduct")
    .no("it is left out where others are fed from it and there is no default");
const DRAWS: Key =
    Key::new("draws", Form::Quantity(&[Dimension::Current, Dimension::Power]), "What it draws.").no("it is negative");
const TELLS: Key = Key::new(
    "tells",
    Form::List(&Form::OneOf(&[Form::Name("information"), Form::Table(&TOLD)])),
    "What it tells the pilot.",
);
const ON_LOSS: Key = Key::new(
    "on-loss",
    Form::Map("medium or node", &Form::Table(&LOSS)),
    "What it shows when a medium or a node is gone.",
);
const ON_FALSE: Key = Key::new(
    "on-false",
    Form::Map("medium or node", &Form::Sentence),
    "What it shows when a medium or a node that it is fed with is false.",
);
const READS: Key = Key::new("reads-when-absent", Form::Sentence, "What a gauge shows when what it senses is gone.")
    .no("it senses nothing");
const LASTS: Key = Key::new(
    "lasts",
    Form::OneOf(&[Form::Quantity(&[Dimension::Duration]), Form::Table(&RESULT)]),
    "How long a store carries its consumers once nothing keeps it up.",
);

const FUNCTION: Decl = Decl {
    path: "[item.<id>.function.<id>]",
    about: "One job of an item that has several. It works when its item works and its own needs hold.",
    keys: &[
        Key::new("name", Form::Text, "Its name, printed with that of its item: \"altitude reporting\".").must(),
        DOES,
        NEEDS_KEY,
        SENSES,
        GIVES,
        TELLS,
        ON_LOSS,
        ON_FALSE,
        READS,
        DRAWS,
        DUTY,
        INTERMITTENT,
        LASTS,
        CITE,
        NOTE,
    ],
};

pub const ITEM: Decl = Decl {
    path: "[item.<id>]",
    about: "Anything that a pilot can point at or a mechanic can replace.",
    keys: &[
        Key::new("name", Form::Text, "As a pilot says it, without article.").must().no("another node has it"),
        Key::new(
            "kind",
            Form::Word(kinds, "unknown-kind"),
            "What sort of thing it is: fixes symbol, walking group and defaults.",
        )
        .must(),
        Key::new("system", Form::Name("system"), "The system that it belongs to.").must(),
        Key::new("short", Form::Text, "For drawings, at most 14 characters.").or("the name").no("it is longer"),
        ARTICLE,
        PLURAL,
        SAID,
        ALIASES,
        DOES,
        NEEDS_KEY,
        SENSES,
        Key::new("kept-by", NEEDS, "While all of it holds, a store is not being spent.").no("it has no `lasts`"),
        Key::new("spent-by", NEEDS, "A store is being spent only while all of it holds.").no("it has no `lasts`"),
        GIVES,
        DRAWS,
        DUTY,
        INTERMITTENT,
        Key::new("rating", Form::Quantity(&[Dimension::Current]), "Of a breaker, fuse, alternator or contactor.")
            .no("it is negative"),
        Key::new("capacity", Form::Quantity(&[Dimension::Charge, Dimension::Volume, Dimension::Mass]), "Of a store.")
            .no("it is negative"),
        Key::new("voltage", Form::Quantity(&[Dimension::Voltage]), "Nominal voltage.").no("it is negative"),
        USABLE,
        DISCHARGE,
        WIRE,
        PRESSURE_OFFSET,
        TELLS,
        ON_LOSS,
        ON_FALSE,
        READS,
        LASTS,
        CITE,
        NOTE,
        LIKELY,
        Key::new("cannot-fail", Form::Text, "Why it has no fault `fails`.").no("it has one"),
        Key::new("seen", Form::Table(&SEEN), "Confirmed at the aircraft."),
        POSITIONS_KEY,
        REST,
        CONDUCTS_IN,
        SPRINGS_TO,
        OFF_WITH,
        NEVER_OFFER,
        RESETS,
        REACHABLE,
        PULL,
        OFF_CARD,
        Key::new("function", Form::Ids(&FUNCTION), "Its functions."),
        Key::new("fault", Form::Ids(&FAULT), "Its ways to fail.").or("`fails`"),
        Key::new("panel", Form::Table(&PLACE), "Its place on the panel."),
        Key::new("scale", Form::Table(&SCALE), "Its scale."),
    ],
};

/// `[given.<id>]`
pub const GIVEN: Decl = Decl {
    path: "[given.<id>]",
    about: "An outside fact that nothing in the aircraft makes. It fails by becoming false.",
    keys: &[
        Key::new("name", Form::Text, "As a pilot says it.").must(),
        Key::new("normally", Form::Bool, "Whether it holds when no state says otherwise.").must(),
        Key::new("gives", Form::Name("medium"), "The medium that others get from it.")
            .no("it is left out where others are fed from it"),
        ARTICLE,
        PLURAL,
        SAID,
        ALIASES,
        NOTE,
        Key::new("fault", Form::Ids(&FAULT), "Its fault `fails`.")
            .or("`fails`, said \"is gone\"")
            .no("it is not called `fails`"),
    ],
};
