//! The shell of the page: head, policy, strip, script.

use super::carried;
use crate::doc::Document;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use tera::{Context, Tera};

const SHELL: &str = include_str!("../../../templates/page.html");
const SCRIPT: &str = include_str!("../../../templates/page.js");
/// Templates of this ending are escaped by Tera.
const NAME: &str = "page.html";

/// Puts the body, which is markup of our own making, into the shell.
///
/// # Panics
/// When the built-in template is wrong; every test of this module would show it.
pub(super) fn write(document: &Document, style: &str, body: &str) -> String {
    let meta = &document.meta;
    let mut context = Context::new();
    context.insert("language", if meta.language.is_empty() { "en" } else { &meta.language });
    context.insert("title", &meta.title);
    let unsaid = meta.registration.as_deref().filter(|r| !meta.title.contains(r));
    context.insert("registration", unsaid.unwrap_or(""));
    context.insert("policy", &policy(style));
    context.insert("style", style);
    context.insert("script", SCRIPT);
    context.insert("body", body);
    context.insert("canonical", &carried::pack(&meta.canonical));
    let mut tera = Tera::default();
    let page = tera.add_raw_template(NAME, SHELL).and_then(|()| tera.render(NAME, &context));
    assert!(page.is_ok(), "the shell of the page is wrong: {page:?}");
    page.unwrap_or_default()
}

/// Nothing may be loaded or run but what is named here by its hash.
fn policy(style: &str) -> String {
    format!(
        "default-src 'none'; script-src 'sha256-{}'; style-src 'sha256-{}'; base-uri 'none'; form-action 'none'",
        hash(SCRIPT),
        hash(style)
    )
}

fn hash(text: &str) -> String {
    STANDARD.encode(Sha256::digest(text.as_bytes()))
}
