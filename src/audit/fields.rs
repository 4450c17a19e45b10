//! Plain access to a TOML table: each error names the place it stands at.

use toml::{Table, Value};

/// A table and the dotted path that leads to it.
pub(super) struct Fields<'t> {
    table: &'t Table,
    place: String,
}

impl<'t> Fields<'t> {
    /// The table at `place`; the whole text has the place "".
    pub(super) fn new(table: &'t Table, place: String) -> Self {
        Self { table, place }
    }

    /// The value at `place`, which must be a table.
    pub(super) fn of(value: &'t Value, place: String) -> Result<Self, String> {
        match value {
            Value::Table(table) => Ok(Self { table, place }),
            _ => Err(format!("{place}: expected a table")),
        }
    }

    /// The dotted path of this table.
    pub(super) fn place(&self) -> &str {
        &self.place
    }

    /// The dotted path of one of its keys.
    pub(super) fn at(&self, key: &str) -> String {
        if self.place.is_empty() { key.to_owned() } else { format!("{}.{key}", self.place) }
    }

    /// Whether the key is there.
    pub(super) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// The value as it stands.
    pub(super) fn get(&self, key: &str) -> Option<&'t Value> {
        self.table.get(key)
    }

    /// A text, where there is one.
    pub(super) fn text(&self, key: &str) -> Result<Option<String>, String> {
        match self.get(key) {
            None => Ok(None),
            Some(value) => text_of(value, &self.at(key)).map(Some),
        }
    }

    /// A text that must be there.
    pub(super) fn required(&self, key: &str) -> Result<String, String> {
        self.text(key)?.ok_or_else(|| format!("{}: missing", self.at(key)))
    }

    /// True or false, where it is said.
    pub(super) fn flag(&self, key: &str) -> Result<Option<bool>, String> {
        match self.get(key) {
            None => Ok(None),
            Some(Value::Boolean(flag)) => Ok(Some(*flag)),
            Some(_) => Err(format!("{}: expected true or false", self.at(key))),
        }
    }

    /// The members of a list, each with its place; none where the key is not there.
    pub(super) fn list(&self, key: &str) -> Result<Vec<(&'t Value, String)>, String> {
        match self.get(key) {
            None => Ok(Vec::new()),
            Some(Value::Array(list)) => {
                Ok(list.iter().enumerate().map(|(i, value)| (value, format!("{}[{i}]", self.at(key)))).collect())
            }
            Some(_) => Err(format!("{}: expected a list", self.at(key))),
        }
    }

    /// A list of texts.
    pub(super) fn texts(&self, key: &str) -> Result<Vec<String>, String> {
        self.list(key)?.into_iter().map(|(value, place)| text_of(value, &place)).collect()
    }

    /// A table under a key.
    pub(super) fn inner(&self, key: &str) -> Result<Option<Fields<'t>>, String> {
        self.get(key).map(|value| Fields::of(value, self.at(key))).transpose()
    }

    /// Every table under a key, by name.
    pub(super) fn each(&self, key: &str) -> Result<Vec<(&'t str, Fields<'t>)>, String> {
        let Some(inner) = self.inner(key)? else {
            return Ok(Vec::new());
        };
        let table = inner.table;
        table.iter().map(|(name, value)| Ok((name.as_str(), Fields::of(value, inner.at(name))?))).collect()
    }

    /// Every key with its value.
    pub(super) fn entries(&self) -> impl Iterator<Item = (&'t str, &'t Value)> {
        self.table.iter().map(|(key, value)| (key.as_str(), value))
    }
}

/// A value that must be text.
pub(super) fn text_of(value: &Value, place: &str) -> Result<String, String> {
    value.as_str().map(str::to_owned).ok_or_else(|| format!("{place}: expected text"))
}

/// A time in minutes from text like `30 min` or `1.5 h`.
pub(super) fn minutes(text: &str, place: &str) -> Result<f64, String> {
    let mut words = text.split_whitespace();
    let amount = words.next().and_then(|word| word.parse::<f64>().ok()).filter(|n| n.is_finite());
    match (amount, words.next(), words.next()) {
        (Some(amount), Some("min"), None) => Ok(amount),
        (Some(amount), Some("h"), None) => Ok(amount * 60.0),
        _ => Err(format!("{place}: expected a time in min or h, found \"{text}\"")),
    }
}
