//! Contents: chapters with their sections, failure tables, figures.

use super::inline;
use super::markup::{Markup, link_to};
use crate::doc::{Block, Chapter, Document, Inlines, TableKind};

/// Writes the contents.
pub(super) fn write(out: &mut Markup, document: &Document) {
    out.open("nav", &[("id", "page/contents"), ("class", "contents"), ("aria-labelledby", "page/contents-title")]);
    out.element("h2", &[("id", "page/contents-title")], "Contents");
    out.open("ol", &[("class", "contents-chapters")]);
    for chapter in &document.chapters {
        write_chapter(out, chapter);
    }
    out.close("ol");
    write_list(out, "If something fails", document, failure_entry);
    write_list(out, "Figures", document, figure_entry);
    out.close("nav");
}

type Entry<'a> = (&'a str, &'a Inlines);

fn write_chapter(out: &mut Markup, chapter: &Chapter) {
    out.open("li", &[]);
    out.element("span", &[("class", "contents-number")], &chapter.number.to_string());
    out.text(" ");
    write_link(out, (&chapter.id, &chapter.title));
    let sections: Vec<Entry> = chapter.blocks.iter().filter_map(section_entry).collect();
    if !sections.is_empty() {
        out.open("ul", &[("class", "contents-sections")]);
        for section in sections {
            out.open("li", &[]);
            write_link(out, section);
            out.close("li");
        }
        out.close("ul");
    }
    out.close("li");
}

/// Entries of one kind under the titles of their chapters.
fn write_list<'a>(out: &mut Markup, title: &str, document: &'a Document, entry: fn(&'a Block) -> Option<Entry<'a>>) {
    let of = |c: &'a Chapter| (c, c.blocks.iter().filter_map(entry).collect::<Vec<Entry>>());
    let lists: Vec<(&Chapter, Vec<Entry>)> =
        document.chapters.iter().map(of).filter(|(_, entries)| !entries.is_empty()).collect();
    if lists.is_empty() {
        return;
    }
    out.element("h3", &[], title);
    for (chapter, entries) in lists {
        out.open("p", &[("class", "contents-of")]);
        out.text(&format!("{} ", chapter.number));
        inline::write(out, &chapter.title);
        out.close("p");
        out.open("ul", &[("class", "contents-list")]);
        for entry in entries {
            out.open("li", &[]);
            write_link(out, entry);
            out.close("li");
        }
        out.close("ul");
    }
}

fn write_link(out: &mut Markup, (id, text): Entry) {
    out.open("a", &[("href", &link_to(id))]);
    inline::write(out, text);
    out.close("a");
}

fn section_entry(block: &Block) -> Option<Entry<'_>> {
    match block {
        Block::Heading { level: 0..=2, id, text } => Some((id, text)),
        _ => None,
    }
}

fn failure_entry(block: &Block) -> Option<Entry<'_>> {
    match block {
        Block::Table(table) if table.kind == TableKind::Failure => Some((&table.id, &table.caption)),
        _ => None,
    }
}

fn figure_entry(block: &Block) -> Option<Entry<'_>> {
    match block {
        Block::Figure(figure) => Some((&figure.id, &figure.caption)),
        _ => None,
    }
}
