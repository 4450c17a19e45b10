//! Why a claim is false: the lines of the model that contradict it, and the chain of reasons.

use crate::analyse::answer::{Affected, Effects};
use crate::base::Span;
use crate::compose::composer::Composer;
use crate::model::{NodeIx, StateIx};

/// Why a claim is false.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Blame {
    /// What is so instead.
    pub message: String,
    /// Lines of the model, each with what it says.
    pub places: Vec<(Span, String)>,
    /// From the cause to the thing.
    pub chain: Option<String>,
}

impl Blame {
    /// Only what is so instead.
    pub fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), ..Self::default() }
    }
}

/// At most so many lines of the model are shown.
const MOST_PLACES: usize = 6;

impl Composer<'_> {
    /// A thing is lost or false though it was claimed not to be: along the chain of causes.
    pub fn blame_loss(&self, effects: &Effects, x: NodeIx, message: String) -> Blame {
        let is_x = |a: &&Affected| a.node == x;
        let found = effects.misleads.iter().find(is_x).or_else(|| effects.lost.iter().find(is_x));
        let mut chain: Vec<NodeIx> = found.map(|a| a.because.clone()).unwrap_or_default();
        chain.push(x);
        let names: Vec<&str> = chain.iter().map(|n| self.words.node(*n).name.as_str()).collect();
        let chain_text = (names.len() > 1).then(|| names.join(" → "));
        let mut places = Vec::new();
        for pair in chain.windows(2) {
            places.extend(self.need_on(pair[1], pair[0]));
        }
        if places.is_empty() {
            let faults = effects.question.faults.iter();
            places.extend(faults.map(|f| (self.model[*f].span, "this fault takes it".to_owned())));
        }
        places.truncate(MOST_PLACES);
        Blame { message, places, chain: chain_text }
    }

    /// Where a node says that it needs another.
    fn need_on(&self, node: NodeIx, on: NodeIx) -> Option<(Span, String)> {
        let model = self.model;
        let parent = model.item_of(node).map(|i| model[i].node);
        let of_node = [Some(node), parent.filter(|p| *p != node)];
        let needs = of_node.into_iter().flatten().flat_map(|n| model[n].needs.iter().chain(&model[n].senses));
        let feed = needs.flat_map(crate::model::Need::feeds).find(|f| f.from == on || f.through.contains(&on))?;
        let text = format!("the {} hangs on the {} here", self.words.node(node).name, self.words.node(on).name);
        Some((feed.span, text))
    }

    /// A thing still works though it was claimed to be lost: what it is fed with all the same.
    pub fn blame_work(&self, effects: &Effects, x: NodeIx, message: String) -> Blame {
        let fed = self.feeds_that(x, |n| effects.after.is_true(n), "still feeds it");
        Blame { message, places: fed, chain: None }
    }

    /// A thing that does not work in a state.
    pub fn blame_state(&self, state: StateIx, x: NodeIx, works: bool, message: String) -> Blame {
        let solution = &self.analysis.state(state).solution;
        let places = if works {
            self.feeds_that(x, |n| solution.works.contains(&n), "feeds it in this state")
        } else {
            self.feeds_that(x, |n| !solution.works.contains(&n), "does not work in this state")
        };
        let states = (self.model[state].span, format!("the state “{}”", self.model[state].name));
        Blame { message, places: places.into_iter().chain([states]).collect(), chain: None }
    }

    fn feeds_that(&self, x: NodeIx, chosen: impl Fn(NodeIx) -> bool, what: &str) -> Vec<(Span, String)> {
        let feeds = self.model[x].needs.iter().flat_map(crate::model::Need::feeds).filter(|f| chosen(f.from));
        let label = |f: &crate::model::Feed| (f.span, format!("the {} {what}", self.words.node(f.from).name));
        let mut places: Vec<(Span, String)> = feeds.map(label).take(MOST_PLACES).collect();
        if places.is_empty() {
            places.push((self.model[x].span, format!("the {} is declared here", self.words.node(x).name)));
        }
        places
    }
}
