//! What every guide has to say: the training-aid notice on the cover, in every chapter and on every printed page; what the
//! guide claims; how far it was confirmed at the aircraft.

use super::finding::Notes;
use super::page::{Page, Part};

/// The notice.
pub(super) const NOTICE: &str = "Training aid. The approved flight manual, placards and your instructor govern.";
/// What a guide claims, exactly.
const CLAIM: &str =
    "This guide agrees with its model. Only a person at the aircraft can show that the model agrees with the aircraft.";

/// How many items the model has, and how many were confirmed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Confirmed {
    pub(super) seen: usize,
    pub(super) items: usize,
}

/// Checks notice, claim and draft.
pub(super) fn check(page: &Page, confirmed: Option<Confirmed>, notes: &mut Notes) {
    for part in &page.parts {
        if part.lines.iter().any(|line| line == NOTICE) {
            notes.report.proved.notices += 1;
        } else {
            notes.find("notice-missing", &part.name, "no training-aid notice", NOTICE);
        }
    }
    check_print(&page.styles.concat(), notes);
    let mut covers = page.parts.iter().filter(|p| !p.chapter);
    match (covers.next(), covers.next()) {
        (Some(cover), None) => check_cover(cover, confirmed, notes),
        _ => notes.find("cover-missing", "Page", "no cover, or more than one", "one cover"),
    }
    if !page.parts.iter().any(|p| p.chapter) {
        notes.find("chapter-missing", "Page", "no chapter", "at least one chapter");
    }
}

fn check_cover(cover: &Part, confirmed: Option<Confirmed>, notes: &mut Notes) {
    if !cover.lines.iter().any(|line| line == CLAIM) {
        notes.find("claim-missing", "Cover", "nothing of what the guide claims", CLAIM);
    }
    let Some(Confirmed { seen, items }) = confirmed else { return };
    let counts = format!("{seen} of {items} items confirmed");
    for line in cover.lines.iter().filter(|line| line.ends_with(" items confirmed")) {
        if *line != counts && *line != format!("DRAFT {counts}") {
            notes.find("draft-wrong", "Cover", line, &counts);
        }
    }
    let says = cover.lines.iter().any(|line| *line == format!("DRAFT {counts}"));
    if says != (seen < items) {
        let (says, expected) = if says { ("DRAFT", "no DRAFT, as all is confirmed") } else { ("no DRAFT", "DRAFT") };
        notes.find("draft-wrong", "Cover", says, format!("{expected}: {counts}"));
    }
}

/// The foot of every printed page: the rule for pages without a name holds the notice, and no other rule changes it.
fn check_print(style: &str, notes: &mut Notes) {
    let place = "Page, style sheet for print";
    let feet: Vec<(bool, String)> = feet(style);
    for (_, foot) in feet.iter().filter(|(_, foot)| !foot.starts_with(NOTICE)) {
        notes.find("notice-missing", place, foot, NOTICE);
    }
    if feet.iter().any(|(every, foot)| *every && foot.starts_with(NOTICE)) {
        notes.report.proved.notices += 1;
    } else {
        notes.find("notice-missing", place, "no notice at the foot of every page", NOTICE);
    }
}

/// What stands at the left foot of printed pages, and whether the rule is for every page.
fn feet(style: &str) -> Vec<(bool, String)> {
    let mut found = Vec::new();
    for (at, mark) in style.match_indices("@bottom-left") {
        let every = style[..at].rfind("@page").is_some_and(|page| {
            let head = style[page + "@page".len()..at].split('{').next().unwrap_or("x");
            head.trim().is_empty()
        });
        let body = style[at + mark.len()..].split('}').next().unwrap_or_default();
        if let Some((_, content)) = body.split_once("content:") {
            found.push((every, css_string(content)));
        }
    }
    found
}

/// The first string of a style sheet's text, its codes turned back; a new line becomes a space.
fn css_string(text: &str) -> String {
    let mut chars = text.trim_start().chars().peekable();
    let Some(quote) = chars.next().filter(|c| matches!(c, '"' | '\'')) else { return String::new() };
    let mut out = String::new();
    while let Some(c) = chars.next().filter(|c| *c != quote) {
        if c != '\\' {
            out.push(c);
            continue;
        }
        let mut code = String::new();
        while let Some(digit) = chars.next_if(|d| code.len() < 6 && d.is_ascii_hexdigit()) {
            code.push(digit);
        }
        if code.is_empty() {
            out.extend(chars.next());
            continue;
        }
        chars.next_if(|space| space.is_whitespace());
        let coded = u32::from_str_radix(&code, 16).ok().and_then(char::from_u32).unwrap_or('\u{fffd}');
        out.push(if coded == '\n' { ' ' } else { coded });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_of_a_style_sheet_are_turned_back() {
        assert_eq!(css_string(" \"a\\2014 b\\A c\\\"\" }"), "a\u{2014}b c\"");
    }

    #[test]
    fn the_rule_for_every_page_is_told_from_the_rule_for_one() {
        let style = "@page { size: A4; @bottom-left { content: \"a\" } }\n@page x { @bottom-left { content: \"b\" } }";
        assert_eq!(feet(style), [(true, "a".to_owned()), (false, "b".to_owned())]);
    }
}
