//! The answer of `due` as text.

use super::Sheet;
use crate::cli::answers::{DueAnswer, InspectionAnswer};
use crate::doc::TRAINING_AID;

/// The whole answer.
pub fn due(answer: &DueAnswer) -> String {
    let mut sheet = Sheet::default();
    sheet.paragraph(0, &format!("{}: inspections as of {}.", answer.aircraft, answer.on));
    sheet.gap();
    for rate in &answer.rates {
        let pace = rate.h_a_day.map_or("too little to tell a rate".to_owned(), |h| format!("{h:.2} h a day lately"));
        sheet.paragraph(2, &format!("{}: {} h at its last reading; {pace}", rate.count, rate.last_h));
    }
    sheet.gap();
    answer.inspections.iter().for_each(|i| sheet.paragraph(2, &line(i)));
    sheet.gap();
    match &answer.first {
        Some(name) => sheet.paragraph(0, &format!("First: {name}.")),
        None => sheet.paragraph(0, "The log tells of no inspection."),
    }
    sheet.paragraph(0, "A day foretold from a count holds at the present rate of flying. Rates are rounded to 0.01 h.");
    sheet.gap();
    sheet.paragraph(0, TRAINING_AID);
    sheet.finish()
}

fn line(of: &InspectionAnswer) -> String {
    let head = format!("{} (every {})", of.name, of.every);
    if !of.known {
        return format!("{head}: the log does not tell of it.");
    }
    let mut parts = vec![format!("done {}", of.done_on.as_deref().unwrap_or("-"))];
    parts.extend(of.due_on.as_ref().map(|day| format!("due by {day}")));
    if let Some((count, at)) = of.count.as_ref().zip(of.due_at_h) {
        parts.push(format!("due at {at:.1} h by {count}"));
    }
    if of.carried_h > 0.0 {
        parts.push(format!("{:.1} h of the interval before are carried", of.carried_h));
    }
    parts.extend(of.left_h.filter(|h| *h >= 0.0).map(|h| format!("{h:.1} h left")));
    parts.extend(of.expected_on.as_ref().filter(|_| of.due_on.is_none() && !of.past).map(|d| format!("about {d}")));
    parts.extend(of.left_days.filter(|_| of.due_on.is_some() && !of.past).map(|d| format!("{d} days left")));
    let past = if of.past { " PAST." } else { "" };
    format!("{head}: {}.{past}", parts.join(", "))
}
