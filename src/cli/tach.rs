//! `tach`: tachometer time beside clock time; of the model's flights also hour-meter time and time in service.

use super::answers::{LegAnswer, MonthAnswer, MonthlyAnswer, Names, TachAnswer, VERSION, aircraft};
use super::arguments::TachArguments;
use super::console::{Console, Stop};
use super::sound::Sound;
use super::text;
use crate::analyse::clocks::{self, MonthlyFlight, Times, WorkedClockLeg, flight_times, ratio_effects};
use crate::analyse::measure::Rpm;
use crate::analyse::network::Analysis;
use crate::analyse::tach::{Leg, TachTime, WorkedLeg, tach_time};
use crate::model::Model;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Usage`] where a leg cannot be read; [`Stop::Findings`] where the model has errors, gives no reference speed or has no such
/// flight.
pub fn run(arguments: &TachArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let legs = arguments.leg.iter().map(|l| Leg::parse(l)).collect::<Result<Vec<_>, _>>();
    let legs = legs.map_err(|e| Stop::Usage(e.to_string()))?;
    let mut sound = Sound::read(&arguments.aircraft, console)?;
    let reference = sound.model.time.as_ref().and_then(|t| t.reference.as_ref());
    let Some(reference) = reference.and_then(Rpm::of) else {
        console.complain(
            "error: the model gives no reference speed: write `[time]` with `reference = \"2400 rpm\"`, or as it is",
        );
        return Err(Stop::Findings);
    };
    let flight = match &arguments.flight {
        Some(id) => Some(sound.ask(console, |asked| asked.flight("--flight ", id))?),
        None => None,
    };
    let name = aircraft(Names { model: &sound.model });
    let answer = match flight {
        Some(at) => flown(&sound.model, at, reference, name)?,
        None if arguments.month => month(&sound.model, reference, name)?,
        None => answer(name, &tach_time(&legs, reference.0).map_err(|e| Stop::Usage(e.to_string()))?),
    };
    if arguments.json { console.json(&answer) } else { console.answer(&text::tach(&answer)) }
}

fn answer(aircraft: String, time: &TachTime) -> TachAnswer {
    TachAnswer {
        ribstitch: VERSION,
        aircraft,
        reference_rpm: time.reference_rpm,
        tach_h: time.tach_h,
        clock_h: time.clock_h,
        meter_h: None,
        service_h: None,
        legs: time.legs.iter().map(|l| leg(l, time.reference_rpm)).collect(),
        month: None,
    }
}

fn leg(worked: &WorkedLeg, reference_rpm: f64) -> LegAnswer {
    let (rpm, min, tach_h) = (worked.leg.speed_rpm, worked.leg.time_min, worked.tach_h);
    LegAnswer {
        name: None,
        rpm,
        min,
        tach_h,
        meter_h: None,
        service_h: None,
        sum: sum(rpm, reference_rpm, min, tach_h),
    }
}

fn sum(rpm: f64, reference_rpm: f64, min: f64, tach_h: f64) -> String {
    format!("{rpm} rpm ÷ {reference_rpm} rpm × {min} min ÷ 60 min/h = {tach_h:.2} h")
}

/// A flight of the model.
fn flown(model: &Model, at: usize, reference: Rpm, aircraft: String) -> Result<TachAnswer, Stop> {
    let none = || Stop::Usage("the flight has no legs".to_owned());
    let flight = model.flights.get(at).ok_or_else(none)?;
    let legs = clocks::legs(model, &Analysis::new(model), flight);
    let (worked, times) = flight_times(&legs, reference).map_err(|e| Stop::Usage(e.to_string()))?;
    let legs = worked.iter().map(|l| clock_leg(l, reference.0)).collect();
    Ok(of_times(aircraft, reference, times, legs))
}

fn of_times(aircraft: String, reference: Rpm, times: Times, legs: Vec<LegAnswer>) -> TachAnswer {
    TachAnswer {
        ribstitch: VERSION,
        aircraft,
        reference_rpm: reference.0,
        tach_h: times.tach.0,
        clock_h: times.clock.0,
        meter_h: Some(times.meter.0),
        service_h: Some(times.service.0),
        legs,
        month: None,
    }
}

fn clock_leg(of: &WorkedClockLeg, reference_rpm: f64) -> LegAnswer {
    let (rpm, min, tach_h) = (of.leg.engine.0, of.leg.time.0, of.times.tach.0);
    LegAnswer {
        name: Some(of.leg.name.clone()),
        rpm,
        min,
        tach_h,
        meter_h: Some(of.times.meter.0),
        service_h: Some(of.times.service.0),
        sum: sum(rpm, reference_rpm, min, tach_h),
    }
}

/// A month of the model's flights.
fn month(model: &Model, reference: Rpm, aircraft: String) -> Result<TachAnswer, Stop> {
    let (flights, times) = clocks::month(model, &Analysis::new(model), reference)
        .map_err(|_| Stop::Usage("no flight of the model says how often it is flown: add `monthly`".to_owned()))?;
    let effects = ratio_effects(times);
    let month = MonthAnswer {
        flights: flights.iter().map(monthly).collect(),
        year_tach_h: times.tach.0 * 12.0,
        year_meter_h: times.meter.0 * 12.0,
        year_service_h: times.service.0 * 12.0,
        ratio: effects.map(|e| e.ratio),
        price_factor: effects.map(|e| e.price_factor),
        meter_in_100_tach_h: effects.map(|e| e.meter_in_100_tach.0),
        service_in_100_tach_h: effects.map(|e| e.service_in_100_tach.0),
        meter_at_4000_tach_h: effects.map(|e| e.meter_at_4000_tach.0),
    };
    Ok(TachAnswer { month: Some(month), ..of_times(aircraft, reference, times, Vec::new()) })
}

fn monthly(of: &MonthlyFlight) -> MonthlyAnswer {
    MonthlyAnswer {
        name: of.name.clone(),
        monthly: of.monthly,
        tach_h: of.all.tach.0,
        meter_h: of.all.meter.0,
        service_h: of.all.service.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sum_is_written_out_and_adds_up() {
        let legs = ["2400:60", "1200:60"].map(|l| Leg::parse(l).unwrap());
        let answer = answer(String::new(), &tach_time(&legs, 2400.0).unwrap());
        assert_eq!((answer.tach_h, answer.clock_h), (1.5, 2.0));
        assert_eq!(answer.legs[1].sum, "1200 rpm ÷ 2400 rpm × 60 min ÷ 60 min/h = 0.50 h");
    }
}
