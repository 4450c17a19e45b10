//! The answer of `whatif` as text. It states what follows from the model; it tells nobody to do anything.

use super::Sheet;
use crate::base::text::{capitalise, join_list};
use crate::cli::answers::{
    Hazard, Lost, LostLater, MoveAnswer, NamedNode, Names, NoBackup, Restores, Shows, Source, StillTells, Weakened,
    WhatifAnswer,
};
use crate::compose::composer::is_in_sight;
use crate::doc::TRAINING_AID;

/// The whole answer.
pub fn whatif(answer: &WhatifAnswer, names: Names<'_>) -> String {
    let mut sheet = Sheet::default();
    head(&mut sheet, answer, names);
    touched(&mut sheet, answer, names);
    telling(&mut sheet, answer, names);
    knowing(&mut sheet, answer, names);
    moves(&mut sheet, answer, names);
    hazards(&mut sheet, answer, names);
    sheet.gap();
    sheet.paragraph(0, TRAINING_AID);
    sheet.finish()
}

fn head(sheet: &mut Sheet, answer: &WhatifAnswer, names: Names<'_>) {
    let state = names.model.find_state(&answer.state).map_or(answer.state.as_str(), |s| &names.model[s].name);
    let from = if answer.from == "cold" { ", with the faults present from the cold aircraft on" } else { "" };
    let id = if state == answer.state { String::new() } else { format!(" ({})", answer.state) };
    sheet.paragraph(0, &format!("{}; state \"{state}\"{id}{from}.", answer.aircraft));
    if !answer.set.is_empty() {
        sheet.paragraph(0, &format!("Before that: {}.", answer.set.join(", ")));
    }
    let faults: Vec<String> = answer.faults.iter().map(|f| names.fault_by_id(f)).collect();
    if faults.is_empty() {
        sheet.heading("With no fault:");
    } else {
        sheet.heading(&format!("If {}:", join_list(&faults, "and")));
    }
    if !answer.then.is_empty() {
        sheet.paragraph(0, &format!("and then: {}:", answer.then.join(", ")));
    }
    if !answer.reached {
        sheet.gap();
        sheet.paragraph(
            0,
            &format!("The state \"{state}\" is not reached. What follows is what the state before leaves."),
        );
    }
}

fn touched(sheet: &mut Sheet, answer: &WhatifAnswer, names: Names<'_>) {
    let hidden = |id: &str| hidden(id, names);
    if !answer.misleads.is_empty() {
        sheet.heading("FALSE: still works, but what it gives is wrong");
        for m in seen_first(&answer.misleads, |m| hidden(&m.id)) {
            sheet.paragraph(2, &format!("{} ({}){}", m.name, m.id, because(&m.because, names)));
            m.text.iter().for_each(|text| sheet.paragraph(4, text));
        }
    }
    sheet.heading("Lost");
    if answer.lost.is_empty() {
        sheet.paragraph(2, "nothing else");
    }
    seen_first(&answer.lost, |l| hidden(&l.id)).into_iter().for_each(|l| lost(sheet, l, names));
    if !answer.lost_later.is_empty() {
        sheet.heading("Lost later");
        lost_later(sheet, &answer.lost_later, names);
    }
    weakened(sheet, &answer.weakened);
    nodes(sheet, "Works, but only approximately", &answer.approximate);
}

/// What lies behind comes after what the pilot has before the eyes.
fn seen_first<T>(list: &[T], hidden: impl Fn(&T) -> bool) -> Vec<&T> {
    let (behind, before): (Vec<&T>, Vec<&T>) = list.iter().partition(|of| hidden(of));
    before.into_iter().chain(behind).collect()
}

fn hidden(id: &str, names: Names<'_>) -> bool {
    names.model.find_node(id).is_some_and(|n| !is_in_sight(names.model, n))
}

fn weakened(sheet: &mut Sheet, list: &[Weakened]) {
    if !list.is_empty() {
        sheet.heading("Works, but rough or less than full");
    }
    for weak in list {
        sheet.paragraph(2, &format!("{} ({})", weak.name, weak.id));
        weak.text.iter().for_each(|text| sheet.paragraph(4, text));
    }
}

/// What goes at the same time and for the same reason stands together.
fn lost_later(sheet: &mut Sheet, list: &[LostLater], names: Names<'_>) {
    let alike = |a: &LostLater, b: &LostLater| a.in_min == b.in_min && a.because == b.because;
    for (i, first) in list.iter().enumerate() {
        if list[..i].iter().any(|before| alike(before, first)) {
            continue;
        }
        let when = first.in_min.map_or_else(|| "in time".to_owned(), |m| format!("after {m} min"));
        sheet.paragraph(2, &format!("{when}{}:", because(&first.because, names)));
        let all: Vec<String> = seen_first(list, |l| hidden(&l.id, names))
            .into_iter()
            .filter(|l| alike(l, first))
            .map(|l| format!("{} ({})", l.name, l.id))
            .collect();
        sheet.paragraph(4, &all.join(", "));
    }
}

fn lost(sheet: &mut Sheet, lost: &Lost, names: Names<'_>) {
    let looks = lost.looks.as_ref().map_or_else(String::new, |l| format!(", looks: {l}"));
    sheet.paragraph(2, &format!("{} ({}){looks}{}", lost.name, lost.id, because(&lost.because, names)));
    if let Some(text) = &lost.text {
        sheet.paragraph(4, text);
    }
}

fn because(chain: &[String], names: Names<'_>) -> String {
    if chain.is_empty() {
        return String::new();
    }
    let chain: Vec<String> = chain.iter().map(|id| names.by_id(id)).collect();
    format!("; by way of: {}", chain.join(", "))
}

fn nodes(sheet: &mut Sheet, heading: &str, nodes: &[NamedNode]) {
    if !nodes.is_empty() {
        sheet.heading(heading);
        for node in nodes {
            sheet.paragraph(2, &format!("{} ({})", node.name, node.id));
        }
    }
}

fn telling(sheet: &mut Sheet, answer: &WhatifAnswer, names: Names<'_>) {
    if !answer.still_tells.is_empty() {
        sheet.heading("What still tells you");
        answer.still_tells.iter().for_each(|t| still_tells(sheet, t, names));
    }
    if !answer.no_backup.is_empty() {
        sheet.heading("No backup left: one more fault would take it");
        answer.no_backup.iter().for_each(|n| no_backup(sheet, n, names));
    }
}

fn still_tells(sheet: &mut Sheet, telling: &StillTells, names: Names<'_>) {
    let of = capitalise(&names.by_id(&telling.information));
    if telling.sources.is_empty() {
        sheet.paragraph(2, &format!("{of}: nothing any more"));
        return;
    }
    sheet.paragraph(2, &format!("{of}:"));
    telling.sources.iter().for_each(|s| sheet.paragraph(4, &source(s, names)));
}

fn source(source: &Source, names: Names<'_>) -> String {
    let mut text = format!("{} ({}), {}", names.by_id(&source.id), source.id, source.how);
    if let Some(only) = &source.only {
        text.push_str(&format!(", {only}"));
    }
    if source.approximate {
        text.push_str(", approximately");
    }
    if let Some(min) = source.for_min {
        text.push_str(&format!(", for {min} min"));
    }
    if let Some(note) = &source.note {
        text.push_str(&format!(". {note}"));
    }
    text
}

fn no_backup(sheet: &mut Sheet, pair: &NoBackup, names: Names<'_>) {
    let of: Vec<String> = pair.of.iter().map(|id| names.by_id(id)).collect();
    let next = std::iter::once(&pair.next_fault).chain(&pair.also);
    let next: Vec<String> = next.map(|f| names.fault_by_id(f)).collect();
    sheet.paragraph(2, &format!("{}: if {}", capitalise(&join_list(&of, "and")), join_list(&next, "or")));
}

fn knowing(sheet: &mut Sheet, answer: &WhatifAnswer, names: Names<'_>) {
    sheet.heading("How you know");
    sheet.paragraph(2, knowing_word(&answer.how_you_know));
    shows(sheet, "shows", &answer.shows);
    for id in &answer.looks_dead {
        sheet.paragraph(2, &format!("{} ({id}) looks dead", names.by_id(id)));
    }
    answer.cues.iter().for_each(|c| sheet.paragraph(2, c));
    shows(sheet, "shows already without this", &answer.already_on);
    shows(sheet, "no longer warns", &answer.no_longer_warns_of);
    answer.see.iter().for_each(|s| sheet.paragraph(2, &format!("see {s}")));
}

fn knowing_word(word: &str) -> &'static str {
    match word {
        "alert" => "An alert shows it.",
        "gauge" => "A gauge shows it.",
        "instrument" => "A lost instrument looks dead.",
        "cue" => "It is felt, heard, smelt or seen.",
        "use" => "It is found only when used or tested.",
        _ => "Nothing tells of it: this is silent.",
    }
}

fn shows(sheet: &mut Sheet, verb: &str, list: &[Shows]) {
    for shown in list {
        let text = shown.text.as_ref().map_or_else(String::new, |t| format!(": {t}"));
        sheet.paragraph(2, &format!("{} ({}) {verb}{text}", shown.name, shown.alert));
    }
}

fn moves(sheet: &mut Sheet, answer: &WhatifAnswer, names: Names<'_>) {
    nodes(sheet, "Works unasked", &answer.runs_unasked);
    restores(sheet, "Stops with", &answer.stops, names);
    restores(sheet, "Works again with", &answer.restores, names);
}

fn restores(sheet: &mut Sheet, heading: &str, list: &[Restores], names: Names<'_>) {
    if list.is_empty() {
        return;
    }
    sheet.heading(heading);
    for restore in list {
        let steps: Vec<String> = restore.moves.iter().map(|m| step(m, names)).collect();
        let all_rough = restore.what.iter().all(|id| restore.approximate.contains(id));
        let shown = seen_first(&restore.what, |id| hidden(id, names)).into_iter();
        let what: Vec<String> = shown.map(|id| what(id, restore, all_rough, names)).collect();
        let rough = if all_rough { ", all of it approximately" } else { "" };
        let costs = if restore.costs { "; other things stop too" } else { "" };
        sheet.paragraph(2, &format!("{}: {}{rough}{costs}", join_list(&steps, "and"), join_list(&what, "and")));
    }
}

fn what(id: &str, restore: &Restores, said_of_all: bool, names: Names<'_>) -> String {
    let rough = !said_of_all && restore.approximate.iter().any(|a| a == id);
    format!("{}{}", names.by_id(id), if rough { " (approximately)" } else { "" })
}

fn step(step: &MoveAnswer, names: Names<'_>) -> String {
    let control = names.by_id(&step.control);
    if step.from == step.to {
        format!("{control} moved away from \"{}\" and back", step.to)
    } else {
        format!("{control} at \"{}\" instead of \"{}\"", step.to, step.from)
    }
}

fn hazards(sheet: &mut Sheet, answer: &WhatifAnswer, names: Names<'_>) {
    for hazard in &answer.hazards {
        sheet.heading(&hazard.level.to_uppercase());
        sheet.paragraph(2, &hazard.text);
        if let Some(more) = hazard_now(hazard, names) {
            sheet.paragraph(2, &more);
        }
    }
}

fn hazard_now(hazard: &Hazard, names: Names<'_>) -> Option<String> {
    if !hazard.active {
        return Some("Not as the controls stand now.".to_owned());
    }
    let ends: Vec<String> = hazard.ended_by.iter().map(|m| step(m, names)).collect();
    (!ends.is_empty()).then(|| format!("No more with: {}.", join_list(&ends, "or")))
}
