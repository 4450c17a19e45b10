//! Rules beyond names and forms, and the registry of every diagnostic code.
//!
//! This module does not read files: what reading and resolving refuse is listed here, and told there.
pub mod book;
pub mod log;
pub mod model;
pub mod print;
mod reading;

/// A diagnostic code with its documentation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rule {
    /// The code, as printed.
    pub code: &'static str,
    /// In one line.
    pub summary: &'static str,
    /// Why it is refused, and what to do.
    pub long: &'static str,
}

/// Every rule of models, by code. Lints of chapters document themselves in [`book`], what is wrong in a log in [`log`], on paper in [`print`].
pub fn registry() -> Vec<&'static Rule> {
    let mut all: Vec<&'static Rule> = reading::RULES.iter().chain(model::rules()).collect();
    all.sort_by_key(|r| r.code);
    all.dedup_by_key(|r| r.code);
    all
}

/// Every code, of models, chapters and logs, sorted.
pub fn codes() -> Vec<&'static str> {
    let of_models = registry().into_iter().map(|r| r.code);
    let told_elsewhere =
        book::explanations().chain(log::explanations()).chain(print::explanations()).map(|(code, _)| code);
    let mut all: Vec<&'static str> = of_models.chain(told_elsewhere).collect();
    all.sort_unstable();
    all
}

/// The long explanation of a code.
pub fn explain(code: &str) -> Option<String> {
    let of_models = registry().into_iter().find(|r| r.code == code);
    let of_book =
        || book::explanations().chain(log::explanations()).chain(print::explanations()).find(|(c, _)| *c == code);
    match of_models {
        Some(rule) => Some(format!("{}: {}\n\n{}\n", rule.code, rule.summary, rule.long)),
        None => of_book().map(|(code, text)| format!("{code}\n\n{text}\n")),
    }
}
