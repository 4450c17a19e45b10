//! What is computed, held against values from outside the project. Each check names its source; `sources.md` lists them all.
mod air_data;
mod clocks;
mod colours;
mod electrical;
mod engine;
mod fuel;
mod inspections;
mod loads;
mod pitot_static;
mod resets;
mod trees;
mod units;

use ribstitch::analyse::answer::{Effects, Question};
use ribstitch::analyse::network::Analysis;
use ribstitch::base::Sources;
use ribstitch::model::Model;
use ribstitch::resolve;
use std::path::Path;

/// The demo.
fn sandling() -> Model {
    let (model, said) = resolve::load(Path::new("aircraft/sandling"), &mut Sources::default());
    model.unwrap_or_else(|| panic!("{said:?}"))
}

/// What one fault does in the reference state.
fn effects(model: &Model, fault: &str) -> Effects {
    let fault = model.find_fault(fault).unwrap_or_else(|| panic!("no fault `{fault}`"));
    Analysis::new(model).effects(&Question::faults(model.reference_state.unwrap(), vec![fault]))
}

/// Rows of a table under `data`: without its comments and its heading.
fn rows(name: &str) -> Vec<Vec<String>> {
    let path = Path::new("tests/outside/data").join(name);
    let text = std::fs::read_to_string(path).unwrap();
    let rows = text.lines().filter(|l| !l.starts_with('#')).skip(1);
    rows.map(|l| l.split(',').map(str::to_owned).collect()).collect()
}
