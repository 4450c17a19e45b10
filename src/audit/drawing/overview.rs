//! What the drawing of all systems must show, from the plain model.

use super::wanted::{Input, Teller, Wanted, WantedFeed};
use crate::audit::parts::Number;
use std::collections::BTreeMap;

impl<'m> Teller<'m> {
    /// What the systems give each other: each medium once from one to the other; not what only keeps on what runs already.
    pub(super) fn overview(&self) -> Wanted {
        let mut given = BTreeMap::new();
        let mut wanted = Wanted::default();
        for (from, to) in self.in_time() {
            let medium = self.node(from).gives.clone();
            given
                .extend(self.other_system(from, to).zip(medium).map(|((from, to), medium)| ((from, to, medium), true)));
        }
        for to in 0..self.model.nodes.len() {
            let Some(system) = self.system_of(to) else { continue };
            wanted.parts.entry(system.to_owned()).or_default();
            for feed in self.feeds_of(to).into_iter().filter(|f| !f.sustained) {
                let (systems, medium) = (self.other_system(feed.from, to), self.node(feed.from).gives.clone());
                given.extend(systems.zip(medium).map(|((from, to), medium)| ((from, to, medium), false)));
            }
        }
        let name = |id: &str| self.words.systems.get(id).cloned().unwrap_or_default();
        for ((from, to, medium), in_time) in given {
            let flags: Vec<String> = in_time.then(|| "in time".to_owned()).into_iter().collect();
            let flag = if in_time { ", in time" } else { "" };
            let line = format!("{} → {}{flag} ({})", name(from), name(to), self.words.medium(&medium));
            let (from, to, medium) = (from.to_owned(), to.to_owned(), Some(medium));
            let rows = wanted.parts.entry(to.clone()).or_default();
            rows.resize(1, Vec::new());
            rows.iter_mut().for_each(|row| row.push(Input::Feed(wanted.feeds.len())));
            wanted.feeds.push(WantedFeed { from, to, devices: Vec::new(), flags, medium, line });
        }
        wanted
    }

    /// The systems of two nodes, if they are two.
    fn other_system(&self, from: Number, to: Number) -> Option<(&'m str, &'m str)> {
        let (from, to) = (self.system_of(from)?, self.system_of(to)?);
        (from != to).then_some((from, to))
    }

    /// Things whose loss by a fault of their own makes another fail in time; not where it goes by way of a third of these.
    fn in_time(&self) -> Vec<(Number, Number)> {
        let mut pairs = Vec::new();
        for (name, fault) in &self.model.faults {
            let Some(from) = self.model.number.get(&name.item).copied() else { continue };
            let takes_it = fault.loses.iter().chain(&fault.takes).any(|entry| entry.what == from);
            let follows =
                fault.leads_to.iter().filter(|_| takes_it).filter_map(|(after, _)| self.model.number.get(&after.item));
            pairs.extend(follows.map(|to| (from, *to)));
        }
        let feeds = |from: Number, to: Number| {
            let mut feeds = Vec::new();
            self.node(to).needs.iter().for_each(|need| need.feeds(&mut feeds));
            feeds.iter().any(|feed| feed.from == from)
        };
        let direct = |(from, to): &&(Number, Number)| {
            !pairs.iter().any(|(other, end)| end == to && other != from && feeds(*from, *other))
        };
        pairs.iter().filter(direct).copied().collect()
    }
}
