//! The one style sheet: the fixed part, the colours of media, and what stands in the margins of printed pages.

use super::{Drawings, Paper, edition, paper_word};
use crate::diagram::colour::for_dark;
use crate::doc::{Document, TRAINING_AID, plain_text};
use std::collections::BTreeMap;

const FIXED: &str = include_str!("../../../templates/page.css");

/// The rule under a chapter's title: the ticks of a scale.
pub(super) const CHAPTER_RULE: &str = concat!(
    r#"<svg class="scale" aria-hidden="true" viewBox="0 0 400 10" preserveAspectRatio="none">"#,
    r#"<path d="M0 .5H400M.5 0V10M40 0V5M80 0V5M120 0V5M160 0V5M200 0V10M240 0V5M280 0V5M320 0V5M360 0V5M399.5 0V10"/></svg>"#,
);

/// The style sheet of one guide.
pub(super) fn write(document: &Document, drawings: &Drawings, paper: Paper) -> String {
    let mut css = FIXED.to_owned();
    css.push_str(&media_colours(drawings));
    css.push_str(&page_margins(document, paper));
    css
}

fn media_colours(drawings: &Drawings) -> String {
    let media: BTreeMap<&str, &str> =
        drawings.values().flat_map(|d| &d.media).map(|m| (m.class.as_str(), m.colour.as_str())).collect();
    let rule = |(class, colour): (&&str, &&str), dark: bool| {
        let colour = if dark { for_dark(colour) } else { (*colour).to_owned() };
        format!(".{class}{{--medium:{colour}}}\n")
    };
    let light: String = media.iter().map(|m| rule(m, false)).collect();
    let in_dark = |root: &str| {
        let rules: Vec<String> = media.iter().map(|m| format!("{root} {}", rule(m, true))).collect();
        rules.concat()
    };
    format!(
        "{light}@media screen and (prefers-color-scheme: dark) {{\n{}}}\n@media screen {{\n{}}}\n",
        in_dark(":root:not([data-light=\"day\"])"),
        in_dark(":root[data-light=\"night\"]")
    )
}

/// Running head and foot of printed pages; each chapter is a page of its own name.
fn page_margins(document: &Document, paper: Paper) -> String {
    let meta = &document.meta;
    let whose = meta.registration.as_deref().unwrap_or(&meta.type_name);
    let foot = format!("{}\\A {}", quoted(TRAINING_AID), quoted(&edition(meta)));
    let mut css = format!(
        "@page {{ size: {}; margin: 20mm 15mm 22mm;\n@top-left {{ content: \"{}\" }}\n@top-right {{ content: \"{}\" }}\n\
         @bottom-left {{ content: \"{foot}\" }}\n@bottom-right {{ content: counter(page) }} }}\n",
        paper_word(paper),
        quoted(whose),
        quoted(&meta.title)
    );
    for chapter in &document.chapters {
        let (n, title) = (chapter.number, quoted(&plain_text(&chapter.title)));
        css.push_str(&format!(
            "@page chapter-{n} {{ @top-right {{ content: \"{n} \\2002 {title}\" }} }}\n\
             @media print {{ .chapter-{n} {{ page: chapter-{n} }} }}\n"
        ));
    }
    css
}

/// Text inside a string of a style sheet: everything that is not a plain letter, digit or mark is coded.
fn quoted(text: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || " .,-:()/".contains(c);
    text.chars().map(|c| if plain(c) { c.to_string() } else { format!("\\{:x} ", u32::from(c)) }).collect()
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn a_hostile_title_cannot_leave_its_string() {
        assert_eq!(quoted("a\"</style>"), "a\\22 \\3c /style\\3e ");
    }
}
