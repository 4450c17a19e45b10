//! `states`: what works in which cockpit state.

use super::answers::{Names, StatesAnswer};
use super::arguments::StatesArguments;
use super::console::{Console, Stop};
use super::sound::Sound;
use super::text;
use crate::analyse::network::Analysis;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Findings`] where the model has errors.
pub fn run(arguments: &StatesArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let sound = Sound::read(&arguments.aircraft, console)?;
    let analysis = Analysis::new(&sound.model);
    let solved: Vec<_> = sound.model.state_indices().map(|s| analysis.state(s)).collect();
    let answer = StatesAnswer::new(Names { model: &sound.model }, &solved);
    if arguments.json { console.json(&answer) } else { console.answer(&text::states(&answer)) }
}
