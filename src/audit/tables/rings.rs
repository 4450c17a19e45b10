//! What still tells what a thing told directly that no longer does: the faces that wear a ring for it, and the words of the legend.

use super::Desk;
use crate::audit::parts::FaultName;
use std::collections::{BTreeMap, BTreeSet};

/// One piece of information that lost something that tells it directly.
#[derive(Debug)]
pub(super) struct StillTold {
    information: String,
    /// The parts of it that were lost, where no source of all of it was.
    parts: BTreeSet<String>,
    /// Sources that work truly, best first: the node, and its limits.
    sources: Vec<(String, Vec<String>)>,
    /// Items of the sources.
    pub(super) items: Vec<String>,
}

impl Desk<'_> {
    /// For each piece of information of which a direct source is gone or false, what tells the same.
    pub(super) fn still_told(&mut self, (fault, state): (&FaultName, &str)) -> Vec<StillTold> {
        let effects = self.effects(state, fault);
        let Some(answer) = self.answer(state) else { return Vec::new() };
        let (works, false_before) = (answer.works.clone(), answer.false_nodes.clone());
        let was_true = |id: &&String| works.contains(*id) && !false_before.contains(*id);
        let changed: BTreeSet<&String> =
            effects.lost.iter().chain(&effects.gone_itself).chain(&effects.misleading).collect();
        let mut missed: BTreeMap<String, Vec<Option<String>>> = BTreeMap::new();
        for id in changed.into_iter().filter(was_true) {
            let tells = self.words.things.get(id).map_or(&[][..], |t| &t.tells);
            for one in tells.iter().filter(|t| !t.indirectly) {
                missed.entry(one.information.clone()).or_default().push(one.only.clone());
            }
        }
        let told = |(information, only): (String, Vec<Option<String>>)| {
            let whole = only.iter().any(Option::is_none);
            let parts = if whole { BTreeSet::new() } else { only.into_iter().flatten().collect() };
            let remain = effects.still_tells.get(&information).map_or(&[][..], Vec::as_slice);
            let mut sources = Vec::new();
            for source in remain {
                let only = self.only(&source.node, &information, source.indirectly);
                let other_part = !source.indirectly && only.as_ref().is_some_and(|only| !parts.contains(only));
                if !parts.is_empty() && other_part {
                    continue;
                }
                let limits = source.indirectly.then(|| "indirectly".to_owned()).into_iter().chain(only).collect();
                sources.push((source.node.clone(), limits));
            }
            let items = sources.iter().map(|(node, _)| self.item_that_holds(node)).collect();
            StillTold { information, parts, sources, items }
        };
        missed.into_iter().map(told).collect()
    }

    /// Within what limit a node tells something.
    fn only(&self, node: &str, information: &str, indirectly: bool) -> Option<String> {
        let tells = &self.words.things.get(node)?.tells;
        tells.iter().find(|t| t.information == information && t.indirectly == indirectly)?.only.clone()
    }

    fn item_that_holds(&self, node: &str) -> String {
        self.words.things.get(node).and_then(|t| t.item.clone()).unwrap_or_else(|| node.to_owned())
    }

    /// `Still tells bank` and `6 turn coordinator (indirectly), 9 heading indicator (indirectly)`.
    pub(super) fn still_entries(
        &mut self,
        numbers: &BTreeMap<String, usize>,
        (fault, state): (&FaultName, &str),
    ) -> BTreeMap<String, String> {
        let effects = self.effects(state, fault);
        let mut entries = BTreeMap::new();
        let mut untold: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for told in self.still_told((fault, state)) {
            let name = self.words.information.get(&told.information).cloned().unwrap_or_default();
            let parts: Vec<&str> = told.parts.iter().map(String::as_str).collect();
            let of = if parts.is_empty() { name } else { format!("{name} ({})", parts.join(", ")) };
            let by: Vec<String> = told
                .sources
                .iter()
                .zip(&told.items)
                .map(|((node, limits), item)| {
                    let number = numbers.get(item).map_or(String::new(), |n| format!("{n} "));
                    let limits = if limits.is_empty() { String::new() } else { format!(" ({})", limits.join("; ")) };
                    format!("{number}{}{limits}", self.words.name(node))
                })
                .collect();
            let tells = |id: &String| {
                self.words
                    .things
                    .get(id)
                    .is_some_and(|t| t.tells.iter().any(|t| t.information == told.information && !t.indirectly))
            };
            let back = effects.restored_by.iter().any(|r| r.mends.iter().chain(&r.approximately).any(tells));
            let head = match (by.is_empty(), back) {
                (true, true) => "Nothing tells, as the controls stand".to_owned(),
                (true, false) => "Nothing tells".to_owned(),
                _ => format!("Still tells {of}"),
            };
            if by.is_empty() {
                untold.entry(head).or_default().push(of);
            } else {
                entries.insert(head, by.join(", "));
            }
        }
        entries.extend(untold.into_iter().map(|(head, names)| (head, names.join("; "))));
        entries
    }
}
