//! A set of nodes (or of other things by number), one bit each.

use crate::model::NodeIx;
use std::collections::BTreeSet;

/// A set of nodes.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Bits(Vec<u64>);

impl Bits {
    /// The empty set over so many nodes.
    pub fn new(nodes: usize) -> Self {
        Self(vec![0; nodes.div_ceil(64)])
    }

    /// True if the node is in it.
    pub fn has(&self, node: NodeIx) -> bool {
        let n = node.usize();
        self.0.get(n / 64).is_some_and(|word| word >> (n % 64) & 1 == 1)
    }

    /// Puts a node in.
    pub fn put(&mut self, node: NodeIx) {
        let n = node.usize();
        if let Some(word) = self.0.get_mut(n / 64) {
            *word |= 1 << (n % 64);
        }
    }

    /// Puts a node in if `bit` is 1; nothing if it is 0.
    pub fn put_if(&mut self, node: NodeIx, bit: u64) {
        let n = node.usize();
        self.0[n / 64] |= bit << (n % 64);
    }

    /// In this and not in the other.
    pub fn minus(&self, other: &Self) -> Self {
        Self(self.0.iter().zip(&other.0).map(|(a, b)| a & !b).collect())
    }

    /// In both.
    pub fn both(&self, other: &Self) -> Self {
        Self(self.0.iter().zip(&other.0).map(|(a, b)| a & b).collect())
    }

    /// In either.
    pub fn either(&self, other: &Self) -> Self {
        Self(self.0.iter().zip(&other.0).map(|(a, b)| a | b).collect())
    }

    /// True if all of this is in the other.
    pub fn within(&self, other: &Self) -> bool {
        self.0.iter().zip(&other.0).all(|(a, b)| a & !b == 0)
    }

    /// True if something is in both.
    pub fn meets(&self, other: &Self) -> bool {
        self.0.iter().zip(&other.0).any(|(a, b)| a & b != 0)
    }

    /// True if nothing is in it.
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|word| *word == 0)
    }

    /// The nodes, in order.
    pub fn iter(&self) -> impl Iterator<Item = NodeIx> + '_ {
        self.0.iter().enumerate().flat_map(|(i, word)| {
            let mut rest = *word;
            std::iter::from_fn(move || {
                let bit = (rest != 0).then(|| rest.trailing_zeros() as usize)?;
                rest &= rest - 1;
                Some(NodeIx::new(i * 64 + bit))
            })
        })
    }

    /// The same as an ordinary set.
    pub fn to_set(&self) -> BTreeSet<NodeIx> {
        self.iter().collect()
    }

    /// A set of these nodes.
    pub fn of<'a>(nodes: usize, of: impl IntoIterator<Item = &'a NodeIx>) -> Self {
        let mut bits = Self::new(nodes);
        of.into_iter().for_each(|n| bits.put(*n));
        bits
    }
}
