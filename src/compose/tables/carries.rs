//! What a thing that needs nothing is there for: what it carries, what it lets a gauge sense, what it gives.

use crate::compose::composer::{Composer, in_walking_order};
use crate::compose::phrase::say;
use crate::doc::{Inline, Inlines};
use crate::model::{Feed, Item, Kind, NodeIx};
use std::collections::{BTreeMap, BTreeSet};

/// So many users are named; of more than one beyond, the rest are counted.
const MOST_USERS: usize = 4;

/// Users by the source that they are fed from.
type Users = BTreeMap<NodeIx, BTreeSet<NodeIx>>;

impl Composer<'_> {
    /// What is said of an item that needs nothing.
    pub fn undriven_lines(&self, item: &Item) -> Vec<Inlines> {
        if item.control.is_some() && !item.kind.protects() {
            return vec![say("needs-hand", &[])];
        }
        let nodes: BTreeSet<NodeIx> = std::iter::once(item.node).chain(item.functions.iter().copied()).collect();
        let mut lines = self.carry_lines(&nodes);
        let gives = self.users(false, |feed| nodes.contains(&feed.from));
        if is_source(item.kind) && !gives.is_empty() {
            lines.push(say("needs-source", &[("thing", self.words.node(item.node).into())]));
        } else {
            lines.extend(gives.iter().filter_map(|(from, users)| self.gives_line(*from, users)));
        }
        if lines.is_empty() {
            lines.push(say(if item.kind.conducts() { "needs-passes" } else { "needs-nothing" }, &[]));
        }
        lines
    }

    fn carry_lines(&self, nodes: &BTreeSet<NodeIx>) -> Vec<Inlines> {
        let passes = |feed: &Feed| feed.through.iter().any(|n| nodes.contains(n));
        let carry = self.users(false, passes).into_iter().map(|(from, users)| self.carries_line(from, &users));
        let sense = self.users(true, passes).into_iter().map(|(from, users)| {
            let part = self.user_list(&users);
            say("lets-sense", &[("part", part.into()), ("source", self.words.node(from).into())])
        });
        carry.chain(sense).collect()
    }

    /// Who needs, or senses, through feeds of a sort.
    fn users(&self, senses: bool, fits: impl Fn(&Feed) -> bool) -> Users {
        let mut found = Users::new();
        for user in self.model.node_indices() {
            let of = &self.model[user];
            let needs = if senses { &of.senses } else { &of.needs };
            for feed in needs.iter().flat_map(crate::model::Need::feeds).filter(|feed| fits(feed)) {
                found.entry(feed.from).or_default().insert(user);
            }
        }
        found
    }

    fn carries_line(&self, from: NodeIx, users: &BTreeSet<NodeIx>) -> Inlines {
        let part = self.user_list(users).into();
        match self.origin(from) {
            (Some(medium), source) => {
                say("carries", &[("medium", medium.into()), ("source", source.into()), ("part", part)])
            }
            (None, source) => say("carries-plain", &[("source", source.into()), ("part", part)]),
        }
    }

    fn gives_line(&self, from: NodeIx, users: &BTreeSet<NodeIx>) -> Option<Inlines> {
        let medium = self.words.medium(self.model[from].gives?);
        Some(say("gives-to", &[("medium", medium.into()), ("part", self.user_list(users).into())]))
    }

    fn user_list(&self, users: &BTreeSet<NodeIx>) -> Inlines {
        let mut users: Vec<NodeIx> = users.iter().copied().collect();
        in_walking_order(self.model, &mut users);
        let shown = if users.len() > MOST_USERS + 1 { MOST_USERS } else { users.len() };
        let things = self.words.nodes(users.get(..shown).unwrap_or_default());
        if shown == users.len() {
            return say("users", &[("things", things.into())]);
        }
        let count = Inline::text((users.len() - shown).to_string());
        say("users-more", &[("things", things.into()), ("count", count.into())])
    }
}

/// Where a medium begins, as far as the aircraft goes.
fn is_source(kind: Kind) -> bool {
    matches!(kind, Kind::Tank | Kind::Port | Kind::Mast | Kind::Battery | Kind::Vent)
}
