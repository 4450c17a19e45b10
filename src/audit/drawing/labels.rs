//! What a drawing says beside names: short names, ratings, numbers of systems.

use crate::audit::fields::Fields;
use std::collections::BTreeMap;
use toml::Table;

/// Lettering of drawings, by id.
#[derive(Debug, Default)]
pub(in crate::audit) struct Labels {
    pub(super) short: BTreeMap<String, String>,
    /// What an item is rated, holds or draws.
    pub(super) detail: BTreeMap<String, String>,
    /// Numbers of systems.
    pub(super) numbers: BTreeMap<String, String>,
}

impl Labels {
    /// Reads them from the model part of the canonical text.
    ///
    /// # Errors
    /// The place of the first thing that is of the wrong type.
    pub(in crate::audit) fn read(table: &Table) -> Result<Self, String> {
        let whole = Fields::new(table, String::new());
        let mut labels = Self::default();
        for (id, item) in whole.each("item")? {
            labels.note_short(id.to_owned(), &item)?;
            let mut words = Vec::new();
            for key in ["voltage", "capacity", "rating"] {
                words.extend(item.text(key)?);
            }
            words.extend(item.text("draws")?.map(|draws| format!("draws {draws}")));
            labels.detail.insert(id.to_owned(), words.join(", "));
            for (function, inner) in item.each("function")? {
                labels.note_short(format!("{id}.{function}"), &inner)?;
            }
        }
        for (id, given) in whole.each("given")? {
            labels.note_short(id.to_owned(), &given)?;
        }
        for (id, system) in whole.each("system")? {
            labels.numbers.extend(system.text("number")?.map(|number| (id.to_owned(), number)));
        }
        Ok(labels)
    }

    fn note_short(&mut self, id: String, fields: &Fields<'_>) -> Result<(), String> {
        self.short.extend(fields.text("short")?.map(|short| (id, short)));
        Ok(())
    }
}
