//! Where each key stands, kept beside the files for rules that speak of a finished model.

use crate::base::Sources;
use crate::parse::{RawKind, RawTable, RawValue};

/// Marks every value of a tree by its path (`item.battery.draws`, `item.bus.needs.0`), and every table by its name.
pub fn mark(whole: &RawTable, sources: &mut Sources) {
    table(whole, "", sources);
}

fn table(of: &RawTable, path: &str, sources: &mut Sources) {
    for entry in &of.entries {
        let path = if path.is_empty() { entry.key.clone() } else { format!("{path}.{}", entry.key) };
        let block = matches!(&entry.value.kind, RawKind::Table(t) if !t.braces);
        sources.mark(path.clone(), if block { entry.key_span } else { entry.value.span });
        value(&entry.value, &path, sources);
    }
}

fn value(of: &RawValue, path: &str, sources: &mut Sources) {
    match &of.kind {
        RawKind::Table(inner) => table(inner, path, sources),
        RawKind::List(list) => {
            for (at, element) in list.iter().enumerate() {
                let path = format!("{path}.{at}");
                sources.mark(path.clone(), element.span);
                value(element, &path, sources);
            }
        }
        _ => {}
    }
}
