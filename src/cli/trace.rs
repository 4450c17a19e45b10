//! `trace`: what a thing hangs on, and what hangs on it.

use super::answers::{Names, TraceAnswer};
use super::arguments::TraceArguments;
use super::console::{Console, Stop};
use super::sound::Sound;
use super::text;
use crate::analyse::network::Analysis;
use crate::diagram::{self, svg};
use crate::pipeline;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Usage`] where the picture is no `.svg`; [`Stop::Findings`] where the model has errors or the id is not known;
/// [`Stop::Machine`] where the picture cannot be written.
pub fn run(arguments: &TraceArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    if let Some(file) = arguments.picture.as_deref().filter(|f| f.extension().is_none_or(|e| e != "svg")) {
        return Err(Stop::Usage(format!("the picture is SVG; `{}` does not end in `.svg`", file.display())));
    }
    let mut sound = Sound::read(&arguments.aircraft, console)?;
    let node = sound.ask(console, |asked| asked.node(&arguments.id))?;
    let names = Names { model: &sound.model };
    let analysis = Analysis::new(&sound.model);
    let trace = analysis.trace(node);
    let answer = TraceAnswer::new(names, &trace);
    if let Some(file) = &arguments.picture {
        let picture = svg::write(&diagram::draw_trace(node, &trace.upstream, &sound.model));
        pipeline::put_file(file, picture.as_bytes())?;
    }
    if arguments.json { console.json(&answer) } else { console.answer(&text::trace(&answer, names)) }
}
