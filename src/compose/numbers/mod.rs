//! The physics behind the panel, worked so that a student can do each sum again by hand, and tabled.
//!
//! The numbers are `analyse`'s. A worked sum goes on with the numbers as they are printed, so that every line can be redone from what
//! stands there; tables hold the unrounded result, rounded once.
mod air;
mod battery;
mod battery_tables;
mod due;
mod flights;
mod fuel;
mod loads;
mod needles;

use super::composer::{Composer, plain_number};
use super::phrase::{NounPhrase, say};
use crate::base::text::capitalise;
use crate::doc::{Block, Cell, Fact, FactOrigin, Inline, Inlines, Step};
use crate::model::NodeIx;

/// To which side a number is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Toward {
    /// To the nearer.
    Nearest,
    /// To the lower.
    Down,
    /// To the higher.
    Up,
}

/// A number as it is printed.
#[derive(Debug, Clone)]
pub struct Printed {
    /// What is printed, in its unit.
    pub value: f64,
    inline: Inline,
}

impl Printed {
    /// As it stands in a line.
    pub fn inline(&self) -> Inline {
        self.inline.clone()
    }

    /// A cell of it alone.
    pub fn cell(&self) -> Cell {
        Cell::line(vec![self.inline()])
    }
}

impl Composer<'_> {
    /// A number of a sum or table, rounded to so many decimals; decimals that say nothing are left away. `of` is its name in the ledger.
    pub fn printed(&mut self, of: &str, value: f64, unit: &str, decimals: usize) -> Printed {
        self.printed_toward(of, value, unit, (decimals, Toward::Nearest))
    }

    /// The same, rounded to one side: a time that is counted on goes down, what has to be carried goes up.
    pub fn printed_toward(&mut self, of: &str, value: f64, unit: &str, (decimals, toward): (usize, Toward)) -> Printed {
        let factor = libm::pow(10.0, decimals as f64);
        // What misses its last digit by a rounding of the machine alone stays there.
        let value_rounded = match toward {
            Toward::Nearest => libm::round(value * factor),
            Toward::Down => libm::floor(value * factor + 1e-6),
            Toward::Up => libm::ceil(value * factor - 1e-6),
        } / factor
            + 0.0;
        let exact = (value - value_rounded).abs() < 1e-9 * value.abs().max(1.0);
        let number = if exact { plain_number(value_rounded) } else { format!("{value_rounded:.decimals$}") };
        let shown = if unit.is_empty() { number } else { format!("{number} {unit}") };
        let (subject, aspect) = of.rsplit_once('/').unwrap_or((of, "value"));
        let inline = self.show(Fact {
            id: format!("numbers/{of}"),
            subject: format!("numbers/{subject}"),
            aspect: aspect.to_owned(),
            value: Some(value),
            unit: (!unit.is_empty()).then(|| unit.to_owned()),
            shown,
            rounding: (!exact).then(|| {
                match toward {
                    Toward::Nearest => "rounded to the last digit shown",
                    Toward::Down => "rounded down to the last digit shown",
                    Toward::Up => "rounded up to the last digit shown",
                }
                .to_owned()
            }),
            origin: FactOrigin::Computed { method: "worked from the model", inputs: Vec::new() },
        });
        Printed { value: value_rounded, inline }
    }

    /// A name at the beginning of a row.
    pub fn row_name(&self, node: NodeIx) -> Cell {
        Cell::line(vec![beginning(self.words.node(node))])
    }
}

/// A name as a line begins with it.
pub fn beginning(noun: &NounPhrase) -> Inline {
    Inline::name(&noun.id, capitalise(&noun.name))
}

/// A sum: each `#` of the pattern is the next number.
pub fn spell(pattern: &str, numbers: &[&Printed]) -> Inlines {
    let mut line = Inlines::new();
    let mut numbers = numbers.iter();
    for (at, text) in pattern.split('#').enumerate() {
        if at > 0 {
            line.extend(numbers.next().map(|n| n.inline()));
        }
        if !text.is_empty() {
            line.push(Inline::text(text));
        }
    }
    line
}

/// Numbers with a sign between.
pub fn chain(sign: &str, numbers: &[Printed]) -> Inlines {
    let pattern = vec!["#"; numbers.len()].join(sign);
    spell(&pattern, &numbers.iter().collect::<Vec<_>>())
}

/// The lines of a worked sum.
#[derive(Debug, Default)]
pub struct Work {
    steps: Vec<Step>,
}

impl Work {
    /// One line more.
    pub fn step(&mut self, says: Inlines, sum: Inlines, result: &Printed) {
        self.steps.push(Step { says, sum, result: vec![result.inline()] });
    }

    /// The block, with what is said of its rounding, and of its method and source, below it.
    pub fn block(self, composer: &mut Composer<'_>, id: &str, title: Inlines, source: &str) -> Vec<Block> {
        let id = composer.take_id(id);
        let mut below = say("rounding", &[]);
        super::say::then_sentence(&mut below, say(source, &[]));
        vec![Block::Worked { id, title, steps: self.steps }, Block::Para(below)]
    }
}
