//! `long-sentence`: a sentence of more than 25 words.
//!
//! # Source
//! ASD-STE100, Simplified Technical English (from memory): at most 25 words in a descriptive sentence.

use super::Subject;
use crate::base::Diagnostic;

/// The long explanation.
pub const EXPLAIN: &str =
    "A sentence of the guide has at most 25 words and states one fact. A longer one is hard to read at arm's length.";

/// The most words of a sentence.
const MOST_WORDS: usize = 25;

/// Checks every sentence.
pub fn check(subject: &Subject<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for sentence in &subject.prose.sentences {
        let words = sentence.text.split_whitespace().filter(|w| w.contains(char::is_alphanumeric)).count();
        if words > MOST_WORDS {
            let message = format!("this sentence has {words} words");
            let help = format!("split it: at most {MOST_WORDS} words, one fact each");
            found.push(Diagnostic::warning("long-sentence", sentence.span, message).help(help));
        }
    }
    found
}
