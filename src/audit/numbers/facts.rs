//! What the canonical text says for the sums: draws, duty, wires, the battery, flights, as plain numbers.

use super::needles::ScaleTexts;
use crate::audit::amount::Amount;
use crate::audit::fields::{Fields, minutes, text_of};
use std::collections::BTreeMap;
use toml::{Table, Value};

type Read<T> = Result<T, String>;

/// Of an item or function: its quantities as texts, and what is said of its draw.
#[derive(Debug, Clone, Default)]
pub(in crate::audit) struct Figures {
    texts: BTreeMap<String, String>,
    /// For what share of the time it draws.
    pub(super) duty: f64,
    pub(super) duty_in: BTreeMap<String, f64>,
    pub(super) intermittent: bool,
    /// Size and length in feet.
    pub(super) wire: Option<(String, f64)>,
    pub(super) discharge: Option<Discharge>,
    pub(super) scale: Option<ScaleTexts>,
}

/// How much of its rating a battery gives.
#[derive(Debug, Clone, Default)]
pub(in crate::audit) struct Discharge {
    pub(super) over_h: Option<f64>,
    pub(super) usable: Option<f64>,
    pub(super) exponent: Option<f64>,
    /// Degrees Celsius, and the share that is left there; coldest first.
    pub(super) cold: Vec<(f64, f64)>,
}

/// A phase on the battery.
#[derive(Debug, Clone, Default)]
pub(in crate::audit) struct Phase {
    pub(super) name: String,
    pub(super) lasts_min: Option<f64>,
    pub(super) controls: BTreeMap<String, String>,
}

/// `[endurance]`.
#[derive(Debug, Clone, Default)]
pub(in crate::audit) struct Plan {
    pub(super) battery: String,
    pub(super) state: Option<String>,
    pub(super) phases: Vec<Phase>,
}

/// A leg of a flight.
#[derive(Debug, Clone, Default)]
pub(in crate::audit) struct Leg {
    pub(in crate::audit) name: String,
    pub(in crate::audit) state: String,
    pub(in crate::audit) minutes: f64,
    pub(in crate::audit) rpm: f64,
    pub(in crate::audit) altitude_ft: Option<f64>,
    pub(in crate::audit) airspeed_kt: Option<f64>,
}

/// A flight in legs.
#[derive(Debug, Clone, Default)]
pub(in crate::audit) struct Flight {
    pub(in crate::audit) name: String,
    pub(in crate::audit) monthly: f64,
    pub(in crate::audit) altitude_ft: f64,
    pub(in crate::audit) airspeed_kt: f64,
    pub(in crate::audit) legs: Vec<Leg>,
}

/// All of it.
#[derive(Debug, Clone, Default)]
pub(in crate::audit) struct Facts {
    pub(super) of: BTreeMap<String, Figures>,
    pub(super) plan: Option<Plan>,
    pub(in crate::audit) flights: BTreeMap<String, Flight>,
    pub(super) reference_rpm: Option<f64>,
    pub(super) hour_meter: Option<String>,
    /// By how many hours an inspection may be exceeded, by its name.
    pub(super) overruns: BTreeMap<String, f64>,
}

impl Facts {
    /// Reads them from the model part of the canonical text.
    pub(in crate::audit) fn read(table: &Table) -> Read<Self> {
        let whole = Fields::new(table, String::new());
        let mut facts = Self::default();
        for (id, fields) in whole.each("item")? {
            facts.of.insert(id.to_owned(), figures(&fields)?);
            for (function, inner) in fields.each("function")? {
                facts.of.insert(format!("{id}.{function}"), figures(&inner)?);
            }
        }
        facts.plan = whole.inner("endurance")?.map(|fields| plan(&fields)).transpose()?;
        for (id, fields) in whole.each("flight")? {
            facts.flights.insert(id.to_owned(), flight(&fields)?);
        }
        for (value, place) in whole.list("inspection")? {
            let inspection = Fields::of(value, place)?;
            if let Some(hours) = amount(&inspection, "overrun", "h")? {
                facts.overruns.insert(inspection.required("name")?, hours);
            }
        }
        if let Some(time) = whole.inner("time")? {
            facts.reference_rpm = amount(&time, "reference", "rpm")?;
            facts.hour_meter = time.text("hour-meter")?;
        }
        Ok(facts)
    }

    /// Cabin pressure at the alternate static source less static pressure, hPa.
    pub(in crate::audit) fn cabin_hpa(&self) -> Option<f64> {
        self.of.keys().find_map(|id| self.quantity(id, "pressure-offset", "hPa"))
    }

    /// A quantity of a thing in a unit; nothing where it says none, or one of another kind.
    pub(super) fn quantity(&self, of: &str, key: &str, unit: &str) -> Option<f64> {
        Amount::read(self.of.get(of)?.texts.get(key)?)?.number_in(unit)
    }
}

fn figures(fields: &Fields) -> Read<Figures> {
    let texts = fields.entries().filter_map(|(key, value)| Some((key.to_owned(), value.as_str()?.to_owned())));
    let mut figures = Figures { texts: texts.collect(), duty: 1.0, ..Figures::default() };
    match fields.get("duty") {
        Some(Value::Table(states)) => {
            figures.duty_in = states.iter().filter_map(|(s, share)| Some((s.clone(), plain(share)?))).collect();
        }
        Some(share) => {
            figures.duty = plain(share).ok_or_else(|| format!("{}: expected a number", fields.at("duty")))?
        }
        None => {}
    }
    figures.intermittent = fields.flag("intermittent")?.unwrap_or(false);
    if let Some(wire) = fields.inner("wire")? {
        let length = amount(&wire, "length", "ft")?.ok_or_else(|| format!("{}: missing", wire.at("length")))?;
        figures.wire = Some((wire.required("gauge")?, length));
    }
    if let Some(says) = fields.inner("discharge")? {
        let share = |key: &str| says.get(key).and_then(plain);
        let mut cold = Vec::new();
        for (value, place) in says.list("cold")? {
            let at = Fields::of(value, place)?;
            let celsius = amount(&at, "at", "degC")?.ok_or_else(|| format!("{}: missing", at.at("at")))?;
            cold.push((
                celsius,
                at.get("gives").and_then(plain).ok_or_else(|| format!("{}: missing", at.at("gives")))?,
            ));
        }
        cold.sort_by(|a, b| a.0.total_cmp(&b.0));
        figures.discharge = Some(Discharge {
            cold,
            over_h: amount(&says, "over", "h")?,
            usable: share("usable"),
            exponent: share("exponent"),
        });
    }
    figures.scale = fields.inner("scale")?.map(|scale| scale_texts(&scale)).transpose()?;
    Ok(figures)
}

fn scale_texts(scale: &Fields) -> Read<ScaleTexts> {
    let mut arcs = Vec::new();
    for (value, place) in scale.list("arcs")? {
        let arc = Fields::of(value, place)?;
        arcs.push((arc.required("over")?, arc.required("mark")?));
    }
    let mut usual_in = BTreeMap::new();
    if let Some(states) = scale.inner("usual-in")? {
        for (state, at) in states.entries() {
            usual_in.insert(state.to_owned(), text_of(at, &states.at(state))?);
        }
    }
    Ok(ScaleTexts {
        span: scale.required("span")?,
        rests: scale.text("rests")?,
        usual: scale.text("usual")?,
        usual_in,
        unfed: scale.text("unfed")?,
        arcs,
    })
}

fn plain(value: &Value) -> Option<f64> {
    match value {
        Value::Float(number) => Some(*number),
        Value::Integer(number) => i32::try_from(*number).ok().map(f64::from),
        _ => None,
    }
}

fn amount(fields: &Fields, key: &str, unit: &str) -> Read<Option<f64>> {
    let Some(text) = fields.text(key)? else { return Ok(None) };
    let number = Amount::read(&text).and_then(|amount| amount.number_in(unit));
    number.map(Some).ok_or_else(|| format!("{}: expected a quantity in {unit}, found \"{text}\"", fields.at(key)))
}

fn plan(fields: &Fields) -> Read<Plan> {
    let mut phases = Vec::new();
    for (value, place) in fields.list("phase")? {
        let phase = Fields::of(value, place)?;
        let mut controls = BTreeMap::new();
        if let Some(inner) = phase.inner("controls")? {
            for (control, position) in inner.entries() {
                controls.insert(control.to_owned(), text_of(position, &inner.at(control))?);
            }
        }
        let lasts_min = phase.text("lasts")?.map(|text| minutes(&text, &phase.at("lasts"))).transpose()?;
        phases.push(Phase { name: phase.required("name")?, lasts_min, controls });
    }
    Ok(Plan { battery: fields.required("battery")?, state: fields.text("state")?, phases })
}

fn flight(fields: &Fields) -> Read<Flight> {
    let mut legs = Vec::new();
    for (value, place) in fields.list("leg")? {
        let leg = Fields::of(value, place)?;
        legs.push(Leg {
            name: leg.required("name")?,
            state: leg.required("state")?,
            minutes: minutes(&leg.required("lasts")?, &leg.at("lasts"))?,
            rpm: amount(&leg, "engine", "rpm")?.unwrap_or(0.0),
            altitude_ft: amount(&leg, "altitude", "ft")?,
            airspeed_kt: amount(&leg, "airspeed", "kt")?,
        });
    }
    Ok(Flight {
        name: fields.required("name")?,
        monthly: fields.get("monthly").and_then(plain).unwrap_or(0.0),
        altitude_ft: amount(fields, "altitude", "ft")?.unwrap_or(0.0),
        airspeed_kt: amount(fields, "airspeed", "kt")?.unwrap_or(0.0),
        legs,
    })
}
