//! What the physics needs to know: wires, duty, discharge, flights, phases on the battery.

use super::build::{Builder, list, name, quantity, text};
use super::names::{Declared, declared};
use super::state::controls;
use crate::base::{Diagnostic, Quantity, Spanned, Unit};
use crate::model::{
    Discharge, Duty, EndurancePhase, EndurancePlan, Flight, FlightLeg, ItemIx, StateIx, Wire, WireGauge,
};
use crate::parse::{RawTable, RawValue};

/// The bounds of a quantity, in a unit; the lower one is itself no amount where it is `above`.
#[derive(Clone, Copy)]
pub struct Bounds {
    unit: &'static str,
    low: f64,
    above: bool,
    high: f64,
}

const fn above_zero(unit: &'static str, high: f64) -> Bounds {
    Bounds { unit, low: 0.0, above: true, high }
}

const fn between(unit: &'static str, low: f64, high: f64) -> Bounds {
    Bounds { unit, low, above: false, high }
}

/// Of the offset of a static source.
pub const OFFSET: Bounds = between("hPa", -50.0, 50.0);
const LEG_TIME: Bounds = above_zero("min", 10_000.0);
const ENGINE: Bounds = between("rpm", 0.0, 10_000.0);
const ALTITUDE: Bounds = between("ft", -2_000.0, 60_000.0);
const AIRSPEED: Bounds = between("kt", 0.0, 600.0);
const WIRE_LENGTH: Bounds = above_zero("ft", 1_000.0);
const RATED_OVER: Bounds = above_zero("h", 1_000.0);
const TEMPERATURE: Bounds = between("degC", -60.0, 80.0);

/// A quantity within its bounds.
///
/// # Errors
/// `number-out-of-range` at the value.
pub fn bounded(b: &mut Builder<'_, '_>, t: &RawTable, key: &str, bounds: Bounds) -> Option<Quantity> {
    let found = quantity(t, key)?;
    let number = Unit::find(bounds.unit).and_then(|u| found.in_unit(u))?;
    let low_enough = if bounds.above { number > bounds.low } else { number >= bounds.low };
    if low_enough && number <= bounds.high && found.upper.is_none() {
        return Some(found);
    }
    let at = t.get(key).map(|e| e.value.span)?;
    let from = if bounds.above { "more than" } else { "at least" };
    let (low, high, unit) = (bounds.low, bounds.high, bounds.unit);
    let message = format!("`{key}` cannot be {found}");
    b.diagnostics.push(
        Diagnostic::error("number-out-of-range", at, message)
            .help(format!("write one value, {from} {low} {unit} and at most {high} {unit}")),
    );
    None
}

/// The wire of an item.
pub fn wire(b: &mut Builder<'_, '_>, t: &RawTable) -> Option<Wire> {
    let t = t.table("wire")?;
    let gauge = t.text("gauge").and_then(WireGauge::find)?;
    Some(Wire { gauge, length: bounded(b, t, "length", WIRE_LENGTH)? })
}

/// For what share of the time a node draws.
pub fn duty(b: &mut Builder<'_, '_>, t: &RawTable) -> Duty {
    let Some(entry) = t.get("duty") else { return Duty::default() };
    if let Some(usual) = entry.value.as_number() {
        return Duty { usual, by_state: Vec::new() };
    }
    Duty { by_state: by_state(b, t, "duty", RawValue::as_number), ..Duty::default() }
}

/// What a table says of states, in their order; what is wrong with a value was told already.
pub fn by_state<T>(
    b: &mut Builder<'_, '_>,
    t: &RawTable,
    key: &str,
    read: impl Fn(&RawValue) -> Option<T>,
) -> Vec<(StateIx, T)> {
    let mut found: Vec<(StateIx, T)> = Vec::new();
    let entries = t.get(key).and_then(|e| e.value.as_table()).map_or(&[][..], |t| &t.entries);
    for entry in entries {
        let named = Spanned::new(entry.key.clone(), entry.key_span);
        let state = b.names.state("unknown-state", &named, b.diagnostics);
        found.extend(state.zip(read(&entry.value)));
    }
    found.sort_by_key(|(state, _)| *state);
    found
}

/// What a battery gives of its rating.
pub fn discharge(b: &mut Builder<'_, '_>, t: &RawTable) -> Option<Discharge> {
    let t = t.table("discharge")?;
    let number = |key: &str| t.get(key).and_then(|e| e.value.as_number());
    if let Some(exponent) = t.get("exponent").filter(|_| t.get("over").is_none()) {
        b.diagnostics.push(
            Diagnostic::error("missing-key", exponent.key_span, "`discharge` has an `exponent` and no `over`")
                .help("add `over`: the time over which the rating was taken, like \"20 h\""),
        );
    }
    let points = list(t, "cold").iter().filter_map(RawValue::as_table);
    let mut cold: Vec<(Quantity, f64)> =
        points.filter_map(|p| bounded(b, p, "at", TEMPERATURE).zip(p.get("gives")?.value.as_number())).collect();
    cold.sort_by(|a, b| a.0.si().total_cmp(&b.0.si()));
    Some(Discharge {
        over: bounded(b, t, "over", RATED_OVER),
        usable: number("usable"),
        exponent: number("exponent"),
        cold,
    })
}

/// The flights.
pub fn flights(whole: &RawTable, b: &mut Builder<'_, '_>) -> Vec<Flight> {
    declared(whole, "flight").iter().map(|d| flight(b, d)).collect()
}

fn flight(b: &mut Builder<'_, '_>, declared: &Declared<'_>) -> Flight {
    let t = declared.table;
    let legs = list(t, "leg").iter().filter_map(RawValue::as_table).filter_map(|leg| flight_leg(b, leg)).collect();
    let monthly = t.get("monthly").and_then(|e| e.value.as_whole()).and_then(|n| u32::try_from(n).ok());
    Flight {
        id: declared.id.clone(),
        name: text(t, "name").unwrap_or_default(),
        monthly: monthly.unwrap_or(0),
        altitude: bounded(b, t, "altitude", ALTITUDE),
        airspeed: bounded(b, t, "airspeed", AIRSPEED),
        legs,
        span: declared.span,
    }
}

fn flight_leg(b: &mut Builder<'_, '_>, t: &RawTable) -> Option<FlightLeg> {
    let state = name(t, "state").and_then(|n| b.names.state("unknown-state", &n, b.diagnostics));
    let lasts = bounded(b, t, "lasts", LEG_TIME);
    let engine = bounded(b, t, "engine", ENGINE);
    let (altitude, airspeed) = (bounded(b, t, "altitude", ALTITUDE), bounded(b, t, "airspeed", AIRSPEED));
    Some(FlightLeg { name: text(t, "name")?, lasts: lasts?, engine, state: state?, altitude, airspeed })
}

/// What is done from the loss of the alternator to the landing.
pub fn endurance(whole: &RawTable, b: &mut Builder<'_, '_>) -> Option<EndurancePlan> {
    let entry = whole.get("endurance")?;
    let t = entry.value.as_table()?;
    let battery: Option<ItemIx> = name(t, "battery").and_then(|n| b.names.item(&n, b.diagnostics));
    let state = name(t, "state").and_then(|n| b.names.state("unknown-state", &n, b.diagnostics));
    let tables: Vec<&RawTable> = list(t, "phase").iter().filter_map(RawValue::as_table).collect();
    let open = tables.iter().filter(|p| p.get("lasts").is_none()).count();
    if open != 1 {
        let message = format!("{open} phases are without `lasts`, and exactly one gets what is left");
        b.diagnostics.push(
            Diagnostic::error("endurance-open-phases", entry.key_span, message)
                .help("give each phase but one its `lasts`: the one that can be as long as the battery allows"),
        );
    }
    let phases = tables.into_iter().map(|p| phase(b, p)).collect();
    Some(EndurancePlan { battery: battery?, state, phases, span: entry.key_span })
}

fn phase(b: &mut Builder<'_, '_>, t: &RawTable) -> EndurancePhase {
    let lasts = bounded(b, t, "lasts", LEG_TIME);
    EndurancePhase { name: text(t, "name").unwrap_or_default(), lasts, controls: controls(b, t) }
}
