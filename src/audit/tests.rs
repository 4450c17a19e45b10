//! The plain solver on small models whose answers a mechanic can work out by hand (common practice, no source).

use std::collections::{BTreeMap, BTreeSet};

use super::{Effects, FaultName, Inquiry, Lapse, Move, Pairs, PlainModel, Target};

type Tested = Result<(), String>;

/// Bus, breaker, lamp, an alternator that feeds its own field, and an engine that keeps its own shaft turning.
const ELECTRIC: &str = r#"
[given.airflow]
normally = true
[given.hand-propping]
normally = false
[item.battery]
kind = "battery"
gives = "electricity"
lasts = "30 min"
kept-by = [{ from = "alternator", through = ["alternator-half"] }]
[item.battery-half]
kind = "switch"
positions = ["off", "on"]
reachable = "in flight"
[item.alternator-half]
kind = "switch"
positions = ["off", "on"]
off-with = "battery-half"
reachable = "in flight"
resets = ["overvoltage-relay"]
[item.key]
kind = "key-switch"
positions = ["off", "both", "start"]
conducts-in = ["both", "start"]
springs-to = { start = "both" }
never-offer = ["off", "start"]
reachable = "in flight"
[item.contactor]
kind = "contactor"
gives = "electricity"
needs = [{ from = "battery", through = ["battery-half"] }]
[item.overvoltage-relay]
kind = "relay"
gives = "electricity"
[item.overvoltage-relay.fault.surge]
trips = ["overvoltage-relay"]
transient = true
[item.main-bus]
kind = "bus"
gives = "electricity"
needs = [{ any = [{ from = "battery", through = ["contactor"] }, { from = "alternator", through = ["overvoltage-relay"] }] }]
[item.breaker-lamp]
kind = "breaker"
positions = ["in", "out"]
conducts-in = ["in"]
reachable = "in flight"
pull = true
[item.lamp]
kind = "lamp"
needs = [{ from = "main-bus", through = ["breaker-lamp"] }]
on-loss = { electricity = { looks = "dark", text = "It goes dark." } }
[item.lamp.fault.shorted]
loses = ["lamp"]
trips = ["breaker-lamp"]
[item.starter]
kind = "starter"
needs = [{ from = "main-bus" }, { when = { key = ["start"] } }]
[item.crankshaft]
kind = "shaft"
gives = "rotation"
needs = [{ any = [{ from = "starter" }, { from = "airflow" }, { from = "engine", sustained = true }, { from = "hand-propping" }] }]
[item.magneto]
kind = "magneto"
needs = [{ from = "crankshaft" }, { when = { key = ["both", "start"] } }]
[item.magneto.fault.ground-lead]
ignores = ["key"]
hazard = [{ text = "The engine may fire when the propeller is moved.", level = "warning", when = { key = ["off"] } }]
[item.engine]
kind = "engine"
gives = "power"
needs = [{ from = "crankshaft" }, { from = "magneto" }]
[item.alternator]
kind = "alternator"
gives = "electricity"
needs = [{ from = "crankshaft" }, { from = "main-bus", through = ["alternator-half", "overvoltage-relay"], sustained = true }]
[item.low-voltage-light]
kind = "light"
[alert.low-voltage]
on = "low-voltage-light"
watches = [{ from = "alternator" }]
needs = [{ from = "main-bus" }]
[state.secured]
on-ground = true
givens = { airflow = false }
[state.starting]
after = "secured"
on-ground = true
controls = { battery-half = "on", alternator-half = "on", key = "start" }
[state.running]
after = "starting"
on-ground = true
reached-if = ["engine"]
[state.cruise]
after = "running"
in-flight = true
givens = { airflow = true }
[state.parked-turning]
on-ground = true
givens = { airflow = false, hand-propping = true }
"#;

/// Pitot and static lines, suction, and what the pilot reads from them.
const INSTRUMENTS: &str = r#"
[given.outside-air]
normally = true
[item.static-line]
kind = "line"
gives = "static-pressure"
needs = [{ from = "outside-air" }]
[item.alternate-static]
kind = "valve"
positions = ["shut", "open"]
conducts-in = ["open"]
reachable = "in flight"
[item.altimeter]
kind = "instrument"
needs = [{ any = [
  { from = "outside-air", through = ["static-line"] },
  { from = "outside-air", through = ["alternate-static"], approximate = "The altimeter reads high." },
] }]
tells = [{ information = "altitude", how = "directly" }]
[item.pump-1]
kind = "pump"
gives = "suction"
[item.pump-2]
kind = "pump"
gives = "suction"
[item.suction-gauge]
kind = "gauge"
senses = [{ from = "pump-1", through = ["suction-line"] }]
[item.suction-line]
kind = "line"
[item.attitude]
kind = "instrument"
needs = [{ any = [{ from = "pump-1" }, { from = "pump-2" }] }]
tells = [{ information = "bank", how = "directly" }]
on-loss = { suction = { looks = "wanders", text = "It wanders." } }
[item.turn]
kind = "instrument"
tells = [{ information = "bank", how = "indirectly" }]
[item.sensor-a]
kind = "sensor"
[item.sensor-b]
kind = "sensor"
[item.sensor-c]
kind = "sensor"
[item.computer]
kind = "computer"
needs = [{ at-least = 2, of = [{ from = "sensor-a" }, { from = "sensor-b" }, { from = "sensor-c" }] }]
[item.fuel-pump]
kind = "pump"
gives = "fuel"
needs = [{ from = "pump-2" }]
[item.fuel-pump.function.passage]
[item.fuel-pump.fault.seized]
loses = ["passage"]
[item.carburettor]
kind = "carburettor"
needs = [{ from = "outside-air", through = ["fuel-pump.passage"] }]
[item.oil-line]
kind = "line"
[item.oil-line.fault.broken]
leads-to = { what = "sump:fails", in = "10 min" }
cue = "Oil is seen on the cowling."
[item.sump]
kind = "tank"
[item.oil-gauge]
kind = "gauge"
needs = [{ from = "sump" }]
[information.bank]
name = "bank"
prefer = ["attitude", "turn"]
[state.cruise]
in-flight = true
"#;

fn set(ids: &[&str]) -> BTreeSet<String> {
    ids.iter().map(|id| (*id).to_owned()).collect()
}

fn effects(text: &str, state: &str, fault: &str) -> Result<Effects, String> {
    PlainModel::read(text)?.effects(state, &[FaultName::from_text(fault)], false)
}

fn works(text: &str, state: &str, faults: &[&str], cold: bool) -> Result<BTreeSet<String>, String> {
    let faults: Vec<FaultName> = faults.iter().map(|f| FaultName::from_text(f)).collect();
    Ok(PlainModel::read(text)?.solve_state(state, &faults, cold)?.works)
}

fn moved(control: &str, to: &str) -> Move {
    Move { control: control.to_owned(), to: to.to_owned(), cycle: false }
}

/// A shorthand model of items without a panel; `more` is added to it.
fn with(base: &str, more: &str) -> String {
    format!("{base}\n{more}")
}

#[test]
fn a_lamp_hangs_on_bus_and_breaker() -> Tested {
    let on = works(ELECTRIC, "cruise", &[], false)?;
    assert!(on.is_superset(&set(&["battery", "main-bus", "lamp", "alternator", "engine"])));
    assert!(!works(ELECTRIC, "secured", &[], false)?.contains("lamp"));
    let found = effects(ELECTRIC, "cruise", "lamp:shorted")?;
    assert_eq!((found.lost.len(), found.named), (0, set(&["breaker-lamp", "lamp"])));
    assert!(found.restored_by.is_empty());
    let found = effects(ELECTRIC, "cruise", "breaker-lamp")?;
    assert_eq!((found.lost, found.how_you_know.as_str()), (set(&["lamp"]), "instrument"));
    Ok(())
}

#[test]
fn an_alternator_on_line_keeps_its_own_field() -> Tested {
    let without = works(ELECTRIC, "cruise", &["battery"], false)?;
    assert!(without.contains("alternator") && without.contains("main-bus") && !without.contains("contactor"));
    assert!(!PlainModel::read(ELECTRIC)?.solve_state("cruise", &[FaultName::from_text("battery")], true)?.reached);
    Ok(())
}

#[test]
fn a_failed_alternator_is_shown_and_leaves_the_battery_alone() -> Tested {
    let found = effects(ELECTRIC, "cruise", "alternator")?;
    assert!(found.lost.is_empty());
    assert_eq!((found.alerts, found.how_you_know.as_str()), (set(&["low-voltage"]), "alert"));
    assert!(found.no_backup.contains(&(Target::Bus("main-bus".into()), FaultName::from_text("battery"))));
    assert!(!found.no_backup.contains(&(Target::Bus("main-bus".into()), FaultName::from_text("main-bus"))));
    assert_eq!(found.lost_later.get("battery"), Some(&Lapse::Minutes(30.0)));
    assert_eq!(found.lost_later.get("lamp"), Some(&Lapse::Minutes(30.0)));
    Ok(())
}

#[test]
fn a_store_being_spent_anyway_is_not_lost_later_by_the_fault() -> Tested {
    let text =
        with(ELECTRIC, "[state.half]\nlike = \"cruise\"\nin-flight = true\ncontrols = { alternator-half = \"off\" }");
    assert!(effects(&text, "half", "lamp")?.lost_later.is_empty());
    Ok(())
}

#[test]
fn an_engine_turns_on_its_own_until_it_loses_its_spark() -> Tested {
    let running = works(ELECTRIC, "running", &[], false)?;
    assert!(running.contains("engine") && !running.contains("starter"));
    let stopped = works(ELECTRIC, "running", &["magneto"], false)?;
    assert!(!stopped.contains("engine") && !stopped.contains("crankshaft"));
    let windmilling = works(ELECTRIC, "cruise", &["magneto"], false)?;
    assert!(!windmilling.contains("engine") && windmilling.contains("crankshaft"));
    Ok(())
}

#[test]
fn a_key_springs_back_from_start() -> Tested {
    let text = with(ELECTRIC, "[state.held]\nlike = \"starting\"\non-ground = true");
    assert!(works(&text, "held", &[], false)?.contains("starter"));
    assert!(!works(&text, "running", &[], false)?.contains("starter"));
    Ok(())
}

#[test]
fn a_state_is_reached_only_with_what_it_asks_for() -> Tested {
    let model = PlainModel::read(ELECTRIC)?;
    let flat = [FaultName::from_text("battery")];
    assert!(model.solve_state("starting", &flat, true)?.reached);
    let answer = model.solve_state("running", &flat, true)?;
    assert!(!answer.reached && answer.works.is_empty());
    assert!(!model.effects("running", &flat, true)?.reached);
    Ok(())
}

#[test]
fn an_alternator_half_is_off_with_the_battery_half() -> Tested {
    let model = PlainModel::read(ELECTRIC)?;
    let positions = BTreeMap::from([("battery-half", "off"), ("alternator-half", "on"), ("key", "both")]);
    let positions = positions.into_iter().map(|(c, p)| (c.to_owned(), p.to_owned())).collect();
    let start = model.solve_state("cruise", &[], false)?.works;
    let now = model.solve_situation(&positions, &BTreeMap::new(), &[], Some(&start))?;
    assert!(now.works.contains("engine") && !now.works.contains("alternator") && !now.works.contains("main-bus"));
    Ok(())
}

#[test]
fn a_contactor_needs_its_coil_and_a_welded_one_does_not() -> Tested {
    let text =
        with(ELECTRIC, "[item.contactor.fault.welded]\nignores = [\"battery-half\"]\nhazard = \"It stays live.\"");
    assert!(!works(&text, "secured", &[], false)?.contains("main-bus"));
    assert!(works(&text, "secured", &["contactor:welded"], false)?.contains("main-bus"));
    assert!(!works(&text, "cruise", &["contactor", "alternator"], false)?.contains("main-bus"));
    Ok(())
}

#[test]
fn a_broken_ground_lead_is_silent_in_flight_and_a_hazard_when_parked() -> Tested {
    let found = effects(ELECTRIC, "cruise", "magneto:ground-lead")?;
    assert!(found.silent && found.lost.is_empty() && found.hazards.is_empty() && found.runs_unasked.is_empty());
    let found = effects(ELECTRIC, "parked-turning", "magneto:ground-lead")?;
    assert_eq!(found.runs_unasked, set(&["magneto", "engine"]));
    assert_eq!(found.hazards.first().and_then(|h| h.ends.get("key")), Some(&set(&["both", "start"])));
    assert!(found.restored_by.is_empty() && found.stopped_by.is_empty());
    Ok(())
}

#[test]
fn pulling_a_breaker_stops_a_runaway() -> Tested {
    let text = r#"
[item.bus]
kind = "bus"
[item.breaker-trim]
kind = "breaker"
pull = true
reachable = "in flight"
[item.trim-switch]
kind = "switch"
[item.trim]
kind = "motor"
needs = [{ from = "bus", through = ["breaker-trim", "trim-switch"] }]
[item.trim.fault.runs]
ignores = ["trim-switch"]
hazard = "The nose may be driven up or down."
[state.cruise]
in-flight = true
"#;
    let found = effects(text, "cruise", "trim:runs")?;
    let stops: Vec<_> = found.stopped_by.iter().map(|r| (r.moves.clone(), r.mends.clone())).collect();
    assert_eq!(stops, vec![(BTreeSet::from([moved("breaker-trim", "out")]), set(&["trim"]))]);
    Ok(())
}

#[test]
fn a_cycle_mends_a_transient_fault() -> Tested {
    let found = effects(ELECTRIC, "cruise", "overvoltage-relay:surge")?;
    assert_eq!(found.lost, set(&["alternator"]));
    let cycle = Move { control: "alternator-half".into(), to: "on".into(), cycle: true };
    let moves: Vec<_> = found.restored_by.iter().map(|r| r.moves.clone()).collect();
    assert_eq!(moves, vec![BTreeSet::from([cycle])]);
    let lasting = ELECTRIC.replace("transient = true", "transient = false");
    assert!(effects(&lasting, "cruise", "overvoltage-relay:surge")?.restored_by.is_empty());
    Ok(())
}

#[test]
fn a_blocked_static_line_misleads_silently_and_the_alternate_is_approximate() -> Tested {
    let found = effects(INSTRUMENTS, "cruise", "static-line")?;
    assert_eq!(found.misleading, set(&["altimeter", "static-line"]));
    assert!(found.silent && found.lost.is_empty());
    assert_eq!(found.still_tells.get("altitude").map(Vec::len), Some(0));
    let remedies: Vec<_> = found.restored_by.iter().map(|r| (r.moves.clone(), r.approximately.clone())).collect();
    assert_eq!(remedies, vec![(BTreeSet::from([moved("alternate-static", "open")]), set(&["altimeter"]))]);
    Ok(())
}

#[test]
fn a_gauge_tells_of_what_it_senses_unless_its_line_is_blocked() -> Tested {
    let found = effects(INSTRUMENTS, "cruise", "pump-1")?;
    assert_eq!((found.gauges, found.how_you_know.as_str()), (set(&["suction-gauge"]), "gauge"));
    assert_eq!(effects(INSTRUMENTS, "cruise", "suction-line")?.lost, set(&["suction-gauge"]));
    Ok(())
}

#[test]
fn the_second_pump_now_carries_the_suction_alone() -> Tested {
    let found = effects(INSTRUMENTS, "cruise", "pump-1")?;
    let pair = |target, fault| found.no_backup.contains(&(target, FaultName::from_text(fault)));
    assert!(pair(Target::Medium("suction".into()), "pump-2"));
    assert!(!pair(Target::Information("bank".into()), "pump-2"), "the turn coordinator still tells it");
    let found = effects(INSTRUMENTS, "cruise", "turn")?;
    assert!(found.no_backup.contains(&(Target::Information("bank".into()), FaultName::from_text("attitude"))));
    Ok(())
}

#[test]
fn bank_is_still_told_indirectly() -> Tested {
    let model = PlainModel::read(INSTRUMENTS)?;
    let pumps = ["pump-1", "pump-2"].map(FaultName::from_text);
    let found = Inquiry::new(&model, "cruise", false, Pairs::Skip)?.effects(&pumps)?;
    let sources: Vec<_> =
        found.still_tells.get("bank").into_iter().flatten().map(|s| (s.node.as_str(), s.indirectly)).collect();
    assert_eq!(sources, vec![("turn", true)]);
    assert!(found.instruments.is_empty(), "what wanders looks alive");
    Ok(())
}

#[test]
fn two_of_three_sensors_are_enough() -> Tested {
    assert!(works(INSTRUMENTS, "cruise", &["sensor-a"], false)?.contains("computer"));
    assert!(!works(INSTRUMENTS, "cruise", &["sensor-a", "sensor-c"], false)?.contains("computer"));
    Ok(())
}

#[test]
fn fuel_passes_a_pump_that_stands_still() -> Tested {
    let still = works(INSTRUMENTS, "cruise", &["pump-2"], false)?;
    assert!(!still.contains("fuel-pump") && !still.contains("fuel-pump.passage") && still.contains("carburettor"));
    assert!(!works(INSTRUMENTS, "cruise", &["fuel-pump:seized"], false)?.contains("carburettor"));
    assert!(!works(INSTRUMENTS, "cruise", &["fuel-pump"], false)?.contains("carburettor"));
    Ok(())
}

#[test]
fn a_broken_oil_line_empties_the_sump_later() -> Tested {
    let found = effects(INSTRUMENTS, "cruise", "oil-line:broken")?;
    let later =
        BTreeMap::from([("sump".to_owned(), Lapse::Minutes(10.0)), ("oil-gauge".to_owned(), Lapse::Minutes(10.0))]);
    assert_eq!((found.lost_later, found.how_you_know.as_str()), (later, "cue"));
    Ok(())
}

const TWO_SWITCHES: &str = r#"
[item.source]
kind = "battery"
[item.standby]
kind = "battery"
[item.tie]
kind = "switch"
positions = ["off", "on"]
reachable = "in flight"
[item.selector]
kind = "selector"
positions = ["a", "b"]
conducts-in = ["a", "b"]
reachable = "in flight"
[item.bus]
kind = "bus"
needs = [{ any = [{ from = "source", when = { selector = ["a"] } }, { from = "standby", through = ["tie"], when = { selector = ["b"] } }] }]
[item.fan]
kind = "motor"
needs = [{ any = [{ from = "standby", when = { selector = ["a"] } }, { from = "standby", through = ["tie"] }] }]
[state.cruise]
in-flight = true
"#;

#[test]
fn two_moves_restore_in_an_order_that_loses_nothing() -> Tested {
    // The selector alone would stop the fan on the way, so the tie has to come first.
    let found = effects(TWO_SWITCHES, "cruise", "source")?;
    let both = BTreeSet::from([moved("tie", "on"), moved("selector", "b")]);
    let remedies: Vec<_> = found.restored_by.iter().map(|r| (r.moves.clone(), r.mends.clone())).collect();
    assert_eq!(remedies, vec![(both, set(&["bus"]))]);
    let out_of_reach = TWO_SWITCHES.replacen("\"in flight\"", "\"no\"", 1);
    assert!(effects(&out_of_reach, "cruise", "source")?.restored_by.is_empty());
    Ok(())
}

#[test]
fn faults_are_asked_where_they_apply() -> Tested {
    let text = with(
        INSTRUMENTS,
        "[item.turn.fault.cold]\nasked = \"on the ground\"\nloses = [\"turn\"]\n[state.ramp]\non-ground = true",
    );
    let model = PlainModel::read(&text)?;
    let cold = FaultName::from_text("turn:cold");
    assert!(model.all_faults("ramp")?.contains(&cold) && !model.all_faults("cruise")?.contains(&cold));
    let secured = PlainModel::read(ELECTRIC)?.all_faults("secured")?;
    assert!(!secured.contains(&FaultName::from_text("airflow")) && secured.contains(&FaultName::from_text("lamp")));
    Ok(())
}

#[test]
fn what_is_missing_or_wrong_is_named_by_its_place() {
    let refused = |text: &str| PlainModel::read(text).err().unwrap_or_default();
    assert_eq!(refused("[item.a]"), "item.a.kind: missing");
    assert!(refused("[item.a]\nkind = \"lamp\"\nneeds = [\"b\"]").starts_with("item.a.needs[0]: expected a table"));
    assert!(
        refused("[item.a]\nkind = \"lamp\"\nneeds = [{ from = \"b\" }]").starts_with("item.a.needs[0].from: no item")
    );
    assert!(refused("[item.a]\nkind = \"valve\"\npositions = [\"x\"]").starts_with("item.a.conducts-in: missing"));
    assert!(refused("[state.a]\nafter = \"b\"\n[state.b]\nafter = \"a\"").contains("comes after itself"));
    let fault = "[item.a]\nkind = \"lamp\"\n[item.a.fault.b]\n";
    assert_eq!(refused(&format!("{fault}shows = [\"c\"]")), "fault a:b: no alert is called \"c\"");
    assert_eq!(refused(&format!("{fault}leads-to = \"c\"")), "fault a:b: leads to \"c:fails\", which is no fault");
    assert!(refused("= 1").starts_with("the model is not TOML"));
}

#[test]
fn a_ring_of_controls_off_with_each_other_ends() -> Tested {
    let control = |id: &str, with: &str| format!("[item.{id}]\nkind = \"switch\"\noff-with = \"{with}\"\n");
    let text = control("a", "b") + &control("b", "a") + "[state.s]\ncontrols = { a = \"on\", b = \"on\" }";
    assert_eq!(works(&text, "s", &[], false)?, set(&["a", "b"]));
    Ok(())
}

#[test]
fn a_fault_may_show_an_alert_that_can_show_and_hide_another() -> Tested {
    let fault = "[item.alternator.fault.sensing]\nloses = [\"alternator\"]\nhides = [\"low-voltage\"]\n";
    let found = effects(&with(ELECTRIC, fault), "cruise", "alternator:sensing")?;
    assert!(found.alerts.is_empty() && found.silent);
    assert_eq!(found.no_longer_warns, set(&["low-voltage"]));
    let fault = "[item.lamp.fault.smokes]\nshows = [\"low-voltage\"]\n";
    assert_eq!(effects(&with(ELECTRIC, fault), "cruise", "lamp:smokes")?.alerts, set(&["low-voltage"]));
    assert!(effects(&with(ELECTRIC, fault), "secured", "lamp:smokes")?.silent, "the light has no feed");
    Ok(())
}

#[test]
fn an_unknown_fault_or_state_is_an_error() -> Tested {
    let model = PlainModel::read(INSTRUMENTS)?;
    assert!(model.solve_state("cruise", &[FaultName::from_text("nothing")], false).is_err());
    assert!(model.effects("nowhere", &[], false).is_err());
    Ok(())
}
