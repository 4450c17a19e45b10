//! `tach`: tachometer time beside clock time.

use super::answers::{LegAnswer, Names, TachAnswer, VERSION, aircraft};
use super::arguments::TachArguments;
use super::console::{Console, Stop};
use super::sound::Sound;
use super::text;
use crate::analyse::tach::{Leg, TachTime, WorkedLeg, tach_time};
use crate::base::Unit;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Usage`] where a leg cannot be read; [`Stop::Findings`] where the model has errors or gives no reference speed.
pub fn run(arguments: &TachArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let legs = arguments.leg.iter().map(|l| Leg::parse(l)).collect::<Result<Vec<_>, _>>();
    let legs = legs.map_err(|e| Stop::Usage(e.to_string()))?;
    let sound = Sound::read(&arguments.aircraft, console)?;
    let reference = sound.model.time.as_ref().and_then(|t| t.reference.as_ref());
    let Some(reference_rpm) = Unit::find("rpm").and_then(|rpm| reference?.in_unit(rpm)) else {
        console.complain(
            "error: the model gives no reference speed: write `[time]` with `reference = \"2400 rpm\"`, or as it is",
        );
        return Err(Stop::Findings);
    };
    let time = tach_time(&legs, reference_rpm).map_err(|e| Stop::Usage(e.to_string()))?;
    let answer = answer(aircraft(Names { model: &sound.model }), &time);
    if arguments.json { console.json(&answer) } else { console.answer(&text::tach(&answer)) }
}

fn answer(aircraft: String, time: &TachTime) -> TachAnswer {
    TachAnswer {
        ribstitch: VERSION,
        aircraft,
        reference_rpm: time.reference_rpm,
        tach_h: time.tach_h,
        clock_h: time.clock_h,
        legs: time.legs.iter().map(|l| leg(l, time.reference_rpm)).collect(),
    }
}

fn leg(worked: &WorkedLeg, reference_rpm: f64) -> LegAnswer {
    let (rpm, min, tach_h) = (worked.leg.speed_rpm, worked.leg.time_min, worked.tach_h);
    let sum = format!("{rpm} rpm ÷ {reference_rpm} rpm × {min} min ÷ 60 min/h = {tach_h:.2} h");
    LegAnswer { rpm, min, tach_h, sum }
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
