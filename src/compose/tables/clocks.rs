//! Tachometer time beside clock time: worked line by line, then tabled.
//!
//! # Source
//! A recording tachometer counts turns: its hour is a clock hour at one speed, the reference (common practice, no source).

use crate::base::{Quantity, Span, Spanned, Unit};
use crate::compose::composer::{Composer, plain_number};
use crate::compose::phrase::say;
use crate::doc::{Block, Cell, Column, Fact, FactOrigin, Inline, Inlines, Row, Step, TableKind};

/// One leg at a steady engine speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// Clock time, min.
    pub min: f64,
}

impl Leg {
    /// Reads `2400:60`.
    pub fn parse(text: &str) -> Option<Self> {
        let (rpm, min) = text.split_once(':')?;
        let number = |t: &str| t.parse::<f64>().ok().filter(|n| n.is_finite() && (0.0..=100_000.0).contains(n));
        Some(Self { rpm: number(rpm)?, min: number(min)? })
    }
}

impl Composer<'_> {
    /// The worked sum of each leg and the table of them all.
    pub fn clocks(&mut self, legs: &Spanned<String>) -> Vec<Block> {
        let read: Option<Vec<Leg>> = legs.value.split_whitespace().map(Leg::parse).collect();
        let Some(read) = read.filter(|l| !l.is_empty()) else {
            let help = "write each leg as engine speed and minutes: `2400:60 1200:60`";
            self.error("call-argument", legs.span, "these legs cannot be read", help);
            return Vec::new();
        };
        let reference = self.model.time.as_ref().and_then(|t| t.reference.clone().map(|r| (r, t.span)));
        let Some((reference, span)) = reference else {
            let help = "add `reference = \"… rpm\"` to `[time]`, or take the call away";
            self.error("value-unknown", legs.span, "the model does not say at which speed its tachometer keeps time", help);
            return Vec::new();
        };
        if reference.si() <= 0.0 {
            self.error("value-unknown", legs.span, "the reference speed of the tachometer is zero", "mend `[time]`");
            return Vec::new();
        }
        self.clock_blocks(&read, &reference, span)
    }

    fn clock_blocks(&mut self, legs: &[Leg], reference: &Quantity, span: Span) -> Vec<Block> {
        let mut blocks = Vec::new();
        let mut rows = Vec::new();
        for leg in legs {
            let rpm = self.leg_fact(leg, "speed", leg.rpm, "rpm", None);
            let min = self.leg_fact(leg, "clock", leg.min, "min", None);
            let fact = self.quantity("time", "reference", reference, span);
            let reference_rpm = Unit::find("rpm").and_then(|u| reference.in_unit(u)).unwrap_or(reference.number);
            let tach = self.leg_fact(leg, "tachometer", leg.rpm / reference_rpm * leg.min, "min", Some("rounded to a tenth"));
            let sum: Inlines =
                vec![rpm.clone(), Inline::text(" ÷ "), fact.clone(), Inline::text(" × "), min.clone()];
            let says = say("clock-says", &[("fact", fact.into())]);
            let id = self.take_id(&format!("clocks/{}", leg_name(leg)));
            let title = say("clock-title", &[("fact", rpm.clone().into()), ("other", min.clone().into())]);
            blocks.push(Block::Worked { id, title, steps: vec![Step { says, sum: sum.clone(), result: vec![tach.clone()] }] });
            let cells = [vec![rpm], vec![min], sum, vec![tach]].into_iter().map(Cell::line).collect();
            rows.push(Row { about: leg_name(leg), cells });
        }
        let columns = vec![Column::Engine, Column::Clock, Column::Sum, Column::TachometerTime];
        blocks.extend(self.table_or_none("clocks", TableKind::Clocks, say("caption-clocks", &[]), columns, rows));
        blocks
    }

    fn leg_fact(&mut self, leg: &Leg, aspect: &str, value: f64, unit: &str, rounding: Option<&str>) -> Inline {
        let exact = plain_number(value);
        let tenth = plain_number(libm::round(value * 10.0) / 10.0);
        let rounding = rounding.filter(|_| exact != tenth);
        let shown = if rounding.is_some() { format!("{tenth} {unit} (rounded)") } else { format!("{exact} {unit}") };
        let name = leg_name(leg);
        let inputs = vec![format!("clocks/{name}/speed"), format!("clocks/{name}/clock"), "time/reference".to_owned()];
        let computed = FactOrigin::Computed { method: "tachometer time", inputs };
        let typed = FactOrigin::Computed { method: "leg of the example", inputs: Vec::new() };
        self.show(Fact {
            id: format!("clocks/{name}/{aspect}"),
            subject: format!("clocks/{name}"),
            aspect: aspect.to_owned(),
            value: Some(value),
            unit: Some(unit.to_owned()),
            shown,
            rounding: rounding.map(str::to_owned),
            origin: if aspect == "tachometer" { computed } else { typed },
        })
    }
}

fn leg_name(leg: &Leg) -> String {
    format!("{}-{}", plain_number(leg.rpm), plain_number(leg.min))
}
