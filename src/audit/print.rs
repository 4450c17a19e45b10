//! The pages on paper, held against the page on the screen: whatever is read there is read here too.
//!
//! The page on the screen was held against the model; so what agrees with it agrees with the model. Compared are tables cell for
//! cell, headings, captions, sums, and every other line but the words beside drawings, which a printed file has out of sight.
//! White space, soft hyphens and the pages that links lead to are no difference.

use super::finding::Notes;
use super::page::{Grid, Page};
use super::pdf::{Element, Printed};
use super::promises::NOTICE;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

/// What opens the words beside a drawing.
const BESIDE: [&str; 2] = ["The same in words", "The same as a table"];

/// Checks all of it.
pub(super) fn check(page: &Page, bytes: &[u8], canonical: &str, notes: &mut Notes) {
    let printed = match Printed::read(bytes) {
        Ok(printed) => printed,
        Err(why) => return notes.find("unreadable", "Pages", why, "a PDF file with text and structure"),
    };
    if printed.attached.as_deref() != Some(canonical) {
        notes.find("copy-wrong", "Pages, attached text", "another text", "the text that the guide was made from");
    }
    check_feet(&printed, canonical, notes);
    check_tables(page, &printed.root, notes);
    check_lines(page, &printed.root, notes);
}

/// The sentence and the fingerprint stand on every page.
fn check_feet(printed: &Printed, canonical: &str, notes: &mut Notes) {
    let print: String = Sha256::digest(canonical.as_bytes()).iter().map(|b| format!("{b:02x}")).collect();
    let short: String = print.chars().take(12).collect();
    let written = printed.pages.iter().enumerate().filter(|(_, page)| !page.lines.is_empty());
    for (at, page) in written {
        let place = format!("Pages, sheet {}", at + 1);
        if page.lines.iter().any(|line| line.contains(NOTICE)) {
            notes.report.proved.notices += 1;
        } else {
            notes.find("notice-missing", &place, "no training-aid notice", NOTICE);
        }
        if !page.lines.iter().any(|line| line.contains("Revision ") && line.contains(&short)) {
            notes.find("fingerprint-wrong", &place, "another edition", &short);
        }
    }
}

/// What is read, without what is no difference.
fn squeezed(text: &str) -> String {
    let bare: String = text.chars().filter(|c| !c.is_whitespace() && *c != '\u{ad}').collect();
    let mut out = String::with_capacity(bare.len());
    let mut rest = bare.as_str();
    while let Some((before, after)) = rest.split_once('(') {
        out.push_str(before);
        let end = after.find(')');
        rest = match end.and_then(|end| Some((after.get(..end)?, after.get(end + 1..)?))) {
            Some((inside, behind)) if is_page(inside) => behind,
            _ => {
                out.push('(');
                after
            }
        };
    }
    out.push_str(rest);
    out
}

/// `page3-12`, `3-12`, `pageiv`.
fn is_page(text: &str) -> bool {
    let label = text.strip_prefix("page");
    let number = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    let roman = |t: &str| !t.is_empty() && t.bytes().all(|b| b"ivxlc".contains(&b));
    let numbered = |t: &str| t.split_once('-').is_some_and(|(a, b)| number(a) && number(b));
    label.is_some_and(roman) || numbered(label.unwrap_or(text))
}

/// Tables by what stands over them: caption and heads of columns.
fn check_tables(page: &Page, root: &Element, notes: &mut Notes) {
    let mut printed: BTreeMap<(String, Vec<String>), Vec<&Element>> = BTreeMap::new();
    for table in root.all("Table") {
        let caption: String = table.all("Caption").iter().map(|c| squeezed(&c.text())).collect();
        printed.entry((caption, rows(table, "THead").concat())).or_default().push(table);
    }
    for grid in &page.grids {
        let heads = grid.headings.iter().map(|h| squeezed(h)).collect();
        let found = printed.get_mut(&(squeezed(&grid.caption), heads)).filter(|tables| !tables.is_empty());
        match found.map(|tables| tables.remove(0)) {
            Some(table) => check_table(grid, table, notes),
            None => notes.find("print-missing", grid.name(), "no such table on paper", grid.headings.join(" | ")),
        }
    }
}

/// The cells of each row of a part of a table.
fn rows(table: &Element, part: &str) -> Vec<Vec<String>> {
    let cells = |row: &Element| -> Vec<String> {
        row.elements().filter(|e| e.role == "TH" || e.role == "TD").map(|e| squeezed(&e.text())).collect()
    };
    table.all(part).into_iter().flat_map(|p| p.all("TR")).map(cells).collect()
}

fn check_table(grid: &Grid, table: &Element, notes: &mut Notes) {
    let printed = rows(table, "TBody");
    if printed.len() != grid.rows.len() {
        let says = format!("{} rows on paper", printed.len());
        notes.find("print-apart", grid.name(), says, format!("{} rows", grid.rows.len()));
    }
    for (row, paper) in grid.rows.iter().zip(&printed) {
        for (at, cell) in row.iter().enumerate() {
            let says = paper.get(at).map_or("", String::as_str);
            if says != squeezed(&cell.concat()) {
                let place = format!("{}, column {}", grid.row_name(row), at + 1);
                notes.find("print-apart", place, says, cell.join(" / "));
            }
        }
    }
}

/// Every line on the screen but the words beside drawings.
fn check_lines(page: &Page, root: &Element, notes: &mut Notes) {
    let mut texts = BTreeSet::new();
    gather(root, &mut texts);
    let all = squeezed(&root.text());
    let beside: BTreeSet<&String> = page.drawn_words().collect();
    let wanted = page.headings.iter().map(|h| (&h.place, &h.text)).chain(lines(page));
    for (place, line) in wanted.filter(|(_, line)| !beside.contains(line) && !is_of_screen(line)) {
        let bare = squeezed(line);
        if !texts.contains(&bare) && !all.contains(&bare) {
            notes.find("print-missing", place, "nothing of it on paper", line);
        }
    }
}

/// The foot of a chapter, which stands on every page instead; and what opens the words beside a drawing.
fn is_of_screen(line: &str) -> bool {
    line == NOTICE || BESIDE.contains(&line) || line.contains(" · Revision ")
}

fn lines(page: &Page) -> impl Iterator<Item = (&String, &String)> {
    let sums = page.sums.iter().flat_map(|s| s.lines.iter().chain([&s.title]).map(|l| (&s.place, l)));
    let parts = page.parts.iter().flat_map(|p| p.lines.iter().map(|l| (&p.name, l)));
    sums.chain(parts)
}

fn gather(element: &Element, texts: &mut BTreeSet<String>) {
    if !matches!(element.role.as_str(), "Root" | "Document" | "Sect" | "Table" | "TBody") {
        texts.insert(squeezed(&element.text()));
    }
    element.elements().for_each(|e| gather(e, texts));
}

#[cfg(test)]
mod tests {
    use super::squeezed;

    #[test]
    fn pages_of_links_are_no_difference_and_other_brackets_are() {
        assert_eq!(squeezed("see its table (page 8-12)."), "seeitstable.");
        assert_eq!(squeezed("pump (3-4); line (page\u{ad} iv)"), "pump;line");
        assert_eq!(squeezed("(indirectly) (of 3) (a-b) ("), "(indirectly)(of3)(a-b)(");
    }
}
