//! The index of items: each item once, by name, with a link to everything on the page that tells of it.

use super::{Desk, Sort};
use crate::audit::page::{Grid, Page};
use crate::audit::speech::{bare, capital};
use std::collections::{BTreeMap, BTreeSet};

/// What is seen of a link, and the caption of what it leads to; both as they are held against print.
type Link = (String, String);

impl Desk<'_> {
    pub(super) fn check_index(&mut self, grid: &Grid, page: &Page) {
        let captions = captions(page);
        let mut listed: Vec<String> = Vec::new();
        for (row, links) in grid.rows.iter().zip(&grid.links) {
            let name = row.first().map(|cell| cell.join(" ")).unwrap_or_default();
            let Some(id) = self.nodes.find(&name) else {
                self.unreadable(&grid.name(), name, "the name of an item");
                continue;
            };
            self.check_entry((grid, page), (links, &captions), &id);
            listed.push(id);
        }
        let names: Vec<String> = listed.iter().map(|id| self.words.name(id).to_lowercase()).collect();
        if let Some(pair) = names.windows(2).find(|pair| pair[0] > pair[1]) {
            self.notes.find("order-wrong", grid.name(), pair.join(", then "), "names in the order of the alphabet");
        }
        let expected: BTreeSet<String> = self.words.items().map(|(id, _)| id.clone()).collect();
        self.compare(&grid.name(), (&listed, &expected));
    }

    fn check_entry(
        &mut self,
        (grid, page): (&Grid, &Page),
        (links, captions): (&[(String, String)], &BTreeMap<String, String>),
        id: &str,
    ) {
        let place = format!("{}, row “{}”", grid.name(), capital(&self.words.name(id)));
        let expected = self.links_of(id, page);
        let mut seen = BTreeSet::new();
        for (text, to) in links {
            let caption = captions.get(to).map(|c| bare(c)).unwrap_or_default();
            let link = (bare(text), caption.clone());
            if !expected.contains(&link) {
                let wrong = expected.iter().find(|(t, _)| *t == link.0).map(|(_, c)| c.clone());
                let code = if wrong.is_some() { "link-astray" } else { "link-extra" };
                let says = format!("“{text}”, which leads to “{caption}”");
                self.notes.find(code, &place, says, wrong.unwrap_or_else(|| "no such link here".to_owned()));
            }
            seen.insert(link);
        }
        for (text, caption) in expected.difference(&seen) {
            self.notes.find("link-missing", &place, "no such link", format!("“{text}”, to “{caption}”"));
        }
    }

    /// Everything on the page that tells of an item.
    fn links_of(&self, id: &str, page: &Page) -> BTreeSet<Link> {
        let mut found = BTreeSet::new();
        let mut put = |text: String, caption: &str| found.insert((bare(&text), bare(caption)));
        let Some(thing) = self.words.things.get(id) else { return found };
        let number = self.round_numbers().get(id).copied();
        for grid in &page.grids {
            let in_it = || grid.rows.iter().any(|row| self.is_round_row(row, id));
            match self.sort_of(grid) {
                Some(Sort::Items) if self.system_in(grid).as_deref() == Some(thing.system.as_str()) => {
                    put(grid.caption.clone(), &grid.caption);
                }
                Some(Sort::Round) if in_it() => {
                    let text = number.map_or_else(|| "off the panel".to_owned(), |n| format!("no. {n}"));
                    put(format!("walk round, {text}"), &grid.caption);
                }
                _ => {}
            }
        }
        for told in self.told.iter().filter(|told| told.fault.item == id) {
            let clause = self.words.clause(&told.fault);
            let state = self.words.states.get(&told.state).map_or("", String::as_str);
            match told.sort {
                Sort::NothingLost => put(format!("If {clause}: takes nothing else"), &told.caption),
                _ => put(format!("If {clause} ({state})"), &told.caption),
            };
        }
        let system = self.words.systems.get(&thing.system).cloned().unwrap_or_default();
        for figure in &page.figures {
            let of_system = bare(&figure.title) == bare(&format!("{system}: what feeds what"));
            if of_system || thing.on_panel && bare(&figure.title) == "panel" {
                put(figure.title.clone(), &figure.title);
            }
        }
        found
    }

    fn is_round_row(&self, row: &[Vec<String>], id: &str) -> bool {
        let named = |cell: &Vec<String>| cell.first().and_then(|name| self.nodes.find(name)).is_some_and(|n| n == id);
        row.iter().take(2).any(named)
    }
}

/// What a reader sees as the caption of every table and drawing, by id.
fn captions(page: &Page) -> BTreeMap<String, String> {
    let grids = page.grids.iter().map(|grid| (grid.id.clone(), grid.caption.clone()));
    grids.chain(page.figures.iter().map(|figure| (figure.id.clone(), figure.title.clone()))).collect()
}
