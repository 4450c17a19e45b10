//! A drawing held against what it must show.

use super::graph::Graph;
use super::ink::{Ink, Spot};
use super::inputs::{self, Sorted};
use super::shapes::{Form, Part, Shapes};
use super::wanted::{Teller, Wanted, WantedFeed};
use crate::audit::finding::Notes;
use crate::audit::speech::bare;
use std::collections::BTreeMap;

/// What is said of something that this drawing shows in another place.
const HERE: &str = "in this drawing";

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

/// A connection as it is read: ids and lettering.
#[derive(Debug, PartialEq)]
struct Read {
    from: String,
    to: String,
    devices: Vec<String>,
    flags: Vec<String>,
    tags: Vec<String>,
}

/// Lettering without spaces, since a line may be broken anywhere.
pub(super) fn squeezed(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Whether lettering says a text; what is too long ends in `…`.
fn says(drawn: &str, wanted: &str) -> bool {
    let (drawn, wanted) = (squeezed(drawn), squeezed(wanted));
    drawn == wanted || drawn.strip_suffix('…').is_some_and(|begin| !begin.is_empty() && wanted.starts_with(begin))
}

fn all_say(drawn: &[String], wanted: &[String]) -> bool {
    drawn.len() == wanted.len() && drawn.iter().zip(wanted).all(|(a, b)| says(a, b))
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

    fn find(&mut self, code: &'static str, at: &str, says: impl Into<String>, expected: impl Into<String>) {
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

    /// The id of every part; each part that must be there stands there once.
    fn check_parts(&mut self, shapes: &Shapes, graph: &Graph) -> Vec<Option<String>> {
        let mut times: BTreeMap<&str, usize> = self.wanted.parts.keys().map(|id| (id.as_str(), 0)).collect();
        let mut ids = Vec::new();
        for (at, part) in shapes.parts.iter().enumerate() {
            let found = self.identify(part);
            if let Some((id, again)) = &found {
                self.check_print(at, id, shapes, graph);
                match times.get_mut(id.as_str()) {
                    Some(count) if part.form != Form::Port => *count += usize::from(!again),
                    None if part.form != Form::Port => {
                        self.find("part-extra", &format!("“{}”", part.name), "a part of this drawing", "not here");
                    }
                    _ => {}
                }
            } else if part.name.is_empty() {
                self.find("part-unnamed", &near(shapes, part.frame.centre()), "a frame without a name", "a name");
            } else {
                self.find("part-unknown", &format!("“{}”", part.name), &part.name, "a name of the model");
            }
            ids.push(found.map(|(id, _)| id));
        }
        for (id, count) in times.into_iter().filter(|(_, count)| *count != 1) {
            let code = if count == 0 { "part-missing" } else { "part-twice" };
            let name = self.name(id);
            self.find(code, &format!("“{name}”"), format!("drawn {count} times"), "once");
        }
        ids
    }

    /// What a part is by its name, and whether that says that it is drawn elsewhere too.
    fn identify(&self, part: &Part) -> Option<(String, bool)> {
        let text = squeezed(&part.name);
        let exact = |text: &str| self.names.get(text).cloned();
        if let Some(id) = exact(&text) {
            return Some((id, false));
        }
        if part.form == Form::Bar {
            if let Some(id) = text.strip_suffix(&squeezed(HERE)).and_then(exact) {
                return Some((id, true));
            }
            let detail = |id: &String| squeezed(self.teller.labels.detail.get(id).map_or("", String::as_str));
            let with = |(name, id): &(&String, &String)| text.strip_prefix(name.as_str()) == Some(&detail(id));
            return self.names.iter().find(with).map(|(_, id)| (id.clone(), false));
        }
        let begin = text.strip_suffix('…').filter(|begin| !begin.is_empty())?;
        let (name, id) = self.names.range(begin.to_owned()..).next()?;
        name.starts_with(begin).then(|| (id.clone(), false))
    }

    /// The small print of a box or port.
    fn check_print(&mut self, at: usize, id: &str, shapes: &Shapes, graph: &Graph) {
        let part = &shapes.parts[at];
        let print = part.small.join(" ");
        let right = match part.form {
            Form::Bar => return,
            Form::Box => vec![self.box_print(id)],
            Form::Port => self.port_print(id, graph.feeds.iter().any(|feed| feed.to == at)),
        };
        if !right.iter().any(|text| says(&print, text)) {
            let code = if part.form == Form::Port { "port-wrong" } else { "print-wrong" };
            self.find(code, &format!("“{}”", part.name), print, right.join(" / "));
        }
        if part.form == Form::Port && !graph.feeds.iter().any(|feed| feed.to == at || feed.from == at) {
            self.find("port-wrong", &format!("“{}”", part.name), "a port with no line", "a line from it or to it");
        }
    }

    fn box_print(&self, id: &str) -> String {
        if self.overview {
            return self.teller.labels.numbers.get(id).cloned().unwrap_or_default();
        }
        let detail = self.teller.labels.detail.get(id).cloned().unwrap_or_default();
        let functions = self.teller.fed_functions(id);
        std::iter::once(detail).chain(functions).collect::<Vec<_>>().join(" ")
    }

    /// What a port may say; of several media that come from one thing, any.
    fn port_print(&self, id: &str, takes: bool) -> Vec<String> {
        let words = self.teller.words;
        if self.wanted.parts.contains_key(id) {
            return vec![HERE.to_owned()];
        }
        let Some(thing) = words.things.get(id).filter(|t| !t.system.is_empty()) else {
            return vec!["from outside".to_owned()];
        };
        let system = words.systems.get(&thing.system).cloned().unwrap_or_default();
        if takes {
            return vec![format!("to {system}")];
        }
        let media = self.wanted.feeds.iter().filter(|feed| feed.from == id).map(|feed| feed.medium.as_ref());
        media.map(|m| m.map_or(format!("from {system}"), |m| format!("from {system}: {}", words.medium(m)))).collect()
    }

    fn name(&self, id: &str) -> String {
        let words = self.teller.words;
        if self.overview { words.systems.get(id).cloned().unwrap_or_default() } else { words.name(id) }
    }

    fn read(&self, shapes: &Shapes, graph: &Graph, ids: &[Option<String>]) -> Vec<Read> {
        let id = |part: usize| ids[part].clone().unwrap_or_else(|| format!("“{}”", shapes.parts[part].name));
        let device = |at: &usize| {
            let device = &shapes.devices[*at];
            let home = device.home.and_then(|home| ids[home].as_ref());
            let number = home.and_then(|id| self.teller.model.number.get(id));
            number.map_or_else(|| device.name.clone(), |n| self.teller.device(*n))
        };
        let read = |feed: &super::graph::Drawn| Read {
            from: id(feed.from),
            to: id(feed.to),
            devices: feed.devices.iter().map(device).collect(),
            flags: feed.flags.iter().map(|at| shapes.flags[*at].words.clone()).collect(),
            tags: feed.tags.clone(),
        };
        graph.feeds.iter().map(read).collect()
    }

    /// Every tag on a line is that of its medium by the legend of the drawing.
    fn tag_fits(&self, read: &Read, feed: &WantedFeed) -> bool {
        let name = self.medium(feed);
        let means = |tag: &String| self.legend.iter().any(|(known, medium)| known == tag && *medium == name);
        !read.tags.is_empty() && read.tags.iter().all(means)
    }

    fn medium(&self, feed: &WantedFeed) -> String {
        feed.medium.as_ref().map_or_else(|| "not named".to_owned(), |m| self.teller.words.medium(m))
    }

    /// The legend has each medium that is drawn, once, and none else; a tag that the model declares is its own.
    fn check_legend(&mut self) {
        let mut open: BTreeMap<String, Option<&String>> = BTreeMap::new();
        for feed in &self.wanted.feeds {
            let tag = feed.medium.as_ref().and_then(|m| self.teller.words.tags.get(m));
            open.insert(self.medium(feed), tag);
        }
        for (tag, name) in self.legend.clone() {
            match open.remove(&name) {
                Some(known) if known.is_none_or(|known| *known == tag) => {}
                Some(known) => self.find("legend-wrong", "legend", tag, known.cloned().unwrap_or_default()),
                None => self.find("legend-wrong", "legend", name, "a medium of this drawing, once"),
            }
        }
        for name in open.into_keys() {
            self.find("legend-wrong", "legend", "nothing of it", name);
        }
    }

    /// Every connection that is drawn is one of the model, and the other way round; of each that is, its place in the list.
    fn check_feeds(&mut self, read: &[Read]) -> Vec<Option<usize>> {
        let wanted = self.wanted;
        let mut open: BTreeMap<(&str, &str), Vec<usize>> = BTreeMap::new();
        for (at, feed) in wanted.feeds.iter().enumerate() {
            open.entry((&feed.from, &feed.to)).or_default().push(at);
        }
        let mut matched = vec![None; read.len()];
        for (at, one) in read.iter().enumerate() {
            let Some(list) = open.get_mut(&(one.from.as_str(), one.to.as_str())) else { continue };
            let fits = |w: &usize| {
                let feed = &wanted.feeds[*w];
                all_say(&one.devices, &feed.devices) && all_say(&one.flags, &feed.flags) && self.tag_fits(one, feed)
            };
            matched[at] = list.iter().position(fits).map(|place| list.remove(place));
        }
        for (one, _) in read.iter().zip(&matched).filter(|(_, m)| m.is_none()) {
            let list = open.get_mut(&(one.from.as_str(), one.to.as_str()));
            match list.filter(|list| !list.is_empty()).map(|list| list.remove(0)) {
                Some(feed) => self.tell_difference(one, &wanted.feeds[feed]),
                None => {
                    let at = format!("{} → {}", self.name(&one.from), self.name(&one.to));
                    self.find("connection-extra", &at, passing(&one.devices), "no such connection");
                }
            }
        }
        for feed in open.into_values().flatten().map(|at| &wanted.feeds[at]) {
            let at = format!("{} → {}", self.name(&feed.from), self.name(&feed.to));
            self.find("connection-missing", &at, "no such line", &feed.line);
        }
        matched
    }

    fn tell_difference(&mut self, one: &Read, feed: &WantedFeed) {
        let at = format!("{} → {}", self.name(&feed.from), self.name(&feed.to));
        if !all_say(&one.devices, &feed.devices) {
            self.find("device-wrong", &at, passing(&one.devices), passing(&feed.devices));
        }
        if !all_say(&one.flags, &feed.flags) {
            let said = |flags: &[String]| if flags.is_empty() { "no flag".to_owned() } else { flags.join(", ") };
            self.find("flag-wrong", &at, said(&one.flags), said(&feed.flags));
        }
        if !self.tag_fits(one, feed) {
            let medium = self.medium(feed);
            self.find("tag-wrong", &at, one.tags.join(", "), format!("the tag of {medium}"));
        }
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
        for (part, id) in ids.iter().enumerate().filter(|(p, _)| shapes.parts[*p].form != Form::Port) {
            let Some((id, inputs)) = id.as_ref().and_then(|id| self.wanted.parts.get_key_value(id)) else { continue };
            let mine = || graph.feeds.iter().zip(matched).filter(|(feed, _)| feed.to == part).map(|(_, m)| m);
            let due = self.wanted.feeds.iter().filter(|feed| feed.to == *id).count();
            let again = mine().next().is_none() && self.identify(&shapes.parts[part]).is_some_and(|(_, again)| again);
            if again || mine().count() != due || mine().any(Option::is_none) {
                continue;
            }
            let (drawn, right) =
                (sorted.drawn(part, graph, &of_drawn), inputs::wanted(self.wanted, inputs, &of_wanted));
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

fn passing(devices: &[String]) -> String {
    if devices.is_empty() { "through nothing".to_owned() } else { format!("through {}", devices.join(", ")) }
}

/// The part that stands nearest to a place.
fn near(shapes: &Shapes, spot: Spot) -> String {
    let off = |part: &&Part| part.frame.gap(&super::ink::Frame::around(&[spot]));
    let nearest = shapes.parts.iter().filter(|p| !p.name.is_empty()).min_by(|a, b| off(a).total_cmp(&off(b)));
    nearest.map_or_else(String::new, |part| format!("near “{}”", part.name))
}
