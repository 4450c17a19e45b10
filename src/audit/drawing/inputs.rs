//! What comes in at the left border of a part, with the brackets that say how much of it is enough.

use super::graph::Graph;
use super::ink::Spot;
use super::shapes::{Bracket, Shapes};
use super::wanted::Input;

/// The farthest bracket of a part stands so far from its border, pt.
const FARTHEST: f64 = 160.0;

/// Brackets by the part that they stand at, and those that stand at none.
pub(super) struct Sorted<'s> {
    shapes: &'s Shapes,
    of: Vec<Vec<&'s Bracket>>,
    pub(super) stray: Vec<&'s Bracket>,
}

impl<'s> Sorted<'s> {
    /// Gives each bracket to the part whose border is the next to its right.
    pub(super) fn read(shapes: &'s Shapes) -> Self {
        let mut sorted = Self { shapes, of: vec![Vec::new(); shapes.parts.len()], stray: Vec::new() };
        for bracket in &shapes.brackets {
            let middle = bracket.span.0.midpoint(bracket.span.1);
            let off = |at: &usize| shapes.parts[*at].frame.left - bracket.x;
            let beside = |at: &usize| {
                let frame = shapes.parts[*at].frame;
                off(at) > 0.0 && off(at) < FARTHEST && middle > frame.top && middle < frame.bottom
            };
            let next = (0..shapes.parts.len()).filter(beside).min_by(|a, b| off(a).total_cmp(&off(b)));
            match next {
                Some(part) => sorted.of[part].push(bracket),
                None => sorted.stray.push(bracket),
            }
        }
        sorted
    }

    /// The inputs of a part as text, from top to bottom: `2 of 3 [a; b; c]`.
    pub(super) fn drawn(&self, part: usize, graph: &Graph, key: &dyn Fn(usize) -> String) -> Vec<String> {
        let feeds = graph.feeds.iter().enumerate().filter(|(_, feed)| feed.to == part);
        let mut all: Vec<(f64, String)> = feeds.map(|(at, feed)| (feed.tip.1, key(at))).collect();
        let frame = self.shapes.parts[part].frame;
        let here = |end: Spot| (end.0 - frame.left).abs() < 0.4 && frame.holds(end, 0.4);
        for flag in &self.shapes.flags {
            all.extend(flag.stub.filter(|end| here(*end)).map(|end| (end.1, flag.words.clone())));
        }
        let mut brackets = self.of[part].clone();
        brackets.sort_by(|a, b| b.x.total_cmp(&a.x));
        for bracket in brackets {
            let (inside, mut rest): (Vec<_>, Vec<_>) =
                all.into_iter().partition(|(y, _)| *y > bracket.span.0 && *y < bracket.span.1);
            let middle = inside.iter().map(|(y, _)| *y).sum::<f64>() / inside.len().max(1) as f64;
            let texts = inside.into_iter().map(|(_, text)| text).collect();
            rest.push((middle, group(&bracket.word, texts)));
            all = rest;
        }
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        all.into_iter().map(|(_, text)| text).collect()
    }
}

/// The inputs of each row of a part in one order: those that are drawn, and those that should be.
pub(super) fn rows(mut drawn: Vec<String>, wanted: &[Vec<Input>], key: &dyn Fn(usize) -> String) -> (String, String) {
    let (mut found, mut right) = (Vec::new(), Vec::new());
    for row in wanted.iter().filter(|row| !row.is_empty()) {
        let rest = drawn.split_off(row.len().min(drawn.len()));
        found.push(group("", std::mem::replace(&mut drawn, rest)));
        right.push(group("", row.iter().map(|input| one(input, key)).collect()));
    }
    found.extend((!drawn.is_empty()).then(|| group("", drawn)));
    (found.join(" / "), right.join(" / "))
}

fn one(input: &Input, key: &dyn Fn(usize) -> String) -> String {
    match input {
        Input::Feed(feed) => key(*feed),
        Input::Flag(words) => words.clone(),
        Input::Group(word, of) => group(word, of.iter().map(|i| one(i, key)).collect()),
    }
}

fn group(word: &str, mut texts: Vec<String>) -> String {
    texts.sort_unstable();
    let inner = texts.join("; ");
    if word.is_empty() { inner } else { format!("{word} [{inner}]") }
}
