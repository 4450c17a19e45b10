//! Small models for tests, written as an author would, without what is the same in all.

use ribstitch::base::Sources;
use ribstitch::cli::findings;
use ribstitch::model::{FaultIx, Model, NodeIx, StateIx};
use ribstitch::resolve;

const HEAD: &str = r#"
[aircraft]
name = "BW-4 Sandling"
maker = "Brackwater"
revision = 1
date = 2026-05-02
handbook = "BW-4 Pilot's Handbook"

[system.all]
name = "everything"
number = "24"
"#;

/// The model of a text in which names and systems are left out: each table is named after its id.
pub fn model(body: &str) -> Model {
    let text = format!("{HEAD}\n{}", body.lines().map(completed).collect::<Vec<_>>().join("\n"));
    let mut sources = Sources::default();
    let (model, diagnostics) = resolve::load_texts(vec![("model.toml".to_owned(), text)], &mut sources);
    model.unwrap_or_else(|| panic!("{}", findings::human(&diagnostics, &sources, false)))
}

fn completed(line: &str) -> String {
    let path: Vec<&str> = line.trim().trim_matches(['[', ']']).split('.').collect();
    let is_table = line.trim().starts_with('[');
    match path.as_slice() {
        ["item", id] if is_table => format!("{line}\nname = \"{}\"\nsystem = \"all\"", id.replace('-', " ")),
        ["item", id, "function", f] if is_table => format!("{line}\nname = \"{} of {id}\"", f.replace('-', " ")),
        ["given" | "state" | "information" | "alert", id] if is_table => {
            format!("{line}\nname = \"{} {}\"", path[0], id.replace('-', " "))
        }
        _ => line.to_owned(),
    }
}

/// The state of that id.
pub fn state(model: &Model, id: &str) -> StateIx {
    model.find_state(id).unwrap_or_else(|| panic!("no state {id}"))
}

/// The fault of that id.
pub fn fault(model: &Model, id: &str) -> FaultIx {
    model.find_fault(id).unwrap_or_else(|| panic!("no fault {id}"))
}

/// Ids of nodes, with spaces between.
pub fn ids<'a>(model: &Model, nodes: impl IntoIterator<Item = &'a NodeIx>) -> String {
    nodes.into_iter().map(|n| model[*n].id.as_str()).collect::<Vec<_>>().join(" ")
}
