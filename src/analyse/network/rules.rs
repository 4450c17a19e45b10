//! The rules of the language as switches, for tests: a solver with a rule broken must be caught.

/// A rule that can be switched off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// A ring supports nothing by itself: the least solution.
    Least,
    /// Sustained feeds stand once they ran.
    Sustained,
    /// What no longer stands lets go.
    LetGo,
    /// Conditions on controls.
    Guards,
    /// What a feed passes must conduct.
    Through,
    /// A control or tripped device as a source must conduct.
    Sources,
    /// A passed device needs what it states itself.
    Coils,
    /// At least so many.
    AtLeast,
    /// The way of what is sensed must be whole.
    Senses,
    /// A function needs its item.
    Functions,
    /// An item that fails takes its functions.
    Whole,
    /// What misleads is false.
    Misleads,
    /// Tripped devices stay open.
    Trips,
    /// What is shut in goes on, false.
    Traps,
    /// Conditions that count as met.
    Ignores,
    /// Conditions on what a fault does.
    Entries,
    /// A half that cannot be on alone.
    OffWith,
    /// Positions that do not stay.
    Springs,
    /// Feeds that are not exact.
    Approximate,
    /// Outside facts.
    Givens,
}

impl Rule {
    /// Every rule.
    pub const ALL: [Self; 20] = [
        Self::Least,
        Self::Sustained,
        Self::LetGo,
        Self::Guards,
        Self::Through,
        Self::Sources,
        Self::Coils,
        Self::AtLeast,
        Self::Senses,
        Self::Functions,
        Self::Whole,
        Self::Misleads,
        Self::Trips,
        Self::Traps,
        Self::Ignores,
        Self::Entries,
        Self::OffWith,
        Self::Springs,
        Self::Approximate,
        Self::Givens,
    ];
}

/// Which rules hold. All of them, but in tests.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Rules(Option<Rule>);

impl Rules {
    /// Every rule holds.
    pub const ALL: Self = Self(None);

    /// For tests: every rule but one holds.
    pub fn without(rule: Rule) -> Self {
        Self(Some(rule))
    }

    /// Whether a rule holds.
    pub fn hold(self, rule: Rule) -> bool {
        self.0 != Some(rule)
    }
}
