//! `item-undrawn`: an item in no drawing.

use super::Subject;
use crate::base::Diagnostic;

/// The long explanation.
pub const EXPLAIN: &str = "A book with an index promises every item. This one is in no drawing of its system and not on a panel that is drawn, so a reader \
    cannot see what it hangs on. Call for the drawing of its system with `{{ figure(kind=\"system\", of=\"…\") }}`.";

/// Checks every item of a book with an index.
pub fn check(subject: &Subject<'_>) -> Vec<Diagnostic> {
    let Some(coverage) = &subject.prose.coverage else { return Vec::new() };
    let left = subject.model.items.iter().filter(|i| !coverage.drawn.contains(i.id.as_str()));
    let warn = |item: &crate::model::Item| {
        let system = &subject.model[item.system].id;
        let help = format!("write `{{{{ figure(kind=\"system\", of=\"{system}\") }}}}` in a chapter");
        Diagnostic::warning("item-undrawn", item.span, format!("`{}` is in no drawing", item.id)).help(help)
    };
    left.map(warn).collect()
}
