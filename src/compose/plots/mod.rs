//! Plots: what the physics gives, as curves and bars, with every value that is told as a fact.

mod air;
mod battery;
mod clocks;
mod load;

use super::composer::{Composer, plain_number};
use super::phrase::say;
use crate::doc::{Block, Fact, FactId, FactOrigin, Figure, FigureKind, Inline, Inlines, PlotShown, Subject};
use crate::parse::book::Call;

/// How a value is rounded for print: to a multiple of `step`.
#[derive(Debug, Clone, Copy)]
struct Rounding {
    step: f64,
    unit: &'static str,
}

/// A value with its name in the ledger.
struct Value<'s> {
    subject: &'s str,
    aspect: String,
    number: f64,
    rounding: Rounding,
    method: &'static str,
    inputs: Vec<FactId>,
}

impl Composer<'_> {
    /// The plot that a chapter calls for.
    pub fn plot(&mut self, call: &Call) -> Option<Block> {
        let kind = call.get("kind")?;
        let (id, caption, plot) = match kind.value.as_str() {
            "blocked" => self.blocked_plot(call)?,
            "endurance" => self.endurance_plot(call)?,
            "clocks" => self.clocks_plot(call)?,
            "load" => self.load_plot(call)?,
            _ => {
                let message = format!("there is no plot of the kind `{}`", super::value::clip(&kind.value));
                self.error("call-argument", kind.span, message, "write `blocked`, `endurance`, `clocks` or `load`");
                return None;
            }
        };
        let id = self.take_id(&format!("figure/plot/{id}"));
        let (kind, subject) = (FigureKind::Plot, Subject::Aircraft);
        Some(Block::Figure(Figure { id, kind, subject, caption, panels: Vec::new(), plot: Some(plot) }))
    }

    /// Keeps the error that the model lacks what a plot needs.
    fn lacking(&mut self, call: &Call, what: &str, help: &str) {
        self.error("value-unknown", call.span, format!("the model lacks {what}, which this plot needs"), help);
    }

    /// A value as a fact, rounded to its step.
    fn valued(&mut self, value: Value<'_>) -> Inline {
        let Rounding { step, unit } = value.rounding;
        let number = libm::round(value.number / step) * step;
        let decimals = if step < 1.0 { 1 } else { 0 };
        let text = format!("{number:.decimals$}");
        let text = if text.starts_with('-') && text.chars().all(|c| matches!(c, '-' | '0' | '.')) {
            &text[1..]
        } else {
            &text
        };
        self.show(Fact {
            id: format!("{}/{}", value.subject, value.aspect),
            subject: value.subject.to_owned(),
            aspect: value.aspect,
            value: Some(value.number),
            unit: Some(unit.to_owned()),
            shown: format!("{} {unit}", text.replace('-', "\u{2212}")),
            rounding: Some(format!("rounded to {} {unit}", plain_number(step))),
            origin: FactOrigin::Computed { method: value.method, inputs: value.inputs },
        })
    }

    /// How far numbers of a unit are rounded, as a fact.
    fn rounding(&mut self, of: &str, rounding: Rounding) -> Inline {
        let Rounding { step, unit } = rounding;
        self.show(Fact {
            id: format!("plot/rounding/{of}"),
            subject: "plot/rounding".to_owned(),
            aspect: of.to_owned(),
            value: Some(step),
            unit: Some(unit.to_owned()),
            shown: format!("{} {unit}", plain_number(step)),
            rounding: None,
            origin: FactOrigin::Computed { method: "rounding for print", inputs: Vec::new() },
        })
    }
}

/// A plot with its id and caption.
type Made = (String, Inlines, PlotShown);

/// Heads of the text alternative.
fn heads(phrases: &[&str]) -> Vec<Inlines> {
    phrases.iter().map(|p| say(p, &[])).collect()
}
