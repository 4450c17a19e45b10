//! Which pages are valid, and which revisions were entered.

use super::super::pages::{Page, roman};
use super::super::setter::Setter;
use super::super::strip::{Ink, Keep, Kind, Strip, Tone};
use super::super::tags::NodeIx;
use crate::doc::{Cell, Column, Inline, Inlines, Meta, Row, Subject, Table, TableKind};

/// Lines that are left for revisions to come.
const EMPTY: usize = 9;
/// From one of them to the next, pt.
const HIGH: f32 = 19.0;

impl Setter<'_> {
    /// The list of effective pages: a line for each part and chapter.
    pub(super) fn effective(&mut self, meta: &Meta, node: NodeIx, (before, body): (usize, &[Page])) -> Vec<Strip> {
        let title = self.part_title(4, node);
        let mut rows = vec![pages_row("Cover and lists", ("i", &roman(before)), meta)];
        let mut at = 0;
        while let Some(first) = body.get(at) {
            let same = body[at..].iter().take_while(|p| p.chapter == first.chapter).count();
            let last = body.get(at + same - 1).unwrap_or(first);
            rows.push(pages_row(&first.head, (&first.label, &last.label), meta));
            at += same.max(1);
        }
        let table = Table {
            id: "page/effective/table".to_owned(),
            kind: TableKind::Plain,
            subject: Subject::Aircraft,
            caption: text("Every page of this print is of the revision that stands beside it."),
            columns: ["Chapter", "Pages", "Revision", "Date"].map(|h| Column::Plain(h.to_owned())).to_vec(),
            rows,
        };
        let mut strips = vec![title];
        strips.extend(self.table(&table, self.front_frame(node)));
        strips
    }

    /// The record of revisions, with lines to be filled in by hand.
    pub(super) fn revisions(&mut self, meta: &Meta, node: NodeIx) -> Vec<Strip> {
        let title = self.part_title(5, node);
        let now = [meta.revision.to_string(), meta.date.clone(), "this print".to_owned()];
        let table = Table {
            id: "page/revisions/table".to_owned(),
            kind: TableKind::Plain,
            subject: Subject::Aircraft,
            caption: text("Whoever exchanges pages signs here."),
            columns: ["Revision", "Date", "Entered by"].map(|h| Column::Plain(h.to_owned())).to_vec(),
            rows: vec![row(&now)],
        };
        let mut strips = vec![title];
        strips.extend(self.table(&table, self.front_frame(node)));
        let wide = self.sheet.wide();
        for strip in strips.iter_mut().skip(1) {
            strip.keep = Keep::Hard;
        }
        for _ in 0..EMPTY {
            let mut line = Strip::new(Kind::Other, (0.0, wide), HIGH);
            line.put(0.0, HIGH, Ink::Rule(wide, 0.0, 0.4, Tone::Rule));
            line.keep = Keep::Hard;
            strips.push(line);
        }
        strips.last_mut().into_iter().for_each(|s| s.keep = Keep::Free);
        strips
    }
}

fn pages_row(what: &str, (from, to): (&str, &str), meta: &Meta) -> Row {
    let pages = if from == to { from.to_owned() } else { format!("{from} to {to}") };
    row(&[what.to_owned(), pages, meta.revision.to_string(), meta.date.clone()])
}

fn row(cells: &[String]) -> Row {
    Row { about: String::new(), cells: cells.iter().map(|c| Cell::line(text(c))).collect() }
}

fn text(text: &str) -> Inlines {
    vec![Inline::text(text)]
}
