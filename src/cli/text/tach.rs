//! The answer of `tach` as text, the sums written out.

use super::Sheet;
use crate::cli::answers::{LegAnswer, MonthAnswer, TachAnswer};
use crate::doc::TRAINING_AID;

/// The whole answer.
pub fn tach(answer: &TachAnswer) -> String {
    let mut sheet = Sheet::default();
    let reference = answer.reference_rpm;
    sheet.paragraph(0, &format!("{}: the tachometer counts clock time at {reference} rpm.", answer.aircraft));
    sheet.gap();
    answer.legs.iter().for_each(|l| leg(l, &mut sheet));
    if let Some(month) = &answer.month {
        monthly(month, &mut sheet);
    }
    sheet.gap();
    sheet.paragraph(0, &format!("Tachometer time: {:.2} h. Clock time: {:.2} h.", answer.tach_h, answer.clock_h));
    if let Some((meter, service)) = answer.meter_h.zip(answer.service_h) {
        sheet.paragraph(0, &format!("Hour meter: {meter:.2} h. Time in service: {service:.2} h."));
    }
    answer.month.iter().for_each(|m| year(m, &mut sheet));
    let both = if answer.meter_h.is_some() { "Times are" } else { "Both are" };
    sheet.paragraph(0, &format!("{both} rounded to 0.01 h here, and nowhere before."));
    sheet.gap();
    sheet.paragraph(0, TRAINING_AID);
    sheet.finish()
}

fn leg(of: &LegAnswer, sheet: &mut Sheet) {
    let name = of.name.as_ref().map_or(String::new(), |n| format!("{n}: "));
    let others = of.meter_h.zip(of.service_h);
    let others = others.map_or(String::new(), |(m, s)| format!("; hour meter {m:.2} h; in service {s:.2} h"));
    sheet.paragraph(2, &format!("{name}{}{others}", of.sum));
}

fn monthly(of: &MonthAnswer, sheet: &mut Sheet) {
    for flight in &of.flights {
        let (many, name) = (flight.monthly, &flight.name);
        let (tach, meter, service) = (flight.tach_h, flight.meter_h, flight.service_h);
        let times = format!("tachometer {tach:.2} h; hour meter {meter:.2} h; in service {service:.2} h");
        sheet.paragraph(2, &format!("{many} × {name} in a month: {times}"));
    }
}

fn year(of: &MonthAnswer, sheet: &mut Sheet) {
    let (tach, meter, service) = (of.year_tach_h, of.year_meter_h, of.year_service_h);
    sheet.paragraph(
        0,
        &format!("In a year: tachometer {tach:.2} h; hour meter {meter:.2} h; in service {service:.2} h."),
    );
    if let Some((ratio, factor)) = of.ratio.zip(of.price_factor) {
        let share = format!("The tachometer counts {ratio:.3} h in an hour of the hour meter.");
        let price =
            format!("A price by the tachometer takes the same at {factor:.3} times the price by the hour meter.");
        sheet.paragraph(0, &format!("{share} {price}"));
    }
    if let Some((meter, service)) = of.meter_in_100_tach_h.zip(of.service_in_100_tach_h) {
        sheet.paragraph(
            0,
            &format!("100 h by the tachometer are {meter:.1} h by the hour meter and {service:.1} h in service."),
        );
    }
    if let Some(meter) = of.meter_at_4000_tach_h {
        sheet.paragraph(0, &format!("4,000 h on the tachometer are {meter:.0} h on an hour meter that began with it."));
    }
}
