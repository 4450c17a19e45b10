//! Drawings of connections, read back from their marks alone: boxes with names, bars, feeds with wedges, dots, devices, brackets,
//! flags and ports. Title and place find the drawing; what it shows is read from the marks.

mod compare;
mod feeds;
mod graph;
mod ink;
mod inputs;
mod labels;
mod lines;
mod overview;
mod parts;
mod shapes;
mod wanted;

pub(super) use ink::Ink;
pub(super) use labels::Labels;

use super::book::Call;
use super::page::{Drawn, Page};
use super::speech::bare;
use super::tables::Desk;
use compare::{Sheet, squeezed};
use std::collections::{BTreeMap, BTreeSet};
use wanted::{Teller, Wanted};

const OVERVIEW: &str = "The systems and what they give each other";
const SYSTEM: &str = ": what feeds what";

impl Desk<'_> {
    /// Every drawing of a system, of the aircraft, and of what an item hangs on.
    pub(super) fn check_drawings(&mut self, page: &Page, labels: &Labels) {
        let teller = Teller { model: self.model, words: self.words, labels };
        let things = names(&teller);
        for drawn in &page.drawn {
            let Some(ink) = &drawn.ink else { continue };
            let title = drawn.title.as_str();
            let item =
                title.strip_prefix("What ").and_then(|t| t.strip_suffix(" hangs on").or(t.strip_suffix(" hang on")));
            let system = title.strip_suffix(SYSTEM);
            let system = system.and_then(|name| self.words.systems.iter().find(|(_, n)| same(n, name)));
            let item = item.and_then(|name| self.nodes.find(name));
            let item = item.and_then(|id| self.model.number.get(&id));
            match (system, item) {
                (Some((id, _)), _) => self.check_drawing(teller, drawn, ink, (&teller.system(id), &things)),
                (_, Some(item)) => self.check_drawing(teller, drawn, ink, (&teller.chain(*item), &things)),
                _ if title == OVERVIEW => {
                    let names = self.words.systems.iter().map(|(id, name)| (squeezed(name), id.clone())).collect();
                    self.check_drawing(teller, drawn, ink, (&teller.overview(), &names));
                }
                _ if ink.is_empty() => {}
                _ => self.notes.find("unreadable", drawn.name(), title, "the title of a known drawing"),
            }
        }
        self.check_none_left_out(page);
    }

    /// Every drawing that a chapter calls for is there.
    fn check_none_left_out(&mut self, page: &Page) {
        for chapter in self.book {
            let Some(part) = page.parts.iter().find(|part| part.chapter && part.id == chapter.id) else { continue };
            let titles = || page.drawn.iter().filter(|d| d.chapter == part.name).map(|d| bare(&d.title));
            let there: BTreeSet<String> = titles().collect();
            let called: Vec<String> = chapter.calls.iter().flat_map(|call| self.titles_called(call)).collect();
            for title in called {
                let plural = title.replace(" hangs on", " hang on");
                if !there.contains(&bare(&title)) && !there.contains(&bare(&plural)) {
                    self.notes.find("drawing-missing", &part.name, "no such drawing", title);
                }
            }
        }
    }

    fn titles_called(&self, call: &Call) -> Vec<String> {
        let words = self.words;
        let chain = |id: &String| format!("What {} hangs on", words.name(id));
        match (call.name.as_str(), call.kind.as_deref()) {
            ("figure", Some("overview")) => vec![OVERVIEW.to_owned()],
            ("figure", Some("system")) => {
                words.systems.get(&call.of).map(|name| format!("{name}{SYSTEM}")).into_iter().collect()
            }
            ("figure", Some("chain")) => vec![chain(&call.of)],
            ("chains", _) => {
                let shown = words.items().filter(|(id, t)| t.system == call.of && t.on_panel && self.has_a_chain(id));
                shown.map(|(id, _)| chain(id)).collect()
            }
            _ => Vec::new(),
        }
    }

    /// What needs something itself and does not only pass it on.
    fn has_a_chain(&self, id: &str) -> bool {
        let all = self.words.with_functions(id);
        let nodes = all.iter().filter_map(|n| self.model.number.get(n)).map(|n| &self.model.nodes[*n]);
        !self.words.conducts(id) && nodes.into_iter().any(|n| !n.needs.is_empty() || !n.senses.is_empty())
    }

    fn check_drawing(
        &mut self,
        teller: Teller<'_>,
        drawn: &Drawn,
        ink: &Ink,
        (wanted, known): (&Wanted, &BTreeMap<String, String>),
    ) {
        let overview = drawn.title == OVERVIEW;
        let short = if overview { BTreeMap::new() } else { short_names(&teller, &wanted.passed) };
        let names = if short.is_empty() { known.clone() } else { known.clone().into_iter().chain(short).collect() };
        let place = drawn.name();
        let mut sheet =
            Sheet { teller, place, wanted, names: &names, overview, legend: Vec::new(), notes: &mut self.notes };
        sheet.check(ink);
        sheet.check_words(&drawn.alternative, ink.spoken());
        self.notes.report.proved.connections += wanted.feeds.len();
    }
}

/// A name as a title has it.
fn same(name: &str, title: &str) -> bool {
    super::speech::capital(name) == super::speech::capital(title)
}

/// Items and givens by name.
fn names(teller: &Teller<'_>) -> BTreeMap<String, String> {
    let things = teller.words.things.iter().filter(|(_, thing)| thing.item.is_none());
    things.map(|(id, thing)| (squeezed(&thing.name), id.clone())).collect()
}

/// Those of which a box has the short name.
fn short_names(teller: &Teller<'_>, passed: &BTreeSet<String>) -> BTreeMap<String, String> {
    passed.iter().map(|id| (squeezed(&teller.short(id)), id.clone())).collect()
}
