//! What a thing that needs nothing carries, lets a gauge sense, or gives: each line against the feeds.

use super::Desk;
use crate::audit::parts::{Feed, Need, Node};
use crate::audit::speech::bare;
use std::collections::{BTreeMap, BTreeSet};

/// What a line says before and after its users, as held against print, and who they are.
type Groups = BTreeMap<(String, String), BTreeSet<String>>;

impl Desk<'_> {
    /// What drives an item that needs nothing.
    pub(super) fn check_undriven(&mut self, place: &str, printed: &[String], item: &str) {
        let words = self.words;
        let control = words.things.get(item).is_some_and(|t| t.control);
        if control && !words.protects(item) {
            return self.compare_lines(place, printed, &["The hand that moves it.".to_owned()]);
        }
        let own: BTreeSet<usize> =
            words.with_functions(item).iter().filter_map(|id| self.model.number.get(id)).copied().collect();
        let mut groups = self.carried(&own);
        let given = self.given(&own);
        let (mut fixed, plural) = (Vec::new(), words.things.get(item).is_some_and(|t| t.plural));
        let kind = words.things.get(item).map_or("", |t| t.kind.as_str());
        if !given.is_empty() && matches!(kind, "tank" | "port" | "mast" | "battery" | "vent") {
            fixed.push(if plural { "Nothing: they are sources." } else { "Nothing: it is a source." });
        } else {
            groups.extend(given);
        }
        if groups.is_empty() && fixed.is_empty() {
            let passes = words.conducts(item);
            fixed.push(if passes { "Nothing; it passes on what comes to it." } else { "Nothing." });
        }
        let mut others = Vec::new();
        for line in printed {
            if !self.check_users(place, line, &mut groups) {
                others.push(line.clone());
            }
        }
        for ((head, tail), users) in groups {
            let users = users.into_iter().collect::<Vec<_>>().join(", ");
            self.notes.find("line-missing", place, printed.join(" / "), format!("{head} {users} {tail}"));
        }
        let fixed: Vec<String> = fixed.into_iter().map(str::to_owned).collect();
        self.compare_lines(place, &others, &fixed);
    }

    /// Reads a line of users, and takes what it tells out of what is expected.
    fn check_users(&mut self, place: &str, line: &str, groups: &mut Groups) -> bool {
        let text = bare(line.trim_end_matches('.'));
        let found = groups.keys().find_map(|key| {
            let inner = text.strip_prefix(&format!("{} ", key.0))?;
            let inner = if key.1.is_empty() { inner } else { inner.strip_suffix(&format!(" {}", key.1))? };
            let (names, others) = counted(inner);
            Some((key.clone(), self.nodes.list(names, &[", ", " and "])?, others))
        });
        let Some((key, named, others)) = found else { return false };
        let Some(users) = groups.remove(&key) else { return false };
        if others == 0 {
            self.compare(place, (&named, &users));
            return true;
        }
        self.notes.report.proved.numbers += 1;
        let known: BTreeSet<String> = named.iter().filter(|id| users.contains(*id)).cloned().collect();
        self.compare(place, (&named, &known));
        if known.len() + others != users.len() {
            let says = format!("{} and {others} others", known.len());
            self.notes.find("number-wrong", place, says, format!("{} in all", users.len()));
        }
        true
    }

    /// What passes some of these nodes, and what is sensed through them.
    fn carried(&self, own: &BTreeSet<usize>) -> Groups {
        let mut groups = Groups::new();
        for user in &self.model.nodes {
            for feed in feeds(&user.needs).into_iter().filter(|f| f.through.iter().any(|n| own.contains(n))) {
                let head = match self.origin(feed.from) {
                    (Some(medium), source) => format!("Carries {medium} from {source} to"),
                    (None, source) => format!("Carries {source} to"),
                };
                put(&mut groups, (&head, ""), user);
            }
            for feed in feeds(&user.senses).into_iter().filter(|f| f.through.iter().any(|n| own.contains(n))) {
                put(&mut groups, ("Lets", &format!("sense {}", self.node_name(feed.from))), user);
            }
        }
        groups
    }

    fn given(&self, own: &BTreeSet<usize>) -> Groups {
        let mut groups = Groups::new();
        for user in &self.model.nodes {
            for feed in feeds(&user.needs).into_iter().filter(|f| own.contains(&f.from)) {
                let medium = self.model.nodes[feed.from].gives.as_ref().map(|m| self.words.medium(m));
                if let Some(medium) = medium {
                    put(&mut groups, (&format!("Gives {medium} to"), ""), user);
                }
            }
        }
        groups
    }
}

fn feeds(needs: &[Need]) -> Vec<&Feed> {
    let mut found = Vec::new();
    needs.iter().for_each(|need| need.feeds(&mut found));
    found
}

fn put(groups: &mut Groups, (head, tail): (&str, &str), user: &Node) {
    groups.entry((bare(head), bare(tail))).or_default().insert(user.id.clone());
}

/// `a, b and 4 others`.
fn counted(text: &str) -> (&str, usize) {
    let counted = text.strip_suffix(" others").and_then(|rest| rest.rsplit_once(" and "));
    let number = counted.and_then(|(names, count)| Some((names, count.parse().ok()?)));
    number.unwrap_or((text, 0))
}
