//! The answer of `endurance` as text, the sums written out.

use super::Sheet;
use crate::base::text::join_list;
use crate::cli::answers::{CircuitAnswer, EnduranceAnswer, PhaseAnswer};
use crate::doc::TRAINING_AID;

/// The whole answer.
pub fn endurance(answer: &EnduranceAnswer) -> String {
    let mut sheet = Sheet::default();
    let of = format!("{}: the alternator is lost in `{}`.", answer.aircraft, answer.state);
    sheet.paragraph(0, &of);
    if !answer.shed.is_empty() {
        sheet.paragraph(0, &format!("Shed from the first minute: {}.", join_list(&answer.shed, "and")));
    }
    phases(answer, &mut sheet);
    gains(answer, &mut sheet);
    loads(answer, &mut sheet);
    sheet.heading("Circuits: what opens, what is drawn, what the wire drops");
    answer.circuits.iter().for_each(|c| circuit(c, &mut sheet));
    standing(answer, &mut sheet);
    sheet.gap();
    sheet.paragraph(0, "Currents are rounded to 0.1 A, times to 0.1 min, drops to 0.01 V here, and nowhere before.");
    sheet.gap();
    sheet.paragraph(0, TRAINING_AID);
    sheet.finish()
}

fn phases(answer: &EnduranceAnswer, sheet: &mut Sheet) {
    let (rated, usable) = (answer.battery_ah, answer.usable_ah);
    sheet.heading(&format!("On the `{}` alone", answer.battery));
    sheet.paragraph(2, &format!("{rated} Ah, of which {usable:.2} Ah count: {:.0} A min.", usable * 60.0));
    answer.phases.iter().for_each(|p| phase(p, sheet));
    if let Some(name) = &answer.empty_in {
        sheet.paragraph(2, &format!("The battery is empty in the phase \"{name}\", before its end."));
    }
    let (total, least) = (answer.minutes, answer.least_min);
    sheet.paragraph(
        2,
        &format!("In all {total:.1} min. With nothing left off at all: {:.1} min.", answer.nothing_off_min),
    );
    let than = if total < least { "fewer than" } else { "not fewer than" };
    let rule =
        "that the rules of certification asked for until 2017 with the loads essential to a safe flight and landing";
    let said = format!("Those {total:.1} min are {than} the {least} min {rule}. The loads of this sum are others.");
    sheet.paragraph(2, &said);
    sheet.paragraph(2, "A battery that is old, cold or not full gives less, and radios fail before it is empty.");
    for stage in answer.stages.iter().skip(1) {
        sheet.paragraph(2, &format!("Without {}: {:.1} min.", join_list(&stage.shed, "and"), stage.minutes));
    }
}

fn phase(of: &PhaseAnswer, sheet: &mut Sheet) {
    let counts = if of.counts_as_a > of.a { format!(" (counts as {:.1} A)", of.counts_as_a) } else { String::new() };
    let left = if of.open { ", what is left" } else { "" };
    let sum = format!("{}: {:.1} A{counts} × {:.1} min = {:.0} A min{left}", of.name, of.a, of.min, of.takes_a_min);
    sheet.paragraph(2, &sum);
}

fn gains(answer: &EnduranceAnswer, sheet: &mut Sheet) {
    sheet.heading("What each load costs, if it were off from the first minute");
    for gain in answer.gains.iter().filter(|g| g.min >= 0.05) {
        sheet.paragraph(2, &format!("{}: {:.1} A, {:.1} min", gain.name, gain.a, gain.min));
    }
}

fn loads(answer: &EnduranceAnswer, sheet: &mut Sheet) {
    sheet.heading("Load in each state");
    for state in &answer.states {
        let of = format!("{}: {:.1} A continuous, {:.1} A mean", state.state, state.continuous_a, state.mean_a);
        let allowed = match state.allowed_a {
            a if a > 0.0 => format!("; at most {a:.1} A, which is 80 % of the alternator's rating"),
            _ => "; no alternator works".to_owned(),
        };
        sheet.paragraph(2, &format!("{of}{allowed}"));
    }
}

fn circuit(of: &CircuitAnswer, sheet: &mut Sheet) {
    let mut parts = Vec::new();
    parts.extend(of.opens_at_a.map(|a| format!("rating {a} A")));
    parts.push(format!("{:.1} A continuous, {:.1} A with everything on", of.continuous_a, of.total_a));
    parts.extend(of.gauge.as_ref().map(|g| format!("wire of size {g}")));
    parts.extend(of.protected_to_a.map(|a| format!("which is protected up to {a} A")));
    let drop = of.drop_v.zip(of.allowed_v);
    parts.extend(drop.map(|(drop, allowed)| format!("drops {drop:.2} V of {allowed} V")));
    sheet.paragraph(2, &format!("{}: {}", of.id, parts.join(", ")));
}

fn standing(answer: &EnduranceAnswer, sheet: &mut Sheet) {
    let of = &answer.standing;
    if let Some(on) = &answer.left_on {
        sheet.heading("With the master left on");
        let coil = format!("the coil alone, {:.1} A, in {:.1} h", on.coil_a, on.coil_h);
        sheet.paragraph(
            2,
            &format!(
                "The battery is empty: {coil}; all that is on in `{}`, {:.1} A, in {:.1} h.",
                on.state, on.a, on.h
            ),
        );
    }
    sheet.heading("With everything off");
    match of.days {
        Some(days) => {
            let on = join_list(&of.on, "and");
            let years = if days > 365.0 { format!(", {:.1} years", days / 365.25) } else { String::new() };
            sheet.paragraph(2, &format!("{on}: {:.3} A empty the battery in {days:.0} days{years}.", of.a));
        }
        None => sheet.paragraph(2, "Nothing draws."),
    }
}
