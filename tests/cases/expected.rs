//! What a mechanic expects of each aircraft, written by hand beside the models before any solver was there, held against the answers.
//!
//! Keys and their meaning stand at the top of `tests/fixtures/sandling-expected.toml`.

use crate::support::expectations::{differences, read};
use std::path::Path;

/// Every expectation of a file, held against a model.
fn hold(aircraft: &str, expected: &str, at_least: usize) {
    let expectations = read(Path::new(expected));
    assert!(expectations.len() >= at_least, "only {} expectations", expectations.len());
    let wrong = differences(aircraft, &[(expected.to_owned(), expectations)]);
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn the_sandling_is_as_a_mechanic_expects() {
    hold("aircraft/sandling", "tests/fixtures/sandling-expected.toml", 100);
}

#[test]
fn the_tail_with_two_radios_is_as_a_mechanic_expects() {
    hold("aircraft/sandling/tails/fm-104.toml", "tests/fixtures/fm-104-expected.toml", 4);
}

#[test]
fn an_aircraft_started_by_hand_is_as_a_mechanic_expects() {
    hold("tests/fixtures/wiring/hand-start", "tests/fixtures/wiring/hand-start-expected.toml", 5);
}

#[test]
fn an_essential_bus_is_as_a_mechanic_expects() {
    hold("tests/fixtures/wiring/essential-bus", "tests/fixtures/wiring/essential-bus-expected.toml", 5);
}

#[test]
fn a_twin_is_as_a_mechanic_expects() {
    hold("tests/fixtures/wiring/twin", "tests/fixtures/wiring/twin-expected.toml", 5);
}

#[test]
fn an_electronic_display_is_as_a_mechanic_expects() {
    hold("tests/fixtures/wiring/display", "tests/fixtures/wiring/display-expected.toml", 5);
}
