//! `whatif`: what one or more faults do.

use super::answers::{Names, WhatifAnswer};
use super::arguments::WhatifArguments;
use super::console::{Console, Stop};
use super::sound::Sound;
use super::text;
use crate::analyse::network::Analysis;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Findings`] where the model has errors or an id is not known.
pub fn run(arguments: &WhatifArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let WhatifArguments { fail, situation, set, then, .. } = arguments;
    let mut sound = Sound::read(&arguments.aircraft, console)?;
    let question = sound.ask(console, |asked| asked.question(fail, situation, set, then))?;
    let names = Names { model: &sound.model };
    let effects = Analysis::new(&sound.model).effects(&question);
    let answer = WhatifAnswer::new(names, &effects);
    if arguments.json { console.json(&answer) } else { console.answer(&text::whatif(&answer, names)) }
}
