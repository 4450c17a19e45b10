//! What every table of the language may hold: one declaration a table, from which come the checks, the reference page and
//! the JSON Schema. A rule and its documentation live in one value.
mod aircraft;
mod control;
mod fault;
mod item;
mod numbers;
mod rest;

pub use rest::{CHANGE, TAIL, TOP};

use crate::base::Dimension;

/// What a value may be.
#[derive(Debug, Clone, Copy)]
pub enum Form {
    /// One line of text for print.
    Text,
    /// As [`Form::Text`], and may be empty.
    MaybeEmpty,
    /// One or more whole sentences for print.
    Sentence,
    /// True or false.
    Bool,
    /// A whole number.
    Whole,
    /// A number from 0 to 1.
    Share,
    /// A number between these two, both included.
    Between(f64, f64),
    /// A TOML date without time of day.
    Date,
    /// Two digits.
    TwoDigits,
    /// Two capitals.
    Tag,
    /// `#rrggbb`.
    Colour,
    /// Number and unit; of one of these dimensions, or of any where the list is empty.
    Quantity(&'static [Dimension]),
    /// As [`Form::Quantity`], a range.
    Range,
    /// The symbol of a unit of that dimension.
    UnitOf(Dimension),
    /// A word of a closed list, and the code for one that is not in it.
    Word(fn() -> Vec<&'static str>, &'static str),
    /// The name of something that is declared elsewhere.
    Name(&'static str),
    /// A need, as a sentence or as a table.
    Need,
    /// A list.
    List(&'static Form),
    /// A table with these keys.
    Table(&'static Decl),
    /// Tables with these keys, each under an id that it declares.
    Ids(&'static Decl),
    /// A table whose keys are names of what is declared elsewhere.
    Map(&'static str, &'static Form),
    /// Any one of these.
    OneOf(&'static [Form]),
    /// Whatever its author likes.
    Anything,
}

/// One key of a table.
#[derive(Debug, Clone, Copy)]
pub struct Key {
    /// As written.
    pub name: &'static str,
    /// What it may hold.
    pub form: Form,
    /// A table without it is an error.
    pub required: bool,
    /// What holds when it is not written.
    pub default: &'static str,
    /// What it means.
    pub meaning: &'static str,
    /// When it is refused, beyond its form.
    pub refused: &'static str,
}

impl Key {
    /// A key that need not be there.
    pub const fn new(name: &'static str, form: Form, meaning: &'static str) -> Self {
        Self { name, form, required: false, default: "", meaning, refused: "" }
    }

    /// It must be there.
    #[must_use]
    pub const fn must(mut self) -> Self {
        self.required = true;
        self
    }

    /// What holds when it is not there.
    #[must_use]
    pub const fn or(mut self, default: &'static str) -> Self {
        self.default = default;
        self
    }

    /// When it is refused.
    #[must_use]
    pub const fn no(mut self, refused: &'static str) -> Self {
        self.refused = refused;
        self
    }
}

/// One table of the language.
#[derive(Debug, Clone, Copy)]
pub struct Decl {
    /// How its head is written.
    pub path: &'static str,
    /// What it declares.
    pub about: &'static str,
    /// Its keys.
    pub keys: &'static [Key],
}

impl Decl {
    /// The key of that name.
    pub fn find(&self, name: &str) -> Option<&Key> {
        self.keys.iter().find(|k| k.name == name)
    }
}

/// A list of needs.
pub const NEEDS: Form = Form::List(&Form::Need);
/// A list of names of nodes.
pub const NODES: Form = Form::List(&Form::Name("node"));
/// A list of positions.
pub const POSITIONS: Form = Form::List(&Form::Name("position"));
/// How controls stand: one position or a list of them by control.
pub const WHEN: Form = Form::Map("control", &Form::OneOf(&[POSITIONS, Form::Name("position")]));
/// `a`, `an` or nothing.
pub const ARTICLE: Key =
    Key::new("article", Form::MaybeEmpty, "The indefinite article, where the rule of vowels fails; empty for none.")
        .or("`a` or `an` by the first letter");
/// Plural names.
pub const PLURAL: Key = Key::new("plural", Form::Bool, "The name is a plural.").or("false");
/// Pronunciation.
pub const SAID: Key = Key::new("said", Form::Text, "How it is spoken, where the spelling misleads.");
/// Other names.
pub const ALIASES: Key = Key::new("aliases", Form::List(&Form::Text), "Other names that prose may use.").or("none");
/// A remark.
pub const NOTE: Key = Key::new("note", Form::Sentence, "A remark for the student.");
/// A place in the handbook.
pub const CITE: Key = Key::new("cite", Form::Text, "Where it stands in the handbook.");
/// What the quick-reference card leaves out.
pub const OFF_CARD: Key = Key::new("off-card", Form::Bool, "It has no row on the quick-reference card.").or("false");
/// Rank of failing.
pub const LIKELY: Key = Key::new("likely", Form::Share, "Rank of its failing, from 0 to 1.");
