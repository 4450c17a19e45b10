//! What a mechanic expects of every system of the whole Sandling, a file a system, held against the answers.
//!
//! The files were written from the trade before any answer was looked at. An item, a fault, a control or a position that they name and
//! the model has not is wrong here, not passed over.

use crate::support::expectations::{differences, faults_asked, read};
use std::path::{Path, PathBuf};
use toml::Table;

/// Faults that the files ask about together, at least.
const AT_LEAST: usize = 200;
/// The systems, by the names of their files.
const SYSTEMS: [&str; 15] = [
    "cabin-air",
    "electrical",
    "elt",
    "engine",
    "flaps",
    "flight-instruments",
    "fuel",
    "ignition",
    "lights",
    "oil",
    "pitot-static",
    "radios",
    "starting",
    "suction",
    "trim",
];

fn files() -> Vec<(String, Vec<Table>)> {
    let here = walkdir::WalkDir::new("tests/aircraft").sort_by_file_name().into_iter().flatten();
    let named = |p: &Path| p.file_stem().and_then(|s| s.to_str()).unwrap().to_owned();
    let files = here.map(walkdir::DirEntry::into_path).filter(|p: &PathBuf| p.extension().is_some_and(|e| e == "toml"));
    files.map(|p| (named(&p), read(&p))).collect()
}

#[test]
fn each_system_has_its_expectations() {
    let files = files();
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, SYSTEMS);
    let all: Vec<Table> = files.into_iter().flat_map(|(_, list)| list).collect();
    let faults = faults_asked(&all);
    assert!(faults.len() >= AT_LEAST, "only {} faults", faults.len());
}

#[test]
fn the_whole_aircraft_is_as_a_mechanic_expects() {
    let wrong = differences("aircraft/sandling", &files());
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}
