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
        if time.legs.len() > 1 {
            let (block, row) = self.all_legs(time, reference, span);
            blocks.push(block);
            rows.push(row);
        }
        let columns = vec![Column::Engine, Column::Clock, Column::Sum, Column::TachometerTime];
        blocks.extend(self.table_or_none("clocks", TableKind::Clocks, say("caption-clocks", &[]), columns, rows));
        blocks
    }

    /// All legs together: turns are added first and divided once, so that no rounding adds up.
    fn all_legs(&mut self, time: &TachTime, reference: &Quantity, span: Span) -> (Block, Row) {
        let (mut minutes, mut turns, mut names) = (Inlines::new(), vec![Inline::text("(")], Vec::new());
        for (at, worked) in time.legs.iter().enumerate() {
            let plus = Inline::text(if at > 0 { " + " } else { "" });
            let rpm = self.leg_fact(&worked.leg, "speed", worked.leg.speed_rpm, "rpm");
            let min = self.leg_fact(&worked.leg, "clock", worked.leg.time_min, "min");
            minutes.extend([plus.clone(), min.clone()]);
            turns.extend([plus, rpm, Inline::text(" × "), min]);
            names.push(leg_name(&worked.leg));
        }
        turns.push(Inline::text(") ÷ "));
        turns.push(self.quantity("time", "reference", reference, span));
        let name = names.join("+");
        let clock = self.sum_fact(&name, "clock", time.clock_h * 60.0, &names);
        let tach = self.sum_fact(&name, "tachometer", time.tach_h * 60.0, &names);
        let says = |phrase| say(phrase, &[]);
        let steps = vec![
            Step { says: says("clock-sum"), sum: minutes, result: vec![clock.clone()] },
            Step { says: says("clock-turns"), sum: turns, result: vec![tach.clone()] },
        ];
        let id = self.take_id("clocks/all-legs");
        let cells =
            [says("clock-all"), vec![clock], says("clock-above"), vec![tach]].into_iter().map(Cell::line).collect();
        (Block::Worked { id, title: says("clock-all"), steps }, Row { about: "all-legs".to_owned(), cells })
    }

    fn sum_fact(&mut self, name: &str, aspect: &str, minutes: f64, legs: &[String]) -> Inline {
        let mut inputs: Vec<String> = legs.iter().map(|l| format!("clocks/{l}/clock")).collect();
        if aspect == "tachometer" {
            inputs.extend(legs.iter().map(|l| format!("clocks/{l}/speed")).chain(["time/reference".to_owned()]));
        }
        self.minutes_fact(format!("clocks/all/{name}"), aspect, minutes, inputs)
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

    fn tach_fact(&mut self, worked: &WorkedLeg) -> Inline {
        let name = leg_name(&worked.leg);
        let inputs = vec![format!("clocks/{name}/speed"), "time/reference".to_owned(), format!("clocks/{name}/clock")];
        self.minutes_fact(format!("clocks/{name}"), "tachometer", worked.tach_h * 60.0, inputs)
    }

    /// A time in minutes, to a tenth.
    fn minutes_fact(&mut self, subject: String, aspect: &str, minutes: f64, inputs: Vec<String>) -> Inline {
        let tenth = libm::round(minutes * 10.0) / 10.0;
        let exact = (minutes - tenth).abs() < 1e-9;
        self.show(Fact {
            id: format!("{subject}/{aspect}"),
            subject,
            aspect: aspect.to_owned(),
            value: Some(minutes),
            unit: Some("min".to_owned()),
            shown: format!("{} min{}", plain_number(tenth), if exact { "" } else { " (rounded)" }),
            rounding: (!exact).then(|| "rounded to a tenth".to_owned()),
            origin: FactOrigin::Computed { method: "tachometer time", inputs },
        })
    }
}

fn leg_name(leg: &Leg) -> String {
    format!("{}-{}", plain_number(leg.speed_rpm), plain_number(leg.time_min))
}
