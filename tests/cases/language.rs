//! Reading and writing models.
use ribstitch::base::{Sources, snippet};
use ribstitch::model::Model;
use ribstitch::resolve;

/// Loads one text that must be right.
fn load(text: &str) -> Model {
    let mut sources = Sources::default();
    let (model, diagnostics) = resolve::load_texts(vec![("model.toml".to_owned(), text.to_owned())], &mut sources);
    assert!(diagnostics.is_empty(), "{}", snippet::render(&diagnostics, &sources, false));
    model.expect("a model without diagnostics is there")
}

const SMALL: &str = r#"
[aircraft]
name     = "BW-4 Sandling"
maker    = "Brackwater"
revision = 1
date     = 2026-05-02
handbook = "BW-4 Pilot's Handbook"

[system.electrical]
name   = "electrical power"
number = "24"

[item.battery]
name   = "battery"
kind   = "battery"
system = "electrical"
gives  = "electricity"

[item.master]
name   = "master switch"
kind   = "switch"
system = "electrical"
needs  = ["battery"]

[item.clock]
name   = "clock"
kind   = "clock"
system = "electrical"
needs  = ["battery through master"]
"#;

#[test]
fn small_model_is_whole() {
    let model = load(SMALL);
    let ids: Vec<&str> = model.items.iter().map(|i| i.id.as_str()).collect();
    assert_eq!(ids, ["battery", "clock", "master"]);
    let master = model.find_item("master").unwrap();
    let control = model.control(master).unwrap();
    assert_eq!(control.position(control.rest).as_str(), "off");
    assert_eq!(control.conducts_in.len(), 1);
    assert_eq!(model.nodes[2].gives, model.find_medium("electricity"), "a switch passes on what feeds it");
    assert_eq!(model.faults.len(), 3);
}
