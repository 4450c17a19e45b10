//! Tachometer time beside clock time: worked line by line, then tabled.
//!
//! The sums are `analyse::tach`'s.

use crate::analyse::tach::{Leg, TachTime, WorkedLeg, tach_time};
use crate::base::{Quantity, Span, Spanned, Unit};
use crate::compose::composer::{Composer, plain_number};
use crate::compose::phrase::say;
use crate::doc::{Block, Cell, Column, Fact, FactOrigin, Inline, Inlines, Row, Step, TableKind};

impl Composer<'_> {
    /// The worked sum of each leg and the table of them all.
    pub fn clocks(&mut self, legs: &Spanned<String>) -> Vec<Block> {
        let reference = self.model.time.as_ref().and_then(|t| t.reference.clone().map(|r| (r, t.span)));
        let Some((reference, span)) = reference else {
            let help = "add `reference = \"… rpm\"` to `[time]`, or take the call away";
            self.error(
                "value-unknown",
                legs.span,
                "the model does not say at which speed its tachometer keeps time",
                help,
            );
            return Vec::new();
        };
        let reference_rpm = Unit::find("rpm").and_then(|u| reference.in_unit(u)).unwrap_or(reference.number);
        let read: Result<Vec<Leg>, _> = legs.value.split_whitespace().map(Leg::parse).collect();
        match read.and_then(|legs| tach_time(&legs, reference_rpm)) {
            Ok(time) => self.clock_blocks(&time, &reference, span),
            Err(error) => {
                let help = "write each leg as engine speed and minutes: `2400:60 1200:60`";
                self.error("call-argument", legs.span, error.to_string(), help);
                Vec::new()
            }
        }
    }

    fn clock_blocks(&mut self, time: &TachTime, reference: &Quantity, span: Span) -> Vec<Block> {
        let mut blocks = Vec::new();
        let mut rows = Vec::new();
        for worked in &time.legs {
            let leg = &worked.leg;
            let rpm = self.leg_fact(leg, "speed", leg.speed_rpm, "rpm");
            let min = self.leg_fact(leg, "clock", leg.time_min, "min");
            let fact = self.quantity("time", "reference", reference, span);
            let tach = self.tach_fact(worked);
            let sum: Inlines = vec![rpm.clone(), Inline::text(" ÷ "), fact.clone(), Inline::text(" × "), min.clone()];
            let says = say("clock-says", &[("fact", fact.into())]);
            let id = self.take_id(&format!("clocks/{}", leg_name(leg)));
            let title = say("clock-title", &[("fact", rpm.clone().into()), ("other", min.clone().into())]);
            let steps = vec![Step { says, sum: sum.clone(), result: vec![tach.clone()] }];
            blocks.push(Block::Worked { id, title, steps });
            let cells = [vec![rpm], vec![min], sum, vec![tach]].into_iter().map(Cell::line).collect();
            rows.push(Row { about: leg_name(leg), cells });
        }
        let columns = vec![Column::Engine, Column::Clock, Column::Sum, Column::TachometerTime];
        blocks.extend(self.table_or_none("clocks", TableKind::Clocks, say("caption-clocks", &[]), columns, rows));
        blocks
    }

    /// An operand, as the chapter gives it.
    fn leg_fact(&mut self, leg: &Leg, aspect: &str, value: f64, unit: &str) -> Inline {
        let name = leg_name(leg);
        self.show(Fact {
            id: format!("clocks/{name}/{aspect}"),
            subject: format!("clocks/{name}"),
            aspect: aspect.to_owned(),
            value: Some(value),
            unit: Some(unit.to_owned()),
            shown: format!("{} {unit}", plain_number(value)),
            rounding: None,
            origin: FactOrigin::Computed { method: "leg of the example", inputs: Vec::new() },
        })
    }

    /// Tachometer time in minutes, to a tenth.
    fn tach_fact(&mut self, worked: &WorkedLeg) -> Inline {
        let name = leg_name(&worked.leg);
        let minutes = worked.tach_h * 60.0;
        let tenth = libm::round(minutes * 10.0) / 10.0;
        let exact = (minutes - tenth).abs() < 1e-9;
        let shown = format!("{} min{}", plain_number(tenth), if exact { "" } else { " (rounded)" });
        self.show(Fact {
            id: format!("clocks/{name}/tachometer"),
            subject: format!("clocks/{name}"),
            aspect: "tachometer".to_owned(),
            value: Some(minutes),
            unit: Some("min".to_owned()),
            shown,
            rounding: (!exact).then(|| "rounded to a tenth".to_owned()),
            origin: FactOrigin::Computed {
                method: "tachometer time",
                inputs: vec![
                    format!("clocks/{name}/speed"),
                    "time/reference".to_owned(),
                    format!("clocks/{name}/clock"),
                ],
            },
        })
    }
}

fn leg_name(leg: &Leg) -> String {
    format!("{}-{}", plain_number(leg.speed_rpm), plain_number(leg.time_min))
}
