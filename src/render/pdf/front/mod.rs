//! What stands before the first chapter: cover, contents, lists, effective pages, revisions.
//!
//! It is laid out last, when every page of the chapters has its number, and read first.
mod contents;
mod cover;
mod record;

use super::fonts::Face;
use super::pages::Page;
use super::setter::{Frame, Setter};
use super::strip::{Ink, Keep, Kind, Put, Strip, Tone};
use super::tags::{NodeIx, Role};
use crate::doc::{Document, Meta};
use std::collections::BTreeMap;

/// Parts before the first chapter: title and id.
pub(super) const PARTS: &[(&str, &str)] = &[
    ("Cover", "page/cover"),
    ("Contents", "page/contents"),
    ("If something fails", "page/failures"),
    ("Figures", "page/figures"),
    ("Effective pages", "page/effective"),
    ("Record of revisions", "page/revisions"),
];

/// Places in the reading order that are kept for what is laid out last.
pub(super) struct FrontNodes([NodeIx; 6]);

/// Labels of pages by the id that stands there.
type Labels = BTreeMap<String, String>;

impl<'a> Setter<'a> {
    /// Keeps the places.
    pub(super) fn front_nodes(&mut self) -> FrontNodes {
        FrontNodes([(); 6].map(|()| self.tags.block(None, Role::Part)))
    }

    /// The pages before the first chapter.
    pub(super) fn front(&mut self, document: &'a Document, nodes: &FrontNodes, body: &[Page]) -> Vec<Page> {
        let places = super::pages::anchors(body);
        let label = |at: usize| body.get(at).map(|p| p.label.clone()).unwrap_or_default();
        let labels: Labels = places.into_iter().map(|(id, (page, _))| (id, label(page))).collect();
        let [cover, contents, failures, figures, effective, revisions] = nodes.0;
        let mut pages = Vec::new();
        let strips = self.cover(document, cover);
        pages.append(&mut self.paginated(strips, None, PARTS[0].0));
        let lists = [
            self.contents(document, contents, &labels),
            self.failures(document, failures, &labels),
            self.figures(document, figures, &labels),
        ];
        for (nr, strips) in lists.into_iter().enumerate() {
            pages.append(&mut self.paginated(strips, None, PARTS[nr + 1].0));
        }
        let before = pages.len();
        pages.append(&mut self.records(&document.meta, (effective, revisions), (before, body)));
        for (at, page) in pages.iter_mut().enumerate() {
            page.number = at + 1;
            page.label = super::pages::roman(at + 1);
        }
        pages
    }

    /// Effective pages and revisions. The first list tells how many pages there are before the first chapter, itself among them:
    /// it is set once to find out, and once again; what is not drawn leaves nothing in the reading order.
    fn records(&mut self, meta: &Meta, (effective, revisions): (NodeIx, NodeIx), known: (usize, &[Page])) -> Vec<Page> {
        let (before, body) = known;
        let entered = self.revisions(meta, revisions);
        let mut count = before + 1;
        let mut pages = Vec::new();
        for _ in 0..2 {
            let strips = self.effective(meta, effective, (count, body));
            pages = self.paginated(strips, None, PARTS[4].0);
            let follows = pages.last().is_some_and(|p| room_for(p, &entered, self.sheet.high()));
            if follows {
                append(&mut pages, entered.clone());
            } else {
                pages.append(&mut self.paginated(entered.clone(), None, PARTS[5].0));
            }
            count = before + pages.len();
        }
        pages
    }

    /// The title of a part, with a place for links.
    fn part_title(&mut self, part: usize, node: NodeIx) -> Strip {
        let (title, id) = PARTS[part];
        let heading = self.tags.block(Some(node), Role::Heading(2, title.to_owned()));
        let mut size = self.sheet.headings[0];
        size.letters *= 0.82;
        let (line, _) = self.one_line(title, Self::style(Face::Bold, Tone::Ink, Some(heading)), size.letters);
        let mut strip = Strip::new(Kind::Heading, (0.0, self.sheet.wide()), size.leading + 8.0);
        (strip.keep, strip.above) = (Keep::Hard, 26.0);
        strip.put(0.0, 0.0, Ink::Anchor(id.to_owned()));
        strip.put(0.0, size.rise(), Ink::Text(line, size.letters));
        strip
    }

    fn front_frame(&self, node: NodeIx) -> Frame {
        self.frame(node)
    }
}

/// True if strips fit under what stands on a page.
fn room_for(page: &Page, strips: &[Strip], high: f32) -> bool {
    page.filled() + strips.iter().map(|s| s.height + s.above).sum::<f32>() < high
}

fn append(pages: &mut [Page], strips: Vec<Strip>) {
    let Some(page) = pages.last_mut() else { return };
    let mut y = page.filled();
    for strip in strips {
        y += strip.above;
        let high = strip.height;
        page.laid.push(super::pages::Laid { y, strip, again: false });
        y += high;
    }
}

/// Strips of one column as pages of columns, those of the last page of even height. The first page has less room.
fn in_columns(
    strips: Vec<Strip>,
    columns: usize,
    (wide, between): (f32, f32),
    (first, high): (f32, f32),
) -> Vec<Strip> {
    let mut pages = Vec::new();
    let mut rest = strips;
    while !rest.is_empty() {
        let most = if pages.is_empty() { first } else { high };
        let all: f32 = rest.iter().map(|s| s.height + s.above).sum();
        let even = all / columns as f32 + 16.0;
        let most = if all <= most * columns as f32 * 0.97 { even.min(most) } else { most };
        let page_wide = wide * columns as f32 + between * (columns as f32 - 1.0);
        let mut page = Strip::new(Kind::Other, (0.0, page_wide), 0.0);
        for column in 0..columns {
            let (taken, after) = one_column(rest, most);
            rest = after;
            let right = column as f32 * (wide + between);
            let mut y = 0.0;
            for (nr, strip) in taken.into_iter().enumerate() {
                y += if nr == 0 { 0.0 } else { strip.above };
                page.puts.extend(strip.puts.into_iter().map(|p| Put { x: p.x + right, y: p.y + y, ..p }));
                y += strip.height;
            }
            page.height = page.height.max(y);
        }
        pages.push(page);
    }
    pages
}

/// What fits into a column, and the rest; what must not be parted stays together.
fn one_column(mut strips: Vec<Strip>, high: f32) -> (Vec<Strip>, Vec<Strip>) {
    let (mut y, mut end) = (0.0, 0);
    for (nr, strip) in strips.iter().enumerate() {
        y += strip.height + if nr == 0 { 0.0 } else { strip.above };
        if y > high {
            break;
        }
        if strip.keep == Keep::Free {
            end = nr + 1;
        }
    }
    let end = end.max(1).min(strips.len());
    let rest = strips.split_off(end);
    (strips, rest)
}

/// "3 of 239 items confirmed".
fn confirmed(meta: &Meta) -> String {
    format!("{} of {} items confirmed", meta.confirmed, meta.items)
}
