//! Parts of a drawing: each that must be there, once, with its small print; none else.

use super::compare::{Sheet, near, says, squeezed};
use super::graph::Graph;
use super::shapes::{Form, Part, Shapes};
use std::collections::BTreeMap;

/// What is said of something that this drawing shows in another place.
const HERE: &str = "in this drawing";

/// What is said of a bus that goes on from another place of this drawing.
const CONTINUED: &str = "continued";

impl Sheet<'_> {
    /// The id of every part; each part that must be there stands there once.
    pub(super) fn check_parts(&mut self, shapes: &Shapes, graph: &Graph) -> Vec<Option<String>> {
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
    pub(super) fn identify(&self, part: &Part) -> Option<(String, bool)> {
        let text = squeezed(&part.name);
        let exact = |text: &str| self.names.get(text).cloned();
        if let Some(id) = exact(&text) {
            return Some((id, false));
        }
        if part.form == Form::Bar {
            for again in [HERE, CONTINUED] {
                if let Some(id) = text.strip_suffix(&squeezed(again)).and_then(exact) {
                    return Some((id, true));
                }
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
            Form::Port => self.port_print(id, at, graph),
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

    /// What a port may say: where it is drawn, and what comes from there by the tags of its lines.
    fn port_print(&self, id: &str, at: usize, graph: &Graph) -> Vec<String> {
        let words = self.teller.words;
        if self.wanted.parts.contains_key(id) {
            return vec![HERE.to_owned()];
        }
        let Some(thing) = words.things.get(id).filter(|t| !t.system.is_empty()) else {
            return vec!["from outside".to_owned()];
        };
        let system = words.systems.get(&thing.system).cloned().unwrap_or_default();
        if graph.feeds.iter().any(|feed| feed.to == at) {
            return vec![format!("to {system}")];
        }
        let tags = graph.feeds.iter().filter(|feed| feed.from == at).flat_map(|feed| &feed.tags);
        let media = tags.filter_map(|tag| self.legend.iter().find(|(known, _)| known == tag));
        let each: Vec<String> = media.map(|(_, name)| format!("from {system}: {name}")).collect();
        if each.is_empty() { vec![format!("from {system}")] } else { each }
    }
}
