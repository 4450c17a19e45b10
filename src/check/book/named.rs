//! Finding the names of things in running text.

use crate::model::{Item, ItemIx, MediumIx, Model, NodeKind, Noun};
use std::collections::BTreeMap;
use std::ops::Range;

/// All names by which prose may speak of things, in lower case.
pub struct Names {
    by_id: BTreeMap<String, Vec<String>>,
    items: Index<ItemIx>,
    media: Index<MediumIx>,
}

/// Names by their first word, so that a text is gone through once for all of them.
struct Index<T>(BTreeMap<String, Vec<(Name, T)>>);

/// A name in lower case, and as it is written where only that spelling counts.
struct Name {
    lower: String,
    exact: Option<String>,
}

impl Name {
    fn new(written: &str, exact: bool) -> Self {
        Self { lower: written.to_lowercase(), exact: exact.then(|| written.to_owned()) }
    }
}

impl<T: Copy> Index<T> {
    fn new(names: impl Iterator<Item = (Name, T)>) -> Self {
        let mut by_word: BTreeMap<String, Vec<(Name, T)>> = BTreeMap::new();
        for (name, of) in names {
            let word = name.lower.split(|c| !joins(c)).next().unwrap_or("").to_owned();
            by_word.entry(word).or_default().push((name, of));
        }
        // The longest name that begins with a word is meant.
        for names in by_word.values_mut() {
            names.sort_by_key(|(name, _)| std::cmp::Reverse(name.lower.len()));
        }
        Self(by_word)
    }

    /// Where names stand in a text; of names that overlap, the first and longest.
    fn scan(&self, written: &str) -> Vec<(Range<usize>, T)> {
        let text = &lower(written);
        let mut found: Vec<(Range<usize>, T)> = Vec::new();
        let mut free = 0;
        for (at, word) in words(text) {
            if at < free {
                continue;
            }
            let bare = word.strip_suffix('s').unwrap_or(word);
            let rest = text.get(at..).unwrap_or("");
            let names = [word, bare].into_iter().filter_map(|w| self.0.get(w)).flatten();
            let as_written = |name: &Name| {
                name.exact.as_ref().is_none_or(|exact| written.get(at..).is_some_and(|t| t.starts_with(exact.as_str())))
            };
            let names = names.filter(|(name, _)| as_written(name));
            let fits = names.filter_map(|(name, of)| Some((length_of(rest, &name.lower)?, *of)));
            if let Some((length, of)) = fits.max_by_key(|(length, _)| *length) {
                free = at + length;
                found.push((at..free, of));
            }
        }
        found
    }
}

/// Words with where they begin.
fn words(text: &str) -> Vec<(usize, &str)> {
    let mut at = 0;
    let mut words = Vec::new();
    for piece in text.split_inclusive(|c| !joins(c)) {
        let word = piece.trim_end_matches(|c| !joins(c));
        if !word.is_empty() {
            words.push((at, word));
        }
        at += piece.len();
    }
    words
}

/// How long a name is at the beginning of a text, a plural `s` with it, if it stands there as words of its own.
fn length_of(text: &str, name: &str) -> Option<usize> {
    let after = text.strip_prefix(name)?;
    let plural = usize::from(after.starts_with('s'));
    let free = !after.get(plural..).is_some_and(|t| t.starts_with(joins));
    free.then_some(name.len() + plural)
}

fn joins(c: char) -> bool {
    c.is_alphanumeric() || c == '-'
}

impl Names {
    /// The names of a model.
    pub fn new(model: &Model) -> Self {
        let mut by_id: BTreeMap<String, Vec<String>> = BTreeMap::new();
        let mut add = |id: &str, names: Vec<String>| by_id.entry(id.to_owned()).or_default().extend(names);
        for node in &model.nodes {
            add(&node.id, of_noun(&node.noun));
            if let NodeKind::Function(item, _) = node.kind {
                add(&node.id, of_noun(&model[model[item].node].noun));
            }
        }
        for alert in &model.alerts {
            add(alert.id.as_str(), of_noun(&alert.noun));
            add(alert.id.as_str(), of_noun(&model[model[alert.on].node].noun));
        }
        model.information.iter().for_each(|i| add(i.id.as_str(), of_noun(&i.noun)));
        model.media.iter().for_each(|m| add(m.id.as_str(), vec![m.name.to_lowercase()]));
        let of_item = |(at, item): (usize, &Item)| {
            let noun = spellings(&model[item.node].noun);
            noun.into_iter().map(move |name| (name, ItemIx::new(at))).collect::<Vec<_>>()
        };
        let media = model.media.iter().enumerate().map(|(at, m)| (Name::new(&m.name, false), MediumIx::new(at)));
        Self { by_id, items: Index::new(model.items.iter().enumerate().flat_map(of_item)), media: Index::new(media) }
    }

    /// Where items are named in a text; of names that overlap, the longest.
    pub fn items_in(&self, text: &str) -> Vec<(Range<usize>, ItemIx)> {
        self.items.scan(text)
    }

    /// Where media are named in a text.
    pub fn media_in(&self, text: &str) -> Vec<(Range<usize>, MediumIx)> {
        self.media.scan(text)
    }

    /// The names of one thing, by its id.
    pub fn of(&self, id: &str) -> &[String] {
        self.by_id.get(id).map_or(&[], Vec::as_slice)
    }
}

/// The names of an item. A short name or alias in capitals, as on a panel, is meant only where it is written so: "LOW SUCTION" is a
/// light, low suction is not.
fn spellings(noun: &Noun) -> Vec<Name> {
    let extra = noun.short.iter().chain(&noun.said).chain(&noun.aliases);
    let capitals = |name: &str| name.chars().any(char::is_uppercase) && !name.chars().any(char::is_lowercase);
    std::iter::once(Name::new(&noun.name, false)).chain(extra.map(|n| Name::new(n, capitals(n)))).collect()
}

fn of_noun(noun: &Noun) -> Vec<String> {
    let extra = noun.short.iter().chain(&noun.said).chain(&noun.aliases);
    std::iter::once(&noun.name).chain(extra).map(|n| n.to_lowercase()).collect()
}

/// Where a name stands in a text as words of its own, a plural `s` allowed. Both in lower case.
pub fn find(text: &str, name: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut from = 0;
    while let Some(at) = text.get(from..).and_then(|t| t.find(name)).map(|i| from + i).filter(|_| !name.is_empty()) {
        let end = at + name.len();
        let after = text.get(end..).unwrap_or("");
        let plural = usize::from(after.starts_with('s'));
        let free_before = !text.get(..at).is_some_and(|t| t.ends_with(joins));
        let free_after = !after.get(plural..).is_some_and(|t| t.starts_with(joins));
        if free_before && free_after {
            found.push(at..end + plural);
        }
        from = end;
    }
    found
}

/// Lower case that keeps every offset: only letters whose lower case is as long.
pub fn lower(text: &str) -> String {
    let one = |c: char| {
        let mut lower = c.to_lowercase();
        let first = lower.next().filter(|l| lower.next().is_none() && l.len_utf8() == c.len_utf8());
        first.unwrap_or(c)
    };
    text.chars().map(one).collect()
}

/// True for words that say that something is not so.
pub fn is_negative(sentence: &str) -> bool {
    const WORDS: [&str; 20] = [
        "not",
        "no",
        "never",
        "without",
        "nothing",
        "none",
        "neither",
        "nor",
        "cannot",
        "dead",
        "dark",
        "off",
        "stops",
        "stop",
        "stopped",
        "silent",
        "silently",
        "lost",
        "independent",
        "independently",
    ];
    let lower = sentence.to_lowercase();
    let mut words = lower.split(|c: char| !c.is_alphanumeric() && c != '\'' && c != '’');
    words.any(|w| WORDS.contains(&w) || w.ends_with("n't") || w.ends_with("n’t"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn name_is_found_as_words_of_its_own() {
        assert_eq!(find("the main bus and two main buss", "main bus"), vec![4..12, 21..30]);
        assert!(find("an engine-driven pump", "engine").is_empty());
        assert!(find("clockwork", "clock").is_empty());
    }

    #[test]
    fn negative_words_are_known() {
        assert!(is_negative("It doesn't hang on the battery."));
        assert!(!is_negative("It hangs on the battery."));
    }
}
