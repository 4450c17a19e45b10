//! A table as a reader sees it: caption, headings, cells of lines.

use super::{Place, lines};
use scraper::ElementRef;

/// The lines of one cell.
pub(in crate::audit) type Cell = Vec<String>;

/// A table.
#[derive(Debug, Default)]
pub(in crate::audit) struct Grid {
    /// The chapter that it stands in.
    pub(in crate::audit) chapter: Place,
    /// To find it by.
    pub(in crate::audit) id: String,
    pub(in crate::audit) caption: String,
    /// Typed by the author of a chapter, by its own word; such a table is of no known sort.
    pub(in crate::audit) typed: bool,
    pub(in crate::audit) headings: Vec<String>,
    pub(in crate::audit) rows: Vec<Vec<Cell>>,
    /// The links of each row that are seen: what is seen of each, and where it leads.
    pub(in crate::audit) links: Vec<Vec<(String, String)>>,
}

impl Grid {
    pub(super) fn read(table: ElementRef<'_>, chapter: &Place) -> Self {
        let typed = table.value().attr("data-kind") == Some("plain");
        let id = table.value().attr("id").unwrap_or_default().to_owned();
        let mut grid = Self { chapter: chapter.clone(), typed, id, ..Self::default() };
        for inner in table.descendent_elements() {
            match inner.value().name() {
                "caption" => grid.caption = lines(inner).join(" "),
                "tr" => grid.read_row(inner),
                _ => {}
            }
        }
        grid
    }

    fn read_row(&mut self, row: ElementRef<'_>) {
        if row.value().attr("hidden").is_some() {
            return;
        }
        let in_head = row.parent().and_then(ElementRef::wrap).is_some_and(|e| e.value().name() == "thead");
        let is_cell = |e: &ElementRef<'_>| matches!(e.value().name(), "td" | "th");
        let cells: Vec<Cell> = row.child_elements().filter(is_cell).map(lines).collect();
        if in_head {
            self.headings = cells.iter().map(|cell| cell.join(" ")).collect();
        } else {
            self.rows.push(cells);
            let link = |e: ElementRef<'_>| {
                Some((lines(e).join(" "), e.value().attr("href")?.trim_start_matches('#').to_owned()))
            };
            let links = row.descendent_elements().filter(|e| e.value().name() == "a").filter_map(link);
            self.links.push(links.filter(|(text, _)| !text.is_empty()).collect());
        }
    }

    /// The table as a reader would name it.
    pub(in crate::audit) fn name(&self) -> String {
        format!("{}, table “{}”", self.chapter, self.caption)
    }

    /// A row of it, by the first cell or the number of the row.
    pub(in crate::audit) fn row_name(&self, row: &[Cell]) -> String {
        let first = row.first().map(|cell| cell.join(" ")).unwrap_or_default();
        format!("{}, row “{first}”", self.name())
    }
}
