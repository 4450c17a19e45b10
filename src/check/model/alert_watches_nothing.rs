//! `alert-watches-nothing`: an alert watches nothing that can be lost

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "alert-watches-nothing",
    summary: "an alert watches nothing that can be lost",
    long: "An alert shows when what it watches does not hold. An alert without anything watched would never show, and one that watches only the positions of controls tells of no loss.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for alert in &model.alerts {
        if alert.watches.iter().all(|n| n.feeds().is_empty()) {
            let at = sources.place(&format!("alert.{}.watches", alert.id));
            let message = format!("the alert `{}` watches nothing that can be lost", alert.id);
            found.push(Diagnostic::error(RULE.code, at, message).help("name the item or function that it watches"));
        }
    }
}
