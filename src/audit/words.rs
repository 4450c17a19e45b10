//! What the canonical text says for print: names, sentences, numbers.

use super::fields::Fields;
use super::numbers::Facts;
use super::parts::FaultName;
use super::speech::{capital, small};
use std::collections::BTreeMap;
use toml::{Table, Value};

/// What an item, a function or a given is called, and what is said of it.
#[derive(Debug, Clone, Default)]
pub(super) struct Thing {
    /// As it is printed; a function with its item.
    pub(super) name: String,
    /// A function without its item.
    pub(super) own: String,
    pub(super) plural: bool,
    /// Of an item.
    pub(super) kind: String,
    pub(super) system: String,
    /// Of a function: its item.
    pub(super) item: Option<String>,
    pub(super) does: Option<String>,
    pub(super) draws: Option<String>,
    pub(super) rating: Option<String>,
    /// Everything else that is a quantity, by its key.
    pub(super) amounts: BTreeMap<String, String>,
    /// What is gone, how that looks, and the author's sentence for it.
    pub(super) on_loss: Vec<(String, String, Option<String>)>,
    /// What is false, and the author's sentence for how that looks.
    pub(super) on_false: Vec<(String, String)>,
    pub(super) reads_when_absent: Option<String>,
    pub(super) tells: Vec<Tells>,
    pub(super) on_panel: bool,
    /// Where its middle stands on the panel, as written: across, down.
    pub(super) at: Vec<String>,
    /// What is engraved beside it.
    pub(super) label: Option<String>,
    /// It has positions.
    pub(super) control: bool,
    /// It has no row on the card.
    pub(super) off_card: bool,
    pub(super) seen: Option<Vec<String>>,
    /// The sentences of its approximate feeds, with the node that each comes from.
    pub(super) approximate: Vec<String>,
}

/// One piece of information that a thing tells.
#[derive(Debug, Clone)]
pub(super) struct Tells {
    pub(super) information: String,
    pub(super) indirectly: bool,
    pub(super) only: Option<String>,
    pub(super) note: Option<String>,
}

/// A light, flag or pointer.
#[derive(Debug, Clone)]
pub(super) struct AlertWords {
    pub(super) name: String,
    pub(super) plural: bool,
    pub(super) on: String,
    pub(super) reads: Option<String>,
}

/// One way to fail.
#[derive(Debug, Clone)]
pub(super) struct FaultWords {
    /// `is blocked`.
    pub(super) said: String,
    pub(super) see: Option<String>,
    /// How likely it is said to be; of the plain fault, or else its item.
    pub(super) likely: Option<f64>,
    /// What is said of each entry of `misleads`, in their order.
    pub(super) misleads: Vec<Option<String>>,
    /// The same of `weakens`.
    pub(super) weakens: Vec<Option<String>>,
}

/// A number with a name, or an inspection.
#[derive(Debug, Clone)]
pub(super) struct Listed {
    pub(super) id: String,
    pub(super) name: String,
    pub(super) value: String,
    pub(super) note: Option<String>,
    pub(super) cite: Option<String>,
    /// Of an inspection: what counts towards it.
    pub(super) by: String,
    /// It has no row on the card.
    pub(super) off_card: bool,
}

/// All of it.
#[derive(Debug, Clone, Default)]
pub(super) struct Words {
    pub(super) things: BTreeMap<String, Thing>,
    pub(super) information: BTreeMap<String, String>,
    pub(super) alerts: BTreeMap<String, AlertWords>,
    pub(super) states: BTreeMap<String, String>,
    /// What the model says beside the name of a state.
    pub(super) state_notes: BTreeMap<String, String>,
    pub(super) systems: BTreeMap<String, String>,
    pub(super) media: BTreeMap<String, String>,
    /// Tags of the media that the model declares.
    pub(super) tags: BTreeMap<String, String>,
    /// Walking groups in the order that the model names.
    pub(super) walk: Vec<String>,
    pub(super) faults: BTreeMap<FaultName, FaultWords>,
    pub(super) quantities: Vec<Listed>,
    pub(super) inspections: Vec<Listed>,
    pub(super) display: Vec<String>,
    pub(super) reference_speed: Option<String>,
    pub(super) reference_state: Option<String>,
    pub(super) aircraft: String,
    /// What the sums are made from.
    pub(super) facts: Facts,
}

type Read<T> = Result<T, String>;

impl Words {
    /// Reads them from the model part of the canonical text.
    ///
    /// # Errors
    /// The place of the first thing that is missing or of the wrong type.
    pub(super) fn read(table: &Table) -> Read<Self> {
        let whole = Fields::new(table, String::new());
        let mut words = Self::default();
        words.read_things(&whole)?;
        let named = |key: &str| -> Read<BTreeMap<String, String>> {
            whole.each(key)?.into_iter().map(|(id, f)| Ok((id.to_owned(), f.required("name")?))).collect()
        };
        words.information = named("information")?;
        words.states = named("state")?;
        words.systems = named("system")?;
        for (id, fields) in whole.each("state")? {
            words.state_notes.extend(fields.text("note")?.map(|note| (id.to_owned(), note)));
        }
        words.media = named("medium")?;
        for (id, fields) in whole.each("medium")? {
            words.tags.insert(id.to_owned(), fields.required("tag")?);
        }
        if let Some(panel) = whole.inner("panel")? {
            words.walk = panel.texts("walk")?;
        }
        for (id, fields) in whole.each("alert")? {
            words.alerts.insert(id.to_owned(), alert(&fields)?);
        }
        words.quantities =
            whole.each("quantity")?.into_iter().map(|(id, f)| listed(id, &f, "value")).collect::<Read<_>>()?;
        for (value, place) in whole.list("inspection")? {
            words.inspections.push(listed("", &Fields::of(value, place)?, "every")?);
        }
        if let Some(time) = whole.inner("time")? {
            words.reference_speed = time.text("reference")?;
        }
        if let Some(aircraft) = whole.inner("aircraft")? {
            words.aircraft = aircraft.required("name")?;
            words.reference_state = aircraft.text("reference-state")?;
        }
        if let Some(display) = whole.inner("display")? {
            words.display = display.entries().filter_map(|(_, v)| v.as_str()).map(str::to_owned).collect();
        }
        words.facts = Facts::read(table)?;
        Ok(words)
    }

    fn read_things(&mut self, whole: &Fields) -> Read<()> {
        for (id, fields) in whole.each("item")? {
            let thing = thing(&fields, None)?;
            for (function, inner) in fields.each("function")? {
                self.things.insert(format!("{id}.{function}"), self::thing(&inner, Some((id, &thing)))?);
            }
            self.read_faults(id, &fields, &thing, "fails")?;
            self.things.insert(id.to_owned(), thing);
        }
        for (id, fields) in whole.each("given")? {
            let thing = thing(&fields, None)?;
            self.read_faults(id, &fields, &thing, "is gone")?;
            self.things.insert(id.to_owned(), thing);
        }
        Ok(())
    }

    fn read_faults(&mut self, id: &str, fields: &Fields, thing: &Thing, usual: &str) -> Read<()> {
        for (fault, inner) in fields.each("fault")? {
            let plural = if usual == "fails" { "fail" } else { "are gone" };
            let usual = if thing.plural { plural } else { usual };
            let said = inner.text("said")?.unwrap_or_else(|| usual.to_owned());
            let name = FaultName { item: id.to_owned(), fault: fault.to_owned() };
            let (misleads, weakens) = (entry_texts(&inner, "misleads")?, entry_texts(&inner, "weakens")?);
            let own = if fault == "fails" { fields.get("likely") } else { None };
            let likely = inner.get("likely").or(own).and_then(number);
            self.faults.insert(name, FaultWords { said, see: inner.text("see")?, likely, misleads, weakens });
        }
        Ok(())
    }

    /// What a node is called; its id where it has no name.
    pub(super) fn name(&self, id: &str) -> String {
        self.things.get(id).map_or_else(|| id.to_owned(), |thing| thing.name.clone())
    }

    /// What a medium is called: its id in words, unless the model declares it.
    pub(super) fn medium(&self, id: &str) -> String {
        self.media.get(id).cloned().unwrap_or_else(|| id.replace('-', " "))
    }

    /// What a node or medium is called.
    pub(super) fn cause(&self, id: &str) -> String {
        if self.things.contains_key(id) { self.name(id) } else { self.medium(id) }
    }

    /// `static line is blocked`, without article.
    pub(super) fn clause(&self, fault: &FaultName) -> String {
        let said = self.faults.get(fault).map_or("fails", |f| f.said.as_str());
        format!("{} {said}", small(&self.name(&fault.item)))
    }

    /// Whether a pilot has it before the eyes, in the hand, or hears it: it is on the panel and no control or conductor, tells something, or is a light, a
    /// horn, a display, the engine or the starter.
    pub(super) fn in_sight(&self, id: &str) -> bool {
        let Some(thing) = self.things.get(id) else { return false };
        if !thing.tells.is_empty() {
            return true;
        }
        if let Some(item) = &thing.item {
            return self.in_sight(item);
        }
        let plain = matches!(thing.kind.as_str(), "display" | "horn" | "lamp" | "light" | "engine" | "starter");
        let tells =
            |(other, t): (&String, &Thing)| t.item.as_deref() == Some(id) && !t.tells.is_empty() && other.contains('.');
        let shown = thing.on_panel && !thing.control && !self.conducts(id);
        plain || shown || self.things.iter().any(tells)
    }

    /// Every item, in the order of ids.
    pub(super) fn items(&self) -> impl Iterator<Item = (&String, &Thing)> {
        self.things.iter().filter(|(_, thing)| !thing.kind.is_empty())
    }

    /// An item with its functions.
    pub(super) fn with_functions(&self, item: &str) -> Vec<String> {
        let functions = self.things.iter().filter(|(_, t)| t.item.as_deref() == Some(item));
        std::iter::once(item.to_owned()).chain(functions.map(|(id, _)| id.clone())).collect()
    }

    /// Kinds that pass on what comes to them.
    pub(super) fn conducts(&self, id: &str) -> bool {
        const CONDUCTING: &[&str] = &[
            "bus",
            "breaker",
            "fuse",
            "switch",
            "contactor",
            "relay",
            "line",
            "valve",
            "filter",
            "strainer",
            "selector",
            "connector",
            "lead",
            "button",
            "regulator",
        ];
        self.things.get(id).is_some_and(|thing| CONDUCTING.contains(&thing.kind.as_str()))
    }

    /// Breakers and fuses.
    pub(super) fn protects(&self, id: &str) -> bool {
        self.things.get(id).is_some_and(|thing| matches!(thing.kind.as_str(), "breaker" | "fuse"))
    }
}

fn thing(fields: &Fields, of: Option<(&str, &Thing)>) -> Read<Thing> {
    let own = fields.required("name")?;
    let name = of.map_or_else(|| own.clone(), |(_, item)| format!("{own} of {}", small(&item.name)));
    let amount = |key: &str| fields.get(key).and_then(Value::as_str).map(|text| (key.to_owned(), text.to_owned()));
    let panel = fields.inner("panel")?;
    let mut approximate = Vec::new();
    for key in ["needs", "senses"] {
        fields.get(key).into_iter().for_each(|value| approximations(value, &mut approximate));
    }
    Ok(Thing {
        name,
        own,
        plural: fields.flag("plural")?.unwrap_or(false),
        kind: if of.is_none() { fields.text("kind")?.unwrap_or_default() } else { String::new() },
        system: fields.text("system")?.unwrap_or_default(),
        item: of.map(|(id, _)| id.to_owned()),
        does: fields.text("does")?,
        draws: fields.text("draws")?,
        rating: fields.text("rating")?,
        amounts: ["draws", "rating", "capacity", "voltage", "lasts"].into_iter().filter_map(amount).collect(),
        on_loss: losses(fields)?,
        on_false: falsities(fields)?,
        reads_when_absent: fields.text("reads-when-absent")?,
        tells: tells(fields)?,
        on_panel: fields.has("panel"),
        at: panel.as_ref().map_or_else(|| Ok(Vec::new()), |p| p.texts("at"))?,
        label: panel.as_ref().map_or(Ok(None), |p| p.text("label"))?,
        control: fields.has("positions"),
        off_card: fields.flag("off-card")?.unwrap_or(false),
        seen: seen(fields)?,
        approximate,
    })
}

fn number(value: &Value) -> Option<f64> {
    value.as_float().or_else(|| value.as_integer().map(|n| n as f64))
}

fn approximations(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Array(list) => list.iter().for_each(|v| approximations(v, found)),
        Value::Table(table) => {
            found.extend(table.get("approximate").and_then(Value::as_str).map(str::to_owned));
            ["any", "all", "of"].iter().filter_map(|k| table.get(*k)).for_each(|v| approximations(v, found));
        }
        _ => {}
    }
}

fn losses(fields: &Fields) -> Read<Vec<(String, String, Option<String>)>> {
    let each = fields.each("on-loss")?.into_iter();
    each.map(|(what, f)| Ok((what.to_owned(), f.text("looks")?.unwrap_or_default(), f.text("text")?))).collect()
}

fn falsities(fields: &Fields) -> Read<Vec<(String, String)>> {
    let Some(inner) = fields.inner("on-false")? else { return Ok(Vec::new()) };
    inner.entries().map(|(what, _)| Ok((what.to_owned(), inner.required(what)?))).collect()
}

/// The sentences of entries that are tables, in the order of all entries.
fn entry_texts(fields: &Fields, key: &str) -> Read<Vec<Option<String>>> {
    let text = |(value, place): (&Value, String)| match value {
        Value::Table(_) => Fields::of(value, place)?.text("text"),
        _ => Ok(None),
    };
    fields.list(key)?.into_iter().map(text).collect()
}

fn tells(fields: &Fields) -> Read<Vec<Tells>> {
    let read = |(value, place): (&Value, String)| {
        if let Value::String(information) = value {
            return Ok(Tells { information: information.clone(), indirectly: false, only: None, note: None });
        }
        let inner = Fields::of(value, place)?;
        let indirectly = inner.text("how")?.as_deref() == Some("indirectly");
        let (only, note) = (inner.text("only")?, inner.text("note")?);
        Ok(Tells { information: inner.required("information")?, indirectly, only, note })
    };
    fields.list("tells")?.into_iter().map(read).collect()
}

fn seen(fields: &Fields) -> Read<Option<Vec<String>>> {
    let Some(inner) = fields.inner("seen")? else { return Ok(None) };
    let text = |value: &Value| match value {
        Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    Ok(Some(["by", "on", "how"].iter().filter_map(|key| inner.get(key)).map(text).collect()))
}

fn alert(fields: &Fields) -> Read<AlertWords> {
    Ok(AlertWords {
        name: fields.required("name")?,
        plural: fields.flag("plural")?.unwrap_or(false),
        on: fields.required("on")?,
        reads: fields.text("reads")?,
    })
}

fn listed(id: &str, fields: &Fields, value: &str) -> Read<Listed> {
    Ok(Listed {
        id: id.to_owned(),
        name: fields.required("name")?,
        value: fields.required(value)?,
        note: fields.text("note")?,
        cite: fields.text("cite")?,
        by: fields.text("by")?.unwrap_or_default(),
        off_card: fields.flag("off-card")?.unwrap_or(false),
    })
}

/// How a dead thing looks, where its author gives no sentence.
pub(super) fn look_sentence(looks: &str, plural: bool) -> String {
    let (one, many) = match looks {
        "dark" => ("It goes dark.", "They go dark."),
        "flag" => ("It shows a flag.", "They show a flag."),
        "zero" => ("It falls to zero.", "They fall to zero."),
        "full" => ("It runs to full scale.", "They run to full scale."),
        "centred" => ("It stands centred. It can still look alive.", "They stand centred. They can still look alive."),
        "freezes" => (
            "It freezes where it stands. It can still look alive.",
            "They freeze where they stand. They can still look alive.",
        ),
        "wanders" => ("It wanders. It can still look alive.", "They wander. They can still look alive."),
        _ => return capital(looks),
    };
    if plural { many.to_owned() } else { one.to_owned() }
}
