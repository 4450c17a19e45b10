//! `item-untold`: an item that is described nowhere.

use super::Subject;
use crate::base::Diagnostic;

/// The long explanation.
pub const EXPLAIN: &str = "A book with an index promises every item. This one has no `does`, or has no row in a table of items or in the walk round, so a \
    reader finds no word of what it is for.";

/// Checks every item of a book with an index.
pub fn check(subject: &Subject<'_>) -> Vec<Diagnostic> {
    let Some(coverage) = &subject.prose.coverage else { return Vec::new() };
    let mut found = Vec::new();
    for item in &subject.model.items {
        let (message, help) = if !coverage.described.contains(item.id.as_str()) {
            let system = &subject.model[item.system].id;
            let help = format!("write `{{{{ items(system=\"{system}\") }}}}` or `{{{{ walk_round() }}}}` in a chapter");
            (format!("`{}` is in no table of items", item.id), help)
        } else if subject.model[item.node].does.is_none() {
            let help = "add `does`: one or two sentences for a student".to_owned();
            (format!("what `{}` does is told nowhere", item.id), help)
        } else {
            continue;
        };
        found.push(Diagnostic::warning("item-untold", item.span, message).help(help));
    }
    found
}
