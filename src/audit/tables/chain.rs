//! One line of what is lost or false: how it looks, and by what way the loss or error comes.

use super::Desk;
use super::failure::Case;
use crate::audit::effects::Effects;
use crate::audit::parts::{Entry, Fault, FaultName, NodeKind, Number};
use crate::audit::situation::all_met;
use crate::audit::words::look_sentence;
use std::collections::BTreeSet;

impl Desk<'_> {
    pub(super) fn check_gone_line(&mut self, case: &Case, aspect: &str, (id, rest): (&str, &str)) {
        let ways = ["The loss comes by way of ", "The error comes by way of "];
        let way = ways.iter().find_map(|way| rest.split_once(way));
        let (look, way) = way.map_or((rest, None), |(look, way)| (look.trim_end(), Some(way)));
        let place = format!("{}, “{}”", case.at(aspect), self.words.name(id));
        for (fault, effects) in case.faults.iter().zip(&case.effects) {
            let looks =
                if aspect == "Lost" { self.looks(id, effects) } else { self.false_looks(case, (id, fault), effects) };
            let right = if looks.is_empty() { look.is_empty() } else { looks.iter().any(|l| l == look) };
            if !right {
                let expected = if looks.is_empty() { "no sentence".to_owned() } else { looks.join(" / ") };
                self.notes.find("sentence-wrong", &place, look, expected);
            }
        }
        if let Some(way) = way {
            self.check_way(case, &place, (id, way));
        }
    }

    /// The sentences that fit what the thing misses.
    fn looks(&self, id: &str, effects: &Effects) -> Vec<String> {
        let Some(thing) = self.words.things.get(id) else { return Vec::new() };
        let missed = effects.missed.get(id);
        let fits = |what: &String| missed.is_some_and(|missed| missed.contains(what));
        let sentence =
            |looks: &str, text: &Option<String>| text.clone().unwrap_or_else(|| look_sentence(looks, thing.plural));
        thing.on_loss.iter().filter(|(what, _, _)| fits(what)).map(|(_, looks, text)| sentence(looks, text)).collect()
    }

    /// The sentences that fit a false thing: what the fault says of it, else what it has for any of the false things that it
    /// hangs on and whose conditions are met.
    fn false_looks(&self, case: &Case, (id, fault): (&str, &FaultName), effects: &Effects) -> Vec<String> {
        let entries = self.model.faults.get(fault).map_or(&[][..], |f| &f.misleads);
        let texts = self.words.faults.get(fault).map_or(&[][..], |f| &f.misleads);
        if let Some(text) = self.entry_text(case, id, entries, texts) {
            return vec![text];
        }
        let Some((thing, number)) = self.words.things.get(id).zip(self.model.number.get(id)) else { return Vec::new() };
        let causes = self.met_causes(case, *number);
        let causes = causes.iter().map(|n| &self.model.nodes[*n]).filter(|n| effects.misleading.contains(&n.id));
        let spoken: Vec<&String> = causes.flat_map(|n| std::iter::once(&n.id).chain(&n.gives)).collect();
        thing.on_false.iter().filter(|(what, _)| spoken.contains(&what)).map(|(_, text)| text.clone()).collect()
    }

    /// What an author says of a thing in an entry of a fault, as the controls stand.
    pub(super) fn entry_text(
        &self,
        case: &Case,
        id: &str,
        entries: &[Entry<Number>],
        texts: &[Option<String>],
    ) -> Option<String> {
        let here = |e: &Entry<Number>| self.model.nodes[e.what].id == id && all_met(&e.when, &case.met);
        entries.iter().zip(texts).filter(|(e, _)| here(e)).find_map(|(_, text)| text.clone())
    }

    /// What a thing hangs on as the controls stand: sources and passages of its feeds, and its item.
    fn met_causes(&self, case: &Case, number: Number) -> Vec<Number> {
        let node = &self.model.nodes[number];
        let mut feeds = Vec::new();
        node.needs.iter().chain(&node.senses).for_each(|need| need.feeds(&mut feeds));
        let met = feeds.iter().filter(|feed| all_met(&feed.when, &case.met));
        let mut causes: Vec<Number> = met.flat_map(|f| f.through.iter().chain([&f.from])).copied().collect();
        if let NodeKind::Function { item } = node.kind {
            causes.push(item);
        }
        causes
    }

    /// Each thing on the way is changed by every fault of the table, and hangs on the one before it or on a function that this
    /// one took along; the first is what the
    /// fault itself harms or hangs on it, or on what another fault of the table harms and this one changes too.
    fn check_way(&mut self, case: &Case, place: &str, (id, way): (&str, &str)) {
        let names = self.nodes.list(way.trim_end_matches('.'), &[", ", " and "]);
        let Some(names) = names else {
            return self.unreadable(place, way, "names of the things on the way");
        };
        let ids = names.iter().map(String::as_str).chain([id]);
        let numbers: Vec<Number> = ids.filter_map(|n| self.model.number.get(n)).copied().collect();
        for (fault, effects) in case.faults.iter().zip(&case.effects) {
            let sets = [&effects.named, &effects.lost, &effects.misleading, &effects.blocked];
            let changed = |name: &String| sets.iter().any(|set| set.contains(name));
            if let Some(name) = names.iter().find(|name| !changed(name)) {
                let says = format!("by way of {}", self.words.name(name));
                self.notes.find("way-wrong", place, says, "things that are lost or false themselves");
                return;
            }
            let mut last = self.harmed(fault);
            let others = case.faults.iter().flat_map(|other| self.harmed(other));
            last.extend(others.filter(|n| changed(&self.model.nodes[*n].id)));
            for (at, number) in numbers.iter().enumerate() {
                let begins = at == 0 && (last.contains(number) || self.trips(fault, *number));
                if !begins && !last.iter().any(|on| self.hangs_directly(*number, *on)) {
                    let says = format!("by way of {way}");
                    let expected = format!("{} to hang on the one before", self.node_name(*number));
                    self.notes.find("way-wrong", place, says, expected);
                    return;
                }
                let functions = self.model.nodes[*number].functions.iter().copied();
                last = functions.filter(|f| changed(&self.model.nodes[*f].id)).chain([*number]).collect();
            }
        }
    }

    /// A device that a fault trips may begin a chain: the fault opens it from afar.
    fn trips(&self, name: &FaultName, number: Number) -> bool {
        self.model.faults.get(name).is_some_and(|fault| fault.trips.iter().any(|entry| entry.what == number))
    }

    /// What a fault harms by itself, with the functions that go along.
    fn harmed(&self, name: &FaultName) -> BTreeSet<Number> {
        let mut found: BTreeSet<Number> = self.model.number.get(&name.item).copied().into_iter().collect();
        let Some(fault) = self.model.faults.get(name) else { return found };
        let lists = |fault: &Fault| -> Vec<Number> {
            let all = [&fault.loses, &fault.takes, &fault.misleads, &fault.trips];
            all.iter().flat_map(|list| list.iter().map(|e: &Entry<Number>| e.what)).collect()
        };
        for number in lists(fault) {
            found.insert(number);
            found.extend(&self.model.nodes[number].functions);
        }
        found
    }

    fn hangs_directly(&self, who: Number, on: Number) -> bool {
        let layout = &self.model.layout;
        let looks = |n: Number| layout.uses[n].contains(&on) || layout.hinges[n].iter().any(|c| c.control == on);
        let item = match self.model.nodes[who].kind {
            NodeKind::Function { item } => Some(item),
            _ => None,
        };
        looks(who) || item.is_some_and(|item| item == on || looks(item))
    }
}
