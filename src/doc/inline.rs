//! Inlines: what stands beside one another in a line.

use super::ledger::FactId;

/// A run of inlines.
pub type Inlines = Vec<Inline>;

/// One piece of a line.
#[derive(Debug, Clone, PartialEq)]
pub enum Inline {
    /// Text of the book or of a phrase, with no item's name and no number with a unit.
    Text(String),
    /// A sentence of the model's author, printed as written; where it comes from is told by `of` (`vacuum-pump/hazard`).
    Quoted {
        /// Which field of the model.
        of: String,
        /// The sentence.
        text: String,
    },
    /// The name of a node, system, state, alert, piece of information or medium.
    Name {
        /// Its id.
        id: String,
        /// As it stands here, article and capital as the phrase wants.
        text: String,
    },
    /// A fact from the ledger, printed as it is shown there.
    Shown(FactId, String),
    /// A sentence that was proved against the model.
    Claim {
        /// What was proved: `clock works in secured`.
        claim: String,
        /// The sentence.
        text: Inlines,
    },
    /// A link inside the guide.
    Ref {
        /// The id it leads to.
        to: String,
        /// Its text.
        text: Inlines,
    },
    /// Stressed.
    Emph(Inlines),
    /// Strongly stressed.
    Strong(Inlines),
    /// An engraving or a thing typed.
    Code(String),
}

impl Inline {
    /// Text of the book or of a phrase.
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// The name of a thing.
    pub fn name(id: impl Into<String>, text: impl Into<String>) -> Self {
        Self::Name { id: id.into(), text: text.into() }
    }

    fn write_plain(&self, into: &mut String) {
        match self {
            Self::Text(t)
            | Self::Code(t)
            | Self::Shown(_, t)
            | Self::Quoted { text: t, .. }
            | Self::Name { text: t, .. } => {
                into.push_str(t);
            }
            Self::Claim { text, .. } | Self::Ref { text, .. } | Self::Emph(text) | Self::Strong(text) => {
                text.iter().for_each(|i| i.write_plain(into));
            }
        }
    }
}

/// What a reader sees of a run, without any marks.
pub fn plain_text(inlines: &[Inline]) -> String {
    let mut text = String::new();
    inlines.iter().for_each(|i| i.write_plain(&mut text));
    text
}
