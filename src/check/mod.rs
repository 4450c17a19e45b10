//! Rules beyond names and forms, and the registry of every diagnostic code.
//!
//! This module does not read files: what reading and resolving refuse is listed here, and told there.
pub mod model;
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

/// Every rule, by code.
pub fn registry() -> Vec<&'static Rule> {
    let mut all: Vec<&'static Rule> = reading::RULES.iter().chain(model::rules()).collect();
    all.sort_by_key(|r| r.code);
    all.dedup_by_key(|r| r.code);
    all
}

/// Every code, sorted.
pub fn codes() -> Vec<&'static str> {
    registry().iter().map(|r| r.code).collect()
}

/// The long explanation of a code.
pub fn explain(code: &str) -> Option<String> {
    let rule = registry().into_iter().find(|r| r.code == code)?;
    Some(format!("{}: {}\n\n{}\n", rule.code, rule.summary, rule.long))
}
