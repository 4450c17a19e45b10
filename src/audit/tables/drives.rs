//! What drives a thing, in the words of the page.

use super::Desk;
use crate::audit::parts::{ConditionNumber, Feed, Need};
use crate::audit::speech::{bare, engraved, spoken};

impl Desk<'_> {
    /// A need in words.
    pub(super) fn need_text(&self, need: &Need) -> String {
        let joined = |list: &[Need], sign: &str| list.iter().map(|n| self.need_text(n)).collect::<Vec<_>>().join(sign);
        match need {
            Need::Feed(feed) => self.feed_text(feed),
            Need::When(when) => format!("only while {}", self.condition_text(when)),
            Need::Any(list) => joined(list, ", or "),
            Need::All(list) => joined(list, ", and "),
            Need::AtLeast(count, list) => {
                let words = ["none", "one", "two", "three", "four", "five", "six"];
                let count = words.get(*count).map_or_else(|| count.to_string(), |word| (*word).to_owned());
                format!("{count} of: {}", joined(list, "; "))
            }
        }
    }

    /// The medium that comes from a node, and what the node is called beside it: a function that is called as its medium is goes by
    /// its item, and a name that ends with the medium stands alone.
    pub(super) fn origin(&self, number: usize) -> (Option<String>, String) {
        let Some(node) = self.model.nodes.get(number) else { return (None, String::new()) };
        let name = self.words.name(&node.id);
        let Some(medium) = node.gives.as_ref().map(|m| self.words.medium(m)) else { return (None, name) };
        let thing = self.words.things.get(&node.id);
        let own = bare(thing.map_or(name.as_str(), |t| t.own.as_str()));
        match thing.and_then(|t| t.item.as_ref()) {
            Some(item) if own == bare(&medium) => (Some(medium), self.words.name(item)),
            Some(_) => (Some(medium), name),
            None if format!(" {own}").ends_with(&format!(" {}", bare(&medium))) => (None, name),
            None => (Some(medium), name),
        }
    }

    fn feed_text(&self, feed: &Feed) -> String {
        let (medium, mut text) = self.origin(feed.from);
        if let Some(medium) = medium {
            text = format!("{medium} from {text}");
        }
        if !feed.through.is_empty() {
            let names: Vec<String> = feed.through.iter().map(|n| self.node_name(*n)).collect();
            text = format!("{text} through {}", spoken(&names));
        }
        if !feed.when.is_empty() {
            text = format!("{text} while {}", self.condition_text(&feed.when));
        }
        if feed.sustained { format!("{text}, kept up by its own output once it is on") } else { text }
    }

    /// `the key is LEFT or BOTH and the master is ON`.
    pub(super) fn condition_text(&self, when: &[ConditionNumber]) -> String {
        let one = |number: &ConditionNumber| {
            let condition = &self.model.conditions[*number];
            let positions: Vec<String> = condition.positions.iter().map(|p| engraved(p)).collect();
            format!("{} is {}", self.node_name(condition.control), positions.join(" or "))
        };
        when.iter().map(one).collect::<Vec<_>>().join(" and ")
    }

    pub(super) fn node_name(&self, number: usize) -> String {
        self.model.nodes.get(number).map_or_else(String::new, |node| self.words.name(&node.id))
    }
}
