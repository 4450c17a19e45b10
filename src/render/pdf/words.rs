//! Words that were shaped, found again by their text and face.
//!
//! An index of our own, open addressing, so that nothing hangs on an order that differs from run to run.

use super::fonts::{Face, Shaped};

/// Number of a shaped word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct WordId(u32);

/// No word stands here.
const FREE: u32 = u32::MAX;

struct Entry {
    hash: u32,
    face: Face,
    asked: Box<str>,
    shaped: Shaped,
}

/// All words that were shaped.
#[derive(Default)]
pub(super) struct Words {
    entries: Vec<Entry>,
    /// Numbers of entries at the places that their hashes lead to; its length is a power of two.
    places: Vec<u32>,
}

impl Words {
    /// The number of a word, if it was shaped.
    pub fn find(&self, text: &str, face: Face) -> Option<WordId> {
        if self.places.is_empty() {
            return None;
        }
        let hash = hash(text, face);
        let mut at = self.first_place(hash);
        while self.places[at] != FREE {
            let entry = &self.entries[self.places[at] as usize];
            if entry.hash == hash && entry.face == face && *entry.asked == *text {
                return Some(WordId(self.places[at]));
            }
            at = (at + 1) & (self.places.len() - 1);
        }
        None
    }

    /// Enters a word that is not there yet.
    pub fn enter(&mut self, text: &str, face: Face, shaped: Shaped) -> WordId {
        if self.entries.len() * 2 >= self.places.len() {
            self.widen();
        }
        let number = self.entries.len() as u32;
        self.entries.push(Entry { hash: hash(text, face), face, asked: text.into(), shaped });
        self.put(number);
        WordId(number)
    }

    /// The word of that number.
    pub fn shaped(&self, word: WordId) -> &Shaped {
        &self.entries[word.0 as usize].shaped
    }

    fn first_place(&self, hash: u32) -> usize {
        hash as usize & (self.places.len() - 1)
    }

    fn put(&mut self, number: u32) {
        let mut at = self.first_place(self.entries[number as usize].hash);
        while self.places[at] != FREE {
            at = (at + 1) & (self.places.len() - 1);
        }
        self.places[at] = number;
    }

    fn widen(&mut self) {
        self.places = vec![FREE; (self.places.len() * 2).max(1024)];
        for number in 0..self.entries.len() as u32 {
            self.put(number);
        }
    }
}

/// FNV-1a over the bytes of the text and the face.
///
/// # Source
/// G. Fowler, L. C. Noll, K.-P. Vo: the FNV hash, 32 bit; constants from memory.
fn hash(text: &str, face: Face) -> u32 {
    let step = |h: u32, byte: u8| (h ^ u32::from(byte)).wrapping_mul(0x0100_0193);
    let hash = text.bytes().fold(step(0x811c_9dc5, face as u8), step);
    hash ^ (hash >> 15)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn many_words_are_found_again() {
        let mut words = Words::default();
        for n in 0..5000 {
            let text = format!("word{n}");
            let shaped = Shaped { width: n as f32, ..Shaped::default() };
            words.enter(&text, Face::Regular, shaped);
        }
        for n in (0..5000).step_by(7) {
            let found = words.find(&format!("word{n}"), Face::Regular).unwrap();
            assert_eq!(words.shaped(found).width, n as f32);
        }
        assert!(words.find("word5", Face::Bold).is_none());
    }
}
