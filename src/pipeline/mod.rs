//! The stages in their order: parse → resolve → check the model → analyse → compose, where claims are proved → check the
//! book → diagram → render → audit.
mod bundle;
mod card;
mod drawings;
mod fresh;
mod only;
mod shelf;
pub mod starter;

pub use bundle::{Bundle, MANIFEST};
pub use fresh::Fresh;
pub use shelf::{ShelfError, put, put_file};

use crate::analyse::network::Analysis;
use crate::base::{Diagnostics, Sources};
use crate::compose::Prints;
use crate::diagram::Scene;
use crate::doc::{Document, Prose};
use crate::parse::book::{self, Book};
use crate::render::Paper;
use crate::render::pdf::PdfError;
use crate::render::png::{Density, Painter, PngError};
use crate::{audit, check, compose, diagram, render, resolve};
use drawings::{drawings, figures, pictures};
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::path::PathBuf;

/// The texts that the renderers fill.
const TEMPLATES: &[&str] = &[
    include_str!("../../templates/page.html"),
    include_str!("../../templates/page.css"),
    include_str!("../../templates/page.js"),
];

/// What is compiled and how far.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Request {
    /// Type folder or tail file.
    pub aircraft: PathBuf,
    /// Folder of the chapters; the small book that the program brings where there is none.
    pub book: Option<PathBuf>,
    /// Only the chapter of this id.
    pub only: Option<String>,
    /// The paper that the guide is laid out for when it is printed.
    pub paper: Paper,
    /// Pages too.
    pub pdf: bool,
    /// A quick-reference card too.
    pub card: bool,
    /// Pages to be folded to a booklet too.
    pub booklet: bool,
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
    /// What the chapters say in their own words, and what is claimed in them.
    pub prose: Prose,
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
    /// The same as pages, where they were asked for.
    pub pdf: Option<Vec<u8>>,
    /// The quick-reference card, where it was asked for.
    pub card: Option<Vec<u8>>,
    /// The pages to be folded, where they were asked for.
    pub booklet: Option<Vec<u8>>,
    /// Drawings as SVG files, by id of their figure.
    pub pictures: BTreeMap<String, String>,
    /// How much was held against the model, and where they disagree: nowhere, or the guide is not put in place.
    pub audited: audit::Report,
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
    /// A picture is not to be made so.
    #[error(transparent)]
    Picture(#[from] PngError),
    /// The library refuses a file; a mistake of ours.
    #[error("{0}")]
    Refused(String),
}

/// What is written of a guide.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Parts {
    /// The one file that is read.
    pub html: bool,
    /// The same as pages.
    pub pdf: bool,
    /// Every drawing as SVG.
    pub svg: bool,
    /// Every drawing as a picture of that density.
    pub png: Option<Density>,
    /// The quick-reference card, where it was asked for.
    pub card: bool,
    /// The pages to be folded, where they were asked for.
    pub booklet: bool,
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
    findings.append(check::model::check(&model, &analysis, &sources));
    let prints = Prints::new(&resolve::canonical_model(&model), &book, &sources, TEMPLATES);
    let canonical = prints.canonical.clone();
    let composed = compose::compose_with_prose(&model, &analysis, &book, &sources, prints); // claims are proved here
    findings.append(composed.diagnostics);
    findings.append(check::book::check(&model, &analysis, &composed.prose));
    let Some(document) = composed.document else { return Ok(Compiled::stopped(sources, findings)) };
    findings.sort(&sources);
    let prose = composed.prose;
    let mut compiled = Compiled { sources, findings, prose, document: Some(document.clone()), guide: None };
    if request.until == Until::Audited && !compiled.is_stopped(request.strict) {
        let card = request.card.then(|| card::make(&model, &analysis, &mut compiled, &document.meta)).transpose()?;
        let document = printed(&document, request)?;
        let figures = figures(&document);
        let scenes = diagram::draw_all(&figures, &model);
        let scenes: BTreeMap<String, Scene> = figures.iter().map(|f| f.id.clone()).zip(scenes).collect();
        let html = render::html::write_for(&document, &drawings(&scenes), request.paper);
        let (paper, refused) = (request.paper, |e: PdfError| PipelineError::Refused(e.to_string()));
        let pdf = request.pdf.then(|| render::pdf::write(&document, &scenes, paper)).transpose().map_err(refused)?;
        let folded = request.booklet.then(|| render::pdf::write_booklet(&document, &scenes, paper));
        let booklet = folded.transpose().map_err(refused)?;
        let card = card.flatten();
        let papers = audit::Papers { guide: pdf.as_deref(), booklet: booklet.as_deref(), card: card.as_deref() };
        let audited = audit::report_with_papers(&html, papers, &canonical);
        if !compiled.is_stopped(request.strict) {
            compiled.guide = Some(Guide { html, pdf, card, booklet, pictures: pictures(&scenes), audited });
        }
    }
    Ok(compiled)
}

/// Name of the pages to be folded.
pub const BOOKLET_FILE: &str = "booklet.pdf";
/// Name of the quick-reference card.
pub const CARD_FILE: &str = "card.pdf";
/// Name of the file with the pages.
pub const PAGES_FILE: &str = "guide.pdf";
/// Name of the one file that is read.
pub const GUIDE_FILE: &str = "guide.html";

impl Compiled {
    fn stopped(sources: Sources, mut findings: Diagnostics) -> Self {
        findings.sort(&sources);
        Self { sources, findings, prose: Prose::default(), document: None, guide: None }
    }

    /// True if the findings stop the work: errors, or anything at all where warnings count.
    pub fn is_stopped(&self, strict: bool) -> bool {
        self.document.is_none() || self.findings.has_errors() || strict && !self.findings.is_empty()
    }
}

/// The document as it is printed: all of it, or the one chapter that is wanted.
fn printed<'d>(whole: &'d Document, request: &Request) -> Result<Cow<'d, Document>, PipelineError> {
    let Some(wanted) = &request.only else { return Ok(Cow::Borrowed(whole)) };
    only::only(whole, wanted).map(Cow::Owned).ok_or_else(|| {
        let ids: Vec<&str> = whole.chapters.iter().map(|c| c.id.as_str()).collect();
        PipelineError::NoChapter(wanted.clone(), ids.join(", "))
    })
}

impl Guide {
    /// The files of the guide with their manifest.
    ///
    /// # Errors
    /// [`PipelineError::Picture`] where a picture cannot be made at that density.
    pub fn bundle(&self, document: &Document, parts: Parts) -> Result<Bundle, PipelineError> {
        let mut bundle = Bundle::default();
        if parts.html {
            bundle.add(GUIDE_FILE, self.html.clone().into_bytes());
        }
        if let Some(pdf) = self.pdf.as_ref().filter(|_| parts.pdf) {
            bundle.add(PAGES_FILE, pdf.clone());
        }
        if parts.svg {
            for (id, picture) in &self.pictures {
                bundle.add(format!("drawings/{}.svg", file_name(id)), picture.clone().into_bytes());
            }
        }
        if let Some(card) = self.card.as_ref().filter(|_| parts.card) {
            bundle.add(CARD_FILE, card.clone());
        }
        if let Some(booklet) = self.booklet.as_ref().filter(|_| parts.booklet) {
            bundle.add(BOOKLET_FILE, booklet.clone());
        }
        if let Some(density) = parts.png {
            let painter = Painter::new(density);
            for (id, picture) in &self.pictures {
                let name = file_name(id);
                bundle.add(format!("drawings/{name}.png"), painter.paint(&name, picture)?);
            }
        }
        bundle.seal(&document.meta.type_name, &document.meta.facts_fingerprint);
        Ok(bundle)
    }
}

/// `figure/electrical` → `electrical`; letters, digits and dashes alone.
fn file_name(figure: &str) -> String {
    let bare = figure.strip_prefix("figure/").unwrap_or(figure);
    bare.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect()
}

fn read_book(request: &Request, sources: &mut Sources) -> Result<(Book, Diagnostics), PipelineError> {
    match &request.book {
        Some(folder) => book::load(folder, sources).map_err(|e| PipelineError::Book(folder.clone(), e)),
        None => Ok(book::read(
            starter::BOOK.iter().map(|(n, t)| ((*n).to_owned(), t.as_bytes().to_vec())).collect(),
            sources,
        )),
    }
}
