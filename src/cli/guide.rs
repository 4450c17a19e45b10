//! `guide`: compile, audit and write the guide.

use super::arguments::{Format, GuideArguments, PaperSize};
use super::console::{Console, Stop};
use super::findings;
use super::place::{self, Aircraft};
use super::text::visible_lines;
use crate::base::text::join_list;
use crate::doc::Document;
use crate::pipeline::{self, Compiled, Guide, Parts, Request, Until};
use crate::render::Paper;
use crate::render::png::Density;
use std::path::PathBuf;

/// Runs the verb.
///
/// # Errors
/// [`Stop`]; then nothing has changed where the guide would stand.
pub fn run(arguments: &GuideArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let parts = wanted(arguments)?;
    let aircraft = place::find(&arguments.aircraft)?;
    let mut request = request(&aircraft, Until::Audited, arguments.strict);
    request.only.clone_from(&arguments.only);
    request.paper = paper(arguments.paper);
    (request.card, request.pdf, request.booklet) = (parts.card, parts.pdf, parts.booklet);
    let compiled = pipeline::compile(&request)?;
    tell(&compiled, arguments.strict, console)?;
    let (Some(document), Some(guide)) = (&compiled.document, &compiled.guide) else { return Err(Stop::Findings) };
    disagreements(guide, console)?;
    let place = arguments.out.clone().unwrap_or_else(|| usual_place(&aircraft, document));
    let bundle = guide.bundle(document, parts)?;
    pipeline::put(&bundle, &place)?;
    console.answer(&visible_lines(&done(&place, guide, parts)))
}

/// What is compiled for an aircraft that was found.
pub(super) fn request(aircraft: &Aircraft, until: Until, strict: bool) -> Request {
    Request {
        aircraft: aircraft.path.clone(),
        book: aircraft.book(),
        only: None,
        paper: Paper::default(),
        pdf: false,
        card: false,
        booklet: false,
        strict,
        until,
    }
}

/// Shows all findings.
///
/// # Errors
/// [`Stop::Findings`] where they stop the work.
pub(super) fn tell(compiled: &Compiled, strict: bool, console: &mut Console<'_>) -> Result<(), Stop> {
    if let Some(summary) = findings::summary(&compiled.findings) {
        console.complain(&findings::human(&compiled.findings, &compiled.sources, console.colour));
        console.complain(&format!("{summary}."));
    }
    if compiled.is_stopped(strict) { Err(Stop::Findings) } else { Ok(()) }
}

/// Shows where the finished guide and its model disagree.
///
/// # Errors
/// [`Stop::Findings`] where there is anything to show.
pub(super) fn disagreements(guide: &Guide, console: &mut Console<'_>) -> Result<(), Stop> {
    if guide.audited.findings.is_empty() {
        return Ok(());
    }
    for finding in &guide.audited.findings {
        console.complain(&format!("error[audit]: {finding}\n"));
    }
    let count = guide.audited.findings.len();
    console.complain(&format!(
        "The finished guide does not agree with its model in {count} places, so it is not written."
    ));
    Err(Stop::Findings)
}

/// Which files are written.
fn wanted(arguments: &GuideArguments) -> Result<Parts, Stop> {
    let GuideArguments { formats, density, .. } = arguments;
    let density = density.as_deref().map(Density::read).transpose()?;
    let png = formats.contains(&Format::Png);
    if density.is_some() && !png {
        return Err(Stop::Usage("`--density` is of png pictures: add `--formats png`".to_owned()));
    }
    Ok(Parts {
        html: formats.contains(&Format::Html),
        pdf: formats.contains(&Format::Pdf),
        svg: formats.contains(&Format::Svg),
        png: png.then(|| density.unwrap_or_default()),
        card: formats.contains(&Format::Card),
        booklet: formats.contains(&Format::Booklet),
    })
}

fn paper(size: PaperSize) -> Paper {
    match size {
        PaperSize::A4 => Paper::A4,
        PaperSize::Letter => Paper::Letter,
        PaperSize::A5 => Paper::A5,
    }
}

/// `out/<registration>`, or the name of the type folder.
fn usual_place(aircraft: &Aircraft, document: &Document) -> PathBuf {
    let name = document.meta.registration.as_deref().map(file_name).unwrap_or_default();
    PathBuf::from("out").join(if name.is_empty() { aircraft.type_name() } else { name })
}

/// A registration as the name of a folder: letters, digits and single dashes, so that it leads nowhere else.
fn file_name(registration: &str) -> String {
    let plain: String = registration.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    plain.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")
}

fn done(place: &std::path::Path, guide: &Guide, parts: Parts) -> String {
    let mut written = Vec::new();
    if parts.html {
        written.push(pipeline::GUIDE_FILE.to_owned());
    }
    if parts.pdf {
        written.push(pipeline::PAGES_FILE.to_owned());
    }
    if parts.card {
        written.push(pipeline::CARD_FILE.to_owned());
    }
    if parts.booklet {
        written.push(pipeline::BOOKLET_FILE.to_owned());
    }
    let count = guide.pictures.len();
    let plural = if count == 1 { "" } else { "s" };
    if parts.svg {
        written.push(format!("{count} drawing{plural}"));
    }
    if parts.png.is_some() {
        written.push(format!("{count} picture{plural}"));
    }
    let (place, written) = (place.display(), join_list(&written, "and"));
    format!("{place}: {written}.\nHeld against the model: {}.", guide.audited.proved)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_registration_names_one_folder_and_leads_nowhere_else() {
        assert_eq!(file_name("FM-104"), "FM-104");
        assert_eq!(file_name("../../etc"), "etc");
        assert_eq!(file_name("a/b\\c"), "a-b-c");
    }
}
