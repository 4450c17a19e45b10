//! The answer of `states` as a table of text, cut into parts that fit the width.

use super::Sheet;
use super::layout::WIDTH;
use crate::cli::answers::StatesAnswer;
use crate::doc::TRAINING_AID;
use std::collections::BTreeMap;

/// Columns between two states, at least.
const GAP: usize = 2;

/// The whole answer.
pub fn states(answer: &StatesAnswer) -> String {
    let mut sheet = Sheet::default();
    sheet.paragraph(0, &format!("{}: what works in which state (a dash: dead).", answer.aircraft));
    let states: Vec<(&String, &BTreeMap<String, String>)> = answer.states.iter().collect();
    let longest = states.iter().flat_map(|(_, nodes)| nodes.keys()).map(String::len).max().unwrap_or(0);
    let mut rest = states.as_slice();
    while !rest.is_empty() {
        let (now, later) = rest.split_at(fitting(rest, longest));
        part(&mut sheet, now, longest);
        rest = later;
    }
    if !answer.not_reached.is_empty() {
        sheet.gap();
        let names = answer.not_reached.join(", ");
        sheet.paragraph(0, &format!("Not reached: {names}. Their columns show what the state before leaves."));
    }
    sheet.gap();
    sheet.paragraph(0, TRAINING_AID);
    sheet.finish()
}

/// How many states fit beside the names; at least one.
fn fitting(states: &[(&String, &BTreeMap<String, String>)], longest: usize) -> usize {
    let mut used = longest;
    let fits = states.iter().take_while(|(id, _)| {
        used += GAP + column(id);
        used <= WIDTH
    });
    fits.count().max(1)
}

fn column(id: &str) -> usize {
    id.len().max("works".len())
}

fn part(sheet: &mut Sheet, states: &[(&String, &BTreeMap<String, String>)], longest: usize) {
    sheet.gap();
    let row = |name: &str, cells: Vec<&str>| {
        let mut line = format!("{name:longest$}");
        for (cell, (id, _)) in cells.iter().zip(states) {
            line.push_str(&format!("{:GAP$}{cell:width$}", "", width = column(id)));
        }
        line
    };
    sheet.line(&row("", states.iter().map(|(id, _)| id.as_str()).collect()));
    let Some((_, nodes)) = states.first() else { return };
    for node in nodes.keys() {
        let cells = states.iter().map(|(_, of)| of.get(node).map_or("", |w| if w == "works" { "works" } else { "-" }));
        sheet.line(&row(node, cells.collect()));
    }
}
