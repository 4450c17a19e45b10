//! The answer of `trace` as text.

use super::Sheet;
use crate::base::text::{capitalise, join_list};
use crate::cli::answers::{Names, TraceAnswer};
use crate::doc::TRAINING_AID;

/// The whole answer.
pub fn trace(answer: &TraceAnswer, names: Names<'_>) -> String {
    let mut sheet = Sheet::default();
    let media: Vec<String> = answer.media.iter().map(|m| names.by_id(m)).collect();
    let fed = if media.is_empty() { "it is fed by nothing".to_owned() } else { join_list(&media, "and") };
    sheet.paragraph(0, &format!("{}: {} ({}); {fed}.", answer.aircraft, answer.name, answer.id));
    list(&mut sheet, "In one way or another it hangs on these sources", &answer.sources, names);
    let between: Vec<String> = answer.upstream.iter().filter(|id| !answer.sources.contains(id)).cloned().collect();
    list(&mut sheet, "Between them and it", &between, names);
    list(&mut sheet, "On it hang", &answer.downstream, names);
    sheet.gap();
    sheet.paragraph(0, TRAINING_AID);
    sheet.finish()
}

fn list(sheet: &mut Sheet, heading: &str, ids: &[String], names: Names<'_>) {
    sheet.heading(heading);
    if ids.is_empty() {
        sheet.paragraph(2, "nothing");
    }
    for id in ids {
        sheet.paragraph(2, &format!("{} ({id})", capitalise(&names.by_id(id))));
    }
}
