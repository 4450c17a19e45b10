//! The ledger: every fact that is shown, with where it comes from.

use crate::base::Span;
use std::collections::BTreeMap;

/// Name of a fact: `turn-coordinator/draws`, `fail/vacuum-pump/lost`.
pub type FactId = String;

/// One fact that is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// Its name, unique.
    pub id: FactId,
    /// What it is about: an id of the model.
    pub subject: String,
    /// Which side of it: `draws`, `rating`.
    pub aspect: String,
    /// The number, in `unit`, not rounded; none for words.
    pub value: Option<f64>,
    /// Symbol of the unit.
    pub unit: Option<String>,
    /// As it stands in the guide.
    pub shown: String,
    /// How it was rounded; nothing if it was not.
    pub rounding: Option<String>,
    /// Where it comes from.
    pub origin: FactOrigin,
}

/// Where a fact comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum FactOrigin {
    /// Typed by the author.
    Typed(Span),
    /// Solved for a state and faults.
    Solved {
        /// Id of the state.
        state: String,
        /// `item:fault`.
        faults: Vec<String>,
    },
    /// Computed from other facts.
    Computed {
        /// Name of the method.
        method: &'static str,
        /// What went in.
        inputs: Vec<FactId>,
    },
}

/// All facts by name.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Ledger {
    facts: BTreeMap<FactId, Fact>,
}

impl Ledger {
    /// Enters a fact. The same fact may be entered again; another of the same name is a mistake of ours.
    ///
    /// # Panics
    /// When a different fact already bears the name.
    pub fn enter(&mut self, fact: Fact) -> FactId {
        let id = fact.id.clone();
        if let Some(old) = self.facts.get(&id) {
            assert!(old.shown == fact.shown && old.subject == fact.subject, "two facts are called `{id}`");
            return id;
        }
        self.facts.insert(id.clone(), fact);
        id
    }

    /// The fact of that name.
    pub fn get(&self, id: &str) -> Option<&Fact> {
        self.facts.get(id)
    }

    /// All facts, by name.
    pub fn iter(&self) -> impl Iterator<Item = &Fact> {
        self.facts.values()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.facts.len()
    }

    /// True if there is none.
    pub fn is_empty(&self) -> bool {
        self.facts.is_empty()
    }
}
