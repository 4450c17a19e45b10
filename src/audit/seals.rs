//! Nothing on the page runs or loads but the one script and the one style sheet; every link leads somewhere; no id stands
//! twice; no rule of the style sheet takes out of sight what is to be read.

use super::finding::Notes;
use super::page::Page;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;

/// Checks all of it.
pub(super) fn check(page: &Page, notes: &mut Notes) {
    check_policy(page, notes);
    for odd in &page.odd {
        let expected = match odd.code {
            "hidden" => "all that is to be read in sight",
            "sign-wrong" => "the sign of the word",
            _ => "nothing that runs, loads or dresses itself",
        };
        notes.find(odd.code, &odd.place, &odd.what, expected);
    }
    check_links(page, notes);
    page.styles.iter().for_each(|style| check_style(style, notes));
}

fn check_policy(page: &Page, notes: &mut Notes) {
    let ([script], [style]) = (page.scripts.as_slice(), page.styles.as_slice()) else {
        let says = format!("{} scripts and {} style sheets", page.scripts.len(), page.styles.len());
        return notes.find("script-wrong", "Page", says, "one script and one style sheet");
    };
    let expected = format!(
        "default-src 'none'; script-src 'sha256-{}'; style-src 'sha256-{}'; base-uri 'none'; form-action 'none'",
        hash(script),
        hash(style)
    );
    if page.policies != [expected.clone()] {
        notes.find("policy-wrong", "Page, content-security policy", page.policies.join(" | "), expected);
    }
}

fn hash(text: &str) -> String {
    STANDARD.encode(Sha256::digest(text.as_bytes()))
}

fn check_links(page: &Page, notes: &mut Notes) {
    let mut seen = BTreeSet::new();
    for id in &page.ids {
        if !seen.insert(id.as_str()) {
            notes.find("id-twice", "Page", format!("the id “{id}” twice"), "each id once");
        }
    }
    for (place, link) in &page.links {
        match link.strip_prefix('#') {
            None => notes.find("active-content", place, format!("a link to “{link}”"), "links inside the page only"),
            Some(id) if !seen.contains(decoded(id).as_str()) => {
                notes.find("link-broken", place, format!("a link to “{link}”"), "a place of this page");
            }
            Some(_) => {}
        }
    }
}

/// Text with its `%XX` turned back to bytes.
fn decoded(text: &str) -> String {
    let mut bytes = Vec::new();
    let mut rest = text.as_bytes();
    while let Some((first, after)) = rest.split_first() {
        let code =
            after.get(..2).and_then(|two| std::str::from_utf8(two).ok()).and_then(|t| u8::from_str_radix(t, 16).ok());
        if let (b'%', Some(byte)) = (first, code) {
            bytes.push(byte);
            rest = after.get(2..).unwrap_or_default();
        } else {
            bytes.push(*first);
            rest = after;
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// Parts of the page that are not read: the strip with the search, and what is found.
const ASIDE: &[&str] = &["[hidden]", ".strip", ".skip", ".found", ".seek", ".alternative"];

fn check_style(style: &str, notes: &mut Notes) {
    for word in ["url(", "@import", "expression(", "@font-face", "@namespace"] {
        if style.contains(word) {
            notes.find("active-content", "Page, style sheet", word, "nothing that is loaded");
        }
    }
    let hides = |body: &str| {
        let bare: String = body.chars().filter(|c| !c.is_whitespace()).collect();
        [
            "display:none",
            "visibility:hidden",
            "visibility:collapse",
            "opacity:0;",
            "font-size:0;",
            "content-visibility:hidden",
        ]
        .iter()
        .any(|h| format!("{bare};").contains(h))
    };
    for (selectors, body) in rules(style) {
        let read = selectors.split(',').map(str::trim).find(|s| !ASIDE.iter().any(|a| s.contains(a)));
        if let Some(selector) = read.filter(|_| hides(body)) {
            notes.find(
                "hidden",
                "Page, style sheet",
                format!("“{selector}” is out of sight"),
                "all that is to be read in sight",
            );
        }
    }
}

/// Innermost rules: what they are for, and what they say.
fn rules(style: &str) -> impl Iterator<Item = (&str, &str)> {
    style.split('}').filter_map(|piece| {
        let (head, body) = piece.rsplit_once('{')?;
        let selectors = head.rsplit(['{', ';']).next().unwrap_or(head);
        let selectors = selectors.rsplit("*/").next().unwrap_or(selectors);
        Some((selectors.trim(), body))
    })
}
