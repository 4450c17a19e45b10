//! The quick-reference card, read back from its file and held against the model cell for cell.

use super::Basis;
use super::finding::Notes;
use super::page::{Cell, Grid};
use super::pdf::{Element, Printed};
use super::promises::NOTICE;
use super::tables::Desk;
use sha2::{Digest, Sha256};

/// Reads the card and holds it against the model.
pub(super) fn check(bytes: &[u8], source: &Basis, desk: &mut Desk<'_>) {
    let printed = match Printed::read(bytes) {
        Ok(printed) => printed,
        Err(why) => return desk.notes.find("unreadable", "Card", why, "a PDF file with text and structure"),
    };
    check_seals(&printed, &source.canonical, &mut desk.notes);
    check_whose(&printed, source, &mut desk.notes);
    for table in printed.root.all("Table") {
        let grid = grid(table);
        desk.check_card(&grid);
    }
    desk.check_card_whole();
}

/// The attached text, and the sentence and the fingerprint on each side.
fn check_seals(printed: &Printed, canonical: &str, notes: &mut Notes) {
    if printed.attached.as_deref() != Some(canonical) {
        notes.find("copy-wrong", "Card, attached text", "another text", "the text that the card was made from");
    }
    let print: String = Sha256::digest(canonical.as_bytes()).iter().map(|b| format!("{b:02x}")).collect();
    let short: String = print.chars().take(12).collect();
    for (at, page) in printed.pages.iter().enumerate() {
        let place = format!("Card, side {}", at + 1);
        if page.lines.iter().any(|line| line.trim() == NOTICE) {
            notes.report.proved.notices += 1;
        } else {
            notes.find("notice-missing", &place, "no training-aid notice", NOTICE);
        }
        let edition = page.lines.iter().find(|l| l.contains(" · Revision "));
        if !edition.is_some_and(|l| l.split(" · ").any(|part| part == short)) {
            notes.find("fingerprint-wrong", &place, edition.cloned().unwrap_or_default(), short.clone());
        }
    }
    if printed.pages.len() > 2 {
        notes.find("card-too-large", "Card", format!("{} sides", printed.pages.len()), "one sheet");
    }
}

/// DRAFT stands on it exactly as long as something is not confirmed.
fn check_whose(printed: &Printed, source: &Basis, notes: &mut Notes) {
    let confirmed = source.confirmed();
    let draft = format!("DRAFT: {} of {} items confirmed", confirmed.seen, confirmed.items);
    for (at, page) in printed.pages.iter().enumerate() {
        let says = page.lines.iter().any(|l| l.trim() == draft);
        let any = page.lines.iter().any(|l| l.starts_with("DRAFT"));
        if says != (confirmed.seen < confirmed.items) || any != says {
            let expected = if confirmed.seen < confirmed.items { draft.clone() } else { "no DRAFT".to_owned() };
            notes.find(
                "draft-wrong",
                format!("Card, side {}", at + 1),
                if any { "DRAFT" } else { "no DRAFT" },
                expected,
            );
        }
    }
}

/// A table as it is read.
fn grid(table: &Element) -> Grid {
    let said = |of: &[&Element]| of.iter().map(|e| e.text().trim().to_owned()).collect::<Vec<_>>().join(" ");
    let cells = |row: &Element| -> Vec<Cell> {
        row.elements().filter(|e| e.role == "TH" || e.role == "TD").map(Element::lines).collect()
    };
    let heads = table.all("THead").into_iter().flat_map(|head| head.all("TR")).flat_map(cells);
    let rows = table.all("TBody").into_iter().flat_map(|body| body.all("TR")).map(cells).collect();
    Grid {
        chapter: "Card".to_owned(),
        caption: said(&table.all("Caption")),
        headings: heads.map(|cell| cell.join(" ")).collect(),
        rows,
        ..Grid::default()
    }
}
