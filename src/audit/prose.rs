//! Numbers and names in running text, where the page says what they are of.

use super::amount::Chosen;
use super::numbers::says;
use super::page::{Page, Tied};
use super::speech::bare;
use super::tables::Desk;

/// Checks each of them.
pub(super) fn check(page: &Page, desk: &mut Desk<'_>) {
    let chosen = Chosen::of(desk.words.display.iter().map(String::as_str));
    for tied in &page.tied {
        if tied.number {
            check_number(tied, &chosen, desk);
        } else {
            check_name(tied, desk);
        }
    }
}

fn check_number(tied: &Tied, chosen: &Chosen, desk: &mut Desk<'_>) {
    let Some((of, aspect)) = tied.to.rsplit_once('/') else { return };
    let place = format!("{}, number “{}”", tied.place, tied.to);
    if aspect == "tag" {
        return check_tag(tied, of, desk);
    }
    if let Some((number, unit)) = desk.told_below(of, aspect) {
        desk.notes.report.proved.numbers += 1;
        if !says(&tied.text, number, unit) {
            desk.notes.find("number-wrong", place, &tied.text, format!("{number} {unit}"));
        }
    } else if let Some(model) = amount(desk, of, aspect) {
        chosen.check(&tied.text, &model, &place, &mut desk.notes);
    } else if of == "count"
        && let Some(count) = desk.count(aspect)
    {
        desk.notes.report.proved.numbers += 1;
        if tied.text != count.to_string() {
            desk.notes.find("number-wrong", place, &tied.text, count.to_string());
        }
    }
}

/// Media that every model may use, each with the two letters that stand for it in drawings.
const TAGS: &[(&str, &str)] = &[
    ("electricity", "EL"),
    ("suction", "SU"),
    ("pitot-pressure", "PT"),
    ("static-pressure", "ST"),
    ("fuel", "FU"),
    ("oil-pressure", "OI"),
    ("rotation", "RO"),
    ("power", "PW"),
    ("spark", "SP"),
    ("ram-air", "RA"),
    ("data", "DA"),
    ("sound", "SO"),
    ("heat", "HE"),
    ("hydraulic-pressure", "HY"),
    ("motion", "MO"),
    ("air", "AI"),
];

fn check_tag(tied: &Tied, of: &str, desk: &mut Desk<'_>) {
    let built_in = || TAGS.iter().find(|(id, _)| *id == of).map(|(_, tag)| (*tag).to_owned());
    let tag = desk.words.tags.get(of).cloned().or_else(built_in);
    let expected = tag.unwrap_or_else(|| "a medium".to_owned());
    if tied.text != expected {
        desk.notes.find("tag-wrong", format!("{}, tag of {of}", tied.place), &tied.text, expected);
    }
}

fn amount(desk: &Desk<'_>, of: &str, aspect: &str) -> Option<String> {
    if let Some(id) = of.strip_prefix("quantity/") {
        return desk.words.quantities.iter().find(|q| q.id == id).map(|q| q.value.clone());
    }
    if (of, aspect) == ("time", "reference") {
        return desk.words.reference_speed.clone();
    }
    desk.words.things.get(of)?.amounts.get(aspect).cloned()
}

/// With or without an article; a system may be called one. An id may be of more than one thing: of a medium and a number, say.
fn check_name(tied: &Tied, desk: &mut Desk<'_>) {
    let names = desk.called(&tied.to);
    let seen = bare(&tied.text);
    let forms = [Some(seen.as_str()), seen.strip_prefix("a "), seen.strip_prefix("an "), seen.strip_suffix(" system")];
    let fits = |name: &String| forms.iter().flatten().any(|form| *form == bare(name));
    if !names.is_empty() && !names.iter().any(fits) {
        desk.notes.find("name-wrong", &tied.place, &tied.text, names.join(" / "));
    }
}

impl Desk<'_> {
    /// What is called by an id.
    fn called(&self, id: &str) -> Vec<String> {
        let words = self.words;
        let thing = words.things.get(id).map(|t| &t.name);
        let alert = words.alerts.get(id).map(|a| &a.name);
        let quantity = words.quantities.iter().find(|q| q.id == id).map(|q| &q.name);
        let aircraft = (id == "aircraft").then_some(&words.aircraft);
        let maps = [&words.information, &words.states, &words.systems, &words.media];
        let others = maps.iter().filter_map(|map| map.get(id));
        let mut found: Vec<String> =
            [thing, alert, quantity, aircraft].into_iter().flatten().chain(others).cloned().collect();
        found.extend((!found.is_empty()).then(|| words.medium(id)));
        found
    }

    fn count(&self, of: &str) -> Option<usize> {
        let words = self.words;
        Some(match of {
            "items" => words.items().count(),
            "systems" => words.systems.len(),
            "breakers" => words.items().filter(|(_, t)| t.kind == "breaker").count(),
            "states" => words.states.len(),
            "confirmed" => words.items().filter(|(_, t)| t.seen.is_some()).count(),
            "controls" => self.model.nodes.iter().filter(|n| n.control.is_some() && !words.protects(&n.id)).count(),
            _ => return None,
        })
    }
}
