//! The answer of `tach` as text, the sums written out.

use super::Sheet;
use crate::cli::answers::TachAnswer;
use crate::doc::TRAINING_AID;

/// The whole answer.
pub fn tach(answer: &TachAnswer) -> String {
    let mut sheet = Sheet::default();
    let reference = answer.reference_rpm;
    sheet.paragraph(0, &format!("{}: the tachometer counts clock time at {reference} rpm.", answer.aircraft));
    sheet.gap();
    for leg in &answer.legs {
        sheet.paragraph(2, &leg.sum);
    }
    sheet.gap();
    sheet.paragraph(0, &format!("Tachometer time: {:.2} h. Clock time: {:.2} h.", answer.tach_h, answer.clock_h));
    sheet.paragraph(0, "Both are rounded to 0.01 h here, and nowhere before.");
    sheet.gap();
    sheet.paragraph(0, TRAINING_AID);
    sheet.finish()
}
