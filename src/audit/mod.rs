//! The audit: what was printed, held against answers worked out afresh.
//!
//! Duty: read the finished page as a reader would, and hold it against answers worked out afresh from the canonical text by a
//! plain solver of its own. It shares no code with the stages that made the guide. Ids may find a block; only what is seen may
//! decide. A cell that cannot be read is itself a finding.
//!
//! What it reads: the text carried along and the fingerprints; the notice on the cover, in every chapter and on every printed
//! page; the claim of the guide and DRAFT; scripts, policy, links, ids; every table but those typed in chapters and those of what
//! a tail changes, row for row and cell for cell; worked sums; names and numbers in running text where the page says of what they
//! are; that every table that the chapters call for is there and every fault is told once; of the drawings of the panel after a
//! failure and in each state: every sign and needle by its place, the legend, the words beside it, and that none is missing; of
//! the drawings of systems, of the aircraft and of what an item hangs on: the graph as its marks alone show it, and the words
//! beside it; of plots: every corner of every line and every bar by the ticks that are drawn, the letters at them, and the table
//! beside them.
//!
//! What it does not look at: the large drawing of the panel; which function of a box a feed ends at, but in the words beside the
//! drawing; the form of a symbol, and colours and patterns of lines; free prose and the claims in it; tables typed in chapters; what
//! a tail changes; the order of rows and lines, but of the index and by the numbers of the walk round; articles and capitals;
//! whether the chain "by way of" is the shortest one (it does look whether each thing on it is changed and hangs on the one
//! before); a chapter that is left out where one chapter alone is asked for. And it does not know whether the model is true of an
//! aircraft, nor whether the canonical text says what its author typed: a wrong reading of TOML or of a tail that both sides share
//! is held by checks against the outside.

mod amount;
mod board;
mod book;
mod card;
mod carried;
mod drawing;
mod effects;
mod fault_reading;
mod fields;
mod finding;
mod later;
mod layout;
mod numbers;
mod page;
mod parts;
mod pdf;
mod plots;
mod print;
mod promises;
mod prose;
mod reading;
mod remedies;
mod seals;
mod situation;
mod solver;
mod speech;
mod states;
mod tables;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod trials;
mod whole;
mod words;

pub use effects::{Effects, HazardFact, Inquiry, Pairs, Source, Target};
pub use finding::{Finding, Proved, Report};
pub use parts::{FaultName, Lapse, PlainModel};
pub use remedies::{Move, Remedy};
pub use states::StateAnswer;

use board::Board;
use book::Chapter;
use drawing::Labels;
use finding::Notes;
use page::Page;
use promises::Confirmed;
use tables::Desk;
use toml::Table;
use words::Words;

/// Reads a finished page back and holds it against the canonical text that it was made from.
pub fn audit_html(html: &str, canonical: &str) -> Vec<Finding> {
    report(html, canonical).findings
}

/// The same, with how much was proved.
pub fn report(html: &str, canonical: &str) -> Report {
    match Basis::read(canonical) {
        Ok(source) => Examiner::new(&source).report(html),
        Err(error) => {
            let (page, mut notes) = (Page::read(html), Notes::default());
            carried::check(&page, canonical, &mut notes);
            seals::check(&page, &mut notes);
            promises::check(&page, None, &mut notes);
            notes.find("model-unreadable", "Canonical text", error, "a model in TOML");
            notes.finish()
        }
    }
}

/// What is printed beside the page on the screen: PDF files.
#[derive(Debug, Clone, Copy, Default)]
pub struct Papers<'p> {
    /// The guide as pages.
    pub guide: Option<&'p [u8]>,
    /// The same, to be folded to a booklet.
    pub booklet: Option<&'p [u8]>,
    /// The quick-reference card.
    pub card: Option<&'p [u8]>,
}

/// The same of a guide that is printed too: pages say what the page on the screen says, and the card what the model says.
pub fn report_with_papers(html: &str, papers: Papers<'_>, canonical: &str) -> Report {
    let Ok(source) = Basis::read(canonical) else { return report(html, canonical) };
    let mut examiner = Examiner::new(&source);
    let mut report = examiner.report(html);
    for pages in papers.guide.into_iter().chain(papers.booklet) {
        report.join(examiner.pages(html, pages));
    }
    if let Some(card) = papers.card {
        report.join(examiner.card(card));
    }
    report
}

/// A canonical text, read by the audit alone.
#[derive(Debug)]
pub struct Basis {
    canonical: String,
    model: PlainModel,
    words: Words,
    board: Board,
    labels: Labels,
    book: Vec<Chapter>,
}

impl Basis {
    /// Reads model and chapters.
    ///
    /// # Errors
    /// A text that names the place of the first thing in the model that is missing, unknown or of the wrong type.
    pub fn read(canonical: &str) -> Result<Self, String> {
        let (model, chapters) = book::parts(canonical);
        let table: Table = model.parse().map_err(|error| format!("the model is not TOML: {error}"))?;
        let (mut model, mut words) = (PlainModel::of(&table)?, Words::read(&table)?);
        numbers::work_out_times(&mut model, &mut words);
        let maps = [&words.states, &words.systems];
        let has = |id: &str| words.things.contains_key(id) || maps.iter().any(|map| map.contains_key(id));
        let book = chapters.iter().filter_map(|(file, body)| Chapter::read(file, body, &has)).collect();
        let (board, labels) = (Board::read(&table)?, Labels::read(&table)?);
        Ok(Self { canonical: canonical.to_owned(), model, words, board, labels, book })
    }

    fn confirmed(&self) -> Confirmed {
        let seen = self.words.items().filter(|(_, thing)| thing.seen.is_some()).count();
        Confirmed { seen, items: self.words.items().count() }
    }
}

/// Holds finished pages against one source; the answers are worked out once for all of them.
pub struct Examiner<'s> {
    source: &'s Basis,
    desk: Desk<'s>,
}

impl<'s> Examiner<'s> {
    /// Ready for the first page.
    pub fn new(source: &'s Basis) -> Self {
        Self { source, desk: Desk::new(&source.model, &source.words, &source.book) }
    }

    /// Audits one page.
    pub fn report(&mut self, html: &str) -> Report {
        let page = Page::read(html);
        let mut notes = Notes::default();
        carried::check(&page, &self.source.canonical, &mut notes);
        seals::check(&page, &mut notes);
        promises::check(&page, Some(self.source.confirmed()), &mut notes);
        self.desk.begin(notes);
        self.desk.read(&page);
        self.desk.check_figures(&page, &self.source.board);
        self.desk.check_chains(&page);
        self.desk.check_drawings(&page, &self.source.labels);
        self.desk.check_plots(&page, &self.source.book);
        self.desk.check_worked_called(&page, &self.source.book);
        whole::check(&page, &self.source.book, &mut self.desk);
        prose::check(&page, &mut self.desk);
        self.desk.end()
    }

    /// Holds printed pages against the page on the screen.
    pub fn pages(&self, html: &str, bytes: &[u8]) -> Report {
        let mut notes = Notes::default();
        print::check(&Page::read(html), bytes, &self.source.canonical, &mut notes);
        notes.finish()
    }

    /// Audits a quick-reference card.
    pub fn card(&mut self, bytes: &[u8]) -> Report {
        self.desk.begin(Notes::default());
        card::check(bytes, self.source, &mut self.desk);
        self.desk.end()
    }
}
