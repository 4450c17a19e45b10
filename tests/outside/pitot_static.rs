//! Blocked pitot and static openings on the demo.
//!
//! # Source
//! FAA-H-8083-25, chapter on flight instruments (reprint read): ram hole blocked with the drain open, airspeed falls to zero; both
//! blocked, it rises in a climb and falls in a descent, altimeter and vertical speed indicator unaffected; static blocked,
//! altimeter frozen, vertical speed zero, airspeed low above and high below the level where it blocked; alternate static in an
//! unpressurised cabin, altimeter slightly high, airspeed high, a momentary climb.

use super::{effects, sandling};
use ribstitch::analyse::answer::{Affected, Effects};
use ribstitch::model::{Looks, LossOf, Model};

const STATIC_ONLY: [&str; 2] = ["altimeter", "vertical-speed-indicator"];

fn is_among(model: &Model, list: &[Affected], id: &str) -> bool {
    list.iter().any(|a| a.node == model.find_node(id).unwrap())
}

fn untouched(model: &Model, effects: &Effects, id: &str) -> bool {
    !is_among(model, &effects.lost, id) && !is_among(model, &effects.misleads, id)
}

/// How an instrument looks without a medium.
fn looks(model: &Model, id: &str, medium: &str) -> (Looks, String) {
    let medium = model.find_medium(medium).unwrap();
    let look = model[model.find_node(id).unwrap()].on_loss.iter().find(|l| l.of == LossOf::Medium(medium));
    let look = look.unwrap_or_else(|| panic!("`{id}` says nothing of it"));
    (look.looks, look.text.clone().unwrap_or_default())
}

#[test]
fn with_the_ram_hole_blocked_and_the_drain_open_the_airspeed_falls_to_zero() {
    let model = sandling();
    let found = effects(&model, "pitot-mast:fails");
    assert!(is_among(&model, &found.lost, "airspeed-indicator"));
    assert_eq!(looks(&model, "airspeed-indicator", "pitot-pressure").0, Looks::Zero);
    assert!(STATIC_ONLY.iter().all(|id| untouched(&model, &found, id)));
}

#[test]
fn with_ram_hole_and_drain_blocked_the_airspeed_is_false_and_the_others_are_not() {
    let model = sandling();
    let found = effects(&model, "pitot-mast:closes");
    assert!(is_among(&model, &found.misleads, "airspeed-indicator"));
    assert!(STATIC_ONLY.iter().all(|id| untouched(&model, &found, id)));
}

#[test]
fn with_the_static_line_blocked_all_three_are_false_and_nothing_tells() {
    let model = sandling();
    let found = effects(&model, "static-line:fails");
    for id in ["airspeed-indicator", "altimeter", "vertical-speed-indicator"] {
        assert!(is_among(&model, &found.misleads, id), "{id}");
    }
    assert!(found.is_silent());
    assert_eq!(looks(&model, "altimeter", "static-pressure").0, Looks::Freezes);
    let (rate, text) = looks(&model, "vertical-speed-indicator", "static-pressure");
    assert!(rate == Looks::Centred && text.contains("zero"), "{text}");
}

#[test]
fn the_alternate_static_source_gives_them_back_reading_high() {
    let model = sandling();
    let found = effects(&model, "static-line:fails");
    let valve = model.find_item("alternate-static").unwrap();
    let restore =
        found.restores.iter().find(|r| r.moves.iter().all(|m| m.control == valve)).expect("the valve restores");
    for id in ["airspeed-indicator", "altimeter", "vertical-speed-indicator"] {
        assert!(restore.approximate.contains(&model.find_node(id).unwrap()), "{id}");
    }
    let said: Vec<&str> = model
        .nodes
        .iter()
        .flat_map(|n| &n.needs)
        .flat_map(|n| n.feeds())
        .filter_map(|f| f.approximate.as_deref())
        .collect();
    assert!(said.iter().any(|s| s.contains("altimeter") && s.contains("airspeed") && s.contains("high")), "{said:?}");
}

/// What an instrument says of a medium that is false.
fn false_text(model: &Model, id: &str, medium: &str) -> String {
    let medium = model.find_medium(medium).unwrap();
    let look = model[model.find_node(id).unwrap()].on_false.iter().find(|l| l.of == LossOf::Medium(medium));
    look.unwrap_or_else(|| panic!("`{id}` says nothing of it")).text.clone()
}

#[test]
fn trapped_pressure_reads_as_the_handbook_says() {
    let model = sandling();
    let airspeed = |medium| false_text(&model, "airspeed-indicator", medium);
    let trapped = airspeed("static-pressure");
    let (low, high) = (trapped.find("low above"), trapped.find("high below"));
    assert!(low.is_some() && low < high, "{trapped}");
    let ram = airspeed("pitot-pressure");
    assert!(ram.contains("rises in a climb") && ram.contains("falls in a descent"), "{ram}");
    assert!(false_text(&model, "altimeter", "static-pressure").contains("stay at the altitude"));
    assert!(false_text(&model, "vertical-speed-indicator", "static-pressure").contains("zero"));
}
