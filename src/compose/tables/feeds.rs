//! Needs in words: "electricity from the main bus through the turn coordinator breaker".

use crate::base::text::capitalise;
use crate::compose::composer::Composer;
use crate::compose::phrase::{Argument, NounPhrase, say};
use crate::compose::say::joined;
use crate::doc::{Inline, Inlines};
use crate::model::{Feed, Need, NodeIx, NodeKind};

impl Composer<'_> {
    /// One need; `first` at the beginning of a line.
    pub fn need(&self, need: &Need, first: bool) -> Inlines {
        match need {
            Need::Feed(feed) => self.feed(feed, first),
            Need::When(when, _) => {
                let part = self.condition(when);
                say("condition-alone", &[("part", part.into()), ("first", first.into())])
            }
            Need::Any(of, _) => self.needs(of, first, ", or "),
            Need::All(of, _) => self.needs(of, first, ", and "),
            Need::AtLeast { count, of, .. } => {
                let words = ["none", "one", "two", "three", "four", "five", "six"];
                let word = words.get(*count).map_or_else(|| count.to_string(), |w| (*w).to_owned());
                let word = if first { capitalise(&word) } else { word };
                let part = self.needs(of, false, "; ");
                say("need-some", &[("count", Inline::text(word).into()), ("part", part.into())])
            }
        }
    }

    fn needs(&self, of: &[Need], first: bool, between: &str) -> Inlines {
        joined(of.iter().enumerate().map(|(at, n)| self.need(n, first && at == 0)).collect(), between)
    }

    /// The medium of a source and the source, with the medium not named twice: "spark from the left magneto" where a function is
    /// called as its medium is, "clear air" alone where a name ends so.
    pub fn origin(&self, from: NodeIx) -> (Option<&NounPhrase>, &NounPhrase) {
        let node = &self.model[from];
        let source = self.words.node(from);
        let Some(medium) = node.gives.map(|m| self.words.medium(m)) else { return (None, source) };
        let name = node.noun.name.to_lowercase();
        let said = medium.name.to_lowercase();
        match node.kind {
            NodeKind::Function(item, _) if name == said => (Some(medium), self.words.item(self.model, item)),
            NodeKind::Function(..) => (Some(medium), source),
            _ if name == said || name.ends_with(&format!(" {said}")) => (None, source),
            _ => (Some(medium), source),
        }
    }

    fn feed(&self, feed: &Feed, first: bool) -> Inlines {
        let condition = if feed.when.is_always() { Inlines::new() } else { self.condition(&feed.when) };
        let (medium, source) = self.origin(feed.from);
        let mut arguments: Vec<(&'static str, Argument<'_>)> = vec![
            ("first", first.into()),
            ("source", source.into()),
            ("things", self.words.nodes(&feed.through).into()),
            ("condition", condition.into()),
            ("sustained", feed.sustained.into()),
        ];
        match medium {
            Some(medium) => {
                arguments.push(("medium", medium.into()));
                say("feed", &arguments)
            }
            None => say("feed-plain", &arguments),
        }
    }
}
