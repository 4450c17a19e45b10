//! A set of parts, by place: as many bits as parts.

use std::cmp::Ordering;

/// Bits of one word.
const BITS: usize = u64::BITS as usize;

/// A set of parts. Sets are ordered as their sorted places are: the one with the lowest place that the other has not is the less,
/// and of a set and its beginning the beginning.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Parts {
    /// The last word is never empty.
    words: Vec<u64>,
}

impl Parts {
    /// The place is in it.
    pub fn contains(&self, part: usize) -> bool {
        self.words.get(part / BITS).is_some_and(|word| word >> (part % BITS) & 1 == 1)
    }

    /// Takes the place in; true if it was not there.
    pub fn insert(&mut self, part: usize) -> bool {
        let is_new = !self.contains(part);
        if self.words.len() <= part / BITS {
            self.words.resize(part / BITS + 1, 0);
        }
        self.words[part / BITS] |= 1 << (part % BITS);
        is_new
    }

    /// Takes the place out; true if it was there.
    pub fn remove(&mut self, part: usize) -> bool {
        let was_there = self.contains(part);
        if was_there {
            self.words[part / BITS] &= !(1 << (part % BITS));
            self.trim();
        }
        was_there
    }

    fn trim(&mut self) {
        while self.words.last() == Some(&0) {
            self.words.pop();
        }
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.words.iter().map(|word| word.count_ones() as usize).sum()
    }

    /// There are none.
    pub fn is_empty(&self) -> bool {
        self.words.is_empty()
    }

    /// Places from the lowest on.
    pub fn iter(&self) -> impl Iterator<Item = usize> + Clone + '_ {
        self.words.iter().enumerate().flat_map(|(at, word)| Bits(*word).map(move |bit| at * BITS + bit))
    }

    /// What is in either.
    pub fn union(&self, other: &Self) -> Self {
        let (mut long, short) =
            if self.words.len() < other.words.len() { (other.clone(), self) } else { (self.clone(), other) };
        long.words.iter_mut().zip(&short.words).for_each(|(a, b)| *a |= b);
        long
    }

    /// What is in this and not in the other.
    pub fn without(&self, other: &Self) -> Self {
        let mut left = self.clone();
        left.words.iter_mut().zip(&other.words).for_each(|(a, b)| *a &= !b);
        left.trim();
        left
    }
}

/// Bits that are set, from the lowest on.
#[derive(Clone)]
struct Bits(u64);

impl Iterator for Bits {
    type Item = usize;

    fn next(&mut self) -> Option<usize> {
        let lowest = (self.0 != 0).then(|| self.0.trailing_zeros() as usize)?;
        self.0 &= self.0 - 1;
        Some(lowest)
    }
}

impl FromIterator<usize> for Parts {
    fn from_iter<T: IntoIterator<Item = usize>>(places: T) -> Self {
        let mut parts = Self::default();
        places.into_iter().for_each(|place| {
            parts.insert(place);
        });
        parts
    }
}

impl Ord for Parts {
    fn cmp(&self, other: &Self) -> Ordering {
        self.iter().cmp(other.iter())
    }
}

impl PartialOrd for Parts {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn a_set_of_parts_is_a_sorted_set() {
        let some: Vec<Vec<usize>> =
            vec![vec![], vec![0], vec![63, 64], vec![1, 200], vec![0, 1, 2], vec![64], vec![5, 63, 64, 127]];
        for a in &some {
            for b in &some {
                let (x, y): (Parts, Parts) = (a.iter().copied().collect(), b.iter().copied().collect());
                let (p, q): (BTreeSet<usize>, BTreeSet<usize>) =
                    (a.iter().copied().collect(), b.iter().copied().collect());
                assert_eq!(x.cmp(&y), p.cmp(&q), "{a:?} {b:?}");
                assert_eq!(x == y, p == q);
                assert_eq!(x.union(&y).iter().collect::<BTreeSet<_>>(), &p | &q);
                assert_eq!(x.without(&y), (&p - &q).into_iter().collect());
                assert_eq!((x.len(), x.is_empty()), (p.len(), p.is_empty()));
                let mut less = x.clone();
                b.iter().for_each(|place| assert_eq!(less.remove(*place), p.contains(place)));
                assert_eq!(less, x.without(&y));
            }
        }
    }
}
