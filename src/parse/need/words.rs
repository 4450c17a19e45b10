//! The words of a need sentence.

use std::ops::Range;

/// One word, comma or bracket.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Word<'a> {
    /// As written.
    pub text: &'a str,
    /// Its bytes in the sentence.
    pub range: Range<usize>,
}

/// The words of a sentence, or the first character that belongs to none.
pub fn words(sentence: &str) -> Result<Vec<Word<'_>>, Range<usize>> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(rest) = sentence.get(at..).filter(|r| !r.is_empty()) {
        let length = match rest.chars().next() {
            Some(c) if c.is_whitespace() => {
                at += c.len_utf8();
                continue;
            }
            Some(',' | '(' | ')') => 1,
            Some(c) if of_word(c) => rest.find(|c| !of_word(c)).unwrap_or(rest.len()),
            Some(c) => return Err(at..at + c.len_utf8()),
            None => break,
        };
        found.push(Word { text: rest.get(..length).unwrap_or(""), range: at..at + length });
        at += length;
    }
    Ok(found)
}

fn of_word(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '-' | '.' | '_')
}

/// Words of the grammar, which no name may be.
pub const RESERVED: &[&str] = &["or", "and", "through", "when", "is", "of", "sustained"];

/// The number that a word says.
pub fn number_word(word: &str) -> Option<usize> {
    const NUMBERS: [&str; 10] = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
    NUMBERS.iter().position(|n| *n == word).map(|n| n + 1)
}
