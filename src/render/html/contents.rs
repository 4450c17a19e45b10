//! Contents: chapters with their sections, failure tables, figures.

use super::inline;
use super::markup::{Markup, link_to};
use crate::doc::{Block, Chapter, Document};
use crate::render::entries::{Entry, failure_entry, figure_entry, section_entry, with_entries};

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
    let lists = with_entries(document, entry);
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
