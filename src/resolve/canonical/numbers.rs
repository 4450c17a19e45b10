//! What the physics needs to know.

use super::tree::{Table, Value};
use crate::model::{Discharge, Duty, EndurancePlan, Flight, FlightLeg, ItemIx, Model, PositionIx, Wire};

pub fn put_duty(table: &mut Table, model: &Model, of: &Duty) {
    if of.by_state.is_empty() {
        if of.usual < 1.0 {
            table.put("duty", Value::number(of.usual));
        }
        return;
    }
    let mut states = Table::default();
    of.by_state.iter().for_each(|(state, share)| states.put(model[*state].id.as_str(), Value::number(*share)));
    table.put("duty", states.inline());
}

pub fn wire(of: &Wire) -> Table {
    let mut table = Table::default();
    table.text("gauge", of.gauge.word());
    table.text("length", &of.length.typed);
    table
}

pub fn discharge(of: &Discharge) -> Table {
    let mut table = Table::default();
    table.maybe("over", of.over.as_ref());
    of.usable.iter().for_each(|share| table.put("usable", Value::number(*share)));
    of.exponent.iter().for_each(|k| table.put("exponent", Value::number(*k)));
    let points = of.cold.iter().map(|(at, gives)| {
        let mut point = Table::default();
        point.text("at", &at.typed);
        point.put("gives", Value::number(*gives));
        point.inline()
    });
    table.list("cold", points.collect());
    table
}

pub fn flight(model: &Model, of: &Flight) -> Table {
    let mut table = Table::default();
    table.text("name", &of.name);
    if of.monthly > 0 {
        table.put("monthly", Value::whole(of.monthly));
    }
    table.maybe("altitude", of.altitude.as_ref());
    table.maybe("airspeed", of.airspeed.as_ref());
    table.put("leg", Value::Tables(of.legs.iter().map(|l| leg(model, l)).collect()));
    table
}

fn leg(model: &Model, of: &FlightLeg) -> Table {
    let mut table = Table::default();
    table.text("name", &of.name);
    table.text("lasts", &of.lasts.typed);
    table.maybe("engine", of.engine.as_ref());
    table.text("state", model[of.state].id.as_str());
    table.maybe("altitude", of.altitude.as_ref());
    table.maybe("airspeed", of.airspeed.as_ref());
    table
}

pub fn endurance(model: &Model, of: &EndurancePlan) -> Table {
    let mut table = Table::default();
    table.text("battery", model[of.battery].id.as_str());
    table.maybe("state", of.state.map(|s| &model[s].id));
    let phases = of.phases.iter().map(|phase| {
        let mut table = Table::default();
        table.text("name", &phase.name);
        table.maybe("lasts", phase.lasts.as_ref());
        table.table("controls", controls(model, &phase.controls));
        table
    });
    table.put("phase", Value::Tables(phases.collect()));
    table
}

/// Controls as they stand.
pub fn controls(model: &Model, of: &[(ItemIx, PositionIx)]) -> Table {
    let mut table = Table::default();
    for (item, position) in of {
        let name = model.control(*item).map_or("", |c| c.position(*position).as_str());
        table.text(model[*item].id.as_str(), name);
    }
    table
}
