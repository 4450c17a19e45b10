//! What the sums of plots hang on, as the canonical text has it.

use crate::audit::amount::Amount;
use crate::audit::fields::Fields;
use std::collections::{BTreeMap, BTreeSet};
use toml::{Table, Value};

/// Flights, draws, batteries, phases.
#[derive(Debug, Default)]
pub(in crate::audit) struct Sums {
    /// By name.
    pub(super) flights: BTreeMap<String, Flight>,
    /// Pressure of the alternate source less static pressure, hPa.
    pub(super) cabin_hpa: Option<f64>,
    /// By node.
    pub(super) draws: BTreeMap<String, Draw>,
    /// By item, V.
    pub(super) volts: BTreeMap<String, f64>,
    /// By item, A.
    pub(super) ratings: BTreeMap<String, f64>,
    pub(super) batteries: BTreeMap<String, Battery>,
    pub(super) plan: Option<Plan>,
}

/// A flight: height in feet and airspeed in knots at its beginning, and its legs.
#[derive(Debug, Default, Clone)]
pub(super) struct Flight {
    pub(super) from: (f64, f64),
    pub(super) legs: Vec<Leg>,
}

/// Minutes, and height and airspeed at its end.
#[derive(Debug, Clone)]
pub(super) struct Leg {
    pub(super) name: String,
    pub(super) minutes: f64,
    pub(super) to: (f64, f64),
}

/// What a node draws.
#[derive(Debug, Clone)]
pub(super) struct Draw {
    amount: Amount,
    pub(super) duty: BTreeMap<String, f64>,
    pub(super) usual: f64,
    pub(super) moments_only: bool,
}

/// A battery: its rating in ampere hours, the hours of that, the share that counts, the exponent.
#[derive(Debug, Clone)]
pub(super) struct Battery {
    pub(super) rated: f64,
    pub(super) over: Option<f64>,
    pub(super) usable: f64,
    pub(super) exponent: f64,
}

/// What is done from the loss of the alternator on.
#[derive(Debug, Clone)]
pub(super) struct Plan {
    pub(super) battery: String,
    pub(super) state: Option<String>,
    /// Minutes, none for what is left; and controls.
    pub(super) phases: Vec<(Option<f64>, BTreeMap<String, String>)>,
}

impl Draw {
    /// Amperes, at that many volts where it is given in watts.
    pub(super) fn amps(&self, volts: Option<f64>) -> Option<f64> {
        let watts = || Some(self.amount.number_in("W")? / volts?);
        self.amount.number_in("A").or_else(watts)
    }
}

impl Sums {
    /// Reads them from the model part of the canonical text.
    ///
    /// # Errors
    /// The place of the first thing that is missing or of the wrong type.
    pub(in crate::audit) fn read(table: &Table) -> Result<Self, String> {
        let whole = Fields::new(table, String::new());
        let mut sums = Self::default();
        for (id, item) in whole.each("item")? {
            sums.read_item(id, &item)?;
            for (function, inner) in item.each("function")? {
                sums.read_draw(format!("{id}.{function}"), &inner)?;
            }
        }
        for (_, flight) in whole.each("flight")? {
            sums.flights.insert(flight.required("name")?, read_flight(&flight)?);
        }
        sums.plan = whole.inner("endurance")?.map(|p| read_plan(&p)).transpose()?;
        Ok(sums)
    }

    fn read_item(&mut self, id: &str, item: &Fields) -> Result<(), String> {
        self.read_draw(id.to_owned(), item)?;
        self.cabin_hpa = self.cabin_hpa.or(amount(item, "pressure-offset", "hPa")?);
        self.volts.extend(amount(item, "voltage", "V")?.map(|v| (id.to_owned(), v)));
        self.ratings.extend(amount(item, "rating", "A")?.map(|a| (id.to_owned(), a)));
        let Some(rated) = amount(item, "capacity", "Ah")? else { return Ok(()) };
        let says = item.inner("discharge")?;
        let share = |key: &str| says.as_ref().and_then(|s| s.get(key)).and_then(float).unwrap_or(1.0);
        let over = says.as_ref().map(|s| amount(s, "over", "h")).transpose()?.flatten();
        let battery = Battery { rated, over, usable: share("usable"), exponent: share("exponent") };
        self.batteries.insert(id.to_owned(), battery);
        Ok(())
    }

    fn read_draw(&mut self, node: String, fields: &Fields) -> Result<(), String> {
        let Some(amount) = fields.text("draws")?.and_then(|text| Amount::read(&text)) else { return Ok(()) };
        let (mut usual, mut duty) = (1.0, BTreeMap::new());
        match fields.get("duty") {
            Some(Value::Table(states)) => {
                duty.extend(states.iter().filter_map(|(state, share)| Some((state.clone(), float(share)?))));
            }
            Some(other) => usual = float(other).unwrap_or(1.0),
            None => {}
        }
        let moments_only = fields.flag("intermittent")?.unwrap_or(false);
        self.draws.insert(node, Draw { amount, duty, usual, moments_only });
        Ok(())
    }

    /// The voltage of what makes current, else of batteries; the highest.
    pub(super) fn system_volts(&self, makers: &BTreeSet<String>) -> Option<f64> {
        let highest = |ids: &mut dyn Iterator<Item = &String>| {
            ids.filter_map(|id| self.volts.get(id)).copied().max_by(f64::total_cmp)
        };
        highest(&mut makers.iter()).or_else(|| highest(&mut self.batteries.keys()))
    }
}

fn float(value: &Value) -> Option<f64> {
    value.as_float().or_else(|| value.as_integer().map(|n| n as f64))
}

fn amount(fields: &Fields, key: &str, unit: &str) -> Result<Option<f64>, String> {
    Ok(fields.text(key)?.and_then(|text| Amount::read(&text)).and_then(|a| a.number_in(unit)))
}

fn read_flight(fields: &Fields) -> Result<Flight, String> {
    let point = |of: &Fields| Ok::<_, String>((amount(of, "altitude", "ft")?, amount(of, "airspeed", "kt")?));
    let begin = point(fields)?;
    let mut at = (begin.0.unwrap_or(0.0), begin.1.unwrap_or(0.0));
    let mut flight = Flight { from: at, legs: Vec::new() };
    for (value, place) in fields.list("leg")? {
        let leg = Fields::of(value, place)?;
        let end = point(&leg)?;
        at = (end.0.unwrap_or(at.0), end.1.unwrap_or(at.1));
        let minutes = amount(&leg, "lasts", "min")?.unwrap_or(0.0);
        flight.legs.push(Leg { name: leg.required("name")?, minutes, to: at });
    }
    Ok(flight)
}

fn read_plan(fields: &Fields) -> Result<Plan, String> {
    let mut phases = Vec::new();
    for (value, place) in fields.list("phase")? {
        let phase = Fields::of(value, place)?;
        let mut controls = BTreeMap::new();
        if let Some(inner) = phase.inner("controls")? {
            controls.extend(inner.entries().filter_map(|(id, to)| Some((id.to_owned(), to.as_str()?.to_owned()))));
        }
        phases.push((amount(&phase, "lasts", "min")?, controls));
    }
    Ok(Plan { battery: fields.required("battery")?, state: fields.text("state")?, phases })
}
