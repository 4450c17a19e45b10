//! The clocks of a flight of the model, of a month and of a year: worked and tabled.

use super::{Printed, Work, chain, spell};
use crate::analyse::clocks::{self, MonthlyFlight, Times, WorkedClockLeg};
use crate::analyse::measure::Rpm;
use crate::base::text::did_you_mean;
use crate::base::{Span, Spanned};
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::compose::say::{joined, quoted};
use crate::doc::{Block, Cell, Column, Inline, Inlines, Row, TableKind};
use crate::model::Flight;

impl<'a> Composer<'a> {
    /// The flight of that id; nothing, with an error kept, if there is none.
    pub fn flight_of(&mut self, of: &Spanned<String>) -> Option<&'a Flight> {
        let flights = &self.model.flights;
        let found = flights.iter().find(|f| f.id.as_str() == of.value);
        if found.is_none() {
            let near = did_you_mean(&of.value, flights.iter().map(|f| f.id.as_str()));
            let help = near.map_or_else(|| "use the id of a `[flight]`".to_owned(), |n| format!("did you mean `{n}`?"));
            let message = format!("no flight is called `{}`", crate::compose::value::clip(&of.value));
            self.error("name-unknown", of.span, message, help);
        }
        found
    }

    fn tach_reference(&mut self, span: Span) -> Option<Rpm> {
        let reference = self.model.time.as_ref().and_then(|t| t.reference.as_ref()).and_then(Rpm::of);
        if reference.is_none() {
            let message = "the model does not say at which speed its tachometer keeps time";
            self.error(
                "value-unknown",
                span,
                message,
                "add `reference = \"… rpm\"` to `[time]`, or take the call away",
            );
        }
        reference
    }

    /// A flight line by line: worked, then tabled.
    pub fn flight_clocks(&mut self, of: &Spanned<String>) -> Vec<Block> {
        let (Some(flight), Some(reference)) = (self.flight_of(of), self.tach_reference(of.span)) else {
            return Vec::new();
        };
        let legs = clocks::legs(self.model, self.analysis, flight);
        match clocks::flight_times(&legs, reference) {
            Ok((worked, sum)) => {
                let mut blocks = self.clocks_worked(flight, &worked, reference);
                blocks.extend(self.clocks_table(flight, &worked, sum));
                blocks
            }
            Err(error) => {
                self.error("call-argument", of.span, error.to_string(), "mend the legs of the flight");
                Vec::new()
            }
        }
    }

    fn clocks_worked(&mut self, flight: &Flight, worked: &[WorkedClockLeg], reference: Rpm) -> Vec<Block> {
        let mut work = Work::default();
        let reference = self.printed("time/reference", reference.0, "rpm", 1);
        let (mut turns, mut speeds, mut times) = (0.0, Vec::new(), Vec::new());
        for (at, leg) in worked.iter().enumerate() {
            let of = |what: &str| format!("flight/{}/{at}/{what}", flight.id);
            let speed = self.printed(&of("engine"), leg.leg.engine.0, "rpm", 1);
            let time = self.printed(&of("clock"), leg.leg.time.0, "min", 1);
            let tach = self.printed(&of("tachometer"), leg.times.tach.minutes().0, "min", 1);
            let says = say("flight-tach", &[("part", leg_name(flight, at).into())]);
            work.step(says, spell("# ÷ # × #", &[&speed, &reference, &time]), &tach);
            turns += speed.value * time.value;
            speeds.push(speed);
            times.push(time);
        }
        let pairs = speeds.iter().zip(&times).map(|(s, t)| spell("# × #", &[s, t])).collect();
        let mut sum: Inlines = vec![Inline::text("(")];
        sum.extend(joined(pairs, " + "));
        sum.push(Inline::text(") ÷ "));
        sum.push(reference.inline());
        let total = self.printed(&format!("flight/{}/all/tachometer", flight.id), turns / reference.value, "min", 1);
        work.step(say("clock-turns", &[]), sum, &total);
        self.counted_minutes(flight, (worked, &times), ("flight-meter", "meter"), |l| l.leg.meter_runs, &mut work);
        self.counted_minutes(flight, (worked, &times), ("flight-service", "service"), |l| l.leg.airborne, &mut work);
        let title = say("flight-title", &[("part", flight_name(flight).into())]);
        work.block(self, &format!("flight/{}/worked", flight.id), title, "flight-source")
    }

    /// The minutes of those legs in which a clock runs.
    fn counted_minutes(
        &mut self,
        flight: &Flight,
        (worked, times): (&[WorkedClockLeg], &[Printed]),
        (phrase, what): (&str, &str),
        counts: impl Fn(&WorkedClockLeg) -> bool,
        work: &mut Work,
    ) {
        let counted: Vec<Printed> =
            worked.iter().zip(times).filter(|(leg, _)| counts(leg)).map(|(_, time)| time.clone()).collect();
        if counted.is_empty() {
            return;
        }
        let sum = counted.iter().map(|t| t.value).sum();
        let total = self.printed(&format!("flight/{}/all/{what}", flight.id), sum, "min", 1);
        work.step(say(phrase, &[]), chain(" + ", &counted), &total);
    }

    fn clocks_table(&mut self, flight: &Flight, worked: &[WorkedClockLeg], sum: Times) -> Vec<Block> {
        let mut rows = Vec::new();
        for (at, leg) in worked.iter().enumerate() {
            let of = |what: &str| format!("flight/{}/{at}/{what}", flight.id);
            let mut cells = vec![Cell::line(leg_name(flight, at))];
            cells.push(self.printed(&of("engine"), leg.leg.engine.0, "rpm", 1).cell());
            cells.extend(self.four_times(&of(""), leg.times, true));
            rows.push(Row { about: format!("leg-{}", at + 1), cells });
        }
        let mut cells = vec![Cell::line(say("in-all", &[])), Cell::default()];
        cells.extend(self.four_times(&format!("flight/{}/all/", flight.id), sum, true));
        rows.push(Row { about: "all".to_owned(), cells });
        let caption = say("caption-flight-clocks", &[("part", flight_name(flight).into())]);
        let mut columns = vec![Column::Leg, Column::Engine];
        columns.extend(CLOCKS);
        self.table_or_none(&format!("flight/{}", flight.id), TableKind::FlightClocks, caption, columns, rows)
    }

    /// Clock, tachometer, hour meter and time in service, in minutes or hours.
    fn four_times(&mut self, of: &str, times: Times, minutes: bool) -> Vec<Cell> {
        let all =
            [("clock", times.clock), ("tachometer", times.tach), ("meter", times.meter), ("service", times.service)];
        let cell = |(what, time): (&str, crate::analyse::measure::Hours)| {
            let (value, unit) = if minutes { (time.minutes().0, "min") } else { (time.0, "h") };
            self.printed(&format!("{of}{what}"), value, unit, 1).cell()
        };
        all.into_iter().map(cell).collect()
    }

    /// A month and a year of the flights that the model has, and what the ratio of the clocks does.
    pub fn months(&mut self, span: Span) -> Vec<Block> {
        let Some(reference) = self.tach_reference(span) else { return Vec::new() };
        let Ok((flights, sum)) = clocks::month(self.model, self.analysis, reference) else {
            return vec![Block::Para(say("none-such", &[]))];
        };
        let mut rows: Vec<Row> = flights.iter().enumerate().map(|(at, f)| self.month_row(at, f)).collect();
        for (about, phrase, times) in [("month", "a-month", sum), ("year", "a-year", sum.times(12.0))] {
            let mut cells = vec![Cell::line(say(phrase, &[])), Cell::default()];
            cells.extend(self.four_times(&format!("months/{about}/"), times, false));
            rows.push(Row { about: about.to_owned(), cells });
        }
        let mut columns = vec![Column::Flight, Column::Monthly];
        columns.extend(CLOCKS);
        let mut blocks = self.table_or_none("months", TableKind::Months, say("caption-months", &[]), columns, rows);
        blocks.push(Block::Para(say("rounding-table", &[])));
        blocks.extend(self.ratio_worked(sum));
        blocks
    }

    fn month_row(&mut self, at: usize, flight: &MonthlyFlight) -> Row {
        let name = vec![quoted(format!("months/{at}/name"), &crate::base::text::capitalise(&flight.name))];
        let mut cells = vec![Cell::line(name)];
        cells.push(self.printed(&format!("months/{at}/monthly"), f64::from(flight.monthly), "", 0).cell());
        cells.extend(self.four_times(&format!("months/{at}/"), flight.all, false));
        Row { about: format!("flight-{}", at + 1), cells }
    }

    fn ratio_worked(&mut self, sum: Times) -> Vec<Block> {
        if clocks::ratio_effects(sum).is_none() {
            return Vec::new();
        }
        let mut work = Work::default();
        let tach = self.printed("months/worked/tachometer", sum.tach.0, "h", 3);
        let meter = self.printed("months/worked/meter", sum.meter.0, "h", 3);
        let service = self.printed("months/worked/service", sum.service.0, "h", 3);
        let ratio = self.printed("months/ratio", tach.value / meter.value, "", 4);
        work.step(say("ratio-says", &[]), spell("# ÷ #", &[&tach, &meter]), &ratio);
        let one = self.printed("unit/one", 1.0, "", 0);
        let price = self.printed("months/price", 1.0 / ratio.value, "", 2);
        work.step(say("ratio-price", &[]), spell("# ÷ #", &[&one, &ratio]), &price);
        let hundred = self.printed("unit/hundred-hours", 100.0, "h", 0);
        let by_meter = self.printed("months/hundred/meter", 100.0 / ratio.value, "h", 0);
        work.step(say("ratio-hundred", &[]), spell("# ÷ #", &[&hundred, &ratio]), &by_meter);
        let in_service = self.printed("months/hundred/service", 100.0 * service.value / tach.value, "h", 0);
        work.step(say("ratio-service", &[]), spell("# × # ÷ #", &[&hundred, &service, &tach]), &in_service);
        let by_clock = self.printed("months/hundred/meter-service", 100.0 * service.value / meter.value, "h", 0);
        work.step(say("ratio-meter-service", &[]), spell("# × # ÷ #", &[&hundred, &service, &meter]), &by_clock);
        let four = self.printed("unit/four-thousand-hours", 4000.0, "h", 0);
        let read = self.printed("months/read/meter", 4000.0 / ratio.value, "h", 0);
        work.step(say("ratio-read-tach", &[]), spell("# ÷ #", &[&four, &ratio]), &read);
        let back = self.printed("months/read/tachometer", 4000.0 * ratio.value, "h", 0);
        work.step(say("ratio-read-meter", &[]), spell("# × #", &[&four, &ratio]), &back);
        work.block(self, "months/worked", say("ratio-title", &[]), "flight-source")
    }
}

const CLOCKS: [Column; 4] = [Column::Clock, Column::TachometerTime, Column::HourMeterTime, Column::InService];

/// The name of a leg, as the author wrote it.
pub fn leg_name(flight: &Flight, at: usize) -> Inlines {
    let name = flight.legs.get(at).map_or("", |l| l.name.as_str());
    vec![quoted(format!("flight/{}/leg/{}/name", flight.id, at + 1), name)]
}

/// The name of a flight, as the author wrote it.
pub fn flight_name(flight: &Flight) -> Inlines {
    vec![quoted(format!("flight/{}/name", flight.id), &flight.name)]
}
