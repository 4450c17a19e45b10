//! Inlines.

use super::markup::{Markup, link_to};
use crate::doc::Inline;

/// Writes a run of inlines.
pub(super) fn write(out: &mut Markup, inlines: &[Inline]) {
    for inline in inlines {
        write_one(out, inline);
    }
}

fn write_one(out: &mut Markup, inline: &Inline) {
    match inline {
        Inline::Text(text) => out.text(text),
        Inline::Quoted { of, text } => out.element("span", &[("class", "quoted"), ("data-of", of)], text),
        Inline::Name { id, text } => out.element("span", &[("class", "name"), ("data-of", id)], text),
        Inline::Shown(fact, text) => out.element("span", &[("class", "shown"), ("data-fact", fact)], text),
        Inline::Claim { claim, text } => write_around(out, "span", &[("class", "claim"), ("data-claim", claim)], text),
        Inline::Ref { to, text } => write_around(out, "a", &[("href", &link_to(to))], text),
        Inline::Emph(text) => write_around(out, "em", &[], text),
        Inline::Strong(text) => write_around(out, "strong", &[], text),
        Inline::Code(text) => out.element("code", &[], text),
    }
}

fn write_around(out: &mut Markup, tag: &'static str, attributes: &[(&'static str, &str)], text: &[Inline]) {
    out.open(tag, attributes);
    write(out, text);
    out.close(tag);
}
