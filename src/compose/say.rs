//! Small runs of inlines that many tables share.

use super::composer::Composer;
use super::phrase::{NounPhrase, say};
use crate::analyse::answer::Move;
use crate::doc::{Cell, Inline, Inlines};
use crate::model::{FaultIx, Looks, LossLook, LossOf, Model, NodeIx, NodeKind, PositionIx, When};

/// What the model's author wrote; `of` is its field.
pub fn quoted(of: impl Into<String>, text: &str) -> Inline {
    Inline::Quoted { of: of.into(), text: text.to_owned() }
}

/// A sentence as it is, with a space before it.
pub fn then_sentence(line: &mut Inlines, sentence: Inlines) {
    if !line.is_empty() {
        line.push(Inline::text(" "));
    }
    line.extend(sentence);
}

/// Joins runs with a text between them.
pub fn joined(runs: Vec<Inlines>, between: &str) -> Inlines {
    let mut line = Inlines::new();
    for (at, run) in runs.into_iter().enumerate() {
        if at > 0 {
            line.push(Inline::text(between));
        }
        line.extend(run);
    }
    line
}

/// Bare names with commas.
pub fn names(nouns: &[&NounPhrase]) -> Inlines {
    joined(nouns.iter().map(|n| vec![n.inline()]).collect(), ", ")
}

/// A cell of bare names with commas, or an empty one.
pub fn names_cell(nouns: &[&NounPhrase]) -> Cell {
    if nouns.is_empty() { Cell::default() } else { Cell::line(names(nouns)) }
}

/// `<name>: <sentence>`.
pub fn item_says(thing: &NounPhrase, sentence: Inlines) -> Inlines {
    if sentence.is_empty() {
        return say("item-line", &[("thing", thing.into())]);
    }
    say("item-line-says", &[("thing", thing.into()), ("part", sentence.into())])
}

/// A position as it is engraved: `OPEN`.
pub fn engraved(model: &Model, control: crate::model::ItemIx, position: PositionIx) -> Inline {
    let id = model.control(control).map_or("", |c| c.position(position).as_str());
    Inline::Code(id.replace('-', " ").to_uppercase())
}

impl Composer<'_> {
    /// `the static line is blocked`.
    pub fn clause(&self, fault: FaultIx) -> Inlines {
        let of = &self.model[fault];
        let thing = self.words.node(of.of);
        let part = match &of.said {
            Some(said) => vec![quoted(format!("{}/said", self.model.fault_id(fault)), said)],
            None if matches!(self.model[of.of].kind, NodeKind::Given(_)) => say("gone", &[("thing", thing.into())]),
            None => say("fails", &[("thing", thing.into())]),
        };
        say("clause", &[("thing", thing.into()), ("part", part.into())])
    }

    /// `the fuel selector is LEFT or RIGHT and the master is ON`.
    pub fn condition(&self, when: &When) -> Inlines {
        let one = |c: &crate::model::Condition| {
            let positions = c.positions.iter().map(|p| vec![engraved(self.model, c.control, *p)]).collect();
            let control = self.words.item(self.model, c.control);
            say("condition", &[("control", control.into()), ("part", joined(positions, " or ").into())])
        };
        joined(when.0.iter().map(one).collect(), " and ")
    }

    /// `the alternate static valve OPEN`; at the beginning of a line without article.
    pub fn moves(&self, moves: &[Move], at_start: bool) -> Inlines {
        let one = |(at, m): (usize, &Move)| {
            let control = self.words.item(self.model, m.control);
            let first = (at_start && at == 0).into();
            if m.from == m.to {
                return say("move-cycle", &[("control", control.into()), ("first", first)]);
            }
            let position = engraved(self.model, m.control, m.to);
            say("move-set", &[("control", control.into()), ("position", position.into()), ("first", first)])
        };
        joined(moves.iter().enumerate().map(one).collect(), " and ")
    }

    /// What a dead thing shows, by what it misses: the author's sentence, or one for its look.
    pub fn look(&self, node: NodeIx, misses: &[NodeIx]) -> Option<(Looks, Inlines)> {
        let entries = &self.model[node].on_loss;
        let found = entries.iter().find(|look| self.is_missed(look.of, misses))?;
        let thing = self.words.node(node);
        Some((found.looks, self.look_sentence(node, found, thing)))
    }

    /// The author's sentence for a look, or one of ours, which adds that it can look alive where it does not tell.
    pub fn look_sentence(&self, node: NodeIx, look: &LossLook, thing: &NounPhrase) -> Inlines {
        if let Some(text) = &look.text {
            return vec![quoted(format!("{}/on-loss", self.model[node].id), text)];
        }
        let mut line = say(looks_phrase(look.looks), &[("thing", thing.into())]);
        if !look.looks.tells() {
            then_sentence(&mut line, say("looks-alive", &[("thing", thing.into())]));
        }
        line
    }

    fn is_missed(&self, of: LossOf, misses: &[NodeIx]) -> bool {
        match of {
            LossOf::Node(node) => misses.contains(&node),
            LossOf::Medium(medium) => misses.iter().any(|m| self.model[*m].gives == Some(medium)),
        }
    }
}

/// The phrase of a look.
pub fn looks_phrase(looks: Looks) -> &'static str {
    match looks {
        Looks::Dark => "looks-dark",
        Looks::Flag => "looks-flag",
        Looks::Zero => "looks-zero",
        Looks::Full => "looks-full",
        Looks::Centred => "looks-centred",
        Looks::Freezes => "looks-freezes",
        Looks::Wanders => "looks-wanders",
    }
}
