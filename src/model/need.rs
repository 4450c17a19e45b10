//! What a node needs: one tree, whether it was written as a sentence or as tables.

use super::index::{ItemIx, NodeIx, PositionIx};
use crate::base::Span;

/// A need. There is no negation, so more that works never makes less work.
#[derive(Debug, Clone, PartialEq)]
pub enum Need {
    /// Something that must come from a node.
    Feed(Feed),
    /// Controls that must stand so.
    When(When, Span),
    /// One of them is enough.
    Any(Vec<Need>, Span),
    /// All of them.
    All(Vec<Need>, Span),
    /// So many of them.
    AtLeast {
        /// How many; at least one, at most as many as there are.
        count: usize,
        /// Of these.
        of: Vec<Need>,
        /// Where it stands.
        span: Span,
    },
}

/// One connection: from a node, through what it passes, under a condition.
#[derive(Debug, Clone, PartialEq)]
pub struct Feed {
    /// Where it comes from.
    pub from: NodeIx,
    /// What it passes, in order from the source.
    pub through: Vec<NodeIx>,
    /// How controls must stand.
    pub when: When,
    /// The output of the node that needs it may keep it up once it runs.
    pub sustained: bool,
    /// What is not exact when this feed alone carries; a sentence.
    pub approximate: Option<String>,
    /// Where it stands.
    pub span: Span,
}

/// Controls that must stand so; all of them. Empty: no condition.
#[derive(Debug, Clone, PartialEq, Eq, Default, PartialOrd, Ord)]
pub struct When(pub Vec<Condition>);

/// One control and the positions that will do, sorted.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Condition {
    /// The control.
    pub control: ItemIx,
    /// Any of these.
    pub positions: Vec<PositionIx>,
}

impl When {
    /// True if there is no condition.
    pub fn is_always(&self) -> bool {
        self.0.is_empty()
    }
}

impl Need {
    /// Where it stands.
    pub fn span(&self) -> Span {
        match self {
            Self::Feed(feed) => feed.span,
            Self::When(_, span) | Self::Any(_, span) | Self::All(_, span) | Self::AtLeast { span, .. } => *span,
        }
    }

    /// The parts of a choice; none of a feed or condition.
    pub fn parts(&self) -> &[Self] {
        match self {
            Self::Feed(_) | Self::When(..) => &[],
            Self::Any(of, _) | Self::All(of, _) | Self::AtLeast { of, .. } => of,
        }
    }

    /// Every feed in it, in written order.
    pub fn feeds(&self) -> Vec<&Feed> {
        match self {
            Self::Feed(feed) => vec![feed],
            _ => self.parts().iter().flat_map(Self::feeds).collect(),
        }
    }
}
