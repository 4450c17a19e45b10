//! Finding the names of things in running text.

use crate::model::{Model, NodeKind, Noun};
use std::collections::BTreeMap;
use std::ops::Range;

/// All names by which prose may speak of things, in lower case.
pub struct Names {
    by_id: BTreeMap<String, Vec<String>>,
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
        Self { by_id }
    }

    /// The names of one thing, by its id.
    pub fn of(&self, id: &str) -> &[String] {
        self.by_id.get(id).map_or(&[], Vec::as_slice)
    }
}

fn of_noun(noun: &Noun) -> Vec<String> {
    let extra = noun.short.iter().chain(&noun.said).chain(&noun.aliases);
    std::iter::once(&noun.name).chain(extra).map(|n| n.to_lowercase()).collect()
}

/// Where a name stands in a text as words of its own, a plural `s` allowed. Both in lower case.
pub fn find(text: &str, name: &str) -> Vec<Range<usize>> {
    let joins = |c: char| c.is_alphanumeric() || c == '-';
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
