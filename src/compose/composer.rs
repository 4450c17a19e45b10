//! The state of composing: what was entered, which ids are taken, what is to be said to the author.

use super::words::Words;
use crate::analyse::answer::{Effects, Question};
use crate::analyse::network::Analysis;
use crate::base::{Diagnostic, Diagnostics, Quantity, Sources, Span};
use crate::doc::{Fact, FactOrigin, Inline, Ledger};
use crate::model::{FaultIx, ItemIx, Kind, Model, NodeIx, NodeKind, PanelPlace, Place, StateIx};
use std::collections::{BTreeMap, BTreeSet};

/// Makes the blocks of a guide. What it makes is entered in its ledger; what is wrong is kept in its diagnostics.
pub struct Composer<'a> {
    /// What is known of the aircraft.
    pub model: &'a Model,
    /// What follows from it.
    pub analysis: &'a Analysis<'a>,
    /// The files, for the texts under spans.
    pub sources: &'a Sources,
    /// What everything is called.
    pub words: &'a Words,
    /// The state that is meant when none is named.
    pub reference: Option<StateIx>,
    /// Every fact that is shown.
    pub ledger: Ledger,
    /// What is wrong.
    pub diagnostics: Diagnostics,
    ids: BTreeSet<String>,
    other_ids: BTreeMap<String, String>,
    singles: BTreeMap<StateIx, Vec<Effects>>,
    others: BTreeMap<(StateIx, FaultIx), Effects>,
}

impl<'a> Composer<'a> {
    /// Ready to begin.
    pub fn new(model: &'a Model, analysis: &'a Analysis<'a>, words: &'a Words, sources: &'a Sources) -> Self {
        let cruise = || model.find_state("cruise");
        let reference = model.reference_state.or_else(cruise);
        Self {
            model,
            analysis,
            sources,
            words,
            reference,
            ledger: Ledger::default(),
            diagnostics: Diagnostics::default(),
            ids: BTreeSet::new(),
            other_ids: BTreeMap::new(),
            singles: BTreeMap::new(),
            others: BTreeMap::new(),
        }
    }

    /// Keeps an error.
    pub fn error(&mut self, code: &'static str, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.diagnostics.push(Diagnostic::error(code, span, message).help(help));
    }

    /// Takes an id. One that is taken already gets a number: the same block may stand in two chapters.
    pub fn take_id(&mut self, wanted: &str) -> String {
        let mut id = wanted.to_owned();
        let mut number = 1;
        while !self.ids.insert(id.clone()) {
            number += 1;
            id = format!("{wanted}/{number}");
        }
        id
    }

    /// Notes another name for what has an id.
    pub fn also_called(&mut self, other: String, id: &str) {
        self.other_ids.entry(other).or_insert_with(|| id.to_owned());
    }

    /// The id that a link to this one leads to.
    pub fn resolve_id(&self, id: &str) -> Option<String> {
        self.ids.get(id).or_else(|| self.other_ids.get(id)).cloned()
    }

    /// True if the id was taken.
    pub fn has_id(&self, id: &str) -> bool {
        self.ids.contains(id)
    }

    /// Every id that was taken.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.ids.iter().chain(self.other_ids.keys()).map(String::as_str)
    }

    /// Enters a fact and gives it as it is shown.
    pub fn show(&mut self, fact: Fact) -> Inline {
        let shown = fact.shown.clone();
        Inline::Shown(self.ledger.enter(fact), shown)
    }

    /// A quantity that the author typed, in the unit that the owner chose.
    pub fn quantity(&mut self, subject: &str, aspect: &str, quantity: &Quantity, span: Span) -> Inline {
        let unit = self.model.display.get(&quantity.unit.dimension).copied().unwrap_or(quantity.unit);
        let converted = unit.symbol != quantity.unit.symbol;
        let number = if converted { unit.from_si(quantity.si()) } else { quantity.number };
        let upper = quantity.upper.map(|u| if converted { unit.from_si(quantity.unit.to_si(u)) } else { u });
        let text = |n: f64| if converted { rounded(n) } else { plain_number(n) };
        let mut shown = text(number);
        if let Some(upper) = upper {
            shown = format!("{shown} to {}", text(upper));
        }
        let shown =
            if converted { format!("{shown} {} (rounded)", unit.sign()) } else { format!("{shown} {}", unit.sign()) };
        self.show(Fact {
            id: format!("{subject}/{aspect}"),
            subject: subject.to_owned(),
            aspect: aspect.to_owned(),
            value: Some(number),
            unit: Some(unit.symbol.to_owned()),
            shown,
            rounding: converted.then(|| "rounded to three figures".to_owned()),
            origin: FactOrigin::Typed(span),
        })
    }

    /// A plain count.
    pub fn count(&mut self, of: &str, number: usize) -> Inline {
        self.show(Fact {
            id: format!("count/{of}"),
            subject: "aircraft".to_owned(),
            aspect: of.to_owned(),
            value: Some(number as f64),
            unit: None,
            shown: number.to_string(),
            rounding: None,
            origin: FactOrigin::Computed { method: "count", inputs: Vec::new() },
        })
    }

    /// What each fault that is asked about in a state does alone.
    pub fn single_faults(&mut self, state: StateIx) -> &[Effects] {
        let analysis = self.analysis;
        self.singles.entry(state).or_insert_with(|| analysis.single_faults(state))
    }

    /// What one fault does in a state, from running. In the reference state most faults are asked about, so all are solved together.
    pub fn effects(&mut self, state: StateIx, fault: FaultIx) -> Effects {
        if Some(state) == self.reference {
            let found = self.single_faults(state).iter().find(|e| e.question.faults == [fault]).cloned();
            if let Some(found) = found {
                return found;
            }
        }
        let analysis = self.analysis;
        let asked = || analysis.effects(&Question::faults(state, vec![fault]));
        self.others.entry((state, fault)).or_insert_with(asked).clone()
    }

    /// States of the aircraft on the ground, in the order of their chain.
    pub fn parked_states(&self) -> Vec<StateIx> {
        chain_order(self.model).into_iter().filter(|s| self.model[*s].place == Place::OnTheGround).collect()
    }
}

/// States so that each stands after the one that it comes from; otherwise by id.
pub fn chain_order(model: &Model) -> Vec<StateIx> {
    use crate::model::Start::{After, Like};
    fn visit(model: &Model, parent: Option<StateIx>, order: &mut Vec<StateIx>) {
        for state in model.state_indices() {
            let from = match model[state].start {
                After(before) | Like(before) => Some(before),
                crate::model::Start::Cold => None,
            };
            if from == parent && !order.contains(&state) {
                order.push(state);
                visit(model, Some(state), order);
            }
        }
    }
    let mut order = Vec::new();
    visit(model, None, &mut order);
    order
}

/// True for what a pilot has before the eyes or in the hand, or hears: it sits on the panel, tells something, is a light, or is the
/// engine or starter; a function is as its item. The rest is out of sight: lines, pumps, buses, tanks, antennas.
pub fn is_in_sight(model: &Model, node: NodeIx) -> bool {
    let NodeKind::Item(item) = model[node].kind else {
        return model.item_of(node).is_some_and(|i| !model[node].tells.is_empty() || is_in_sight(model, model[i].node));
    };
    let functions_tell = model[item].functions.iter().any(|f| !model[*f].tells.is_empty());
    let handled = model[item].control.is_some() || model[item].kind.conducts();
    let shown = model[item].panel.is_some() && !handled;
    shown || !model[node].tells.is_empty() || functions_tell || shows_itself(model[item].kind)
}

fn shows_itself(kind: Kind) -> bool {
    use Kind::{Display, Engine, Horn, Lamp, Light, Starter};
    matches!(kind, Display | Engine | Horn | Lamp | Light | Starter)
}

/// Nodes as a pilot would go through them: engine first, then by walking group and place on the panel, then by name.
pub fn in_walking_order(model: &Model, nodes: &mut [NodeIx]) {
    nodes.sort_by_key(|n| {
        let item = model.item_of(*n);
        let kind = item.map(|i| model[i].kind);
        let group = kind.map(|k| (k != Kind::Engine, k.group()));
        (group.is_none(), group, item.map(|i| place_key(model, i)), model[*n].noun.name.clone(), *n)
    });
}

/// Rows of the panel from the top, each from the left; what is not on the panel comes after.
pub fn place_key(model: &Model, item: ItemIx) -> (bool, i64, i64) {
    let order = model[item].panel.as_ref().map(PanelPlace::reading_order);
    order.map_or((true, 0, 0), |(row, across)| (false, row, across))
}

/// A number as it was typed: no digits that say nothing.
pub fn plain_number(number: f64) -> String {
    format!("{number}")
}

/// Three figures, at most three decimals.
fn rounded(number: f64) -> String {
    let size = if number == 0.0 { 0 } else { libm::floor(libm::log10(number.abs())) as i32 };
    let decimals = usize::try_from((2 - size).clamp(0, 3)).unwrap_or(0);
    format!("{number:.decimals$}")
}
