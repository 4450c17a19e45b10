//! What a mechanic expects of each aircraft, written by hand beside the models before any solver was there, held against the answers.
//!
//! Keys and their meaning stand at the top of `tests/fixtures/sandling-expected.toml`.

use ribstitch::analyse::answer::{Affected, Effects, HowYouKnow, Indication, Question, Start};
use ribstitch::analyse::network::Analysis;
use ribstitch::base::Sources;
use ribstitch::model::{ItemIx, Model, NodeIx, PositionIx};
use ribstitch::resolve;
use std::collections::BTreeSet;
use std::path::Path;
use toml::{Table, Value};

type Set = BTreeSet<String>;

/// One expectation, and the answer to its question.
struct Case<'a> {
    model: &'a Model,
    expect: &'a Table,
    effects: Effects,
    wrong: Vec<String>,
}

fn texts(expect: &Table, key: &str) -> Option<Vec<String>> {
    let list = expect.get(key)?.as_array().unwrap_or_else(|| panic!("`{key}` is no list"));
    Some(list.iter().map(|v| v.as_str().unwrap().to_owned()).collect())
}

fn setting(model: &Model, text: &str) -> (ItemIx, PositionIx) {
    let (control, position) = text.split_once('=').unwrap();
    let control = model.find_item(control).unwrap_or_else(|| panic!("no control `{control}`"));
    (
        control,
        model.control(control).and_then(|c| c.find(position)).unwrap_or_else(|| panic!("no position in `{text}`")),
    )
}

fn question(model: &Model, expect: &Table) -> Question {
    let settings = |key: &str| texts(expect, key).unwrap_or_default().iter().map(|t| setting(model, t)).collect();
    let state = expect["state"].as_str().unwrap();
    let faults = texts(expect, "faults").unwrap_or_default();
    Question {
        state: model.find_state(state).unwrap_or_else(|| panic!("no state `{state}`")),
        faults: faults.iter().map(|f| model.find_fault(f).unwrap_or_else(|| panic!("no fault `{f}`"))).collect(),
        start: if expect.get("from").and_then(Value::as_str) == Some("cold") { Start::Cold } else { Start::Running },
        set: settings("set"),
        then: settings("then"),
    }
}

impl Case<'_> {
    fn ids(&self, nodes: impl IntoIterator<Item = NodeIx>) -> Set {
        nodes.into_iter().map(|n| self.model[n].id.clone()).collect()
    }

    fn affected(&self, list: &[Affected]) -> Set {
        self.ids(list.iter().map(|a| a.node))
    }

    fn on_panel(&self, ids: &Set) -> Set {
        let has_place = |id: &&String| {
            let item = self.model.find_node(id).and_then(|n| self.model.item_of(n));
            item.is_some_and(|i| self.model[i].panel.is_some())
        };
        ids.iter().filter(has_place).cloned().collect()
    }

    fn all_in(&mut self, key: &str, found: &Set) {
        for id in texts(self.expect, key).unwrap_or_default() {
            if !found.contains(&id) {
                self.wrong.push(format!("{key}: `{id}` is not among {found:?}"));
            }
        }
    }

    fn none_in(&mut self, key: &str, found: &Set) {
        for id in texts(self.expect, key).unwrap_or_default() {
            if found.contains(&id) {
                self.wrong.push(format!("{key}: `{id}` is among {found:?}"));
            }
        }
    }

    fn exactly(&mut self, key: &str, found: &Set) {
        let Some(wanted) = texts(self.expect, key) else { return };
        let wanted: Set = wanted.into_iter().collect();
        if wanted != *found {
            self.wrong.push(format!("{key}: {wanted:?} is expected, {found:?} is found"));
        }
    }

    fn truth(&mut self, key: &str, found: bool) {
        if self.expect.get(key).and_then(Value::as_bool).is_some_and(|wanted| wanted != found) {
            self.wrong.push(format!("{key}: {found} is found"));
        }
    }

    fn shown(&self) -> Set {
        let id = |shown: &Indication| match shown {
            Indication::Alert(alert) => self.model[*alert].id.to_string(),
            Indication::Gauge(node) => self.model[*node].id.clone(),
        };
        self.effects.shows.iter().map(id).collect()
    }

    fn restores(&self) -> Set {
        let step = |m: &ribstitch::analyse::answer::Move| {
            let control = self.model.control(m.control).unwrap();
            format!("{}={}", self.model[m.control].id, control.position(m.to))
        };
        let moves = self.effects.restores.iter().map(|r| r.moves.iter().map(step).collect::<Vec<_>>().join(" + "));
        moves.collect()
    }

    fn judge(mut self) -> Vec<String> {
        let (lost, misleads) = (self.affected(&self.effects.lost), self.affected(&self.effects.misleads));
        self.all_in("lost", &lost);
        self.exactly("lost-only", &self.on_panel(&lost));
        self.all_in("misleads", &misleads);
        self.exactly("misleads-only", &self.on_panel(&misleads));
        let works = self.ids(self.effects.after.works.iter().copied());
        let truly = works.difference(&self.ids(self.effects.after.misleads.iter().copied())).cloned().collect();
        self.all_in("works", &works);
        self.none_in("dead", &works);
        self.all_in("survives", &truly);
        let shown = self.shown();
        self.all_in("shows", &shown);
        self.exactly("shows-only", &shown);
        self.none_in("not-shown", &shown);
        self.exactly("restores", &self.restores());
        self.judge_the_rest()
    }

    fn judge_the_rest(mut self) -> Vec<String> {
        let later = self.ids(self.effects.lost_later.iter().map(|l| l.node));
        self.all_in("later", &later);
        self.none_in("not-later", &later);
        let unasked = self.ids(self.effects.runs_unasked.iter().copied());
        self.all_in("unasked", &unasked);
        if texts(self.expect, "unasked").is_some_and(|list| list.is_empty()) {
            self.exactly("unasked", &unasked);
        }
        self.all_in("weakened", &self.ids(self.effects.weakened.iter().copied()));
        self.all_in("approximate", &self.ids(self.effects.after.approximate.iter().copied()));
        self.truth("reached", self.effects.reached);
        self.truth("silent", matches!(self.effects.how_you_know, HowYouKnow::Use | HowYouKnow::Nothing));
        self.wrong
    }
}

/// Every expectation of a file, held against a model.
fn hold(aircraft: &str, expected: &str, at_least: usize) {
    let (model, said) = resolve::load(Path::new(aircraft), &mut Sources::default());
    let model = model.unwrap_or_else(|| panic!("{said:?}"));
    let analysis = Analysis::new(&model);
    let file: Table = std::fs::read_to_string(expected).unwrap().parse().unwrap();
    let expectations = file["expect"].as_array().unwrap();
    assert!(expectations.len() >= at_least, "only {} expectations", expectations.len());
    let mut wrong = Vec::new();
    for expect in expectations.iter().map(|e| e.as_table().unwrap()) {
        let effects = analysis.effects(&question(&model, expect));
        let found = Case { model: &model, expect, effects, wrong: Vec::new() }.judge();
        wrong.extend(found.into_iter().map(|w| format!("{} {}: {w}", expect["state"], expect["faults"])));
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn the_sandling_is_as_a_mechanic_expects() {
    hold("aircraft/sandling", "tests/fixtures/sandling-expected.toml", 100);
}

#[test]
fn the_tail_with_two_radios_is_as_a_mechanic_expects() {
    hold("aircraft/sandling/tails/fm-104.toml", "tests/fixtures/fm-104-expected.toml", 4);
}

#[test]
fn an_aircraft_started_by_hand_is_as_a_mechanic_expects() {
    hold("tests/fixtures/wiring/hand-start", "tests/fixtures/wiring/hand-start-expected.toml", 5);
}

#[test]
fn an_essential_bus_is_as_a_mechanic_expects() {
    hold("tests/fixtures/wiring/essential-bus", "tests/fixtures/wiring/essential-bus-expected.toml", 5);
}

#[test]
fn a_twin_is_as_a_mechanic_expects() {
    hold("tests/fixtures/wiring/twin", "tests/fixtures/wiring/twin-expected.toml", 5);
}

#[test]
fn an_electronic_display_is_as_a_mechanic_expects() {
    hold("tests/fixtures/wiring/display", "tests/fixtures/wiring/display-expected.toml", 5);
}
