//! The audit: what was printed, held against answers worked out afresh.
//!
//! Duty: read the finished page as a reader would, and hold it against answers worked out afresh from the canonical text by a
//! plain solver of its own. It shares no code with the stages that made the guide. Ids may find a block; only what is seen may
//! decide. A cell that cannot be read is itself a finding.
//!
//! What it reads: the text carried along and the fingerprints; the notice on the cover, in every chapter and on every printed
//! page; the claim of the guide and DRAFT; scripts, policy, links, ids; every table but those typed in chapters and those of what
//! a tail changes, row for row and cell for cell; worked sums; names and numbers in running text where the page says of what they
//! are; that every table that the chapters call for is there and every fault is told once.
//!
//! What it does not look at: drawings and their text alternatives; free prose and the claims in it; tables typed in chapters; what
//! a tail changes; the order of rows and lines; articles and capitals; whether the chain "by way of" is the shortest one (it does
//! look whether each thing on it is changed and hangs on the one before); a chapter that is left out where one chapter alone is
//! asked for. And it does not know whether the model is true of an aircraft, nor whether the canonical text says what its author
//! typed: a wrong reading of TOML or of a tail that both sides share is held by checks against the outside.

mod amount;
mod book;
mod carried;
mod effects;
mod fault_reading;
mod fields;
mod finding;
mod later;
mod layout;
mod page;
mod parts;
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

use book::Chapter;
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
    let page = Page::read(html);
    let mut notes = Notes::default();
    carried::check(&page, canonical, &mut notes);
    seals::check(&page, &mut notes);
    let (model, chapters) = book::parts(canonical);
    match read_model(model) {
        Ok((model, words)) => {
            let seen = words.items().filter(|(_, thing)| thing.seen.is_some()).count();
            promises::check(&page, Some(Confirmed { seen, items: words.items().count() }), &mut notes);
            notes = held_against(&page, &chapters, (&model, &words), notes);
        }
        Err(error) => {
            promises::check(&page, None, &mut notes);
            notes.find("model-unreadable", "Canonical text", error, "a model in TOML");
        }
    }
    notes.finish()
}

fn read_model(text: &str) -> Result<(PlainModel, Words), String> {
    let table: Table = text.parse().map_err(|error| format!("the model is not TOML: {error}"))?;
    Ok((PlainModel::of(&table)?, Words::read(&table)?))
}

fn held_against(page: &Page, chapters: &[(&str, &str)], (model, words): (&PlainModel, &Words), notes: Notes) -> Notes {
    let has =
        |id: &str| words.things.contains_key(id) || words.states.contains_key(id) || words.systems.contains_key(id);
    let book: Vec<Chapter> = chapters.iter().filter_map(|(file, body)| Chapter::read(file, body, &has)).collect();
    let mut desk = Desk::new(model, words, notes);
    desk.read(page);
    whole::check(page, &book, &mut desk);
    prose::check(page, &mut desk);
    desk.notes
}
