//! What drives a thing, in the words of the page.

use super::Desk;
use crate::audit::parts::{ConditionNumber, Feed, Need};
use crate::audit::speech::{engraved, spoken};

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

    fn feed_text(&self, feed: &Feed) -> String {
        let Some(from) = self.model.nodes.get(feed.from) else { return String::new() };
        let mut text = self.words.name(&from.id);
        if let Some(medium) = &from.gives {
            text = format!("{} from {text}", self.words.medium(medium));
        }
        if !feed.through.is_empty() {
            let names: Vec<String> = feed.through.iter().map(|n| self.node_name(*n)).collect();
            text = format!("{text} through {}", spoken(&names));
        }
        if !feed.when.is_empty() {
            text = format!("{text} while {}", self.condition_text(&feed.when));
        }
        if feed.sustained { format!("{text}, kept up by its own output once it runs") } else { text }
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
