//! Faults, read from plain TOML: what each one says, and the plain `fails` where nothing is written.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use toml::{Table, Value};

use super::fields::{Fields, minutes};
use super::parts::{Cue, Entry, Fault, FaultName, Hazard, Lapse, Node, Number};
use super::reading::Reader;

/// What is ignored, and the nodes that ignore it.
type Ignored = (Entry<Number>, Vec<Number>);

impl Reader {
    pub(super) fn faults(&mut self, whole: &Fields, nodes: &[Node]) -> Result<BTreeMap<FaultName, Fault>, String> {
        let mut found = BTreeMap::new();
        for (id, fields) in whole.each("item")?.into_iter().chain(whole.each("given")?) {
            let mut names: BTreeSet<String> =
                fields.each("fault")?.into_iter().map(|(name, _)| name.to_owned()).collect();
            if !fields.has("cannot-fail") {
                names.insert("fails".to_owned());
            }
            let table = fields.inner("fault")?.unwrap_or(Fields::new(&EMPTY, fields.at("fault")));
            for name in names {
                let inner = table.inner(&name)?.unwrap_or(Fields::new(&EMPTY, table.at(&name)));
                let owner = self.node(id, fields.place())?;
                let mut fault = self.fault(&inner, owner, nodes)?;
                if name == "fails" && !inner.has("loses") && !inner.has("misleads") {
                    failing(&mut fault, owner, nodes);
                }
                found.insert(FaultName { item: id.to_owned(), fault: name }, fault);
            }
        }
        Ok(found)
    }

    fn fault(&mut self, fields: &Fields, owner: Number, nodes: &[Node]) -> Result<Fault, String> {
        let id = nodes.get(owner).map_or("", |node| node.id.as_str());
        Ok(Fault {
            loses: self.marks(fields, "loses", id)?,
            takes: self.marks(fields, "takes", id)?,
            weakens: self.marks(fields, "weakens", id)?,
            misleads: self.marks(fields, "misleads", id)?,
            traps: self.marks(fields, "traps", id)?,
            trips: self.marks(fields, "trips", id)?,
            ignores: self.ignores(fields, id)?,
            leads_to: leads_to(fields)?,
            shows: self.entries(fields, "shows")?,
            hides: self.entries(fields, "hides")?,
            found_by: fields.text("found-by")?,
            cue: self.cue(fields)?,
            hazards: self.hazards(fields)?,
            transient: fields.flag("transient")?.unwrap_or(false),
            restorable: fields.flag("restorable")?.unwrap_or(false),
            asked: fields.text("asked")?,
        })
    }

    /// Entries that are names or `{ what, when }`, the names as written.
    fn entries(&mut self, fields: &Fields, key: &str) -> Result<Vec<Entry<String>>, String> {
        let mut found = Vec::new();
        for (value, place) in fields.list(key)? {
            if let Value::String(what) = value {
                found.push(Entry { what: what.clone(), when: Vec::new() });
                continue;
            }
            let inner = Fields::of(value, place)?;
            found.push(Entry { what: inner.required("what")?, when: self.when(&inner)? });
        }
        Ok(found)
    }

    /// Entries that name nodes; a function of the owner may stand without its item's id.
    fn marks(&mut self, fields: &Fields, key: &str, owner: &str) -> Result<Vec<Entry<Number>>, String> {
        let place = fields.at(key);
        let entries = self.entries(fields, key)?;
        entries.into_iter().map(|e| Ok(Entry { what: self.mark(&e.what, owner, &place)?, when: e.when })).collect()
    }

    fn mark(&self, name: &str, owner: &str, place: &str) -> Result<Number, String> {
        match self.number.get(&format!("{owner}.{name}")) {
            Some(function) if name != owner => Ok(*function),
            _ => self.node(name, place),
        }
    }

    fn ignores(&mut self, fields: &Fields, owner: &str) -> Result<Vec<Ignored>, String> {
        let marks = self.marks(fields, "ignores", owner)?;
        let mut found = Vec::new();
        for (mark, (value, place)) in marks.into_iter().zip(fields.list("ignores")?) {
            let named = match value {
                Value::Table(table) => Fields::new(table, place.clone()).texts("for")?,
                _ => Vec::new(),
            };
            let whom = if named.is_empty() { vec![owner.to_owned()] } else { named };
            found.push((mark, whom.iter().map(|id| self.node(id, &place)).collect::<Result<_, _>>()?));
        }
        Ok(found)
    }

    fn cue(&mut self, fields: &Fields) -> Result<Option<Cue>, String> {
        let Some(value) = fields.get("cue") else { return Ok(None) };
        if let Value::String(text) = value {
            return Ok(Some(Cue { text: text.clone(), when: Vec::new() }));
        }
        let inner = Fields::of(value, fields.at("cue"))?;
        Ok(Some(Cue { text: inner.required("text")?, when: self.when(&inner)? }))
    }

    fn hazards(&mut self, fields: &Fields) -> Result<Vec<Hazard>, String> {
        let Some(value) = fields.get("hazard") else {
            return Ok(Vec::new());
        };
        let place = fields.at("hazard");
        let list = value.as_array().map_or_else(|| vec![value], |list| list.iter().collect());
        list.into_iter().map(|value| self.hazard(value, &place)).collect()
    }

    fn hazard(&mut self, value: &Value, place: &str) -> Result<Hazard, String> {
        if let Value::String(text) = value {
            return Ok(Hazard { text: text.clone(), level: "warning".to_owned(), when: Vec::new() });
        }
        let inner = Fields::of(value, place.to_owned())?;
        let level = inner.text("level")?.unwrap_or_else(|| "warning".to_owned());
        Ok(Hazard { text: inner.required("text")?, level, when: self.when(&inner)? })
    }
}

/// Stands for a table that is not written.
static EMPTY: LazyLock<Table> = LazyLock::new(Table::new);

/// The plain `fails`: the whole item is taken; a blocked static or pitot line traps its pressure instead.
fn failing(fault: &mut Fault, owner: Number, nodes: &[Node]) {
    let Some(node) = nodes.get(owner) else { return };
    let line = node.is_kind("line") || node.is_kind("port");
    let pressure = matches!(node.gives.as_deref(), Some("static-pressure" | "pitot-pressure"));
    let entry = Entry { what: owner, when: Vec::new() };
    if line && pressure {
        fault.misleads.push(entry);
    } else {
        fault.loses.push(entry);
    }
}

fn leads_to(fields: &Fields) -> Result<Vec<(FaultName, Lapse)>, String> {
    let Some(value) = fields.get("leads-to") else {
        return Ok(Vec::new());
    };
    let place = fields.at("leads-to");
    let list = value.as_array().map_or_else(|| vec![value], |list| list.iter().collect());
    let read = |value: &Value| {
        if let Value::String(text) = value {
            return Ok((FaultName::from_text(text), Lapse::Sometime));
        }
        let inner = Fields::of(value, place.clone())?;
        let time = inner.text("in")?.map(|text| minutes(&text, &inner.at("in"))).transpose()?;
        let lapse = time.map_or(Lapse::Sometime, Lapse::Minutes);
        Ok((FaultName::from_text(&inner.required("what")?), lapse))
    };
    list.into_iter().map(read).collect()
}
