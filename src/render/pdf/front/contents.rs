//! Contents and lists: what stands where.

use super::super::fonts::Face;
use super::super::inline::Link;
use super::super::lines::Style;
use super::super::setter::Setter;
use super::super::strip::{Ink, Keep, Kind, Strip, Tone};
use super::super::tags::{NodeIx, Role};
use super::{Labels, in_columns};
use crate::doc::{Chapter, Document, plain_text};
use crate::render::entries::{Entry, failure_entry, figure_entry, section_entry, with_entries};

/// Between two columns of a list, pt.
const BETWEEN: f32 = 22.0;

impl<'a> Setter<'a> {
    /// Chapters with their sections.
    pub(super) fn contents(&mut self, document: &'a Document, node: NodeIx, labels: &Labels) -> Vec<Strip> {
        let list = |c: &'a Chapter| c.blocks.iter().filter_map(section_entry).collect::<Vec<Entry>>();
        let chapters: Vec<(&Chapter, Vec<Entry>)> = document.chapters.iter().map(|c| (c, list(c))).collect();
        self.listed(1, node, &chapters, labels)
    }

    /// Failure tables under the titles of their chapters.
    pub(super) fn failures(&mut self, document: &'a Document, node: NodeIx, labels: &Labels) -> Vec<Strip> {
        let chapters = with_entries(document, failure_entry);
        self.listed(2, node, &chapters, labels)
    }

    /// Figures under the titles of their chapters.
    pub(super) fn figures(&mut self, document: &'a Document, node: NodeIx, labels: &Labels) -> Vec<Strip> {
        let chapters = with_entries(document, figure_entry);
        self.listed(3, node, &chapters, labels)
    }

    fn listed(
        &mut self,
        part: usize,
        node: NodeIx,
        chapters: &[(&'a Chapter, Vec<Entry<'a>>)],
        labels: &Labels,
    ) -> Vec<Strip> {
        if chapters.is_empty() {
            return Vec::new();
        }
        let title = self.part_title(part, node);
        let all = self.tags.block(Some(node), Role::Contents);
        let columns = if self.sheet.wide() > 450.0 { 2 } else { 1 };
        let wide = (self.sheet.wide() - BETWEEN * (columns as f32 - 1.0)) / columns as f32;
        let mut strips = Vec::new();
        for (chapter, entries) in chapters {
            let number = format!("{} ", chapter.number);
            let mut head = self.entry((&chapter.id, &chapter.title), (Some(&number), wide), all, labels);
            head.first_mut().into_iter().for_each(|s| s.above = 7.0);
            head.iter_mut().filter(|_| !entries.is_empty()).for_each(|s| s.keep = Keep::Hard);
            strips.append(&mut head);
            for entry in entries {
                strips.append(&mut self.entry(*entry, (None, wide), all, labels));
            }
        }
        let room = self.sheet.high();
        let first = room - title.height - 1.0;
        let mut pages = vec![title];
        pages.extend(in_columns(strips, columns, (wide, BETWEEN), (first, room)));
        pages
    }

    /// One entry: its text, a thin line, its page.
    fn entry(
        &mut self,
        (id, text): Entry<'_>,
        (number, wide): (Option<&str>, f32),
        parent: NodeIx,
        labels: &Labels,
    ) -> Vec<Strip> {
        let line_node = self.tags.block(Some(parent), Role::ContentsLine);
        let node = self.tags.block(Some(line_node), Role::Link);
        let link = self.links.len() as u32;
        self.links.push(Link { to: id.to_owned(), node, says: plain_text(text), brief: true });
        let size = if number.is_some() { self.sheet.table } else { self.sheet.small };
        let face = if number.is_some() { Face::Bold } else { Face::Regular };
        let style = Style { link: Some(link), ..Self::style(face, Tone::Ink, Some(node)) };
        let set_in = size.letters * if number.is_some() { 0.0 } else { 1.9 };
        let mut items = self.plain_words(number.unwrap_or_default(), style);
        let mut words = self.words(text, style, true);
        words.first_mut().filter(|_| !items.is_empty()).into_iter().for_each(|w| w.space = true);
        items.append(&mut words);
        let label = labels.get(id).map_or("", String::as_str);
        let (page, page_wide) = self.one_line(label, style, size.letters);
        let room = wide - set_in - page_wide - size.letters;
        let mut strips = self.lines(&items, size, (set_in, room.max(40.0)));
        for strip in &mut strips {
            (strip.kind, strip.keep, strip.above) = (Kind::Other, Keep::Hard, 0.0);
        }
        if let Some(last) = strips.last_mut() {
            last.keep = Keep::Free;
            let end =
                last.puts.iter().find_map(|p| if let Ink::Text(l, _) = &p.ink { Some(p.x + l.width) } else { None });
            let (from, to) = (end.unwrap_or(0.0) + 4.0, wide - page_wide - 4.0);
            if to > from {
                last.put(from, size.rise(), Ink::Rule(to - from, 0.0, 0.35, Tone::Rule));
            }
            last.put(wide - page_wide, size.rise(), Ink::Text(page, size.letters));
        }
        strips
    }
}
