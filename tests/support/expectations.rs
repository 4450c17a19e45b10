//! Reads what a mechanic expects of an aircraft from a file, and holds it against the answers.
//!
//! Keys and their meaning stand at the top of `tests/fixtures/sandling-expected.toml`. What names an item, a control, a position, an
//! alert or a fault that is not there is wrong, whichever key it stands under.

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

/// Keys that hold a question, and those that hold answers by name.
const ASKS: [&str; 5] = ["state", "from", "set", "faults", "then"];
const NAMES: [&str; 16] = [
    "lost",
    "lost-only",
    "survives",
    "misleads",
    "misleads-only",
    "shows",
    "shows-only",
    "not-shown",
    "unasked",
    "weakened",
    "approximate",
    "later",
    "not-later",
    "works",
    "dead",
    "restores",
];
const TRUTHS: [&str; 3] = ["silent", "reached", "hazard"];

fn setting(model: &Model, text: &str) -> Result<(ItemIx, PositionIx), String> {
    let (control, position) = text.split_once('=').ok_or_else(|| format!("`{text}` is no setting"))?;
    let control = model.find_item(control).ok_or_else(|| format!("there is no control `{control}`"))?;
    let position = model.control(control).and_then(|c| c.find(position));
    Ok((control, position.ok_or_else(|| format!("there is no position `{text}`"))?))
}

fn settings(model: &Model, expect: &Table, key: &str) -> Result<Vec<(ItemIx, PositionIx)>, String> {
    texts(expect, key).unwrap_or_default().iter().map(|t| setting(model, t)).collect()
}

fn question(model: &Model, expect: &Table) -> Result<Question, String> {
    let state = expect["state"].as_str().unwrap();
    let faults = texts(expect, "faults").unwrap_or_default();
    let fault = |f: &String| model.find_fault(f).ok_or_else(|| format!("there is no fault `{f}`"));
    Ok(Question {
        state: model.find_state(state).ok_or_else(|| format!("there is no state `{state}`"))?,
        faults: faults.iter().map(fault).collect::<Result<_, _>>()?,
        start: if expect.get("from").and_then(Value::as_str) == Some("cold") { Start::Cold } else { Start::Running },
        set: settings(model, expect, "set")?,
        then: settings(model, expect, "then")?,
    })
}

/// What stands in an expectation and is nowhere in the model: a name that is not there would otherwise pass under `dead`.
fn strangers(model: &Model, expect: &Table) -> Vec<String> {
    let mut wrong = Vec::new();
    if !expect.keys().any(|k| NAMES.contains(&k.as_str()) || TRUTHS.contains(&k.as_str())) {
        wrong.push("nothing is expected".to_owned());
    }
    for key in expect.keys().map(String::as_str) {
        if !ASKS.contains(&key) && !NAMES.contains(&key) && !TRUTHS.contains(&key) {
            wrong.push(format!("`{key}` is no key"));
        }
    }
    for key in NAMES.iter().filter(|k| **k != "restores") {
        let named = texts(expect, key).unwrap_or_default();
        let stranger = |id: &&String| model.find_node(id).is_none() && model.find_alert(id).is_none();
        wrong.extend(named.iter().filter(stranger).map(|id| format!("{key}: there is no `{id}`")));
    }
    let steps = texts(expect, "restores").unwrap_or_default();
    wrong.extend(steps.iter().flat_map(|s| s.split(" + ")).filter_map(|s| setting(model, s).err()));
    wrong
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
                let others = if found.len() > 20 { "the many that are found".to_owned() } else { format!("{found:?}") };
                self.wrong.push(format!("{key}: `{id}` is not among {others}"));
            }
        }
    }

    fn none_in(&mut self, key: &str, found: &Set) {
        for id in texts(self.expect, key).unwrap_or_default() {
            if found.contains(&id) {
                self.wrong.push(format!("{key}: `{id}` is found"));
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
        self.truth("hazard", self.effects.hazards.iter().any(|h| h.active));
        self.truth("silent", matches!(self.effects.how_you_know, HowYouKnow::Use | HowYouKnow::Nothing));
        self.wrong
    }
}

/// The expectations of a file.
pub fn read(file: &Path) -> Vec<Table> {
    let text = std::fs::read_to_string(file).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
    let table: Table = text.parse().unwrap_or_else(|e| panic!("{}: {e}", file.display()));
    table["expect"].as_array().unwrap().iter().map(|e| e.as_table().unwrap().clone()).collect()
}

/// The faults that expectations ask about, each once.
pub fn faults_asked(expectations: &[Table]) -> BTreeSet<String> {
    expectations.iter().flat_map(|e| texts(e, "faults").unwrap_or_default()).collect()
}

/// What is wrong in one expectation.
fn wrong_in(model: &Model, analysis: &Analysis, expect: &Table) -> Vec<String> {
    let mut wrong = strangers(model, expect);
    match question(model, expect) {
        Ok(question) => {
            let effects = analysis.effects(&question);
            wrong.extend(Case { model, expect, effects, wrong: Vec::new() }.judge());
        }
        Err(why) => wrong.push(why),
    }
    wrong.into_iter().map(|w| format!("{} {}: {w}", expect["state"], expect["faults"])).collect()
}

/// What is wrong in each of some files of expectations, held against one model.
pub fn differences(aircraft: &str, files: &[(String, Vec<Table>)]) -> Vec<String> {
    let (model, said) = resolve::load(Path::new(aircraft), &mut Sources::default());
    let model = model.unwrap_or_else(|| panic!("{said:?}"));
    let analysis = Analysis::new(&model);
    let each = files.iter().flat_map(|(name, list)| list.iter().map(move |e| (name, e)));
    each.flat_map(|(name, e)| wrong_in(&model, &analysis, e).into_iter().map(move |w| format!("{name}: {w}"))).collect()
}
