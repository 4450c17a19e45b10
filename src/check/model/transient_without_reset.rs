//! `transient-without-reset`: a transient fault that nothing resets

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "transient-without-reset",
    summary: "a transient fault that nothing resets",
    long: "A transient fault may be mended by cycling a control that `resets` its item or a device it trips. Without such a control the mark has no effect.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let resets = |n| model.item_of(n).is_some_and(|i| model.controls().any(|(_, c)| c.resets.contains(&i)));
    for fault in model.faults.iter().filter(|f| f.transient) {
        if !resets(fault.of) && !fault.trips.iter().any(|e| resets(e.what)) {
            let at = sources.place(&format!("{}.transient", super::fault_path(model, fault)));
            let message = format!("no control resets `{}`", model[fault.of].id);
            found.push(
                Diagnostic::warning(RULE.code, at, message)
                    .help("name the item in `resets` of the control that mends it, or take `transient` out"),
            );
        }
    }
}
