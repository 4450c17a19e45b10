//! The canonical text's model, read from plain TOML into the audit's own parts.

use std::collections::{BTreeMap, BTreeSet};

use toml::{Table, Value};

use super::fields::{Fields, minutes, text_of};
use super::parts::{
    Alert, Condition, ConditionNumber, Control, Fault, FaultName, Feed, Lapse, Layout, Need, Node, NodeKind, Number,
    PlainModel, State, Telling,
};

impl PlainModel {
    /// Reads the model part of the canonical text.
    ///
    /// # Errors
    /// A text that names the place of the first thing that is missing, unknown or of the wrong type.
    pub fn read(toml_text: &str) -> Result<Self, String> {
        let table: Table = toml_text.parse().map_err(|error| format!("the model is not TOML: {error}"))?;
        Self::of(&table)
    }

    /// The same from TOML that was read.
    ///
    /// # Errors
    /// As [`PlainModel::read`].
    pub(super) fn of(table: &Table) -> Result<Self, String> {
        let whole = Fields::new(table, String::new());
        let mut reader = Reader { number: numbers(&whole)?, conditions: Vec::new(), controls: controls(&whole)? };
        let nodes = reader.nodes(&whole)?;
        let faults = reader.faults(&whole, &nodes)?;
        let alerts = reader.alerts(&whole)?;
        named_by_faults(&faults, &alerts)?;
        let states = reader.states(&whole)?;
        let information = whole
            .each("information")?
            .into_iter()
            .map(|(id, f)| Ok((id.to_owned(), f.texts("prefer")?)))
            .collect::<Result<_, String>>()?;
        let layout = Layout::of(&nodes, &reader.conditions, &reader.number);
        let Reader { number, conditions, .. } = reader;
        Ok(Self { nodes, number, conditions, faults, alerts, states, information, layout })
    }
}

/// Every node's id with its number, in the order of ids.
fn numbers(whole: &Fields) -> Result<BTreeMap<String, Number>, String> {
    let mut ids = BTreeSet::new();
    for (id, item) in whole.each("item")? {
        ids.insert(id.to_owned());
        ids.extend(item.each("function")?.into_iter().map(|(function, _)| format!("{id}.{function}")));
    }
    for (id, given) in whole.each("given")? {
        if !ids.insert(id.to_owned()) {
            return Err(format!("{}: an item has the same id", given.place()));
        }
    }
    Ok(ids.into_iter().enumerate().map(|(number, id)| (id, number)).collect())
}

/// The positions of every control.
fn controls(whole: &Fields) -> Result<BTreeMap<String, Vec<String>>, String> {
    let mut found = BTreeMap::new();
    for (id, item) in whole.each("item")? {
        let mut positions = item.texts("positions")?;
        if positions.is_empty() {
            positions = match item.required("kind")?.as_str() {
                "breaker" => vec!["in".to_owned(), "out".to_owned()],
                "switch" => vec!["off".to_owned(), "on".to_owned()],
                _ => continue,
            };
        }
        found.insert(id.to_owned(), positions);
    }
    Ok(found)
}

/// Names known so far, and the conditions met while reading.
pub(super) struct Reader {
    pub(super) number: BTreeMap<String, Number>,
    conditions: Vec<Condition>,
    controls: BTreeMap<String, Vec<String>>,
}

impl Reader {
    pub(super) fn node(&self, id: &str, place: &str) -> Result<Number, String> {
        self.number.get(id).copied().ok_or_else(|| format!("{place}: no item, function or given is called \"{id}\""))
    }

    fn nodes(&mut self, whole: &Fields) -> Result<Vec<Node>, String> {
        let mut nodes = Vec::new();
        for (id, fields) in whole.each("item")? {
            let item = self.node(id, fields.place())?;
            let mut node = self.described(id, &fields, NodeKind::Item { kind: fields.required("kind")? })?;
            node.control = self.control(id, &fields)?;
            for (function, inner) in fields.each("function")? {
                let function = format!("{id}.{function}");
                node.functions.push(self.node(&function, inner.place())?);
                nodes.push(self.described(&function, &inner, NodeKind::Function { item })?);
            }
            nodes.push(node);
        }
        for (id, fields) in whole.each("given")? {
            let normally = fields.flag("normally")?.ok_or_else(|| format!("{}: missing", fields.at("normally")))?;
            nodes.push(self.described(id, &fields, NodeKind::Given { normally })?);
        }
        nodes.sort_by(|a, b| a.id.cmp(&b.id));
        Ok(nodes)
    }

    fn described(&mut self, id: &str, fields: &Fields, kind: NodeKind) -> Result<Node, String> {
        Ok(Node {
            id: id.to_owned(),
            kind,
            gives: fields.text("gives")?,
            needs: self.needs(fields, "needs")?,
            senses: self.needs(fields, "senses")?,
            kept_by: self.needs(fields, "kept-by")?,
            spent_by: self.needs(fields, "spent-by")?,
            tells: tells(fields)?,
            on_loss: on_loss(fields)?,
            lasts: lasts(fields)?,
            control: None,
            functions: Vec::new(),
        })
    }

    fn control(&self, id: &str, fields: &Fields) -> Result<Option<Control>, String> {
        let Some(positions) = self.controls.get(id).cloned() else {
            return Ok(None);
        };
        let first = positions.first().cloned().unwrap_or_default();
        let rest = fields.text("rest")?.unwrap_or(first);
        if !positions.contains(&rest) {
            return Err(format!("{}: \"{rest}\" is not one of its positions", fields.at("rest")));
        }
        if let Some(parent) = fields.text("off-with")?
            && !self.controls.contains_key(&parent)
        {
            return Err(format!("{}: \"{parent}\" is not a control", fields.at("off-with")));
        }
        let default_reach = if fields.has("panel") { "in flight" } else { "no" };
        Ok(Some(Control {
            conducts_in: conducts_in(fields, &positions)?,
            positions,
            rest,
            springs_to: springs(fields)?,
            off_with: fields.text("off-with")?,
            never_offer: fields.texts("never-offer")?.into_iter().collect(),
            resets: fields.texts("resets")?.into_iter().collect(),
            reachable: fields.text("reachable")?.unwrap_or_else(|| default_reach.to_owned()),
            pull: fields.flag("pull")?.unwrap_or(false),
        }))
    }

    fn needs(&mut self, fields: &Fields, key: &str) -> Result<Vec<Need>, String> {
        fields.list(key)?.into_iter().map(|(value, place)| self.need(&Fields::of(value, place)?)).collect()
    }

    fn need(&mut self, fields: &Fields) -> Result<Need, String> {
        if fields.has("from") {
            self.feed(fields).map(Need::Feed)
        } else if fields.has("any") {
            self.needs(fields, "any").map(Need::Any)
        } else if fields.has("all") {
            self.needs(fields, "all").map(Need::All)
        } else if let Some(count) = fields.get("at-least") {
            let count = count.as_integer().and_then(|n| usize::try_from(n).ok());
            let count = count.ok_or_else(|| format!("{}: expected a whole number", fields.at("at-least")))?;
            Ok(Need::AtLeast(count, self.needs(fields, "of")?))
        } else if fields.has("when") {
            self.when(fields).map(Need::When)
        } else {
            Err(format!("{}: expected from, when, any, all or at-least", fields.place()))
        }
    }

    fn feed(&mut self, fields: &Fields) -> Result<Feed, String> {
        let place = fields.at("through");
        let through = fields.texts("through")?;
        Ok(Feed {
            from: self.node(&fields.required("from")?, &fields.at("from"))?,
            through: through.iter().map(|id| self.node(id, &place)).collect::<Result<_, _>>()?,
            when: self.when(fields)?,
            sustained: fields.flag("sustained")?.unwrap_or(false),
            approximate: fields.has("approximate"),
        })
    }

    /// The conditions under `when`, each noted once with a number.
    pub(super) fn when(&mut self, fields: &Fields) -> Result<Vec<ConditionNumber>, String> {
        let Some(inner) = fields.inner("when")? else {
            return Ok(Vec::new());
        };
        let mut found = Vec::new();
        for (control, _) in inner.entries() {
            let place = inner.at(control);
            let positions: BTreeSet<String> = inner.texts(control)?.into_iter().collect();
            let known = self.controls.get(control).ok_or_else(|| format!("{place}: \"{control}\" is not a control"))?;
            if let Some(wrong) = positions.iter().find(|p| !known.contains(p)) {
                return Err(format!("{place}: \"{wrong}\" is not a position of {control}"));
            }
            let condition = Condition { control: self.node(control, &place)?, positions };
            let number = self.conditions.iter().position(|c| *c == condition).unwrap_or_else(|| {
                self.conditions.push(condition);
                self.conditions.len() - 1
            });
            found.push(number);
        }
        Ok(found)
    }

    fn alerts(&mut self, whole: &Fields) -> Result<BTreeMap<String, Alert>, String> {
        let mut found = BTreeMap::new();
        for (id, fields) in whole.each("alert")? {
            let on = self.node(&fields.required("on")?, &fields.at("on"))?;
            let alert = Alert { on, watches: self.needs(&fields, "watches")?, needs: self.needs(&fields, "needs")? };
            found.insert(id.to_owned(), alert);
        }
        Ok(found)
    }

    fn states(&self, whole: &Fields) -> Result<BTreeMap<String, State>, String> {
        let mut states = BTreeMap::new();
        for (id, fields) in whole.each("state")? {
            states.insert(id.to_owned(), self.state(&fields)?);
        }
        for (id, state) in &states {
            follow(id, state, &states)?;
        }
        Ok(states)
    }

    fn state(&self, fields: &Fields) -> Result<State, String> {
        let place = fields.at("reached-if");
        let reached_if = fields.texts("reached-if")?;
        let state = State {
            controls: self.stands(fields)?,
            givens: self.facts(fields)?,
            after: fields.text("after")?,
            like: fields.text("like")?,
            reached_if: reached_if.iter().map(|id| self.node(id, &place)).collect::<Result<_, _>>()?,
            in_flight: fields.flag("in-flight")?.unwrap_or(false),
            on_ground: fields.flag("on-ground")?.unwrap_or(false),
        };
        if state.after.is_some() && state.like.is_some() {
            return Err(format!("{}: has both after and like", fields.place()));
        }
        Ok(state)
    }

    fn stands(&self, fields: &Fields) -> Result<BTreeMap<String, String>, String> {
        let Some(inner) = fields.inner("controls")? else {
            return Ok(BTreeMap::new());
        };
        let mut found = BTreeMap::new();
        for (control, value) in inner.entries() {
            let place = inner.at(control);
            let position = text_of(value, &place)?;
            match self.controls.get(control) {
                Some(known) if known.contains(&position) => found.insert(control.to_owned(), position),
                Some(_) => {
                    return Err(format!("{place}: \"{position}\" is not a position of {control}"));
                }
                None => return Err(format!("{place}: \"{control}\" is not a control")),
            };
        }
        Ok(found)
    }

    fn facts(&self, fields: &Fields) -> Result<BTreeMap<String, bool>, String> {
        let Some(inner) = fields.inner("givens")? else {
            return Ok(BTreeMap::new());
        };
        let mut found = BTreeMap::new();
        for (given, _) in inner.entries() {
            self.node(given, &inner.at(given))?;
            if let Some(fact) = inner.flag(given)? {
                found.insert(given.to_owned(), fact);
            }
        }
        Ok(found)
    }
}

fn tells(fields: &Fields) -> Result<Vec<Telling>, String> {
    let read = |(value, place): (&Value, String)| {
        if let Value::String(information) = value {
            return Ok(Telling { information: information.clone(), indirectly: false });
        }
        let inner = Fields::of(value, place)?;
        let indirectly = inner.text("how")?.as_deref() == Some("indirectly");
        Ok(Telling { information: inner.required("information")?, indirectly })
    };
    fields.list("tells")?.into_iter().map(read).collect()
}

fn on_loss(fields: &Fields) -> Result<BTreeMap<String, String>, String> {
    let mut found = BTreeMap::new();
    for (what, inner) in fields.each("on-loss")? {
        found.insert(what.to_owned(), inner.text("looks")?.unwrap_or_default());
    }
    Ok(found)
}

fn lasts(fields: &Fields) -> Result<Option<Lapse>, String> {
    match fields.get("lasts") {
        None => Ok(None),
        Some(Value::String(text)) => minutes(text, &fields.at("lasts")).map(|time| Some(Lapse::Minutes(time))),
        Some(Value::Table(_)) => Ok(Some(Lapse::Sometime)),
        Some(_) => Err(format!("{}: expected a time or a result", fields.at("lasts"))),
    }
}

fn conducts_in(fields: &Fields, positions: &[String]) -> Result<BTreeSet<String>, String> {
    if fields.has("conducts-in") {
        return Ok(fields.texts("conducts-in")?.into_iter().collect());
    }
    let off_and_on = positions.len() == 2 && ["off", "on"].iter().all(|p| positions.iter().any(|q| q == p));
    match fields.required("kind")?.as_str() {
        "breaker" => Ok(BTreeSet::from(["in".to_owned()])),
        _ if off_and_on => Ok(BTreeSet::from(["on".to_owned()])),
        _ => Err(format!("{}: missing", fields.at("conducts-in"))),
    }
}

fn springs(fields: &Fields) -> Result<BTreeMap<String, String>, String> {
    let Some(inner) = fields.inner("springs-to")? else {
        return Ok(BTreeMap::new());
    };
    inner.entries().map(|(from, value)| Ok((from.to_owned(), text_of(value, &inner.at(from))?))).collect()
}

/// Every alert and every later fault that a fault names must be there.
fn named_by_faults(faults: &BTreeMap<FaultName, Fault>, alerts: &BTreeMap<String, Alert>) -> Result<(), String> {
    for (name, fault) in faults {
        if let Some(entry) = fault.shows.iter().chain(&fault.hides).find(|entry| !alerts.contains_key(&entry.what)) {
            return Err(format!("fault {name}: no alert is called \"{}\"", entry.what));
        }
        if let Some((later, _)) = fault.leads_to.iter().find(|(later, _)| !faults.contains_key(later)) {
            return Err(format!("fault {name}: leads to \"{later}\", which is no fault"));
        }
    }
    Ok(())
}

/// Follows `after` and `like` from a state to its beginning; a ring or an unknown state is an error.
fn follow(id: &str, state: &State, states: &BTreeMap<String, State>) -> Result<(), String> {
    let mut seen = BTreeSet::from([id.to_owned()]);
    let mut next = state.after.as_ref().or(state.like.as_ref());
    while let Some(name) = next {
        if !seen.insert(name.clone()) {
            return Err(format!("state.{id}: comes after itself by way of {name}"));
        }
        let before = states.get(name).ok_or_else(|| format!("state.{id}: no state is called \"{name}\""))?;
        next = before.after.as_ref().or(before.like.as_ref());
    }
    Ok(())
}
