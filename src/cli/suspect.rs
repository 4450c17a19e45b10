//! `suspect`: the smallest sets of faults that explain what is seen.

use super::answers::{Names, SuspectAnswer};
use super::arguments::SuspectArguments;
use super::console::{Console, Stop};
use super::sound::Sound;
use super::text;
use crate::analyse::network::Analysis;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Findings`] where the model has errors or an id is not known.
pub fn run(arguments: &SuspectArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let mut sound = Sound::read(&arguments.aircraft, console)?;
    let seen = sound.ask(console, |asked| asked.seen(arguments))?;
    let names = Names { model: &sound.model };
    let suspects = Analysis::new(&sound.model).suspects(&seen);
    let answer = SuspectAnswer::new(names, &seen, &suspects);
    if arguments.json { console.json(&answer) } else { console.answer(&text::suspect(&answer, names)) }
}
