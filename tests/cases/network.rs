//! Small networks with all that is expected of them.

use crate::support::models::{fault, ids, model, state};
use ribstitch::analyse::answer::{Effects, HowYouKnow, Indication, Question, Restore, Start, Target};
use ribstitch::analyse::network::Analysis;
use ribstitch::model::{Model, NodeIx};

/// One fault in one state, from running.
fn effects(model: &Model, state_id: &str, fault_id: &str) -> Effects {
    Analysis::new(model).effects(&Question::faults(state(model, state_id), vec![fault(model, fault_id)]))
}

fn cold(model: &Model, state_id: &str, fault_id: &str) -> Effects {
    let mut question = Question::faults(state(model, state_id), vec![fault(model, fault_id)]);
    question.start = Start::Cold;
    Analysis::new(model).effects(&question)
}

/// Ids of what works, but controls, breakers and givens.
fn working(model: &Model, state_id: &str) -> String {
    let analysis = Analysis::new(model);
    let works = &analysis.state(state(model, state_id)).solution.works;
    let is_plain = |n: &&NodeIx| model.item_of(**n).is_some_and(|i| model.control(i).is_none());
    ids(model, works.iter().filter(is_plain))
}

fn lost(model: &Model, effects: &Effects) -> String {
    ids(model, effects.lost.iter().map(|l| &l.node))
}

fn misled(model: &Model, effects: &Effects) -> String {
    ids(model, effects.misleads.iter().map(|l| &l.node))
}

fn because(model: &Model, effects: &Effects, id: &str) -> String {
    let node = model.find_node(id).unwrap();
    let mut all = effects.lost.iter().chain(&effects.misleads);
    ids(model, &all.find(|l| l.node == node).unwrap_or_else(|| panic!("{id} is not touched")).because)
}

/// `what: control=position control=position`, by line.
fn ways(model: &Model, restores: &[Restore]) -> Vec<String> {
    let moved = |m: &ribstitch::analyse::answer::Move| {
        let control = model.control(m.control).unwrap();
        let cycle = if m.from == m.to { "~" } else { "=" };
        format!("{}{cycle}{}", model[m.control].id, control.position(m.to))
    };
    let row = |r: &Restore| {
        let moves: Vec<String> = r.moves.iter().map(moved).collect();
        format!("{}: {}", ids(model, &r.what), moves.join(" "))
    };
    restores.iter().map(row).collect()
}

/// An alternator whose field the main bus feeds, and a split master.
const ALTERNATOR: &str = r#"
[given.engine-turning]
normally = true
gives = "rotation"
[item.battery]
kind = "battery"
gives = "electricity"
lasts = "30 min"
kept-by = ["alternator"]
[item.master-battery]
kind = "switch"
reachable = "in flight"
[item.master-alternator]
kind = "switch"
off-with = "master-battery"
reachable = "in flight"
[item.breaker-field]
kind = "breaker"
reachable = "in flight"
[item.breaker-radio]
kind = "breaker"
reachable = "in flight"
[item.alternator]
kind = "alternator"
gives = "electricity"
needs = ["engine-turning", "main-bus through breaker-field and master-alternator (sustained)"]
[item.main-bus]
kind = "bus"
needs = ["alternator through master-alternator or battery through master-battery"]
[item.com]
kind = "radio"
needs = ["main-bus through breaker-radio"]
on-loss = { electricity = { looks = "dark" } }
[item.low-voltage]
kind = "light"
needs = ["main-bus"]
[alert.low-voltage-light]
on = "low-voltage"
watches = ["alternator"]
needs = ["main-bus"]
[state.secured]
on-ground = true
givens = { engine-turning = false }
[state.battery-on]
after = "secured"
on-ground = true
controls = { master-battery = "on", master-alternator = "on" }
[state.cruise]
after = "battery-on"
in-flight = true
givens = { engine-turning = true }
"#;

#[test]
fn alternator_field_is_kept_by_the_bus_that_it_feeds() {
    let model = model(ALTERNATOR);
    assert_eq!(working(&model, "secured"), "battery");
    assert_eq!(working(&model, "battery-on"), "battery com low-voltage main-bus");
    assert_eq!(working(&model, "cruise"), "alternator battery com low-voltage main-bus");
    let effects = effects(&model, "cruise", "battery");
    assert_eq!(lost(&model, &effects), "", "the alternator stays on line");
    assert!(effects.is_silent());
}

#[test]
fn flat_battery_gives_no_field_from_cold() {
    let model = model(ALTERNATOR);
    let effects = cold(&model, "cruise", "battery");
    assert!(effects.reached);
    assert_eq!(lost(&model, &effects), "alternator com low-voltage main-bus");
    assert_eq!(because(&model, &effects, "com"), "battery main-bus");
}

#[test]
fn lost_field_leaves_the_battery_for_its_time_and_without_backup() {
    let model = model(ALTERNATOR);
    let effects = effects(&model, "cruise", "breaker-field");
    assert_eq!(lost(&model, &effects), "alternator");
    assert_eq!(because(&model, &effects, "alternator"), "breaker-field");
    assert_eq!(effects.shows, [Indication::Alert(model.find_alert("low-voltage-light").unwrap())]);
    assert_eq!(effects.how_you_know, HowYouKnow::Alert);
    let later: Vec<_> = effects.lost_later.iter().map(|l| (model[l.node].id.as_str(), l.in_min)).collect();
    let half_hour = Some(30.0);
    assert_eq!(
        later,
        [("battery", half_hour), ("com", half_hour), ("low-voltage", half_hour), ("main-bus", half_hour)]
    );
    assert!(effects.lost_later.iter().all(|l| ids(&model, &l.because) == "battery"));
    let bus = Target::Bus(model.find_node("main-bus").unwrap());
    let told: Vec<_> = effects.no_backup.iter().map(|n| (n.next.clone(), n.of.clone())).collect();
    let battery = fault(&model, "battery");
    let master = fault(&model, "master-battery");
    assert_eq!(told, [(vec![battery, master], vec![bus])]);
}

#[test]
fn alternator_half_is_off_with_the_battery_half() {
    let model = model(ALTERNATOR);
    let analysis = Analysis::new(&model);
    let mut question = Question::faults(state(&model, "cruise"), vec![]);
    let battery_half = model.find_item("master-battery").unwrap();
    question.then = vec![(battery_half, model.control(battery_half).unwrap().find("off").unwrap())];
    let effects = analysis.effects(&question);
    assert_eq!(lost(&model, &effects), "alternator com low-voltage main-bus");
    assert_eq!(ids(&model, &effects.looks_dead), "com");
    let works: Vec<String> = ways(&model, &effects.restores);
    assert_eq!(works, ["alternator com low-voltage main-bus: master-battery=on"]);
}

/// Everything that the shaft drives hangs on it; the engine keeps it turning, and so does the air.
const CRANKSHAFT: &str = r#"
[given.airflow]
normally = false
gives = "rotation"
[item.starter]
kind = "starter"
gives = "rotation"
needs = ["when key is start"]
[item.key]
kind = "key-switch"
positions = ["off", "both", "start"]
conducts-in = ["both", "start"]
springs-to = { start = "both" }
never-offer = ["off", "start"]
reachable = "in flight"
[item.crankshaft]
kind = "shaft"
gives = "rotation"
needs = ["starter or airflow or engine (sustained)"]
[item.selector]
kind = "selector"
positions = ["off", "left", "right"]
conducts-in = ["left", "right"]
never-offer = ["off"]
gives = "fuel"
reachable = "in flight"
needs = ["tank-left when selector is left, or tank-right when selector is right"]
[item.tank-left]
kind = "tank"
gives = "fuel"
[item.tank-right]
kind = "tank"
gives = "fuel"
[item.magneto-left]
kind = "magneto"
gives = "spark"
needs = ["crankshaft", "when key is both or start"]
[item.magneto-left.fault.ground-lead]
said = "has a broken ground lead"
ignores = ["key"]
found-by = "run-up"
hazard = "The engine can fire when the propeller is moved by hand."
[item.magneto-right]
kind = "magneto"
gives = "spark"
needs = ["crankshaft", "when key is both or start"]
[item.engine]
kind = "engine"
gives = "rotation"
needs = ["crankshaft", "selector", "magneto-left or magneto-right"]
[item.vacuum-pump]
kind = "pump"
gives = "suction"
needs = ["crankshaft"]
[state.secured]
on-ground = true
[state.pulled-through]
like = "secured"
on-ground = true
givens = { airflow = true }
[state.starting]
after = "secured"
on-ground = true
controls = { key = "start", selector = "left" }
[state.running]
after = "starting"
on-ground = true
reached-if = ["engine"]
[state.cruise]
after = "running"
in-flight = true
givens = { airflow = true }
"#;

#[test]
fn crankshaft_is_kept_turning_by_its_engine() {
    let model = model(CRANKSHAFT);
    let turning = "crankshaft engine magneto-left magneto-right";
    assert_eq!(working(&model, "secured"), "tank-left tank-right");
    assert_eq!(working(&model, "starting"), format!("{turning} starter tank-left tank-right vacuum-pump"));
    assert_eq!(working(&model, "running"), format!("{turning} tank-left tank-right vacuum-pump"));
    let analysis = Analysis::new(&model);
    let key = model.find_item("key").unwrap();
    let position = analysis.state(state(&model, "running")).situation.positions[key.usize()];
    assert_eq!(model.control(key).unwrap().position(position).as_str(), "both", "the key springs back");
}

#[test]
fn engine_without_fuel_takes_its_pump_only_when_the_air_does_not_turn_it() {
    let model = model(CRANKSHAFT);
    let on_ground = effects(&model, "running", "tank-left");
    assert_eq!(lost(&model, &on_ground), "crankshaft engine magneto-left magneto-right selector vacuum-pump");
    assert_eq!(because(&model, &on_ground, "vacuum-pump"), "tank-left selector engine crankshaft");
    assert!(ways(&model, &on_ground.restores).iter().all(|w| !w.contains("engine")), "nothing turns it again");
    let in_flight = effects(&model, "cruise", "tank-left");
    assert_eq!(lost(&model, &in_flight), "engine selector");
    assert_eq!(ways(&model, &in_flight.restores), ["engine selector: selector=right"]);
}

#[test]
fn either_magneto_alone_stops_nothing_and_both_stop_the_engine() {
    let model = model(CRANKSHAFT);
    assert_eq!(lost(&model, &effects(&model, "cruise", "magneto-left")), "");
    let both = vec![fault(&model, "magneto-left"), fault(&model, "magneto-right")];
    let effects = Analysis::new(&model).effects(&Question::faults(state(&model, "cruise"), both));
    assert_eq!(lost(&model, &effects), "engine");
}

#[test]
fn engine_that_never_starts_does_not_reach_the_states_after() {
    let model = model(CRANKSHAFT);
    let effects = cold(&model, "cruise", "starter");
    assert!(!effects.reached);
    assert_eq!(lost(&model, &effects), "crankshaft engine magneto-left magneto-right vacuum-pump");
}

#[test]
fn broken_ground_lead_is_silent_in_cruise_and_leaves_a_live_magneto() {
    let model = model(CRANKSHAFT);
    let cruise = effects(&model, "cruise", "magneto-left:ground-lead");
    assert!(cruise.takes_nothing() && cruise.shows.is_empty() && cruise.runs_unasked.is_empty());
    assert_eq!(cruise.how_you_know, HowYouKnow::Nothing);
    let turned = effects(&model, "pulled-through", "magneto-left:ground-lead");
    assert_eq!(ids(&model, &turned.runs_unasked), "magneto-left");
    assert!(turned.stops.is_empty(), "the key no longer stops it");
    assert!(turned.hazards[0].active && turned.hazards[0].ended_by.is_empty());
}

/// A static system with an alternate source.
const STATIC: &str = r#"
[given.outside-air]
normally = true
gives = "static-pressure"
[item.static-line]
kind = "line"
needs = ["outside-air"]
[item.alternate-static]
kind = "valve"
positions = ["closed", "open"]
conducts-in = ["open"]
reachable = "in flight"
gives = "static-pressure"
[item.pitot-mast]
kind = "mast"
gives = "pitot-pressure"
[item.altimeter]
kind = "instrument"
tells = ["altitude"]
needs = [{ any = ["static-line when alternate-static is closed", { from = "alternate-static", approximate = "The altimeter reads high." }] }]
[item.airspeed-indicator]
kind = "instrument"
needs = ["pitot-mast", { any = ["static-line", { from = "alternate-static", approximate = "The airspeed indicator reads high." }] }]
[item.encoder]
kind = "encoder"
gives = "data"
needs = [{ any = ["static-line", { from = "alternate-static", approximate = "It reports too high." }] }]
[item.transponder]
kind = "radio"
[item.transponder.function.altitude]
needs = ["encoder"]
tells = [{ information = "altitude", how = "indirectly" }]
[item.transponder.function.code]
[information.altitude]
[state.cruise]
in-flight = true
"#;

#[test]
fn blocked_static_makes_false_and_the_alternate_source_mends_it_approximately() {
    let model = model(STATIC);
    let mut question = Question::faults(state(&model, "cruise"), vec![fault(&model, "static-line")]);
    let analysis = Analysis::new(&model);
    let blocked = analysis.effects(&question);
    assert_eq!(lost(&model, &blocked), "");
    assert_eq!(misled(&model, &blocked), "airspeed-indicator altimeter encoder static-line transponder.altitude");
    assert_eq!(because(&model, &blocked, "transponder.altitude"), "static-line encoder");
    assert!(blocked.is_silent());
    assert!(blocked.still_tells[0].sources.is_empty());
    let mended = "airspeed-indicator altimeter encoder transponder.altitude";
    assert_eq!(ways(&model, &blocked.restores), [format!("{mended}: alternate-static=open")]);
    assert_eq!(ids(&model, &blocked.restores[0].approximate), mended);
    let valve = model.find_item("alternate-static").unwrap();
    question.then = vec![(valve, model.control(valve).unwrap().find("open").unwrap())];
    let opened = analysis.effects(&question);
    assert_eq!(misled(&model, &opened), "static-line");
    assert_eq!(ids(&model, &opened.after.approximate), mended);
}

#[test]
fn encoder_takes_the_altitude_reports_and_not_the_code() {
    let model = model(STATIC);
    let effects = effects(&model, "cruise", "encoder");
    assert_eq!(lost(&model, &effects), "transponder.altitude");
    let sources: Vec<_> = effects.still_tells[0].sources.iter().map(|(n, _)| model[*n].id.as_str()).collect();
    assert_eq!(sources, ["altimeter"]);
}

#[test]
fn two_of_three_sensors_are_enough_and_one_is_not() {
    let model = model(
        r#"
[item.sensor-1]
kind = "sensor"
gives = "data"
[item.sensor-2]
kind = "sensor"
gives = "data"
[item.sensor-3]
kind = "sensor"
gives = "data"
[item.computer]
kind = "computer"
needs = ["two of sensor-1, sensor-2, sensor-3"]
tells = ["attitude"]
[information.attitude]
[state.cruise]
in-flight = true
"#,
    );
    let one = effects(&model, "cruise", "sensor-2");
    assert_eq!(lost(&model, &one), "");
    let attitude = Target::Information(model.find_information("attitude").unwrap());
    let told: Vec<_> = one.no_backup.iter().map(|n| (n.next.clone(), n.of.clone())).collect();
    assert_eq!(told, [(vec![fault(&model, "sensor-1"), fault(&model, "sensor-3")], vec![attitude])]);
    let two = vec![fault(&model, "sensor-1"), fault(&model, "sensor-3")];
    let both = Analysis::new(&model).effects(&Question::faults(state(&model, "cruise"), two));
    assert_eq!(lost(&model, &both), "computer");
}

/// A contactor whose coil the master feeds, a heater behind a pressure switch, a pump that lets fuel pass.
const DEVICES: &str = r#"
[item.battery]
kind = "battery"
gives = "electricity"
[item.master]
kind = "switch"
reachable = "in flight"
[item.coil-lead]
kind = "lead"
[item.contactor]
kind = "contactor"
needs = ["battery through master and coil-lead"]
[item.contactor.fault.welded]
said = "is welded"
ignores = ["contactor"]
hazard = "The bus stays live with the master off."
[item.bus]
kind = "bus"
needs = ["battery through contactor"]
[item.breaker-pump]
kind = "breaker"
reachable = "in flight"
pull = true
[item.tank]
kind = "tank"
gives = "fuel"
[item.fuel-pump-electric]
kind = "pump"
needs = ["bus through breaker-pump"]
[item.fuel-pump-electric.function.passage]
[item.fuel-pump-electric.fault.fails]
said = "stops turning"
loses = ["fuel-pump-electric"]
[item.fuel-pump-electric.fault.seized]
said = "is blocked"
loses = ["passage"]
[item.carburettor]
kind = "carburettor"
gives = "fuel"
needs = ["tank through fuel-pump-electric.passage"]
[item.lamp]
kind = "lamp"
needs = ["bus through breaker-pump"]
[state.secured]
on-ground = true
[state.cruise]
in-flight = true
controls = { master = "on" }
"#;

#[test]
fn contactor_needs_its_coil() {
    let model = model(DEVICES);
    let effects = effects(&model, "cruise", "coil-lead");
    assert_eq!(lost(&model, &effects), "bus contactor fuel-pump-electric fuel-pump-electric.passage lamp");
    assert_eq!(because(&model, &effects, "lamp"), "coil-lead contactor bus");
}

#[test]
fn welded_contactor_keeps_the_bus_live() {
    let model = model(DEVICES);
    let welded = effects(&model, "secured", "contactor:welded");
    let unasked = "bus contactor fuel-pump-electric fuel-pump-electric.passage lamp";
    assert_eq!(ids(&model, &welded.runs_unasked), unasked);
    let stops = ways(&model, &welded.stops);
    assert_eq!(
        stops,
        ["fuel-pump-electric fuel-pump-electric.passage lamp: breaker-pump=out"],
        "pulling a breaker counts here"
    );
    assert!(effects(&model, "cruise", "contactor:welded").takes_nothing());
}

#[test]
fn fuel_passes_a_pump_that_stopped_unless_its_passage_is_blocked() {
    let model = model(DEVICES);
    let passed = effects(&model, "secured", "carburettor");
    assert_eq!(lost(&model, &passed), "");
    assert_eq!(lost(&model, &effects(&model, "cruise", "bus")), "fuel-pump-electric fuel-pump-electric.passage lamp");
    assert!(
        Analysis::new(&model)
            .state(state(&model, "secured"))
            .solution
            .works
            .contains(&model.find_node("carburettor").unwrap())
    );
    assert_eq!(lost(&model, &effects(&model, "cruise", "fuel-pump-electric:seized")), "carburettor");
}

/// A relay that trips for a moment, two tanks behind two valves, a wheel that can end a hazard.
const MOVES: &str = r#"
[item.alternator]
kind = "alternator"
gives = "electricity"
[item.overvoltage-relay]
kind = "relay"
[item.overvoltage-relay.fault.overvoltage]
said = "has tripped"
trips = ["overvoltage-relay"]
transient = true
[item.overvoltage-relay.fault.burnt]
said = "is burnt"
loses = ["overvoltage-relay"]
[item.switch-alternator]
kind = "switch"
rest = "on"
reachable = "in flight"
resets = ["overvoltage-relay"]
[item.bus]
kind = "bus"
needs = ["alternator through overvoltage-relay and switch-alternator"]
[item.tank]
kind = "tank"
gives = "fuel"
[item.reserve]
kind = "tank"
gives = "fuel"
[item.valve-main]
kind = "valve"
positions = ["main", "reserve"]
conducts-in = ["main", "reserve"]
reachable = "in flight"
[item.valve-cross]
kind = "valve"
positions = ["closed", "open"]
conducts-in = ["open"]
reachable = "in flight"
[item.engine]
kind = "engine"
needs = ["tank when valve-main is main, or reserve through valve-cross when valve-main is reserve"]
[item.breaker-trim]
kind = "breaker"
reachable = "in flight"
pull = true
[item.trim-switch]
kind = "switch"
reachable = "in flight"
[item.trim]
kind = "servo"
needs = ["bus through breaker-trim", "when trim-switch is on"]
[item.trim.fault.runaway]
said = "runs away"
ignores = ["trim-switch"]
hazard = { text = "The trim runs to its stop.", level = "warning", when = { breaker-trim = ["in"] } }
[item.radio]
kind = "radio"
needs = ["bus through breaker-radio"]
[item.radio.fault.shorted]
said = "is shorted"
trips = ["breaker-radio"]
[item.breaker-radio]
kind = "breaker"
reachable = "in flight"
pull = true
[state.cruise]
in-flight = true
"#;

#[test]
fn tripped_relay_is_mended_by_a_cycle_of_its_switch_and_a_burnt_one_is_not() {
    let model = model(MOVES);
    let tripped = effects(&model, "cruise", "overvoltage-relay:overvoltage");
    assert_eq!(lost(&model, &tripped), "bus radio");
    assert_eq!(ways(&model, &tripped.restores), ["bus radio: switch-alternator~on"]);
    assert!(effects(&model, "cruise", "overvoltage-relay:burnt").restores.is_empty());
}

#[test]
fn two_moves_restore_what_one_does_not() {
    let model = model(MOVES);
    let effects = effects(&model, "cruise", "tank");
    assert_eq!(lost(&model, &effects), "engine");
    assert_eq!(ways(&model, &effects.restores), ["engine: valve-cross=open valve-main=reserve"]);
}

#[test]
fn tripped_breaker_is_never_closed_again() {
    let model = model(MOVES);
    let effects = effects(&model, "cruise", "radio:shorted");
    assert_eq!(lost(&model, &effects), "radio");
    assert_eq!(because(&model, &effects, "radio"), "radio breaker-radio");
    assert!(effects.restores.is_empty());
}

#[test]
fn runaway_is_stopped_by_its_breaker_which_ends_the_hazard() {
    let model = model(MOVES);
    let effects = effects(&model, "cruise", "trim:runaway");
    assert_eq!(ids(&model, &effects.runs_unasked), "trim");
    assert_eq!(ways(&model, &effects.stops), ["trim: breaker-trim=out"]);
    assert!(effects.hazards[0].active);
    let ended: Vec<_> = effects.hazards[0].ended_by.iter().map(|m| model[m.control].id.as_str()).collect();
    assert_eq!(ended, ["breaker-trim"]);
    assert!(effects.restores.is_empty());
}

#[test]
fn slow_faults_and_stores_come_in_their_time() {
    let model = model(
        r#"
[item.oil-line]
kind = "line"
[item.oil-line.fault.broken]
said = "is broken"
leads-to = [{ what = "sump:empty", in = "10 min" }]
[item.sump]
kind = "tank"
gives = "oil-pressure"
[item.sump.fault.empty]
said = "is empty"
loses = ["sump"]
leads-to = ["engine:seized"]
[item.engine]
kind = "engine"
gives = "rotation"
[item.engine.fault.seized]
said = "has seized"
loses = ["engine"]
[item.alternator]
kind = "alternator"
gives = "electricity"
needs = ["engine"]
[item.battery]
kind = "battery"
gives = "electricity"
lasts = "30 min"
kept-by = ["alternator"]
[item.clock]
kind = "clock"
needs = ["alternator or battery"]
[item.gauge]
kind = "gauge"
senses = ["sump through oil-line"]
[state.cruise]
in-flight = true
"#,
    );
    let effects = effects(&model, "cruise", "oil-line:broken");
    assert_eq!((lost(&model, &effects).as_str(), effects.takes_nothing()), ("", false));
    let later: Vec<_> = effects.lost_later.iter().map(|l| (model[l.node].id.as_str(), l.in_min)).collect();
    let ten = Some(10.0);
    assert_eq!(later, [("alternator", None), ("battery", None), ("clock", None), ("engine", None), ("sump", ten)]);
    let clock = effects.lost_later.iter().find(|l| model[l.node].id == "clock").unwrap();
    assert_eq!(ids(&model, &clock.because), "engine battery");
}

#[test]
fn gauge_tells_of_what_it_senses_and_dies_with_its_line() {
    let model = model(
        r#"
[item.pump]
kind = "pump"
gives = "suction"
[item.sender-line]
kind = "line"
[item.suction-gauge]
kind = "gauge"
senses = ["pump through sender-line"]
reads-when-absent = "The needle falls to zero."
[item.attitude]
kind = "instrument"
needs = ["pump"]
on-loss = { suction = { looks = "wanders" } }
[state.cruise]
in-flight = true
"#,
    );
    let pump = effects(&model, "cruise", "pump");
    assert_eq!(lost(&model, &pump), "attitude");
    assert_eq!(pump.shows, [Indication::Gauge(model.find_node("suction-gauge").unwrap())]);
    assert_eq!((pump.how_you_know, pump.looks_dead.len()), (HowYouKnow::Gauge, 0));
    let line = effects(&model, "cruise", "sender-line");
    assert_eq!(lost(&model, &line), "suction-gauge");
    assert!(line.is_silent());
}

#[test]
fn loop_without_sustained_feed_never_works_and_is_named() {
    let model = model(
        r#"
[item.lamp]
kind = "lamp"
needs = ["c"]
[item.a]
kind = "relay"
needs = ["b"]
[item.b]
kind = "relay"
needs = ["c"]
[item.c]
kind = "relay"
needs = ["a"]
gives = "electricity"
[item.d]
kind = "battery"
gives = "electricity"
[state.cruise]
in-flight = true
"#,
    );
    let analysis = Analysis::new(&model);
    assert_eq!(ids(&model, &analysis.never_works()), "a b c lamp");
    assert_eq!(ids(&model, &analysis.ring_of(model.find_node("b").unwrap())), "b c a");
    assert_eq!(ids(&model, &analysis.ring_of(model.find_node("lamp").unwrap())), "c a b");
    assert_eq!(analysis.ring_of(model.find_node("d").unwrap()), []);
}

#[test]
fn trace_goes_up_to_the_sources_and_down_to_what_hangs_on_it() {
    let model = model(DEVICES);
    let trace = Analysis::new(&model).trace(model.find_node("bus").unwrap());
    assert_eq!(ids(&model, &trace.sources), "battery");
    assert_eq!(ids(&model, &trace.upstream), "battery coil-lead contactor master");
    assert_eq!(ids(&model, &trace.downstream), "carburettor fuel-pump-electric fuel-pump-electric.passage lamp");
    assert_eq!(trace.media.len(), 1);
}
