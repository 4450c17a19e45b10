//! The stages in their order: parse → resolve → check the model → analyse → compose, where claims are proved → check the
//! book → diagram → render → audit.
mod bundle;
mod only;
mod prints;
mod shelf;
pub mod starter;

pub use bundle::{Bundle, MANIFEST};
pub use shelf::{ShelfError, put};

use crate::analyse::network::Analysis;
use crate::base::{Diagnostics, Severity, Sources};
use crate::doc::{Block, Document, Figure};
use crate::model::Model;
use crate::parse::book::{self, Book};
use crate::render::html::Drawing;
use crate::{audit, check, compose, diagram, render, resolve};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// What is compiled and how far.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Request {
    /// Type folder or tail file.
    pub aircraft: PathBuf,
    /// Folder of the chapters; the small book that the program brings where there is none.
    pub book: Option<PathBuf>,
    /// Only the chapter of this id.
    pub only: Option<String>,
    /// Warnings stop the work too.
    pub strict: bool,
    /// Where the work ends.
    pub until: Until,
}

/// Where the work ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Until {
    /// Once model and book are proved.
    Proved,
    /// Once the finished guide was read back.
    Audited,
}

/// What came of it.
#[derive(Debug)]
pub struct Compiled {
    /// Every file that was read.
    pub sources: Sources,
    /// All that is to be said of them, in order.
    pub findings: Diagnostics,
    /// The proved document, if there is one.
    pub document: Option<Document>,
    /// The finished guide, if it was asked for and nothing stands against it.
    pub guide: Option<Guide>,
}

/// A finished guide and what the audit found in it.
#[derive(Debug)]
pub struct Guide {
    /// The one file.
    pub html: String,
    /// Drawings by id of their figure.
    pub drawings: BTreeMap<String, Drawing>,
    /// Where the guide and its model disagree: nothing, or the guide is not put in place.
    pub disagreements: Vec<audit::Finding>,
}

/// Why a run cannot be made at all.
#[derive(Debug, thiserror::Error)]
pub enum PipelineError {
    /// A folder or file of the book.
    #[error("cannot read `{0}`: {1}")]
    Book(PathBuf, std::io::Error),
    /// There is no chapter of that id.
    #[error("there is no chapter `{0}`; the chapters are: {1}")]
    NoChapter(String, String),
}

/// Compiles a guide.
///
/// # Errors
/// When the chapters cannot be read or the one chapter that is wanted is not there. What is wrong with model and book is told
/// by the findings.
pub fn compile(request: &Request) -> Result<Compiled, PipelineError> {
    let mut sources = Sources::default();
    let (model, mut findings) = resolve::load(&request.aircraft, &mut sources); // parse, resolve
    let (book, said) = read_book(request, &mut sources)?; // parse
    findings.append(said);
    let Some(model) = model else { return Ok(Compiled::stopped(sources, findings)) };
    let analysis = Analysis::new(&model);
    findings.append(check::model::check(&model, &analysis));
    let prints = prints::of(&model, &book, &sources);
    let canonical = prints.canonical.clone();
    let (document, said) = compose::compose(&model, &analysis, &book, &sources, prints); // claims are proved here
    findings.append(said);
    let Some(document) = document else { return Ok(Compiled::stopped(sources, findings)) };
    findings.append(check::book::check(&document, &model, &analysis));
    findings.sort(&sources);
    let mut compiled = Compiled { sources, findings, document: Some(document), guide: None };
    if request.until == Until::Audited && !compiled.is_stopped(request.strict) {
        let document = compiled.printed(request)?;
        let drawings = draw(&document, &model, &analysis);
        let html = render::html::write(&document, &drawings);
        let disagreements = audit::audit_html(&html, &canonical);
        compiled.guide = Some(Guide { html, drawings, disagreements });
    }
    Ok(compiled)
}
