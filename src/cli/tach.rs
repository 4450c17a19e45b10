//! `tach`: tachometer time beside clock time.

use super::answers::{LegAnswer, Names, TachAnswer, VERSION, aircraft};
use super::arguments::TachArguments;
use super::console::{Console, Stop};
use super::sound::Sound;
use super::text;
use crate::analyse::tach::{Leg, clock_h, tach_h};
use crate::base::Unit;

/// Beyond any engine and any flight: a slip of the finger, not a leg.
const MOST: f64 = 100_000.0;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Usage`] where a leg cannot be read; [`Stop::Findings`] where the model has errors or says no reference speed.
pub fn run(arguments: &TachArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let legs = arguments.leg.iter().map(|l| leg(l)).collect::<Result<Vec<_>, _>>()?;
    let sound = Sound::read(&arguments.aircraft, console)?;
    let reference = sound.model.time.as_ref().and_then(|t| t.reference.as_ref());
    let reference_rpm = Unit::find("rpm").and_then(|rpm| reference?.in_unit(rpm));
    let Some(reference_rpm) = reference_rpm else {
        console.complain(
            "error: the model gives no reference speed: write `[time]` with `reference = \"2400 rpm\"` or as it is",
        );
        return Err(Stop::Findings);
    };
    let answer = answer(aircraft(Names { model: &sound.model }), reference_rpm, &legs);
    if arguments.json { console.json(&answer) } else { console.answer(&text::tach(&answer)) }
}

/// `1200:60`: engine speed in rpm, clock time in minutes.
fn leg(text: &str) -> Result<Leg, Stop> {
    let number = |part: &str| part.trim().parse::<f64>().ok().filter(|n| (0.0..=MOST).contains(n));
    let parts = text.split_once(':').and_then(|(rpm, min)| Some((number(rpm)?, number(min)?)));
    match parts {
        Some((rpm, clock_min)) => Ok(Leg { rpm, clock_min }),
        None => Err(Stop::Usage(format!("`--leg {text}` is no leg: write RPM:MINUTES, as in `--leg 1200:60`"))),
    }
}

fn answer(aircraft: String, reference_rpm: f64, legs: &[Leg]) -> TachAnswer {
    let answered: Vec<LegAnswer> = legs.iter().map(|l| leg_answer(*l, reference_rpm)).collect();
    TachAnswer {
        ribstitch: VERSION,
        aircraft,
        reference_rpm,
        tach_h: answered.iter().map(|l| l.tach_h).sum(),
        clock_h: legs.iter().map(|l| clock_h(*l)).sum(),
        legs: answered,
    }
}

fn leg_answer(leg: Leg, reference_rpm: f64) -> LegAnswer {
    let tach_h = tach_h(leg, reference_rpm);
    let Leg { rpm, clock_min: min } = leg;
    let sum = format!("{rpm} rpm ÷ {reference_rpm} rpm × {min} min ÷ 60 min/h = {tach_h:.2} h");
    LegAnswer { rpm, min, tach_h, sum }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn legs_are_numbers_in_reason() {
        assert_eq!(leg("1200:60").unwrap(), Leg { rpm: 1200.0, clock_min: 60.0 });
        for wrong in ["", "1200", "1200:", ":60", "a:b", "-1:60", "1e9:60", "inf:1", "NaN:1", "1:2:3"] {
            assert!(leg(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn the_sum_is_written_out_and_adds_up() {
        let answer = answer(String::new(), 2400.0, &[leg("2400:60").unwrap(), leg("1200:60").unwrap()]);
        assert_eq!((answer.tach_h, answer.clock_h), (1.5, 2.0));
        assert_eq!(answer.legs[1].sum, "1200 rpm ÷ 2400 rpm × 60 min ÷ 60 min/h = 0.50 h");
    }
}
