//! `new`: a small model, a chapter and their guide, in a new folder.

use super::arguments::NewArguments;
use super::console::{Console, Stop};
use super::guide;
use super::place;
use super::text;
use crate::pipeline::{self, Fresh, Parts, ShelfError, Until, starter};
use std::fs;
use std::path::Path;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Machine`] where the folder holds something, or cannot be written. Then nothing of it is there.
pub fn run(arguments: &NewArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let folder = &arguments.folder;
    free(folder)?;
    let fresh = Fresh::begin(folder)?;
    write(&fresh)?;
    let aircraft = place::find(fresh.path())?;
    let request = pipeline::Request { pdf: true, ..guide::request(&aircraft, Until::Audited, false) };
    let compiled = pipeline::compile(&request)?;
    guide::tell(&compiled, false, console)?;
    let (Some(document), Some(made)) = (&compiled.document, &compiled.guide) else { return Err(Stop::Findings) };
    guide::disagreements(made, console)?;
    let parts = Parts { html: true, pdf: true, svg: true, ..Parts::default() };
    pipeline::put(&made.bundle(document, parts)?, &fresh.path().join("guide"))?;
    fresh.put()?;
    console.answer(&text::visible_lines(&next_steps(folder)))
}

/// The folder is not there yet, or holds nothing.
fn free(folder: &Path) -> Result<(), Stop> {
    let said = folder.display();
    let refused = |why: String| Err(Stop::Machine(format!("`{said}` {why}: nothing was written")));
    if folder.is_symlink() {
        return refused("is a link".to_owned());
    }
    match fs::read_dir(folder) {
        Ok(mut entries) => match entries.next() {
            Some(Ok(entry)) => refused(format!("is not empty: it holds `{}`", entry.file_name().to_string_lossy())),
            Some(Err(e)) => refused(format!("cannot be read ({e})")),
            None => Ok(()),
        },
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => Ok(()),
        Err(e) => refused(format!("cannot be used as a folder ({e})")),
    }
}

fn write(fresh: &Fresh) -> Result<(), ShelfError> {
    let (name, text) = starter::MODEL;
    fresh.write(name, text)?;
    starter::BOOK.iter().try_for_each(|(name, text)| fresh.write(&format!("book/{name}"), text))
}

fn next_steps(folder: &Path) -> String {
    let folder = folder.display();
    format!(
        "{folder}/aircraft.toml     the model: five items\n\
         {folder}/book              its chapter\n\
         {folder}/guide/{file}  its guide\n\n\
         Change the model, then:\n    ribstitch check {folder}\n    ribstitch guide {folder} --out {folder}/guide\n",
        file = pipeline::GUIDE_FILE
    )
}
