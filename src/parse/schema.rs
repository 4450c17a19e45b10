//! The JSON Schema of model files, made from the declarations.

use super::key::{CHANGE, Decl, Form, TAIL, TOP};
use super::need::NEED_TABLE;
use super::wanted::wanted;
use serde_json::{Map, Value, json};

/// The JSON Schema (draft 2020-12) of one model file, as TOML tools take it.
pub fn model_schema() -> Value {
    let mut schema = table(&TOP);
    if let Some(properties) = schema.get_mut("properties").and_then(Value::as_object_mut) {
        add_tails(properties);
    }
    if let Some(object) = schema.as_object_mut() {
        object.remove("required");
        object.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
        object.insert("title".to_owned(), json!("Ribstitch model file"));
        object.insert("$defs".to_owned(), json!({ "need": { "anyOf": [{ "type": "string" }, table(&NEED_TABLE)] } }));
    }
    schema
}

/// What a tail may hold beside: its head and its changes. It need not repeat what its type says of the aircraft.
fn add_tails(properties: &mut Map<String, Value>) {
    if let Some(aircraft) = properties.get_mut("aircraft").and_then(Value::as_object_mut) {
        aircraft.remove("required");
    }
    properties.insert("tail".to_owned(), table(&TAIL));
    for change in ["add", "replace", "remove"] {
        properties.insert(change.to_owned(), json!({ "type": "object", "description": CHANGE.about }));
    }
}

fn table(decl: &Decl) -> Value {
    let mut properties = Map::new();
    for key in decl.keys {
        let mut value = form(&key.form);
        if let Some(object) = value.as_object_mut() {
            object.insert("description".to_owned(), json!(key.meaning));
        }
        properties.insert(key.name.to_owned(), value);
    }
    let required: Vec<&str> = decl.keys.iter().filter(|k| k.required).map(|k| k.name).collect();
    json!({ "type": "object", "description": decl.about, "properties": properties, "required": required, "additionalProperties": false })
}

fn form(of: &Form) -> Value {
    match of {
        Form::Bool => json!({ "type": "boolean" }),
        Form::Whole => json!({ "type": "integer", "minimum": 0 }),
        Form::Share => json!({ "type": "number", "minimum": 0, "maximum": 1 }),
        Form::Between(low, high) => json!({ "type": "number", "minimum": low, "maximum": high }),
        Form::TwoDigits => json!({ "type": "string", "pattern": "^[0-9]{2}$" }),
        Form::Tag => json!({ "type": "string", "pattern": "^[A-Z]{2}$" }),
        Form::Colour => json!({ "type": "string", "pattern": "^#[0-9a-f]{6}$" }),
        Form::Word(words, _) => json!({ "enum": words() }),
        Form::Need => json!({ "anyOf": [{ "$ref": "#/$defs/need" }] }),
        Form::List(of) => json!({ "type": "array", "items": form(of) }),
        Form::Table(decl) => table(decl),
        Form::Ids(decl) => json!({
            "type": "object",
            "propertyNames": { "pattern": "^[a-z][a-z0-9]*(-[a-z0-9]+)*$", "maxLength": 64 },
            "additionalProperties": table(decl),
        }),
        Form::Map(_, of) => json!({ "type": "object", "additionalProperties": form(of) }),
        Form::OneOf(forms) => json!({ "anyOf": forms.iter().map(form).collect::<Vec<_>>() }),
        Form::Anything => json!({}),
        Form::Date => json!({ "type": "string", "format": "date" }),
        _ => json!({ "type": "string", "$comment": wanted(of) }),
    }
}
