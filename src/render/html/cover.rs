//! The cover: what aircraft, what edition, how far it was confirmed, and what the guide is not.

use super::block::write_first_piece;
use super::markup::Markup;
use super::{Drawings, write_foot};
use crate::doc::{Block, Document, Figure, FigureKind, Meta};

/// What a guide can claim, exactly.
pub const AGREES: &str =
    "This guide agrees with its model. Only a person at the aircraft can show that the model agrees with the aircraft.";

/// Writes the cover.
pub(super) fn write(out: &mut Markup, document: &Document, drawings: &Drawings) {
    let meta = &document.meta;
    out.open("section", &[("class", "cover"), ("id", "page/cover"), ("aria-labelledby", "page/title")]);
    out.open("header", &[("class", "cover-head")]);
    write_title(out, &meta.title);
    if let Some(registration) = meta.registration.as_ref().filter(|r| !meta.title.contains(r.as_str())) {
        out.element("p", &[("class", "registration")], registration);
    }
    out.close("header");
    if meta.is_draft() {
        write_draft(out, meta);
    }
    if let Some(drawing) = panel(document).and_then(|figure| drawings.get(&figure.id)) {
        write_first_piece(out, drawing);
    }
    write_plate(out, meta);
    out.element("p", &[("class", "agrees")], AGREES);
    write_foot(out, meta, "Cover");
    out.close("section");
}

/// Words of the title are kept whole: a type such as `BW-4` is not broken at its dash.
fn write_title(out: &mut Markup, title: &str) {
    out.open("h1", &[("id", "page/title")]);
    for (at, word) in title.split(' ').enumerate() {
        if at > 0 {
            out.text(" ");
        }
        out.element("span", &[("class", "word")], word);
    }
    out.close("h1");
}

fn write_draft(out: &mut Markup, meta: &Meta) {
    out.open("p", &[("class", "draft")]);
    out.element("strong", &[], "DRAFT");
    out.text(" ");
    out.element("span", &[], &confirmed(meta));
    out.close("p");
}

fn confirmed(meta: &Meta) -> String {
    format!("{} of {} items confirmed", meta.confirmed, meta.items)
}

/// The data plate.
fn write_plate(out: &mut Markup, meta: &Meta) {
    let revision = meta.revision.to_string();
    let registration = meta.registration.as_deref().unwrap_or("any of this type");
    let confirmed = confirmed(meta);
    let rows = [
        ("Type", meta.type_name.as_str()),
        ("Maker", &meta.maker),
        ("Registration", registration),
        ("Revision", &revision),
        ("Date", &meta.date),
        ("Governing handbook", &meta.handbook),
        ("At the aircraft", &confirmed),
        ("Fingerprint of the facts", &meta.facts_fingerprint),
        ("Made by", &meta.made_by),
    ];
    out.open("dl", &[("class", "plate")]);
    for (term, value) in rows {
        let class = if matches!(term, "Fingerprint of the facts" | "Made by") { "print" } else { "" };
        out.open("div", &[("class", class)]);
        out.element("dt", &[], term);
        out.element("dd", &[], value);
        out.close("div");
    }
    out.close("dl");
}

/// The panel, if the guide has a drawing of it.
fn panel(document: &Document) -> Option<&Figure> {
    document.chapters.iter().flat_map(|c| &c.blocks).find_map(|block| match block {
        Block::Figure(figure) if figure.kind == FigureKind::Panel => Some(figure),
        _ => None,
    })
}
