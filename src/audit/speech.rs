//! Reading names and clauses: text is held against names without articles and with a small first letter, since those change
//! with the place of a name in a sentence and say nothing.

use std::collections::BTreeMap;

/// The first letter small, but not that of a word in capitals.
pub(super) fn small(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), text.chars().nth(1)) {
        (Some(first), Some(second)) if !second.is_uppercase() => first.to_lowercase().chain(letters).collect(),
        _ => text.to_owned(),
    }
}

/// The first letter a capital.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A text as it is held against others: no "the", all letters small.
pub(super) fn bare(text: &str) -> String {
    let words = text.split_whitespace().filter(|word| !word.eq_ignore_ascii_case("the"));
    words.map(str::to_lowercase).collect::<Vec<_>>().join(" ")
}

/// Texts that stand for something.
#[derive(Debug, Default)]
pub(super) struct Dictionary<T> {
    entries: BTreeMap<String, T>,
    twice: Vec<String>,
}

impl<T: Clone + PartialEq> Dictionary<T> {
    /// A dictionary of these texts. Of two meanings of one text the first counts, and the text is kept for a finding.
    pub(super) fn of(entries: impl IntoIterator<Item = (String, T)>) -> Self {
        let mut dictionary = Self { entries: BTreeMap::new(), twice: Vec::new() };
        for (text, meaning) in entries {
            let key = bare(&text);
            match dictionary.entries.get(&key) {
                Some(other) if *other != meaning => dictionary.twice.push(text),
                Some(_) => {}
                None => {
                    dictionary.entries.insert(key, meaning);
                }
            }
        }
        dictionary
    }

    /// Texts that have more than one meaning.
    pub(super) fn ambiguous(&self) -> &[String] {
        &self.twice
    }

    /// What a text stands for.
    pub(super) fn find(&self, text: &str) -> Option<T> {
        self.entries.get(&bare(text)).cloned()
    }

    /// A list of such texts with one of these signs between them; a sign may stand inside a text too.
    pub(super) fn list(&self, text: &str, between: &[&str]) -> Option<Vec<T>> {
        list_of(text, between, &|piece| self.find(piece))
    }

    /// Texts of the dictionary with one of these signs between them, a colon, and the rest; or the texts alone.
    pub(super) fn list_and_rest<'t>(&self, line: &'t str, between: &[&str]) -> Option<(Vec<T>, &'t str)> {
        if let Some(all) = self.list(line, between) {
            return Some((all, ""));
        }
        let mut colons = line.match_indices(": ");
        colons.find_map(|(at, sign)| Some((self.list(line.get(..at)?, between)?, line.get(at + sign.len()..)?)))
    }
}

/// A list whose pieces are read one by one, from the left; where a sign may also belong to a piece, the first way that reads
/// all of the text counts.
pub(super) fn list_of<T>(text: &str, between: &[&str], read: &dyn Fn(&str) -> Option<T>) -> Option<Vec<T>> {
    let mut cuts: Vec<(usize, usize)> =
        between.iter().flat_map(|sign| text.match_indices(sign).map(|(at, s)| (at, at + s.len()))).collect();
    cuts.sort_unstable();
    let mut found = Vec::new();
    split(text, 0, &cuts, read, &mut found).then(|| {
        found.reverse();
        found
    })
}

fn split<T>(
    text: &str,
    from: usize,
    cuts: &[(usize, usize)],
    read: &dyn Fn(&str) -> Option<T>,
    found: &mut Vec<T>,
) -> bool {
    for (index, (end, next)) in cuts.iter().enumerate().filter(|(_, (end, _))| *end >= from) {
        let Some(piece) = text.get(from..*end).and_then(read) else { continue };
        if split(text, *next, &cuts[index + 1..], read, found) {
            found.push(piece);
            return true;
        }
    }
    text.get(from..).and_then(read).is_some_and(|piece| {
        found.push(piece);
        true
    })
}

/// Conditions in a sentence in one order, since `X is A or B and Y is C` says the same in any order.
pub(super) fn ordered(text: &str) -> String {
    let text = bare(text);
    let mut pieces = text.split("while ");
    let mut out = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let end = [", ", "; ", ". "].iter().filter_map(|sign| piece.find(sign)).min().unwrap_or(piece.len());
        let (conditions, rest) = piece.split_at(end);
        let mut each: Vec<String> = conditions.split(" and ").map(in_order).collect();
        each.sort_unstable();
        out.push_str("while ");
        out.push_str(&each.join(" and "));
        out.push_str(rest);
    }
    out
}

fn in_order(condition: &str) -> String {
    let (control, positions) =
        condition.split_once(" is ").or_else(|| condition.split_once(" are ")).unwrap_or(("", condition));
    let mut positions: Vec<&str> = positions.split(" or ").collect();
    positions.sort_unstable();
    format!("{control} is {}", positions.join(" or "))
}

/// `a, b and c`.
pub(super) fn spoken<S: AsRef<str>>(names: &[S]) -> String {
    match names {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [most @ .., last] => {
            let most: Vec<&str> = most.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", most.join(", "), last.as_ref())
        }
    }
}

/// A position as it is engraved.
pub(super) fn engraved(position: &str) -> String {
    position.replace('-', " ").to_uppercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names() -> Dictionary<u8> {
        let texts = ["pump", "oil, hot and cold", "Left lamp", "lamp"];
        Dictionary::of(texts.iter().zip(1..).map(|(text, number)| ((*text).to_owned(), number)))
    }

    #[test]
    fn a_name_with_a_comma_in_it_is_one_name() {
        assert_eq!(names().list("Pump, oil, hot and cold, left lamp", &[", "]), Some(vec![1, 2, 3]));
        assert_eq!(names().list("the pump, the lamp and the left lamp", &[", ", " and "]), Some(vec![1, 4, 3]));
        assert_eq!(names().list("pump, lump", &[", "]), None);
        let one = names().list_and_rest("Left lamp: It goes dark: at once.", &[", "]);
        assert_eq!(one, Some((vec![3], "It goes dark: at once.")));
        let several = names().list_and_rest("Left lamp, oil, hot and cold, pump: Dark: at once.", &[", "]);
        assert_eq!(several, Some((vec![3, 2, 1], "Dark: at once.")));
        assert_eq!(names().list_and_rest("Left lamp, pump", &[", "]), Some((vec![3, 1], "")));
        assert_eq!(names().list_and_rest("Left lamp, lump: Dark.", &[", "]), None);
    }

    #[test]
    fn one_text_with_two_meanings_is_kept() {
        let twice = Dictionary::of([("The lamp".to_owned(), 1), ("lamp".to_owned(), 2)]);
        assert_eq!(twice.ambiguous(), ["lamp"]);
    }

    #[test]
    fn conditions_say_the_same_in_any_order() {
        let one = "Fuel from the tank while the key is LEFT or BOTH and the master is ON, or nothing";
        let other = "fuel from tank while the master is ON and the key is BOTH or LEFT, or nothing";
        assert_eq!(ordered(one), ordered(other));
        assert_ne!(ordered(one), ordered(&one.replace("BOTH", "OFF")));
    }
}
