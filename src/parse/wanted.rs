//! What a form wants, in words.

use super::key::Form;
use crate::base::text::join_list;

/// What a form wants, in words.
pub fn wanted(form: &Form) -> String {
    match form {
        Form::Text | Form::MaybeEmpty => "text".to_owned(),
        Form::Sentence => "text of whole sentences".to_owned(),
        Form::Bool => "true or false".to_owned(),
        Form::Whole => "a whole number".to_owned(),
        Form::Share => "a number from 0 to 1".to_owned(),
        Form::Between(low, high) => format!("a number from {low} to {high}"),
        Form::Date => "a date".to_owned(),
        Form::TwoDigits => "text of two digits".to_owned(),
        Form::Tag => "text of two capitals".to_owned(),
        Form::Colour => "text like \"#1f4fb0\"".to_owned(),
        Form::Quantity(dimensions) => match dimensions {
            [] => "number and unit, as text".to_owned(),
            some => {
                let names: Vec<&str> = some.iter().map(|d| d.name()).collect();
                format!("number and unit of {}, as text", join_list(&names, "or"))
            }
        },
        Form::Range => "a range and its unit, as text".to_owned(),
        Form::UnitOf(dimension) => format!("a unit of {}", dimension.name()),
        Form::Word(words, _) => {
            let words = words();
            if words.len() > 12 { "a word of a closed list".to_owned() } else { join_words(&words) }
        }
        Form::Name(of) => format!("the id of {} {of}", if of.starts_with(['a', 'i']) { "an" } else { "a" }),
        Form::Need => "a need".to_owned(),
        Form::List(of) => format!("a list, each {}", wanted(of)),
        Form::Table(decl) => format!("a table `{}`", decl.path),
        Form::Ids(decl) => format!("tables `{}`", decl.path),
        Form::Map(of, value) => format!("a table by {of}, each {}", wanted(value)),
        Form::OneOf(forms) => join_list(&forms.iter().map(wanted).collect::<Vec<_>>(), "or"),
        Form::Anything => "anything".to_owned(),
    }
}

pub fn join_words(words: &[&str]) -> String {
    join_list(&words.iter().map(|w| format!("`{w}`")).collect::<Vec<_>>(), "or")
}
