//! `schema`: JSON Schemas of the model files and of the JSON answers, and the page of every key.

use super::answers::{DueAnswer, EnduranceAnswer, StatesAnswer, SuspectAnswer, TachAnswer, TraceAnswer, WhatifAnswer};
use super::arguments::{SchemaArguments, SchemaOf};
use super::check::ClaimsAnswer;
use super::console::{Console, Stop};
use super::findings::CheckAnswer;
use crate::parse;
use schemars::schema_for;
use serde_json::{Value, json};

/// Runs the verb.
///
/// # Errors
/// [`Stop::Output`] where the answer cannot be written.
pub fn run(arguments: &SchemaArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    if arguments.keys {
        return console.answer(&parse::reference());
    }
    match arguments.of {
        Some(SchemaOf::Model) => console.json(&parse::model_schema()),
        Some(SchemaOf::Answers) => console.json(&answers()),
        None => console.json(&json!({ "model": parse::model_schema(), "answers": answers() })),
    }
}

/// The schema of each verb's answer, by verb.
pub fn answers() -> Value {
    json!({
        "check": schema_for!(CheckAnswer),
        "check --claims": schema_for!(ClaimsAnswer),
        "due": schema_for!(DueAnswer),
        "endurance": schema_for!(EnduranceAnswer),
        "states": schema_for!(StatesAnswer),
        "suspect": schema_for!(SuspectAnswer),
        "tach": schema_for!(TachAnswer),
        "trace": schema_for!(TraceAnswer),
        "whatif": schema_for!(WhatifAnswer),
    })
}
