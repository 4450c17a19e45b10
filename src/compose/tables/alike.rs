//! Lines of a row that say the same of several things become one line.

use super::rows::Line;
use crate::compose::composer::Composer;
use crate::doc::{Inline, Inlines, plain_text};

/// A sentence that begins with one of these words speaks of one thing, and keeps a line of its own.
const OF_ONE: [&str; 4] = ["It", "Its", "They", "Their"];

impl Composer<'_> {
    /// Lines that have the same text behind their names become one, where the first of them stands.
    pub(super) fn lines_alike(&self, lines: Vec<Line>) -> Vec<Line> {
        let mut groups: Vec<(String, Vec<Line>)> = Vec::new();
        for line in lines {
            let text = plain_text(line.says.get(1..).unwrap_or_default());
            let alone = line.node.is_none() || speaks_of_one(&text);
            match groups.iter_mut().find(|(other, _)| !alone && *other == text) {
                Some((_, group)) => group.push(line),
                None => groups.push((text, vec![line])),
            }
        }
        groups.into_iter().filter_map(|(_, group)| self.one_line(group)).collect()
    }

    /// The first line with the names of the others behind its own.
    fn one_line(&self, lines: Vec<Line>) -> Option<Line> {
        let mut lines = lines.into_iter();
        let mut first = lines.next()?;
        let mut more = Inlines::new();
        for node in lines.filter_map(|line| line.node) {
            more.extend([Inline::text(", "), self.words.node(node).inline()]);
        }
        let behind_name = first.says.len().min(1);
        first.says.splice(behind_name..behind_name, more);
        Some(first)
    }
}

fn speaks_of_one(text: &str) -> bool {
    let text = text.strip_prefix(": ").unwrap_or(text);
    text.split(". ").any(|sentence| sentence.split([' ', ',']).next().is_some_and(|word| OF_ONE.contains(&word)))
}

#[cfg(test)]
mod tests {
    use super::speaks_of_one;

    #[test]
    fn sentence_that_begins_with_it_speaks_of_one_thing() {
        for text in [": It reads slightly high.", ": The gyro stops. Its flag shows.", ": They go dark, all of them."] {
            assert!(speaks_of_one(text), "{text}");
        }
        for text in ["", ": The light stays dark over its marker.", ": Items fall. The loss comes by way of the bus."] {
            assert!(!speaks_of_one(text), "{text}");
        }
    }
}
