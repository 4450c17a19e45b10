//! TOML and Markdown text to raw trees with spans.
//!
//! This module does not know which names exist: that is for `resolve`. What a key may hold is declared once, in [`key`],
//! and from there come the checks, the reference page and the JSON Schema.
pub mod book;
mod depth;
pub mod key;
pub mod need;
pub mod printed;
pub mod raw;
mod reference;
mod schema;
mod texts;
mod toml_text;
mod walk;
mod wanted;

pub use raw::{RawEntry, RawKind, RawTable, RawText, RawValue};
pub use reference::reference;
pub use schema::model_schema;
pub use toml_text::{LARGEST_FILE, parse_text, too_large};
pub use walk::check_table;
