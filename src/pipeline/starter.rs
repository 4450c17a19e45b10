//! The model and the book that the program brings: what `new` writes, and the chapters of an aircraft that has none.

/// File name and text of the small model.
pub const MODEL: (&str, &str) = ("aircraft.toml", include_str!("../../templates/starter/aircraft.toml"));

/// File names and texts of the small book; each of its sections stands only where the aircraft has what it speaks of.
pub const BOOK: &[(&str, &str)] =
    &[("01-first-look.md", include_str!("../../templates/starter/book/01-first-look.md"))];
