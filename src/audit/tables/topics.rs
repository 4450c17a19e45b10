//! The topics of the examination: every topic, each with the headings that the chapters say teach it.

use super::Desk;
use crate::audit::page::{Grid, Page};
use std::collections::BTreeSet;

/// Codes and what they are about; FAA-S-ACS-6, area PA.I.G, in our words, partly from memory.
const TOPICS: &[(&str, &str)] = &[
    ("PA.I.G.K1a", "Primary flight controls"),
    ("PA.I.G.K1b", "Secondary flight controls: trim and flaps"),
    ("PA.I.G.K1c", "Engine and propeller"),
    ("PA.I.G.K1d", "Landing gear"),
    ("PA.I.G.K1e", "Fuel, oil and hydraulics"),
    ("PA.I.G.K1f", "Electricity"),
    ("PA.I.G.K1g", "Radios and navigation"),
    ("PA.I.G.K1h", "Pitot-static, suction and the instruments that hang on them"),
    ("PA.I.G.K1i", "Cabin air and heat"),
    ("PA.I.G.K1j", "Protection from ice"),
    ("PA.I.G.K1k", "Water rudders"),
    ("PA.I.G.K1l", "Oxygen"),
    ("PA.I.G.K2", "What is seen of a system that fails"),
];

impl Desk<'_> {
    pub(super) fn check_topics(&mut self, grid: &Grid, page: &Page) {
        let alone = page.parts.iter().filter(|part| part.chapter).count() == 1;
        let mut left: BTreeSet<&str> = TOPICS.iter().map(|(code, _)| *code).collect();
        for (row, links) in grid.rows.iter().zip(&grid.links) {
            let [code, about, taught] = row.as_slice() else { continue };
            let (code, place) = (code.join(" "), grid.row_name(row));
            let Some((code, topic)) = TOPICS.iter().find(|(known, _)| *known == code) else {
                self.unreadable(&place, code, "the code of a topic");
                continue;
            };
            if !left.remove(code) {
                self.notes.find("name-twice", &place, "a topic twice", "each topic once");
            }
            self.compare_lines(&format!("{place}, column “Topic”"), about, &[(*topic).to_owned()]);
            let place = format!("{place}, column “Where it is taught”");
            let headings = self.headings_of(code, page);
            let lines: Vec<String> = headings.iter().map(|(_, text, left_out)| in_line(text, *left_out)).collect();
            // Of a chapter that is printed alone, what stands in others has no link, and nothing here to hold it against.
            let linked = |line: &&String| !alone || links.iter().any(|(text, _)| line.ends_with(text.as_str()));
            let printed: Vec<String> = taught.iter().filter(linked).cloned().collect();
            self.compare_lines(&place, &printed, &lines);
            for (text, to) in links {
                let leads = headings.iter().any(|(id, heading, _)| id == to && heading == text);
                if !leads {
                    self.notes.find(
                        "link-astray",
                        &place,
                        format!("“{text}” leads to “{to}”"),
                        "the heading of these words",
                    );
                }
            }
        }
        for code in left {
            self.notes.find("name-missing", grid.name(), "no such topic", code);
        }
    }

    /// The headings on the page that name a topic: id, words as a link has them, and whether they leave it out.
    fn headings_of(&self, code: &str, page: &Page) -> Vec<(String, String, bool)> {
        let mut found = Vec::new();
        for chapter in self.book {
            let Some(part) = page.parts.iter().find(|p| p.chapter && p.id == chapter.id) else { continue };
            let title = part.name.trim_start_matches(|c: char| c.is_ascii_digit()).trim();
            for taught in chapter.taught.iter().filter(|t| t.code == code) {
                let heading = page.headings.iter().find(|h| h.place == part.name && h.id == taught.to);
                let text = match heading {
                    _ if taught.to == chapter.id => title.to_owned(),
                    Some(heading) => format!("{title}: {}", heading.text),
                    None => taught.to.clone(),
                };
                found.push((taught.to.clone(), text, taught.left_out));
            }
        }
        found
    }
}

fn in_line(text: &str, left_out: bool) -> String {
    if left_out { format!("Not in this guide: {text}") } else { text.to_owned() }
}
