//! The inverse question: by hand on small models, against every set tried one by one on random ones, and on the demo.

use super::random_networks::models;
use crate::program::call;
use crate::support::models::{model, state};
use proptest::sample::Index;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use ribstitch::analyse::answer::{Effects, Indication, Question, Seen, Solution, Start, Suspects};
use ribstitch::analyse::network::Analysis;
use ribstitch::model::{AlertIx, FaultIx, Model, NodeIx, StateIx};
use serde_json::{Value, json};

const TWO_LAMPS: &str = r#"
[item.battery]
kind = "battery"
gives = "electricity"
likely = 0.2
[item.breaker]
kind = "breaker"
likely = 0.1
needs = ["battery"]
[item.one]
kind = "lamp"
likely = 0.6
needs = ["battery through breaker"]
[item.two]
kind = "lamp"
needs = ["battery"]
[item.two.fault.dims]
misleads = ["two"]
[state.cruise]
"#;

fn nothing(state: StateIx) -> Seen {
    let (lost, wrong, working) = (Vec::new(), Vec::new(), Vec::new());
    Seen { state, start: Start::Running, lost, wrong, working, shows: Vec::new(), not_shows: Vec::new() }
}

/// What a set of faults would explain, by ids; a word before each says how it was seen.
fn explained(text: &str, seen: &str) -> Vec<String> {
    let model = model(text);
    let mut what = nothing(state(&model, "cruise"));
    for (how, id) in seen.split_whitespace().map(|s| s.split_once('=').expect("how=id")) {
        let list = match how {
            "lost" => &mut what.lost,
            "wrong" => &mut what.wrong,
            _ => &mut what.working,
        };
        list.push(model.find_node(id).expect("a node"));
    }
    let set = |set: &Vec<FaultIx>| set.iter().map(|f| model.fault_id(*f)).collect::<Vec<_>>().join("+");
    Analysis::new(&model).suspects(&what).explanations.iter().map(set).collect()
}

#[test]
fn what_is_seen_working_clears_what_it_hangs_on() {
    assert_eq!(explained(TWO_LAMPS, "lost=one"), ["one:fails", "battery:fails", "breaker:fails"]);
    assert_eq!(explained(TWO_LAMPS, "lost=one working=two"), ["one:fails", "breaker:fails"]);
    assert_eq!(explained(TWO_LAMPS, "lost=one working=breaker working=two"), ["one:fails"]);
    assert_eq!(explained(TWO_LAMPS, "lost=one lost=two"), ["battery:fails"]);
}

#[test]
fn what_is_false_is_not_dead_and_not_working() {
    assert_eq!(explained(TWO_LAMPS, "wrong=two"), ["two:dims"]);
    assert_eq!(explained(TWO_LAMPS, "wrong=two lost=one"), ["one:fails+two:dims", "breaker:fails+two:dims"]);
    assert!(explained(TWO_LAMPS, "wrong=one").is_empty());
}

#[test]
fn nothing_needs_to_have_failed_where_all_is_well() {
    assert_eq!(explained(TWO_LAMPS, "working=one working=two"), [""]);
}

/// Every set of a size, each solved by itself; the smallest size that has any.
fn by_trying_all(model: &Model, analysis: &Analysis<'_>, seen: &Seen) -> (usize, Vec<Vec<FaultIx>>) {
    let faults = analysis.asked_in(seen.state);
    let mut sets: Vec<Vec<FaultIx>> = vec![Vec::new()];
    for size in 0..=3 {
        let solved = analysis.solutions(seen.state, &sets);
        let fits = |(set, solution): (&Vec<FaultIx>, &Solution)| {
            nodes_fit(seen, solution) && shown_fits(model, analysis, seen, set)
        };
        let found: Vec<Vec<FaultIx>> =
            sets.iter().zip(&solved).filter(|pair| fits(*pair)).map(|(set, _)| set.clone()).collect();
        if !found.is_empty() {
            return (size, found);
        }
        let larger = |set: &Vec<FaultIx>| {
            let after: Vec<FaultIx> =
                faults.iter().copied().filter(|f| set.last().is_none_or(|last| last < f)).collect();
            let set = set.clone();
            after.into_iter().map(move |f| set.iter().copied().chain([f]).collect::<Vec<_>>())
        };
        sets = sets.iter().flat_map(larger).collect();
    }
    (3, Vec::new())
}

fn nodes_fit(seen: &Seen, solution: &Solution) -> bool {
    seen.lost.iter().all(|n| !solution.works.contains(n))
        && seen.wrong.iter().all(|n| solution.misleads.contains(n))
        && seen.working.iter().all(|n| solution.is_true(*n))
}

fn shown_fits(model: &Model, analysis: &Analysis<'_>, seen: &Seen, set: &[FaultIx]) -> bool {
    if seen.shows.is_empty() && seen.not_shows.is_empty() {
        return true;
    }
    let shown = showing(model, &analysis.effects(&Question::faults(seen.state, set.to_vec())));
    seen.shows.iter().all(|i| shown.contains(i)) && !seen.not_shows.iter().any(|i| shown.contains(i))
}

fn showing(_: &Model, effects: &Effects) -> Vec<Indication> {
    let already = effects.already_on.iter().map(|a| Indication::Alert(*a));
    effects.shows.iter().copied().chain(already).collect()
}

/// A choice out of a list, the same in each run.
struct Chance(TestRunner);

impl Chance {
    fn one_of(&mut self, many: usize) -> usize {
        let index = proptest::arbitrary::any::<Index>();
        index.new_tree(&mut self.0).expect("an index").current().index(many)
    }

    fn some<T: Copy>(&mut self, of: &[T], most: usize) -> Vec<T> {
        if of.is_empty() {
            return Vec::new();
        }
        (0..self.one_of(most + 1)).map(|_| of[self.one_of(of.len())]).collect()
    }
}

/// What some hidden faults would show: a few things looked at.
fn looked_at(model: &Model, analysis: &Analysis<'_>, state: StateIx, chance: &mut Chance, hidden: usize) -> Seen {
    let faults = analysis.asked_in(state);
    let set: Vec<FaultIx> = (0..hidden).map(|_| faults[chance.one_of(faults.len())]).collect();
    let effects = analysis.effects(&Question::faults(state, set));
    let nodes: Vec<NodeIx> = model.node_indices().collect();
    let with = |test: &dyn Fn(NodeIx) -> bool| nodes.iter().copied().filter(|n| test(*n)).collect::<Vec<_>>();
    let after = &effects.after;
    let lost = with(&|n| !after.works.contains(&n) && effects.before.works.contains(&n));
    let (wrong, working) = (with(&|n| after.misleads.contains(&n)), with(&|n| after.is_true(n)));
    let shows = showing(model, &effects);
    let alerts = (0..model.alerts.len()).map(|a| Indication::Alert(AlertIx::new(a)));
    let gauges = nodes.iter().filter(|n| !model[**n].senses.is_empty()).map(|n| Indication::Gauge(*n));
    let dark: Vec<Indication> = alerts.chain(gauges).filter(|i| !shows.contains(i)).collect();
    let mut seen = nothing(state);
    (seen.lost, seen.wrong) = (chance.some(&lost, 5), chance.some(&wrong, 3));
    (seen.working, seen.shows, seen.not_shows) =
        (chance.some(&working, 6), chance.some(&shows, 2), chance.some(&dark, 2));
    seen
}

#[test]
fn the_search_finds_what_trying_every_set_finds() {
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut chance = Chance(TestRunner::new_with_rng(Config::default(), rng));
    let mut sizes = [0; 4];
    for model in models().take(40) {
        let analysis = Analysis::new(&model);
        for (at, state) in model.state_indices().enumerate() {
            if analysis.asked_in(state).is_empty() {
                continue;
            }
            for look in 0..4 {
                let seen = looked_at(&model, &analysis, state, &mut chance, 1 + (at + look) % 3);
                let Suspects { mut explanations, order, complete } = analysis.suspects(&seen);
                explanations.sort();
                assert!(complete);
                assert_eq!((order, explanations), by_trying_all(&model, &analysis, &seen), "{seen:?}");
                sizes[order] += 1;
            }
        }
    }
    assert!(sizes.iter().skip(1).all(|n| *n > 2), "too few of some size: {sizes:?}");
}

#[test]
fn things_of_three_systems_gone_take_three_faults() {
    let demo = call(&["suspect", "sandling", "--json", "--lost", "attitude-indicator", "com-1", "oil-pressure-gauge"]);
    let answer = demo.json();
    assert_eq!((answer["order"].as_u64(), answer["complete"].as_bool()), (Some(3), Some(true)), "{answer:#}");
}

fn suspect(arguments: &str) -> Value {
    let words = ["suspect", "sandling", "--json"].into_iter().chain(arguments.split_whitespace());
    call(&words.collect::<Vec<_>>()).json()
}

#[test]
fn altitude_reports_gone_and_code_there_point_to_the_encoder() {
    let answer = suspect("--lost transponder.altitude --working transponder.code");
    let explanations = answer["explanations"].as_array().unwrap();
    assert!(explanations.contains(&json!(["encoder:fails"])), "{answer:#}");
    assert!(!explanations.contains(&json!(["transponder:fails"])), "{answer:#}");
    assert_eq!(answer["order"], 1);
}

#[test]
fn wandering_gyros_with_the_engine_running_point_to_the_pump_first() {
    let answer = suspect("--lost attitude-indicator heading-indicator --working engine --shows suction-gauge");
    assert_eq!(answer["explanations"][0], json!(["vacuum-pump:fails"]), "{answer:#}");
    assert!(!answer["explanations"].to_string().contains("crankshaft"), "{answer:#}");
}

#[test]
fn no_start_from_cold_can_be_a_flat_battery_and_is_not_where_the_lights_shine() {
    let dark = suspect("--state starting --from cold --lost starter");
    assert!(dark["explanations"].to_string().contains("battery:fails"), "{dark:#}");
    let bright = suspect("--state starting --from cold --lost starter --working main-bus");
    assert!(!bright["explanations"].to_string().contains("battery:fails"), "{bright:#}");
}

#[test]
fn what_is_no_alert_is_told_at_its_characters() {
    let called = call(&["suspect", "sandling", "--shows", "vacuum-pump"]);
    assert_eq!(called.status, 1);
    assert!(called.err.contains("unknown-alert") && called.err.contains("`vacuum-pump`"), "{}", called.err);
    assert_eq!(call(&["suspect", "sandling"]).status, 2);
}
