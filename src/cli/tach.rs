//! `tach`: tachometer time beside clock time.

use super::answers::{LegAnswer, Names, TachAnswer, VERSION, aircraft};
use super::arguments::TachArguments;
use super::console::{Console, Stop};
use super::sound::Sound;
use super::text;
use crate::analyse::tach;

/// More than any flight has: keeps a sum of mistyped numbers from looking like an answer.
const MOST: f64 = 100_000.0;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Usage`] where a leg cannot be read; [`Stop::Findings`] where the model has errors or says no reference speed.
pub fn run(arguments: &TachArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let legs = arguments.leg.iter().map(|l| leg(l)).collect::<Result<Vec<_>, _>>()?;
    let sound = Sound::read(&arguments.aircraft, console)?;
    let reference = sound.model.time.as_ref().and_then(|t| t.reference.as_ref());
    let Some(reference) = reference else {
        console.complain("error: the model says no reference speed: give it `[time]` with `reference`, as in \"2400 rpm\"");
        return Err(Stop::Findings);
    };
    todo!()
}
