//! Connections of a drawing: each that must be there, through its devices, with its flags and the tag of its medium; none else.

use super::compare::{Sheet, passing, says};
use super::graph::Graph;
use super::shapes::Shapes;
use super::wanted::WantedFeed;
use std::collections::BTreeMap;

/// A connection as it is read: ids and lettering.
#[derive(Debug, PartialEq)]
pub(super) struct Read {
    from: String,
    to: String,
    devices: Vec<String>,
    flags: Vec<String>,
    tags: Vec<String>,
}

fn all_say(drawn: &[String], wanted: &[String]) -> bool {
    drawn.len() == wanted.len() && drawn.iter().zip(wanted).all(|(a, b)| says(a, b))
}

impl Sheet<'_> {
    pub(super) fn read(&self, shapes: &Shapes, graph: &Graph, ids: &[Option<String>]) -> Vec<Read> {
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
    pub(super) fn check_legend(&mut self) {
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
    pub(super) fn check_feeds(&mut self, read: &[Read]) -> Vec<Option<usize>> {
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
}
