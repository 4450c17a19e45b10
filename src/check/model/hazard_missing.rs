//! `hazard-missing`: a fault that overrules a control has no hazard

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "hazard-missing",
    summary: "a fault that overrules a control has no hazard",
    long: "A fault with `ignores` leaves something running that a control should stop, or the other way round. That always can hurt, and the guide says so beside it.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for fault in model.faults.iter().filter(|f| !f.ignores.is_empty() && f.hazards.is_empty()) {
        let at = sources.place(&format!("{}.ignores", super::fault_path(model, fault)));
        let message = format!("`{}:{}` overrules a control and names no hazard", model[fault.of].id, fault.id);
        found.push(Diagnostic::error(RULE.code, at, message).help("add `hazard`: a sentence that says what can hurt"));
    }
}
