//! `cannot-fail-and-fails`: what cannot fail has a fault `fails`

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "cannot-fail-and-fails",
    summary: "what cannot fail has a fault `fails`",
    long: "`cannot-fail` gives the reason for which an item has no fault `fails`. Writing both contradicts itself.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for fault in model.faults.iter().filter(|f| f.id.as_str() == "fails") {
        let item = model.item_of(fault.of).filter(|i| model[*i].cannot_fail.is_some());
        let Some(item) = item else { continue };
        let id = &model[item].id;
        let also = sources.place(&format!("item.{id}.cannot-fail"));
        let message = format!("`{id}` cannot fail, and here it does");
        found.push(
            Diagnostic::error(RULE.code, fault.span, message).also(also, "it is said here").help("keep one of the two"),
        );
    }
}
