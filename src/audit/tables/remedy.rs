//! What works again, or stops, with which moves.

use super::Desk;
use super::failure::Case;
use crate::audit::remedies::{Move, Remedy};
use crate::audit::speech::{bare, engraved, list_of};
use std::collections::{BTreeMap, BTreeSet};

/// A line: moves, names, which of them approximately, and the sentences after them.
struct Line<'l> {
    moves: BTreeSet<String>,
    names: Vec<String>,
    roughly: BTreeSet<String>,
    sentences: &'l str,
}

impl Desk<'_> {
    pub(super) fn check_remedies(&mut self, case: &Case, aspect: &str, remedies: &[Remedy]) {
        let place = case.at(aspect);
        let mut expected: BTreeMap<BTreeSet<String>, &Remedy> =
            remedies.iter().map(|r| (r.moves.iter().map(|m| self.move_text(m)).collect(), r)).collect();
        for text in case.row(aspect) {
            let Some(line) = self.remedy_line(text) else {
                self.unreadable(&place, text, "moves: what they mend");
                continue;
            };
            match expected.remove(&line.moves) {
                Some(remedy) => self.check_remedy(&place, &line, remedy),
                None => self.notes.find("remedy-extra", &place, text, "no such line here"),
            }
        }
        for (moves, _) in expected {
            let moves = moves.into_iter().collect::<Vec<_>>().join(" and ");
            self.notes.find("remedy-missing", &place, "nothing of it", moves);
        }
    }

    fn move_text(&self, of: &Move) -> String {
        let name = self.words.name(&of.control);
        bare(&if of.cycle { format!("{name} cycled") } else { format!("{name} {}", engraved(&of.to)) })
    }

    fn remedy_line<'l>(&self, text: &'l str) -> Option<Line<'l>> {
        text.match_indices(": ").find_map(|(at, sign)| {
            let moves = list_of(&text[..at], &[" and "], &|m| self.moves.find(m))?;
            let rest = &text[at + sign.len()..];
            let whole = std::iter::once((rest, ""));
            let cut = rest.match_indices(". ").map(|(end, _)| (&rest[..end], &rest[end + 2..]));
            let (named, sentences) = whole.chain(cut).find_map(|(names, after)| {
                let named = list_of(names, &[", "], &|name| self.mended(name))?;
                Some((named, after))
            })?;
            let roughly = named.iter().filter(|(_, roughly)| *roughly).map(|(id, _)| id.clone()).collect();
            let names = named.into_iter().map(|(id, _)| id).collect();
            Some(Line { moves: moves.into_iter().collect(), names, roughly, sentences })
        })
    }

    fn mended(&self, text: &str) -> Option<(String, bool)> {
        match text.strip_suffix(" (approximately)") {
            Some(name) => Some((self.nodes.find(name)?, true)),
            None => Some((self.nodes.find(text)?, false)),
        }
    }

    fn check_remedy(&mut self, place: &str, line: &Line<'_>, remedy: &Remedy) {
        let expected = &remedy.mends | &remedy.approximately;
        self.compare(place, (&line.names, &expected));
        for id in &line.names {
            let (says, is) = (line.roughly.contains(id), remedy.approximately.contains(id));
            if says != is && expected.contains(id) {
                let word = |roughly: bool| format!("{id} {}", if roughly { "approximately" } else { "truly" });
                self.notes.find("approximate-wrong", place, word(says), word(is));
            }
        }
        let mut allowed = self.approximations(&remedy.approximately);
        allowed.extend(remedy.costs.then(|| "Other things stop too.".to_owned()));
        for sentence in allowed.iter().filter(|sentence| !line.sentences.contains(sentence.as_str())) {
            self.notes.find("sentence-wrong", place, line.sentences, sentence);
        }
        let left = allowed.iter().fold(line.sentences.to_owned(), |text, s| text.replacen(s.as_str(), "", 1));
        if !left.trim().is_empty() {
            self.notes.find("sentence-wrong", place, line.sentences, allowed.join(" "));
        }
    }

    /// The sentences of approximate feeds before these nodes.
    fn approximations(&self, ids: &BTreeSet<String>) -> Vec<String> {
        let mut open: Vec<usize> = ids.iter().filter_map(|id| self.model.number.get(id)).copied().collect();
        let mut seen: BTreeSet<usize> = BTreeSet::new();
        let mut found: BTreeSet<String> = BTreeSet::new();
        while let Some(number) = open.pop() {
            if !seen.insert(number) {
                continue;
            }
            if let Some(thing) = self.words.things.get(&self.model.nodes[number].id) {
                found.extend(thing.approximate.iter().cloned());
            }
            open.extend(&self.model.layout.uses[number]);
        }
        found.into_iter().collect()
    }
}
