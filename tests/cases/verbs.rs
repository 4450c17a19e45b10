//! The verbs as a person calls them, on the demo: what a mechanic and an instructor expect of the Sandling.

use crate::program::{all, call, whatif};
use serde_json::Value;

fn ids(answer: &Value, list: &str) -> Vec<String> {
    all(&answer[list], "id")
}

fn has(answer: &Value, list: &str, id: &str) -> bool {
    ids(answer, list).iter().any(|i| i == id)
}

fn shown(answer: &Value) -> Vec<String> {
    all(&answer["shows"], "alert")
}

fn tellers(answer: &Value, information: &str) -> Vec<(String, String)> {
    let told = answer["still_tells"].as_array().unwrap().iter().find(|t| t["information"] == information);
    let told = told.unwrap_or_else(|| panic!("nothing of `{information}` in {answer:#}"));
    let sources = told["sources"].as_array().unwrap();
    sources.iter().map(|s| (s["id"].as_str().unwrap().to_owned(), s["how"].as_str().unwrap().to_owned())).collect()
}

#[test]
fn vacuum_pump_takes_the_suction_gyros_and_not_the_electric_one() {
    let answer = whatif("--fail vacuum-pump --state cruise");
    assert!(has(&answer, "lost", "attitude-indicator") && has(&answer, "lost", "heading-indicator"));
    assert!(!has(&answer, "lost", "turn-coordinator"));
    let bank = tellers(&answer, "bank");
    assert!(bank.contains(&("turn-coordinator".to_owned(), "indirectly".to_owned())), "{bank:?}");
    let shows = shown(&answer);
    assert!(shows.iter().any(|s| s == "suction-gauge"), "{shows:?}");
    let kinds = all(&answer["shows"], "kind");
    assert!(kinds.contains(&"alert".to_owned()) && kinds.contains(&"gauge".to_owned()), "{kinds:?}");
    assert_eq!((answer["how_you_know"].as_str(), answer["silent"].as_bool()), (Some("alert"), Some(false)));
}

#[test]
fn alternator_takes_no_instrument_and_leaves_the_battery_alone() {
    let answer = whatif("--fail alternator");
    let instruments =
        ["attitude-indicator", "heading-indicator", "turn-coordinator", "airspeed-indicator", "altimeter"];
    assert!(instruments.iter().all(|i| !has(&answer, "lost", i)));
    let shows = shown(&answer);
    assert!(shows.iter().any(|s| s == "ammeter") || shows.iter().any(|s| s.contains("charge")), "{shows:?}");
    assert!(shows.iter().any(|s| s.contains("volt")), "{shows:?}");
    let pairs = answer["no_backup"].as_array().unwrap();
    let battery =
        pairs.iter().find(|p| p["next_fault"] == "battery:fails" || p["also"].to_string().contains("battery:fails"));
    let of = battery.unwrap_or_else(|| panic!("{answer:#}"))["of"].to_string();
    assert!(of.contains("main-bus"), "{of}");
}

#[test]
fn battery_lost_in_flight_leaves_the_alternator_and_a_flat_one_gives_no_start() {
    let flying = whatif("--fail battery");
    assert!(!has(&flying, "lost", "alternator") && !has(&flying, "lost", "main-bus"));
    let cold = whatif("--state starting --from cold --fail battery");
    assert!(has(&cold, "lost", "starter"), "{cold:#}");
    assert!(has(&cold, "lost", "engine") || cold["reached"] == false, "{cold:#}");
}

#[test]
fn encoder_takes_the_altitude_and_not_the_code() {
    let answer = whatif("--fail encoder");
    assert!(has(&answer, "lost", "transponder.altitude") && !has(&answer, "lost", "transponder.code"));
}

#[test]
fn static_line_misleads_silently_and_the_alternate_valve_restores_approximately() {
    let answer = whatif("--fail static-line");
    for id in ["airspeed-indicator", "altimeter", "vertical-speed-indicator", "encoder"] {
        assert!(has(&answer, "misleads", id), "{id}: {:?}", ids(&answer, "misleads"));
    }
    assert_eq!(answer["silent"], true);
    let restores = answer["restores"].as_array().unwrap();
    let valve = restores.iter().find(|r| all(&r["moves"], "control") == ["alternate-static"]);
    let valve = valve.unwrap_or_else(|| panic!("{restores:#?}"));
    assert!(valve["what"].to_string().contains("altimeter") && valve["approximate"].to_string().contains("altimeter"));
    let after = whatif("--fail static-line --then alternate-static=open");
    assert!(ids(&after, "misleads").iter().all(|id| id.starts_with("static-")), "{:?}", ids(&after, "misleads"));
    assert!(ids(&after, "approximate").contains(&"altimeter".to_owned()));
}

#[test]
fn main_bus_stops_neither_the_engine_nor_the_suction_instruments() {
    let answer = whatif("--fail main-bus");
    for id in ["engine", "attitude-indicator", "heading-indicator", "vacuum-pump"] {
        assert!(!has(&answer, "lost", id), "{id}");
    }
    assert!(has(&answer, "lost", "com-1"));
}

#[test]
fn one_magneto_stops_nothing_and_both_stop_the_engine() {
    for one in ["magneto-left", "magneto-right"] {
        assert!(!has(&whatif(&format!("--fail {one}")), "lost", "engine"), "{one}");
    }
    assert!(has(&whatif("--fail magneto-left magneto-right"), "lost", "engine"));
}

#[test]
fn secured_has_the_clock_and_the_elt_alone_of_what_is_fed() {
    let states = call(&["states", "sandling", "--json"]).json();
    let works = |state: &str, id: &str| states["states"][state][id] == "works";
    assert!(works("secured", "clock") && works("secured", "elt"));
    for id in ["main-bus", "engine", "com-1", "turn-coordinator", "hour-meter"] {
        assert!(!works("secured", id), "{id}");
    }
    assert!(!works("battery-on", "hour-meter") && works("cruise", "hour-meter"));
}

#[test]
fn a_broken_ground_lead_is_silent_in_cruise_and_runs_a_magneto_in_the_secured_aircraft() {
    let cruise = whatif("--fail ground-lead-left");
    assert_eq!((ids(&cruise, "lost"), cruise["silent"].as_bool()), (Vec::new(), Some(true)));
    let parked = whatif("--fail ground-lead-left --state secured");
    assert_eq!(ids(&parked, "runs_unasked"), ["magneto-left"]);
    assert!(parked["hazards"].as_array().unwrap().iter().any(|h| h["active"] == true));
}

#[test]
fn a_breaker_is_never_closed_again_as_a_remedy() {
    let answer = whatif("--fail turn-coordinator:shorted");
    assert!(
        ids(&answer, "lost").contains(&"turn-coordinator".to_owned())
            || answer["lost"].as_array().is_some_and(Vec::is_empty)
    );
    for restore in answer["restores"].as_array().unwrap() {
        assert!(all(&restore["moves"], "control").iter().all(|c| !c.starts_with("breaker")), "{restore:#}");
    }
}

#[test]
fn half_the_reference_speed_counts_half_the_time() {
    let tach = |legs: &[&str]| {
        let words: Vec<&str> =
            ["tach", "sandling", "--json", "--leg"].into_iter().chain(legs.iter().copied()).collect();
        call(&words).json()
    };
    let half = tach(&["1200:60"]);
    let whole = tach(&["2400:60"]);
    assert_eq!(half["tach_h"].as_f64().unwrap() * 2.0, whole["tach_h"].as_f64().unwrap());
    let both = tach(&["1200:60", "2400:60"]);
    assert_eq!((both["tach_h"].as_f64(), both["clock_h"].as_f64()), (Some(1.5), Some(2.0)));
}

#[test]
fn trace_goes_up_to_the_sources_and_down_to_what_hangs_on_it() {
    let trace = call(&["trace", "sandling", "attitude-indicator", "--json"]).json();
    assert!(trace["media"].to_string().contains("suction"), "{trace:#}");
    assert!(trace["upstream"].to_string().contains("\"vacuum-pump\""));
    let pump = call(&["trace", "sandling", "vacuum-pump", "--json"]).json();
    assert!(pump["downstream"].to_string().contains("\"attitude-indicator\""));
}

/// Each text form ends with the sentence that defers to the approved manual, and none is wider than a terminal.
#[test]
fn text_answers_fit_the_terminal_and_defer_to_the_manual() {
    let calls: [&[&str]; 6] = [
        &["whatif", "sandling", "--fail", "vacuum-pump"],
        &["whatif", "sandling", "--fail", "static-line"],
        &["whatif", "sandling", "--fail", "alternator"],
        &["tach", "sandling", "--leg", "2000:90"],
        &["states", "sandling"],
        &["trace", "sandling", "attitude-indicator"],
    ];
    let notice = ribstitch::doc::TRAINING_AID.rsplit(". ").next().unwrap();
    for arguments in calls {
        let called = call(arguments);
        assert_eq!(called.status, 0, "{}", called.err);
        assert!(called.out.lines().all(|l| l.chars().count() <= 80), "{}", called.out);
        assert!(called.out.trim_end().ends_with(notice), "{}", called.out);
    }
}

/// The text form names everything that the JSON form lists.
#[test]
fn the_text_form_holds_what_the_json_form_holds() {
    for fault in ["vacuum-pump", "static-line", "alternator", "main-bus", "battery"] {
        let json = whatif(&format!("--fail {fault}"));
        let text = call(&["whatif", "sandling", "--fail", fault]).out.split_whitespace().collect::<Vec<_>>().join(" ");
        for list in ["misleads", "lost", "lost_later", "weakened", "runs_unasked"] {
            assert!(ids(&json, list).iter().all(|id| text.contains(&format!("({id})"))), "{fault}: {list}");
        }
        assert!(shown(&json).iter().all(|id| text.contains(&format!("({id})"))), "{fault}");
    }
}

#[test]
fn every_answer_has_its_version_and_fits_its_schema() {
    let schemas = call(&["schema", "answers"]).json();
    let answers = [
        ("whatif", whatif("--fail battery")),
        ("states", call(&["states", "sandling", "--json"]).json()),
        ("trace", call(&["trace", "sandling", "clock", "--json"]).json()),
        ("tach", call(&["tach", "sandling", "--leg", "1:1", "--json"]).json()),
        ("check", call(&["check", "sandling", "--json"]).json()),
    ];
    for (verb, answer) in answers {
        assert_eq!(answer["ribstitch"], 1, "{verb}");
        let properties = schemas[verb]["properties"].as_object().unwrap_or_else(|| panic!("no schema of `{verb}`"));
        assert!(answer.as_object().unwrap().keys().all(|k| properties.contains_key(k)), "{verb}");
        let required = schemas[verb]["required"].as_array().unwrap();
        assert!(required.iter().all(|k| answer.get(k.as_str().unwrap()).is_some()), "{verb}");
    }
}

#[test]
fn what_is_false_or_weakened_says_how_it_shows() {
    let text = |answer: &Value, list: &str, id: &str| {
        let found = answer[list].as_array().unwrap().iter().find(|n| n["id"] == id);
        found.unwrap_or_else(|| panic!("no `{id}` in {answer:#}"))["text"].as_str().map(str::to_owned)
    };
    let line = whatif("--fail static-line");
    assert!(text(&line, "misleads", "altimeter").unwrap().starts_with("The pointers stay"));
    assert!(text(&line, "misleads", "transponder.altitude").unwrap().starts_with("Radar goes on seeing"));
    assert_eq!(text(&line, "misleads", "static-manifold"), None);
    let stuck = whatif("--fail altimeter");
    assert_eq!(text(&stuck, "misleads", "altimeter").as_deref(), Some("The pointers stay where they stood."));
    let both = whatif("--fail static-line --fail altimeter");
    assert_eq!(text(&both, "misleads", "altimeter"), text(&stuck, "misleads", "altimeter"));
    let magneto = whatif("--fail magneto-left");
    assert!(text(&magneto, "weakened", "engine").unwrap().contains("rough"));
}
