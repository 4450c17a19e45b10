//! A drawing held against what it must show.

use super::graph::Graph;
use super::ink::{Ink, Spot};
use super::inputs::{self, Sorted};
use super::shapes::{Form, Part, Shapes};
use super::wanted::{Teller, Wanted, WantedFeed};
use crate::audit::finding::Notes;
use crate::audit::speech::bare;
use std::collections::BTreeMap;

/// One drawing on the desk.
pub(super) struct Sheet<'d> {
    pub(super) teller: Teller<'d>,
    pub(super) place: String,
    pub(super) wanted: &'d Wanted,
    /// Ids by the names that are read.
    pub(super) names: &'d BTreeMap<String, String>,
    pub(super) overview: bool,
    /// Tags and names of the legend; read from the drawing.
    pub(super) legend: Vec<(String, String)>,
    pub(super) notes: &'d mut Notes,
}

/// Lettering without spaces, since a line may be broken anywhere.
pub(super) fn squeezed(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Whether lettering says a text; what is too long ends in `…`.
pub(super) fn says(drawn: &str, wanted: &str) -> bool {
    let (drawn, wanted) = (squeezed(drawn), squeezed(wanted));
    drawn == wanted || drawn.strip_suffix('…').is_some_and(|begin| !begin.is_empty() && wanted.starts_with(begin))
}

impl Sheet<'_> {
    /// Holds the marks against the model.
    pub(super) fn check(&mut self, ink: &Ink) {
        let shapes = Shapes::read(ink);
        let graph = Graph::read(ink, &shapes);
        self.legend.clone_from(&shapes.legend);
        self.check_legend();
        self.check_marks(ink, &shapes, &graph);
        let ids = self.check_parts(&shapes, &graph);
        let read = self.read(&shapes, &graph, &ids);
        let matched = self.check_feeds(&read);
        self.check_inputs(&shapes, &graph, &ids, &matched);
    }

    pub(super) fn find(&mut self, code: &'static str, at: &str, says: impl Into<String>, expected: impl Into<String>) {
        let place = if at.is_empty() { self.place.clone() } else { format!("{}, {at}", self.place) };
        self.notes.find(code, place, says, expected);
    }

    /// Marks that cannot be read, whatever the model says.
    fn check_marks(&mut self, ink: &Ink, shapes: &Shapes, graph: &Graph) {
        for odd in &ink.odd {
            self.find("mark-unreadable", "", odd, "a mark of a drawing, in sight");
        }
        let net = &shapes.net;
        let spots: [(&'static str, &str, &[Spot]); 6] = [
            ("dot-missing", "lines meet without a dot", &net.bare_meetings),
            ("dot-wrong", "a dot that joins no lines", &net.idle_dots),
            ("line-wrong", "a line that runs aslant", &net.aslant),
            ("line-loose", "a line that ends at nothing", &graph.loose_ends),
            ("wedge-wrong", "a wedge that is not at the end of a line and the border of a part", &graph.bad_wedges),
            ("device-wrong", "a symbol that stands on no line", &shapes.loose),
        ];
        for (code, what, all) in spots {
            for spot in all {
                self.find(code, &near(shapes, *spot), what, "none");
            }
        }
        for (part, _) in &graph.unfed {
            let at = format!("“{}”", shapes.parts[*part].name);
            self.find("line-loose", &at, "a line to it that begins nowhere", "a line from a part");
        }
        for words in &shapes.stray {
            self.find("words-stray", "", format!("“{words}” beside nothing"), "words in or beside a mark");
        }
    }

    pub(super) fn name(&self, id: &str) -> String {
        let words = self.teller.words;
        if self.overview { words.systems.get(id).cloned().unwrap_or_default() } else { words.name(id) }
    }

    /// Brackets and flags at the border of each part of which every feed is right.
    fn check_inputs(&mut self, shapes: &Shapes, graph: &Graph, ids: &[Option<String>], matched: &[Option<usize>]) {
        let sorted = Sorted::read(shapes);
        for bracket in &sorted.stray {
            self.find("bracket-wrong", "", format!("“{}” at no part", bracket.word), "a bracket at a part");
        }
        let key = |feed: &WantedFeed| format!("{} {}", self.name(&feed.from), passing(&feed.devices));
        let of_wanted = |at: usize| key(&self.wanted.feeds[at]);
        let of_drawn = |at: usize| matched[at].map_or_else(String::new, of_wanted);
        let mut wrong = Vec::new();
        for (part, id) in ids.iter().enumerate().filter_map(|(part, id)| Some((part, id.as_ref()?))) {
            let inputs = if shapes.parts[part].form == Form::Port {
                self.wanted.takers.get(id).map(std::slice::from_ref)
            } else {
                self.wanted.parts.get(id).map(Vec::as_slice)
            };
            let Some(inputs) = inputs else { continue };
            let mine = || graph.feeds.iter().zip(matched).filter(|(feed, _)| feed.to == part).map(|(_, m)| m);
            let due = self.wanted.feeds.iter().filter(|feed| feed.to == *id).count();
            let again = mine().next().is_none() && self.identify(&shapes.parts[part]).is_some_and(|(_, again)| again);
            if again || mine().count() != due || mine().any(Option::is_none) {
                continue;
            }
            let (drawn, right) = inputs::rows(sorted.drawn(part, graph, &of_drawn), inputs, &of_wanted);
            if squeezed(&drawn) != squeezed(&right) {
                wrong.push((format!("“{}”", self.name(id)), drawn, right));
            }
        }
        for (at, drawn, right) in wrong {
            self.find("bracket-wrong", &at, drawn, right);
        }
    }

    /// The text alternative lists what must be drawn, line for line, and a page reader is told the same.
    pub(super) fn check_words(&mut self, lines: &[String], spoken: &[String]) {
        let mut open: BTreeMap<String, Vec<&str>> = BTreeMap::new();
        for feed in &self.wanted.feeds {
            open.entry(bare(&feed.line)).or_default().push(&feed.line);
        }
        for line in lines {
            if open.get_mut(&bare(line)).and_then(Vec::pop).is_none() {
                self.find("feed-wrong", "in words", line, "a connection of this drawing");
            }
        }
        for line in open.into_values().flatten() {
            self.find("feed-missing", "in words", "no such line", line);
        }
        let differs = lines.iter().zip(spoken).find(|(a, b)| bare(a) != bare(b));
        if let Some((line, told)) = differs {
            self.find("feed-wrong", "in words for page readers", told, line);
        } else if lines.len() != spoken.len() {
            let says = format!("{} lines", spoken.len());
            self.find("feed-missing", "in words for page readers", says, format!("{} lines", lines.len()));
        }
    }
}

pub(super) fn passing(devices: &[String]) -> String {
    if devices.is_empty() { "through nothing".to_owned() } else { format!("through {}", devices.join(", ")) }
}

/// The part that stands nearest to a place.
pub(super) fn near(shapes: &Shapes, spot: Spot) -> String {
    let off = |part: &&Part| part.frame.gap(&super::ink::Frame::around(&[spot]));
    let nearest = shapes.parts.iter().filter(|p| !p.name.is_empty()).min_by(|a, b| off(a).total_cmp(&off(b)));
    nearest.map_or_else(String::new, |part| format!("near “{}”", part.name))
}
