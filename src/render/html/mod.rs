//! One self-contained HTML file for tablet and print.
//!
//! Everything that is read is plain HTML with the right elements; the one script only adds search and the choice of light or
//! dark. The content-security policy lets that script and the one style run by their hashes, and nothing else at all. No text
//! of a model or chapter reaches the page but through [`markup::Markup`], which escapes it.
//!
//! This module does not know what the blocks mean.
mod block;
mod carried;
mod contents;
mod cover;
mod inline;
mod markup;
mod shell;
mod style;
mod table;

pub use crate::render::Paper;
pub use cover::AGREES;

use crate::diagram::Drawing;
use crate::doc::{Chapter, Document, Meta, TRAINING_AID, plain_text};
use markup::Markup;
use std::collections::BTreeMap;

/// Drawings by the id of their figure.
pub type Drawings = BTreeMap<String, Drawing>;

/// The word of a paper in a style sheet.
fn paper_word(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "A4",
        Paper::Letter => "letter",
        Paper::A5 => "A5",
    }
}

/// The guide as one HTML file, for A4 when printed.
pub fn write(document: &Document, drawings: &Drawings) -> String {
    write_for(document, drawings, Paper::A4)
}

/// The guide as one HTML file, for a paper of the reader's choice.
pub fn write_for(document: &Document, drawings: &Drawings, paper: Paper) -> String {
    let mut body = Markup::default();
    write_shared(&mut body, drawings);
    cover::write(&mut body, document, drawings);
    contents::write(&mut body, document);
    for chapter in &document.chapters {
        write_chapter(&mut body, chapter, document, drawings);
    }
    let style = style::write(document, drawings, paper);
    shell::write(document, &style, &body.finish())
}

/// What drawings of the page have in common, each once.
fn write_shared(out: &mut Markup, drawings: &Drawings) {
    let shared: BTreeMap<&String, &String> =
        drawings.values().filter_map(|d| d.shared.as_ref()).map(|(id, svg)| (id, svg)).collect();
    for svg in shared.values() {
        out.raw("<svg class=\"store\" width=\"0\" height=\"0\" aria-hidden=\"true\">");
        out.raw(svg);
        out.raw("</svg>\n");
    }
}

fn write_chapter(out: &mut Markup, chapter: &Chapter, document: &Document, drawings: &Drawings) {
    let class = format!("chapter chapter-{}", chapter.number);
    let heading = format!("{}/title", chapter.id);
    out.open("section", &[("class", &class), ("id", &chapter.id), ("aria-labelledby", &heading)]);
    out.open("header", &[("class", "chapter-head")]);
    out.open("h2", &[("id", &heading)]);
    out.element("span", &[("class", "chapter-number")], &chapter.number.to_string());
    out.text(" ");
    out.open("span", &[("class", "chapter-title")]);
    inline::write(out, &chapter.title);
    out.close("span");
    out.close("h2");
    out.raw(style::CHAPTER_RULE);
    out.close("header");
    for block in &chapter.blocks {
        block::write(out, block, drawings);
    }
    write_foot(out, &document.meta, &plain_text(&chapter.title));
    out.close("section");
}

/// The running foot: notice, revision, date, fingerprint.
fn write_foot(out: &mut Markup, meta: &Meta, place: &str) {
    out.open("footer", &[("class", "foot")]);
    out.element("p", &[("class", "training-aid")], TRAINING_AID);
    let whose = meta.registration.as_deref().unwrap_or(&meta.type_name);
    out.element("p", &[("class", "edition")], &format!("{whose} · {place} · {}", edition(meta)));
    out.close("footer");
}

/// "Revision 3 · 2026-05-02 · 0123456789ab".
fn edition(meta: &Meta) -> String {
    format!("Revision {} · {} · {}", meta.revision, meta.date, short_print(&meta.facts_fingerprint))
}

/// The first twelve signs of a fingerprint.
fn short_print(print: &str) -> String {
    print.chars().take(12).collect()
}
