//! What an item hangs on, in words: each line is a feed of the model, and no feed of the item itself is left out.

use super::Desk;
use crate::audit::page::{Drawn, Page};
use crate::audit::parts::Number;
use crate::audit::speech::{bare, spoken};
use std::collections::BTreeSet;

impl Desk<'_> {
    /// Every drawing "What the … hangs on".
    pub(in crate::audit) fn check_chains(&mut self, page: &Page) {
        let feeds: Vec<(Number, String)> = (0..self.model.nodes.len()).flat_map(|n| self.feeds_in_words(n)).collect();
        for drawn in &page.drawn {
            let title = drawn.title.strip_prefix("What ");
            let name = title.and_then(|t| t.strip_suffix(" hangs on").or_else(|| t.strip_suffix(" hang on")));
            let Some(name) = name else { continue };
            match self.nodes.find(name) {
                Some(id) => self.check_chain(drawn, &id, &feeds),
                None => self.unreadable(&drawn.name(), name, "an item of the model"),
            }
        }
    }

    fn check_chain(&mut self, drawn: &Drawn, item: &str, feeds: &[(Number, String)]) {
        let mut told: BTreeSet<&str> = BTreeSet::new();
        for line in &drawn.alternative {
            match feeds.iter().filter(|(_, words)| says(line, words)).max_by_key(|(_, words)| words.len()) {
                Some((_, words)) => drop(told.insert(words)),
                None => self.notes.find("feed-wrong", drawn.name(), line, "a feed of the model"),
            }
        }
        let all = self.words.with_functions(item);
        let own = feeds.iter().filter(|(n, _)| all.contains(&self.model.nodes[*n].id));
        for (_, words) in own.filter(|(_, words)| !told.contains(words.as_str())) {
            self.notes.find("feed-missing", drawn.name(), "no such line", words);
        }
    }

    /// `main bus → clock through the fuse` for each feed of a node.
    fn feeds_in_words(&self, who: Number) -> Vec<(Number, String)> {
        let node = &self.model.nodes[who];
        let mut feeds = Vec::new();
        node.needs.iter().chain(&node.senses).for_each(|need| need.feeds(&mut feeds));
        let name = |n: Number| self.words.name(&self.model.nodes[n].id);
        let in_words = |feed: &&crate::audit::parts::Feed| {
            let passed: Vec<String> = feed.through.iter().map(|n| name(*n)).collect();
            let through = if passed.is_empty() { String::new() } else { format!(" through {}", spoken(&passed)) };
            (who, bare(&format!("{} → {}{through}", name(feed.from), name(who))))
        };
        feeds.iter().map(in_words).collect()
    }
}

/// Whether a line says a feed, with a condition or the medium after it.
fn says(line: &str, words: &str) -> bool {
    let line = bare(line);
    let rest = line.strip_prefix(words);
    rest.is_some_and(|rest| {
        rest.is_empty() || [", when ", ", once on", ", sensed", " ("].iter().any(|s| rest.starts_with(s))
    })
}
