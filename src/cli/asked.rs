//! Ids given on the command line to things of the model; what is not known is a finding at its exact characters.

use super::arguments::{From, SituationArguments, SuspectArguments};
use crate::analyse::answer::{Indication, Question, Seen, Start};
use crate::base::text::did_you_mean;
use crate::base::{Diagnostic, Diagnostics, Id, Sources, Span};
use crate::model::{AlertIx, FaultIx, ItemIx, Model, NodeIx, PositionIx, StateIx};

/// Looks ids up and keeps what is wrong with them.
pub struct Asked<'a> {
    model: &'a Model,
    sources: &'a mut Sources,
    /// What was wrong.
    pub findings: Diagnostics,
}

impl<'a> Asked<'a> {
    /// For a model; what was typed is added to the sources so that findings can show it.
    pub fn new(model: &'a Model, sources: &'a mut Sources) -> Self {
        Self { model, sources, findings: Diagnostics::default() }
    }

    /// The node of that id.
    pub fn node(&mut self, id: &str) -> Option<NodeIx> {
        let found = self.model.find_node(id);
        if found.is_none() {
            self.unknown_node(&Typed { code: "unknown-name", option: "", text: id, at: 0..id.len() });
        }
        found
    }

    /// The item of that id.
    pub fn item(&mut self, option: &str, id: &str) -> Option<ItemIx> {
        let found = self.model.find_item(id);
        if found.is_none() {
            let typed = Typed { code: "unknown-name", option, text: id, at: 0..id.len() };
            let near = did_you_mean(id, self.model.items.iter().map(|i| i.id.as_str()));
            let message = format!("there is no item `{id}` in this model");
            self.unknown(&typed, message, near, "`ribstitch states AIRCRAFT` lists every item and function");
        }
        found
    }

    /// The flight of that id: its place in the model's list.
    pub fn flight(&mut self, option: &str, id: &str) -> Option<usize> {
        let found = self.model.flights.iter().position(|f| f.id.as_str() == id);
        if found.is_none() {
            let all: Vec<&str> = self.model.flights.iter().map(|f| f.id.as_str()).collect();
            let help = match all.as_slice() {
                [] => "add `[flight.<id>]` to the model".to_owned(),
                all => format!("the flights are: {}", all.join(", ")),
            };
            let typed = Typed { code: "unknown-name", option, text: id, at: 0..id.len() };
            self.unknown(&typed, format!("there is no flight `{id}` in this model"), None, &help);
        }
        found
    }

    /// The fault written `ID` or `ID:FAULT`.
    pub fn fault(&mut self, text: &str) -> Option<FaultIx> {
        if let Some(found) = self.model.find_fault(text) {
            return Some(found);
        }
        let (id, fault) = text.split_once(':').unwrap_or((text, "fails"));
        let Some(node) = self.model.find_node(id) else {
            self.unknown_node(&Typed { code: "unknown-name", option: "--fail ", text, at: 0..id.len() });
            return None;
        };
        self.unknown_fault(text, node, fault);
        None
    }

    /// The state of that id; without one the reference state, or else `cruise`.
    pub fn state(&mut self, id: Option<&str>) -> Option<StateIx> {
        let model = self.model;
        let Some(id) = id else {
            let usual = model.reference_state.or_else(|| model.find_state("cruise"));
            if usual.is_none() {
                let span = self.typed(&Typed { code: "unknown-state", option: "--state ", text: "", at: 0..0 });
                let finding =
                    Diagnostic::error("unknown-state", span, "no state is named, and the model has no reference state");
                self.findings.push(finding.help("add `--state STATE`, or give `[aircraft]` a `reference-state`"));
            }
            return usual;
        };
        let found = model.find_state(id);
        if found.is_none() {
            let near = did_you_mean(id, model.states.iter().map(|s| s.id.as_str()));
            let all: Vec<&str> = model.states.iter().map(|s| s.id.as_str()).collect();
            let message = format!("there is no state `{id}`");
            let help = format!("the states are: {}", all.join(", "));
            self.unknown(
                &Typed { code: "unknown-state", option: "--state ", text: id, at: 0..id.len() },
                message,
                near,
                &help,
            );
        }
        found
    }

    /// A control and a position, written `CONTROL=POSITION`.
    pub fn setting(&mut self, option: &str, text: &str) -> Option<(ItemIx, PositionIx)> {
        let (id, position) = text.split_once('=').unwrap_or((text, ""));
        let model = self.model;
        let Some((item, control)) = model.find_item(id).and_then(|i| Some((i, model.control(i)?))) else {
            let near = did_you_mean(id, model.controls().map(|(i, _)| model[i].id.as_str()));
            let message = format!("there is no control `{id}`");
            let typed = Typed { code: "not-a-control", option, text, at: 0..id.len() };
            self.unknown(&typed, message, near, "name an item that has positions");
            return None;
        };
        let found = control.find(position);
        if found.is_none() {
            let near = did_you_mean(position, control.positions.iter().map(Id::as_str));
            let all: Vec<&str> = control.positions.iter().map(Id::as_str).collect();
            let help = format!("the positions of `{id}` are: {}", all.join(", "));
            let start = text.len() - position.len();
            let message = format!("`{id}` has no position `{position}`");
            self.unknown(
                &Typed { code: "unknown-position", option, text, at: start..text.len() },
                message,
                near,
                &help,
            );
        }
        found.map(|p| (item, p))
    }

    /// A whole question; nothing if any part of it is not known.
    pub fn question(
        &mut self,
        fail: &[String],
        situation: &SituationArguments,
        set: &[String],
        then: &[String],
    ) -> Option<Question> {
        let state = self.state(situation.state.as_deref());
        let faults: Vec<FaultIx> = fail.iter().filter_map(|f| self.fault(f)).collect();
        let set: Vec<_> = set.iter().filter_map(|s| self.setting("--set ", s)).collect();
        let then: Vec<_> = then.iter().filter_map(|s| self.setting("--then ", s)).collect();
        if self.findings.has_errors() {
            return None;
        }
        Some(Question { state: state?, faults: once(faults), start: start(situation.from), set, then })
    }

    /// What is seen; nothing if any part of it is not known.
    pub fn seen(&mut self, arguments: &SuspectArguments) -> Option<Seen> {
        let state = self.state(arguments.situation.state.as_deref());
        let mut nodes = |list: &[String]| list.iter().filter_map(|id| self.node(id)).collect::<Vec<_>>();
        let (lost, wrong, working) = (nodes(&arguments.lost), nodes(&arguments.wrong), nodes(&arguments.working));
        let mut shown = |list: &[String]| list.iter().filter_map(|id| self.indication(id)).collect::<Vec<_>>();
        let (shows, not_shows) = (shown(&arguments.shows), shown(&arguments.not_shows));
        if self.findings.has_errors() {
            return None;
        }
        Some(Seen { state: state?, start: start(arguments.situation.from), lost, wrong, working, shows, not_shows })
    }

    /// An alert by its id or that of the item that alone shows it; else a gauge that senses something.
    fn indication(&mut self, id: &str) -> Option<Indication> {
        let model = self.model;
        if let Some(alert) = model.find_alert(id) {
            return Some(Indication::Alert(alert));
        }
        let node = self.node(id)?;
        let alerts: Vec<AlertIx> = (0..model.alerts.len()).map(AlertIx::new).collect();
        let on: Vec<AlertIx> = alerts.into_iter().filter(|a| model[model[*a].on].node == node).collect();
        match on.as_slice() {
            [alert] if model[node].senses.is_empty() => return Some(Indication::Alert(*alert)),
            [] if model[node].senses.is_empty() => {}
            _ if !model[node].senses.is_empty() => return Some(Indication::Gauge(node)),
            _ => {}
        }
        let near: Vec<&str> = on.iter().map(|a| model[*a].id.as_str()).collect();
        let help = match near.as_slice() {
            [] => "name an alert, or a gauge that senses something".to_owned(),
            near => format!("it shows several alerts; name one of: {}", near.join(", ")),
        };
        let typed = Typed { code: "unknown-alert", option: "", text: id, at: 0..id.len() };
        self.unknown(&typed, format!("`{id}` is no alert and no gauge"), None, &help);
        None
    }

    fn unknown_node(&mut self, typed: &Typed<'_>) {
        let id = typed.text.get(typed.at.clone()).unwrap_or(typed.text);
        let near = did_you_mean(id, self.model.nodes.iter().map(|n| n.id.as_str()));
        if let Some(what) = self.other_thing(id) {
            return self.unknown(typed, format!("`{id}` is {what}"), None, "name an item, a function or a given");
        }
        let message = format!("there is no `{id}` in this model");
        self.unknown(typed, message, near, "`ribstitch states AIRCRAFT` lists every item and function");
    }

    /// What an id means that is of no node.
    fn other_thing(&self, id: &str) -> Option<&'static str> {
        let model = self.model;
        let is = |other: &Id| other.as_str() == id;
        if model.systems.iter().any(|s| is(&s.id)) {
            Some("a system")
        } else if model.states.iter().any(|s| is(&s.id)) {
            Some("a state")
        } else if model.information.iter().any(|i| is(&i.id)) {
            Some("a piece of information")
        } else if model.media.iter().any(|m| is(&m.id)) {
            Some("a medium")
        } else {
            model.find_fault(id).map(|_| "a fault")
        }
    }

    fn unknown_fault(&mut self, text: &str, node: NodeIx, fault: &str) {
        let model = self.model;
        let all: Vec<&str> = model.faults_of(node).map(|f| model[f].id.as_str()).collect();
        let near = did_you_mean(fault, all.iter().copied());
        let of = &model[node].id;
        let (message, help) = match (model.item_of(node), all.is_empty()) {
            (Some(item), _) if model[item].node != node => {
                let item = &model[item].id;
                (format!("`{of}` is a function and fails with its item"), format!("name a fault of `{item}`"))
            }
            (_, true) => (format!("`{of}` cannot fail"), "the model says why, with `cannot-fail`".to_owned()),
            _ => (format!("`{of}` has no fault `{fault}`"), format!("the faults of `{of}` are: {}", all.join(", "))),
        };
        let start = text.len().saturating_sub(fault.len()).min(text.find(':').map_or(0, |i| i + 1));
        self.unknown(
            &Typed { code: "unknown-fault", option: "--fail ", text, at: start..text.len() },
            message,
            near,
            &help,
        );
    }

    fn unknown(&mut self, typed: &Typed<'_>, message: String, near: Option<&str>, help: &str) {
        let span = self.typed(typed);
        let help = near.map_or_else(|| help.to_owned(), |near| format!("did you mean `{near}`?"));
        self.findings.push(Diagnostic::error(typed.code, span, message).help(help));
    }

    /// What was typed, as a source of its own, and the place in it.
    fn typed(&mut self, typed: &Typed<'_>) -> Span {
        let Typed { option, text, at, .. } = typed;
        let file = self.sources.add("command line", format!("{option}{text}"));
        Span::new(file, option.len() + at.start..option.len() + at.end)
    }
}

/// An option as it was typed, its text, and which part of that is meant.
struct Typed<'t> {
    code: &'static str,
    option: &'t str,
    text: &'t str,
    at: std::ops::Range<usize>,
}

fn start(from: From) -> Start {
    match from {
        From::Running => Start::Running,
        From::Cold => Start::Cold,
    }
}

/// Each fault once, in the order given.
fn once(faults: Vec<FaultIx>) -> Vec<FaultIx> {
    let mut kept = Vec::new();
    for fault in faults {
        if !kept.contains(&fault) {
            kept.push(fault);
        }
    }
    kept
}
