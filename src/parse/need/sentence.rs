//! The grammar of need sentences, by recursive descent without recursion: a sentence does not nest.

use super::words::{RESERVED, Word, number_word, words};
use super::{RawFeed, RawNeed, RawWhen};
use crate::base::{Diagnostic, Span, Spanned};
use crate::parse::printed::shown;
use crate::parse::raw::RawValue;
use std::ops::Range;

type Outcome<T> = Result<T, Box<Diagnostic>>;

/// Reads a sentence.
pub fn parse(value: &RawValue, text: &str) -> Outcome<RawNeed> {
    let words = words(text).map_err(|range| Box::new(stray(value, text, range)))?;
    if words.is_empty() {
        return Err(Box::new(
            Diagnostic::error("empty-need", value.span, "this need says nothing")
                .help("name what is needed, or take the need out of the list"),
        ));
    }
    Parser { value, words, at: 0, length: text.len() }.need()
}

fn stray(value: &RawValue, text: &str, range: Range<usize>) -> Diagnostic {
    let found = text.get(range.clone()).unwrap_or("");
    Diagnostic::error("need-grammar", value.inner_span(range), format!("`{}` has no place in a need", shown(found)))
        .help("use ids, commas and the words `through`, `and`, `or`, `when`, `is`, `of`, `(sustained)`")
}

struct Parser<'a> {
    value: &'a RawValue,
    words: Vec<Word<'a>>,
    at: usize,
    length: usize,
}

impl Parser<'_> {
    fn need(&mut self) -> Outcome<RawNeed> {
        let mut terms = vec![self.term()?];
        loop {
            match (self.peek(0), self.peek(1)) {
                (Some(","), Some("or")) => self.at += 2,
                (Some("or"), _) => self.at += 1,
                (None, _) => break,
                (Some("and"), _) => return Err(self.wrong("two needs cannot be joined by `and`", AND_HELP)),
                (Some(","), _) => return Err(self.wrong("a comma stands only before `or` here", COMMA_HELP)),
                (Some(_), _) => return Err(self.wrong("the need ends before this word", ORDER_HELP)),
            }
            terms.push(self.term()?);
        }
        let span = self.span_of(0, self.words.len());
        Ok(if terms.len() == 1 { terms.remove(0) } else { RawNeed::Any(terms, span) })
    }

    fn term(&mut self) -> Outcome<RawNeed> {
        let start = self.at;
        match (self.peek(0), self.peek(1)) {
            (Some("when"), _) => {
                let when = self.condition()?;
                Ok(RawNeed::When(when, self.span_of(start, self.at)))
            }
            (Some(number), Some("of")) if number_word(number).is_some() => {
                self.quorum(number_word(number).unwrap_or(1))
            }
            _ => self.feed().map(RawNeed::Feed),
        }
    }

    fn quorum(&mut self, count: usize) -> Outcome<RawNeed> {
        let start = self.at;
        self.at += 2;
        let mut of = vec![self.plain_feed()?];
        while self.peek(0) == Some(",") && self.peek(1) != Some("or") {
            self.at += 1;
            of.push(self.plain_feed()?);
        }
        let span = self.span_of(start, self.at);
        if count > of.len() {
            return Err(Box::new(out_of_range(span, count, of.len())));
        }
        Ok(RawNeed::AtLeast(count, of, span))
    }

    fn plain_feed(&mut self) -> Outcome<RawNeed> {
        let from = self.name("the name of a node")?;
        let span = from.span;
        Ok(RawNeed::Feed(RawFeed { from, through: vec![], when: vec![], sustained: false, approximate: None, span }))
    }

    fn feed(&mut self) -> Outcome<RawFeed> {
        let start = self.at;
        let from = self.name("the name of a node")?;
        let mut through = Vec::new();
        if self.take("through") {
            through.push(self.name("what it passes")?);
            while self.take("and") {
                through.push(self.name("what it passes")?);
            }
        }
        let when = if self.peek(0) == Some("when") { self.condition()? } else { Vec::new() };
        let sustained = self.sustained()?;
        let span = self.span_of(start, self.at);
        Ok(RawFeed { from, through, when, sustained, approximate: None, span })
    }

    fn sustained(&mut self) -> Outcome<bool> {
        if !self.take("(") {
            return Ok(false);
        }
        if self.take("sustained") && self.take(")") {
            return Ok(true);
        }
        self.at = self.at.min(self.words.len().saturating_sub(1));
        Err(self.wrong("only `(sustained)` stands in brackets", "write `(sustained)`, or take the bracket out"))
    }

    fn condition(&mut self) -> Outcome<RawWhen> {
        self.at += 1;
        let mut matches = vec![self.one_match()?];
        while self.take("and") {
            matches.push(self.one_match()?);
        }
        Ok(matches)
    }

    fn one_match(&mut self) -> Outcome<(Spanned<String>, Vec<Spanned<String>>)> {
        let control = self.name("the name of a control")?;
        if !self.take("is") {
            return Err(
                self.wrong("`is` and a position must follow the control", "write `when <control> is <position>`")
            );
        }
        let mut positions = vec![self.name("a position")?];
        while self.peek(0) == Some("or") && self.peek(1).is_some_and(|w| !RESERVED.contains(&w)) {
            self.at += 1;
            if matches!(self.peek(1), Some("through" | "when" | "(" | "of")) {
                return Err(self.wrong("after `or` a further position is expected here", POSITION_HELP));
            }
            positions.push(self.name("a position")?);
        }
        Ok((control, positions))
    }

    fn name(&mut self, what: &str) -> Outcome<Spanned<String>> {
        let word = self.words.get(self.at).filter(|w| !RESERVED.contains(&w.text) && !",()".contains(w.text));
        let Some(word) = word else { return Err(self.wrong(&format!("{what} is missing here"), ORDER_HELP)) };
        let name = Spanned::new(word.text.to_owned(), self.value.inner_span(word.range.clone()));
        self.at += 1;
        Ok(name)
    }

    fn peek(&self, ahead: usize) -> Option<&str> {
        self.words.get(self.at + ahead).map(|w| w.text)
    }

    fn take(&mut self, word: &str) -> bool {
        let there = self.peek(0) == Some(word);
        self.at += usize::from(there);
        there
    }

    fn span_of(&self, from: usize, to: usize) -> Span {
        let start = self.words.get(from).map_or(self.length, |w| w.range.start);
        let end = self.words.get(to.saturating_sub(1)).map_or(self.length, |w| w.range.end);
        self.value.inner_span(start..end.max(start))
    }

    fn wrong(&self, message: &str, help: &str) -> Box<Diagnostic> {
        let range = self.words.get(self.at).map_or(self.length..self.length, |w| w.range.clone());
        let span = if range.is_empty() { self.value.span } else { self.value.inner_span(range) };
        Box::new(Diagnostic::error("need-grammar", span, message).help(help))
    }
}

const AND_HELP: &str = "write the two as two needs of the list: all of a list must hold";
const COMMA_HELP: &str = "write `, or` between choices, or make two needs of it";
const ORDER_HELP: &str =
    "write `<node> through <node> and <node> when <control> is <position> (sustained)`; all but the first are optional";
const POSITION_HELP: &str = "put a comma before `or`, if the list of positions ends here";

/// The diagnostic for a count that cannot be met, or that asks for nothing.
pub fn out_of_range(span: Span, count: usize, of: usize) -> Diagnostic {
    Diagnostic::error("at-least-out-of-range", span, format!("{count} of {of} are asked for"))
        .help(format!("ask for at least 1 and at most {of}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::FileId;
    use crate::parse::raw::{RawKind, RawText};

    fn read(text: &str) -> Outcome<RawNeed> {
        let kind = RawKind::Text(RawText { text: text.to_owned(), inner: Some(1) });
        parse(&RawValue { kind, span: Span::new(FileId(0), 0..text.len() + 2) }, text)
    }

    #[test]
    fn comma_closes_a_list_of_positions() {
        let Ok(RawNeed::Any(of, _)) =
            read("tank-left when selector is left or both, or tank-right when selector is right")
        else {
            panic!("a choice of two");
        };
        let RawNeed::Feed(first) = &of[0] else { panic!("a feed") };
        let positions: Vec<&str> = first.when[0].1.iter().map(|p| p.value.as_str()).collect();
        assert_eq!((of.len(), positions), (2, vec!["left", "both"]));
    }

    #[test]
    fn feed_passes_conditions_and_bracket_are_read_with_their_places() {
        let Ok(RawNeed::Feed(feed)) = read("bus through a and b.c when k is on and m is x (sustained)") else {
            panic!("a feed")
        };
        assert_eq!(feed.through.len(), 2);
        assert_eq!((feed.when.len(), feed.sustained), (2, true));
        assert_eq!(feed.through[1].span.range(), 19..22);
    }

    #[test]
    fn choice_without_comma_after_a_feed_is_read() {
        let need = read("a through b or when m is off").unwrap();
        assert!(matches!(need, RawNeed::Any(of, _) if of.len() == 2));
        assert!(matches!(read("two of a, b, c, or d"), Ok(RawNeed::Any(of, _)) if of.len() == 2));
    }

    #[test]
    fn what_is_no_need_is_refused() {
        for wrong in [
            "a and b",
            "a, b",
            "through a",
            "a when b",
            "a (kept)",
            "a when x is l or b when x is r",
            "a <b",
            "four of a, b",
        ] {
            assert!(read(wrong).is_err(), "{wrong}");
        }
    }
}
