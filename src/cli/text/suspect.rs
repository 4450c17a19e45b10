//! The answer of `suspect` as text. It says what would explain what is seen; it tells nobody to do anything.

use super::Sheet;
use crate::base::text::{capitalise, join_list};
use crate::cli::answers::{Names, SuspectAnswer};
use crate::doc::TRAINING_AID;

/// The whole answer.
pub fn suspect(answer: &SuspectAnswer, names: Names<'_>) -> String {
    let mut sheet = Sheet::default();
    let state = names.model.find_state(&answer.state).map_or(answer.state.as_str(), |s| &names.model[s].name);
    let from = if answer.from == "cold" { ", from the cold aircraft on" } else { "" };
    sheet.paragraph(0, &format!("{}; state \"{state}\"{from}.", answer.aircraft));
    sheet.heading("Seen; what is not listed is not known:");
    let seen = [
        ("Dead", &answer.lost),
        ("False", &answer.wrong),
        ("Working", &answer.working),
        ("Showing", &answer.shows),
        ("Not showing", &answer.not_shows),
    ];
    for (what, ids) in seen.into_iter().filter(|(_, ids)| !ids.is_empty()) {
        let list: Vec<String> = ids.iter().map(|id| name(id, names)).collect();
        sheet.paragraph(2, &format!("{what}: {}", list.join(", ")));
    }
    sheet.heading(&heading(answer));
    for set in answer.explanations.iter().filter(|set| !set.is_empty()) {
        let clauses: Vec<String> = set.iter().map(|f| names.fault_by_id(f)).collect();
        sheet.paragraph(2, &format!("{} ({})", capitalise(&join_list(&clauses, "and")), set.join(", ")));
    }
    if !answer.complete {
        sheet.gap();
        sheet.paragraph(0, "There are too many sets of that size to try them all; more things seen narrow it.");
    }
    sheet.gap();
    sheet.paragraph(0, TRAINING_AID);
    sheet.finish()
}

fn heading(answer: &SuspectAnswer) -> String {
    let faults = |n: usize| if n == 1 { "one fault".to_owned() } else { format!("{n} faults together") };
    match (answer.explanations.is_empty(), answer.order) {
        (true, order) if answer.complete => format!("No set of up to {order} faults explains just that."),
        (true, _) => "Nothing was found that explains just that.".to_owned(),
        (false, 0) => "All of that is so with nothing failed.".to_owned(),
        (false, order) => format!("It can be ({}), the likeliest first:", faults(order)),
    }
}

fn name(id: &str, names: Names<'_>) -> String {
    let alert = names.model.find_alert(id).map(|a| names.alert(a));
    format!("{} ({id})", alert.unwrap_or_else(|| names.by_id(id)))
}
