//! Ids: the names by which files refer to things.

use std::fmt;

/// The longest id that is taken.
pub const LONGEST: usize = 64;

/// A lower-case name of words joined by `-`; it begins with a letter.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(String);

impl Id {
    /// The id, if the text is one.
    ///
    /// # Errors
    /// Says in what way the text is no id.
    pub fn new(text: &str) -> Result<Self, &'static str> {
        if text.is_empty() {
            return Err("an id cannot be empty");
        }
        if text.len() > LONGEST {
            return Err("an id has at most 64 characters");
        }
        if !text.starts_with(|c: char| c.is_ascii_lowercase()) {
            return Err("an id begins with a lower-case letter");
        }
        let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !text.chars().all(fits) {
            return Err("an id has only lower-case letters, digits and `-`");
        }
        if text.ends_with('-') || text.contains("--") {
            return Err("an id has single `-` between its words");
        }
        Ok(Self(text.to_owned()))
    }

    /// The text of the id.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl AsRef<str> for Id {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

impl std::borrow::Borrow<str> for Id {
    fn borrow(&self) -> &str {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use super::Id;

    #[test]
    fn ids_are_lower_case_words_with_single_dashes() {
        assert!(Id::new("com-1").is_ok());
        for wrong in ["", "1st", "Com", "a--b", "a-", "a b", "a.b", "é", &"a".repeat(65)] {
            assert!(Id::new(wrong).is_err(), "{wrong}");
        }
    }
}
