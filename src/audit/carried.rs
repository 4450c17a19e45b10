//! The canonical text that travels with the page is the one that the guide was made from, and the fingerprint is its own.

use super::finding::Notes;
use super::page::{Page, Part};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

/// The most that is unpacked.
const LARGEST: usize = 64 << 20;

/// Checks the copy and every fingerprint that is printed.
pub(super) fn check(page: &Page, canonical: &str, notes: &mut Notes) {
    check_copy(page, canonical, notes);
    let print: String = Sha256::digest(canonical.as_bytes()).iter().map(|b| format!("{b:02x}")).collect();
    let short: String = print.chars().take(12).collect();
    for part in &page.parts {
        let foot = part.lines.iter().rev().find(|l| l.contains("Revision ") && l.contains(" · "));
        let shown = foot.and_then(|l| l.rsplit(" · ").next()).unwrap_or("none");
        if shown != short {
            notes.find("fingerprint-wrong", format!("{}, foot", part.name), shown, &short);
        }
        if !part.chapter {
            check_cover(part, &print, notes);
        }
    }
}

fn check_copy(page: &Page, canonical: &str, notes: &mut Notes) {
    let place = "Page, text carried along";
    let [block] = page.carried.as_slice() else {
        return notes.find("copy-unreadable", place, format!("{} blocks", page.carried.len()), "one block");
    };
    let bytes = STANDARD.decode(block.trim()).ok();
    let text = bytes.and_then(|b| miniz_oxide::inflate::decompress_to_vec_with_limit(&b, LARGEST).ok());
    match text.and_then(|t| String::from_utf8(t).ok()) {
        None => notes.find("copy-unreadable", place, "something else", "the text in deflate and base 64"),
        Some(text) if text != canonical => {
            let line = text.lines().zip(canonical.lines()).position(|(a, b)| a != b);
            let line = line.unwrap_or_else(|| text.lines().count().min(canonical.lines().count()));
            let at = |t: &str| t.lines().nth(line).unwrap_or("nothing").to_owned();
            notes.find("copy-differs", format!("{place}, line {}", line + 1), at(&text), at(canonical));
        }
        Some(_) => {}
    }
}

fn check_cover(cover: &Part, print: &str, notes: &mut Notes) {
    let after = cover.lines.iter().skip_while(|l| *l != "Fingerprint of the facts").nth(1);
    let says = after.map_or("none", String::as_str);
    if says != print {
        notes.find("fingerprint-wrong", "Cover, fingerprint of the facts", says, print);
    }
}
