//! `usable-over-capacity`: more of a tank can be used than it holds

use super::Model;
use crate::analyse::fuel::tanks;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "usable-over-capacity",
    summary: "more of a tank can be used than it holds",
    long: "What can be used of a tank is what it holds less what its outlet cannot reach in flight. More than it holds would promise minutes that are not there.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for tank in tanks(model).iter().filter(|t| t.usable > t.holds) {
        let of = &model[tank.item];
        let at = sources.place(&format!("item.{}.usable", of.id));
        let message = format!("`{}` holds less than can be used of it", of.id);
        found.push(
            Diagnostic::error(RULE.code, at, message)
                .also(sources.place(&format!("item.{}.capacity", of.id)), "what it holds")
                .help("mend the one that is wrong"),
        );
    }
}
