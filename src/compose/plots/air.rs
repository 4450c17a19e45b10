//! What the instruments show over the legs of a flight while an opening is blocked.

use super::{Made, Rounding, Value, heads};
use crate::analyse::altimeter::STANDARD_SETTING;
use crate::analyse::pitot_static::{
    AirError, AirFlight, CLEAR, Moment, Openings, PitotLine, Reading, StaticLine, cabin_offset,
};
use crate::base::Spanned;
use crate::base::text::did_you_mean;
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::compose::say::quoted;
use crate::compose::value::clip;
use crate::doc::{Axis, Band, Chart, Curve, Curves, Inlines, PlotShown, Stroke};
use crate::model::Flight;
use crate::parse::book::Call;

/// Parts into which a leg is cut for the line.
const PARTS: usize = 24;
const OPENINGS: [&str; 4] = ["static", "ram-hole", "ram-hole-and-drain", "cabin"];

/// One of the three instruments.
struct Instrument {
    id: &'static str,
    phrase: &'static str,
    rounding: Rounding,
    read: fn(&Reading) -> f64,
    /// The least that its axis spans.
    least: f64,
}

const INSTRUMENTS: [Instrument; 3] = [
    Instrument {
        id: "airspeed",
        phrase: "plot-airspeed",
        rounding: Rounding { step: 1.0, unit: "kt" },
        read: |r| r.airspeed.0,
        least: 20.0,
    },
    Instrument {
        id: "altitude",
        phrase: "plot-altitude",
        rounding: Rounding { step: 10.0, unit: "ft" },
        read: |r| r.altitude.0,
        least: 500.0,
    },
    Instrument {
        id: "vertical-speed",
        phrase: "plot-vertical",
        rounding: Rounding { step: 10.0, unit: "ft/min" },
        read: |r| r.vertical.0,
        least: 200.0,
    },
];

/// The flight, what is blocked, and from which leg on.
struct Asked<'m> {
    flight: &'m Flight,
    opening: &'static str,
    openings: Openings,
    leg: usize,
}

impl<'a> Composer<'a> {
    /// Shown beside true, over time.
    pub(super) fn blocked_plot(&mut self, call: &Call) -> Option<Made> {
        let asked = self.asked_flight(call)?;
        let flown = AirFlight::of(asked.flight, STANDARD_SETTING).with(asked.openings, asked.leg);
        let moments = match (flown.moments(PARTS), flown.moments(1)) {
            (Ok(fine), Ok(ends)) => (fine, ends),
            (Err(error), _) | (_, Err(error)) => return self.cannot_fly(call, error),
        };
        let bands = bands(asked.flight, &moments.1);
        let (from, to) = (bands.get(asked.leg)?.from, bands.last()?.to);
        let span = if asked.opening == "cabin" { "plot-span-open" } else { "plot-span-blocked" };
        let span = Some(Band { label: say(span, &[]), from, to });
        let charts = INSTRUMENTS.iter().map(|i| chart(i, &moments.0, to)).collect();
        let ends: Vec<Moment> = moments.1.iter().skip(1).step_by(2).copied().collect();
        let (head, rows) = (self.heads_of_legs(), self.rows_of_legs(&asked, &ends));
        let reading = self.reading_of_legs(asked.opening == "cabin");
        let id = format!("blocked/{}/{}/{}", asked.flight.id, asked.opening, asked.leg + 1);
        let caption = caption(&asked);
        Some((id, caption, PlotShown { reading, bands, span, charts, head, rows }))
    }

    fn asked_flight(&mut self, call: &Call) -> Option<Asked<'a>> {
        let model = self.model;
        let Some(named) = call.get("flight") else {
            let help = "write `flight=\"…\"` with the id of a flight of the model";
            self.error("call-argument", call.span, "this plot needs the argument `flight`", help);
            return None;
        };
        let Some(flight) = model.flights.iter().find(|f| f.id.as_str() == named.value) else {
            self.no_such(named, "flight", model.flights.iter().map(|f| f.id.to_string()).collect());
            return None;
        };
        let (opening, openings) = self.openings(call)?;
        let leg = match call.get("leg") {
            None => 1.min(flight.legs.len().saturating_sub(1)),
            Some(named) => {
                let found = flight.legs.iter().position(|l| l.name == named.value);
                if found.is_none() {
                    self.no_such(named, "leg of the flight", flight.legs.iter().map(|l| l.name.clone()).collect());
                }
                found?
            }
        };
        Some(Asked { flight, opening, openings, leg })
    }

    fn no_such(&mut self, named: &Spanned<String>, what: &str, known: Vec<String>) {
        let near = did_you_mean(&named.value, known.iter().map(String::as_str));
        let help =
            near.map_or_else(|| format!("write one of {}", known.join(", ")), |n| format!("did you mean `{n}`?"));
        self.error("name-unknown", named.span, format!("no {what} is called `{}`", clip(&named.value)), help);
    }

    fn openings(&mut self, call: &Call) -> Option<(&'static str, Openings)> {
        let named = call.get("opening");
        let found = named.and_then(|n| OPENINGS.into_iter().find(|o| *o == n.value));
        let Some(found) = found else {
            let span = named.map_or(call.span, |n| n.span);
            let help = format!("write `opening=\"…\"` with one of {}", OPENINGS.join(", "));
            self.error("call-argument", span, "this plot needs to know which opening is blocked", help);
            return None;
        };
        let openings = match found {
            "static" => Openings { statics: StaticLine::Trapped, ..CLEAR },
            "ram-hole" => Openings { pitot: PitotLine::RamBlocked, ..CLEAR },
            "ram-hole-and-drain" => Openings { pitot: PitotLine::Trapped, ..CLEAR },
            _ => {
                let Some((_, offset)) = cabin_offset(self.model) else {
                    let help = "say `pressure-offset` of the alternate source, or call for another opening";
                    self.lacking(call, "the pressure in the cabin", help);
                    return None;
                };
                Openings { statics: StaticLine::Cabin(offset), ..CLEAR }
            }
        };
        Some((found, openings))
    }

    fn cannot_fly(&mut self, call: &Call, error: AirError) -> Option<Made> {
        self.error("call-argument", call.span, error.to_string(), "mend the legs of the flight in the model");
        None
    }

    fn heads_of_legs(&mut self) -> Vec<Inlines> {
        let mut head = heads(&["plot-head-leg", "plot-head-end"]);
        for instrument in &INSTRUMENTS {
            for which in ["plot-head-true", "plot-head-shown"] {
                head.push(say(which, &[("part", say(instrument.phrase, &[]).into())]));
            }
        }
        head
    }

    fn reading_of_legs(&mut self, jump: bool) -> Inlines {
        let [speed, height, rate] =
            [0, 1, 2].map(|at: usize| self.rounding(INSTRUMENTS[at].id, INSTRUMENTS[at].rounding));
        let facts = [("fact", speed.into()), ("other", height.into()), ("third", rate.into()), ("jump", jump.into())];
        say("plot-reading-blocked", &facts)
    }

    /// What is true and shown at the end of each leg.
    fn rows_of_legs(&mut self, asked: &Asked<'_>, ends: &[Moment]) -> Vec<Vec<Inlines>> {
        let mut rows = Vec::new();
        for (at, (leg, end)) in asked.flight.legs.iter().zip(ends).enumerate() {
            let subject = format!("plot/{}/{}/from-{}/leg-{}", asked.flight.id, asked.opening, asked.leg + 1, at + 1);
            let time = Rounding { step: 1.0, unit: "min" };
            let mut row = vec![vec![quoted(format!("flight/{}/leg-{}", asked.flight.id, at + 1), &leg.name)]];
            row.push(vec![self.valued(at_leg(&subject, "end".to_owned(), end.at.0, time))]);
            for instrument in &INSTRUMENTS {
                for (which, reading) in [("true", &end.true_reading), ("shown", &end.shown)] {
                    let aspect = format!("{}-{which}", instrument.id);
                    let value = at_leg(&subject, aspect, (instrument.read)(reading), instrument.rounding);
                    row.push(vec![self.valued(value)]);
                }
            }
            rows.push(row);
        }
        rows
    }
}

fn at_leg(subject: &str, aspect: String, number: f64, rounding: Rounding) -> Value<'_> {
    Value { subject, aspect, number, rounding, method: "pressures in the lines, leg by leg", inputs: Vec::new() }
}

fn caption(asked: &Asked<'_>) -> Inlines {
    let of = |what: &str| format!("flight/{}/{what}", asked.flight.id);
    let opening = say(
        match asked.opening {
            "static" => "plot-static",
            "ram-hole" => "plot-ram-hole",
            "ram-hole-and-drain" => "plot-ram-hole-and-drain",
            _ => "plot-cabin",
        },
        &[],
    );
    let leg = asked.flight.legs.get(asked.leg).map_or("", |l| l.name.as_str());
    let parts = [
        ("opening", opening.into()),
        ("flight", quoted(of("name"), &asked.flight.name).into()),
        ("leg", quoted(of(&format!("leg-{}", asked.leg + 1)), leg).into()),
    ];
    say("caption-plot-blocked", &parts)
}

fn bands(flight: &Flight, ends: &[Moment]) -> Vec<Band> {
    let each = flight.legs.iter().zip(ends.chunks_exact(2)).enumerate();
    let band = |(at, (leg, pair)): (usize, (&crate::model::FlightLeg, &[Moment]))| Band {
        label: vec![quoted(format!("flight/{}/leg-{}", flight.id, at + 1), &leg.name)],
        from: pair[0].at.0,
        to: pair[1].at.0,
    };
    each.map(band).collect()
}

fn chart(instrument: &Instrument, moments: &[Moment], to: f64) -> Chart {
    let points = |reading: fn(&Moment) -> &Reading| -> Vec<(f64, f64)> {
        moments.iter().map(|m| (m.at.0, (instrument.read)(reading(m)))).collect()
    };
    let (real, shown) = (points(|m| &m.true_reading), points(|m| &m.shown));
    let values = || real.iter().chain(&shown).map(|p| p.1);
    let (low, high) = (values().fold(f64::MAX, f64::min), values().fold(f64::MIN, f64::max));
    let (low, high) = if high - low < instrument.least {
        (low - instrument.least / 2.0, high + instrument.least / 2.0)
    } else {
        (low, high)
    };
    let across = Axis { name: say("plot-time", &[]), unit: "min", from: 0.0, to };
    let up = Axis { name: say(instrument.phrase, &[]), unit: instrument.rounding.unit, from: low, to: high };
    let curves = vec![
        Curve { label: say("plot-true", &[]), stroke: Stroke::Plain, points: real },
        Curve { label: say("plot-shown", &[]), stroke: Stroke::Broken, points: shown },
    ];
    Chart::Curves(Curves { across, up, curves, level: None })
}
