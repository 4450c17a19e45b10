//! Arguments to a request, answers to text or JSON; one file a verb.
//!
//! This is the only place that looks at what surrounds the program: arguments, the folder it runs in, terminals.
pub mod answers;
mod arguments;
mod asked;
mod check;
mod console;
mod due;
mod endurance;
mod explain;
pub mod findings;
mod guide;
mod new;
mod place;
mod schema;
mod sound;
mod states;
mod suspect;
mod tach;
pub mod text;
mod trace;
mod whatif;

pub use console::{ALL_WELL, Console, FINDINGS, MACHINE_FAILED, Stop, WRONG_USAGE};

use crate::pipeline::{PipelineError, ShelfError};
use crate::render::png::PngError;
use arguments::{Arguments, Verb};
use clap::Parser;
use std::ffi::OsString;
use std::io::{self, IsTerminal};

/// Runs the program as it was called, and gives its exit status.
pub fn main() -> u8 {
    let colour = io::stderr().is_terminal();
    let (mut out, mut err) = (io::stdout().lock(), io::stderr().lock());
    run(std::env::args_os(), &mut Console { out: &mut out, err: &mut err, colour })
}

/// Runs the program with these arguments, the first being its own name, and gives its exit status.
pub fn run(arguments: impl IntoIterator<Item = OsString>, console: &mut Console<'_>) -> u8 {
    let done = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => answer(&arguments.verb, console),
        Err(e) if e.use_stderr() => {
            console.complain(&e.to_string());
            return WRONG_USAGE;
        }
        Err(help_or_version) => console.answer(&help_or_version.to_string()),
    };
    match done {
        Ok(()) => ALL_WELL,
        Err(stop) => {
            if let Some(message) = stop.message() {
                console.complain(&text::visible_lines(&format!("error: {message}")));
            }
            stop.status()
        }
    }
}

fn answer(verb: &Verb, console: &mut Console<'_>) -> Result<(), Stop> {
    match verb {
        Verb::Guide(arguments) => guide::run(arguments, console),
        Verb::Check(arguments) => check::run(arguments, console),
        Verb::Whatif(arguments) => whatif::run(arguments, console),
        Verb::Trace(arguments) => trace::run(arguments, console),
        Verb::Suspect(arguments) => suspect::run(arguments, console),
        Verb::States(arguments) => states::run(arguments, console),
        Verb::Endurance(arguments) => endurance::run(arguments, console),
        Verb::Due(arguments) => due::run(arguments, console),
        Verb::Tach(arguments) => tach::run(arguments, console),
        Verb::Schema(arguments) => schema::run(arguments, console),
        Verb::New(arguments) => new::run(arguments, console),
        Verb::Explain(arguments) => explain::run(arguments, console),
    }
}

impl From<PngError> for Stop {
    fn from(error: PngError) -> Self {
        match error {
            PngError::Density(_) | PngError::TooLarge(..) => Self::Usage(error.to_string()),
            PngError::Drawing(..) => Self::Machine(error.to_string()),
        }
    }
}

impl From<PipelineError> for Stop {
    fn from(error: PipelineError) -> Self {
        match error {
            PipelineError::Book(..) | PipelineError::Refused(_) => Self::Machine(error.to_string()),
            PipelineError::NoChapter(..) => Self::Usage(error.to_string()),
            PipelineError::Picture(of) => of.into(),
        }
    }
}

impl From<ShelfError> for Stop {
    fn from(error: ShelfError) -> Self {
        match error {
            ShelfError::NoName(_) | ShelfError::NotAFile(_) => Self::Usage(error.to_string()),
            _ => Self::Machine(error.to_string()),
        }
    }
}
