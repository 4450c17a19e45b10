//! `item-without-failure`: an item of which no table says what its failing does.

use super::Subject;
use crate::base::Diagnostic;

/// The long explanation.
pub const EXPLAIN: &str = "A book with an index promises every item. No fault of this one stands in a failure table or in the list of faults that take nothing \
    else, so a reader cannot learn what its failing does. An item with `cannot-fail` is left alone: it says why.";

/// Checks every item of a book with an index.
pub fn check(subject: &Subject<'_>) -> Vec<Diagnostic> {
    let Some(coverage) = &subject.prose.coverage else { return Vec::new() };
    let is_left = |i: &&crate::model::Item| i.cannot_fail.is_none() && !coverage.failing.contains(i.id.as_str());
    let warn = |item: &crate::model::Item| {
        let system = &subject.model[item.system].id;
        let help = format!(
            "write `{{{{ failures(system=\"{system}\") }}}}` and `{{{{ nothing_lost() }}}}` in a chapter, or say `cannot-fail`"
        );
        let message = format!("no table tells what the failing of `{}` does", item.id);
        Diagnostic::warning("item-without-failure", item.span, message).help(help)
    };
    subject.model.items.iter().filter(is_left).map(warn).collect()
}
