//! The fast solver and the audit's plain one, written by different people from the same pages, on the canonical text of random models.

use super::random_networks::models;
use crate::support::generator::{Names, Spec, spec, text};
use crate::support::models::model;
use proptest::prelude::*;
use ribstitch::analyse::answer::{
    Affected, Effects, Indication, LostLater, Move, Question, Restore, Seen, Start, Target,
};
use ribstitch::analyse::network::Analysis;
use ribstitch::audit::{self, FaultName, PlainModel};
use ribstitch::model::{AlertIx, FaultIx, How, Model, Need, NodeIx};
use ribstitch::resolve::canonical_model;
use std::collections::{BTreeMap, BTreeSet};

/// A field of an answer, as both solvers have it.
type Field = (&'static str, String, String);

fn ids<'a>(model: &Model, nodes: impl IntoIterator<Item = &'a NodeIx>) -> String {
    let ids: BTreeSet<&str> = nodes.into_iter().map(|n| model[*n].id.as_str()).collect();
    plain(&ids.into_iter().map(str::to_owned).collect())
}

fn alerts(model: &Model, alerts: impl IntoIterator<Item = AlertIx>) -> String {
    plain(&alerts.into_iter().map(|a| model[a].id.to_string()).collect())
}

fn plain(set: &BTreeSet<String>) -> String {
    set.iter().map(String::as_str).collect::<Vec<_>>().join(" ")
}

fn target(model: &Model, target: Target) -> String {
    match target {
        Target::Information(ix) => format!("information {}", model[ix].id),
        Target::Bus(ix) => format!("bus {}", model[ix].id),
        Target::Medium(ix) => format!("medium {}", model[ix].id),
    }
}

fn no_backup(model: &Model, effects: &Effects) -> String {
    let pairs = effects.no_backup.iter().flat_map(|n| n.next.iter().flat_map(|f| n.of.iter().map(move |t| (*f, *t))));
    plain(&pairs.map(|(f, t)| format!("{}>{}", model.fault_id(f), target(model, t))).collect())
}

fn plain_no_backup(effects: &audit::Effects) -> String {
    let target = |t: &audit::Target| match t {
        audit::Target::Information(id) => format!("information {id}"),
        audit::Target::Bus(id) => format!("bus {id}"),
        audit::Target::Medium(id) => format!("medium {id}"),
    };
    plain(&effects.no_backup.iter().map(|(t, f)| format!("{}:{}>{}", f.item, f.fault, target(t))).collect())
}

fn later(model: &Model, effects: &Effects) -> String {
    let row = |l: &LostLater| format!("{} {:?}", model[l.node].id, l.in_min);
    plain(&effects.lost_later.iter().map(row).collect())
}

fn plain_later(effects: &audit::Effects) -> String {
    let minutes = |l: &audit::Lapse| match l {
        audit::Lapse::Minutes(min) => Some(*min),
        audit::Lapse::Sometime => None,
    };
    plain(&effects.lost_later.iter().map(|(id, l)| format!("{id} {:?}", minutes(l))).collect())
}

fn tells(model: &Model, effects: &Effects) -> String {
    let source = |(n, i): &(NodeIx, usize)| {
        format!("{}{}", model[*n].id, if model[*n].tells[*i].how == How::Indirectly { "~" } else { "" })
    };
    let rows = effects
        .still_tells
        .iter()
        .map(|s| (model[s.information].id.to_string(), s.sources.iter().map(source).collect::<Vec<_>>()));
    plain(&rows.map(|(id, sources)| format!("{id}={}", sources.join(","))).collect())
}

fn plain_tells(effects: &audit::Effects) -> String {
    let source = |s: &audit::Source| format!("{}{}", s.node, if s.indirectly { "~" } else { "" });
    let rows = effects.still_tells.iter().map(|(id, s)| (id, s.iter().map(source).collect::<Vec<_>>()));
    plain(&rows.map(|(id, sources)| format!("{id}={}", sources.join(","))).collect())
}

fn remedies(model: &Model, restores: &[Restore]) -> String {
    let row = |r: &Restore| {
        let one = |m: &Move| {
            let control = model.control(m.control).expect("a control");
            format!("{}{}{}", model[m.control].id, if m.from == m.to { "~" } else { "=" }, control.position(m.to))
        };
        let moves: BTreeSet<String> = r.moves.iter().map(one).collect();
        let exact = r.what.iter().filter(|n| !r.approximate.contains(n));
        let costs = if r.costs { " at a cost" } else { "" };
        format!("[{} mends {} about {}{costs}]", plain(&moves), ids(model, exact), ids(model, &r.approximate))
    };
    plain(&restores.iter().map(row).collect())
}

fn plain_remedies(remedies: &[audit::Remedy]) -> String {
    let row = |r: &audit::Remedy| {
        let one = |m: &audit::Move| format!("{}{}{}", m.control, if m.cycle { "~" } else { "=" }, m.to);
        let moves: BTreeSet<String> = r.moves.iter().map(one).collect();
        let costs = if r.costs { " at a cost" } else { "" };
        format!("[{} mends {} about {}{costs}]", plain(&moves), plain(&r.mends), plain(&r.approximately))
    };
    plain(&remedies.iter().map(row).collect())
}

fn shown(effects: &Effects) -> (Vec<AlertIx>, Vec<NodeIx>) {
    let mut both = (Vec::new(), Vec::new());
    for indication in &effects.shows {
        match indication {
            Indication::Alert(alert) => both.0.push(*alert),
            Indication::Gauge(gauge) => both.1.push(*gauge),
        }
    }
    both
}

/// Every field that both have.
fn fields(model: &Model, fast: &Effects, slow: &audit::Effects) -> Vec<Field> {
    let mut fields = facts(model, fast, slow);
    if !may_come_true_by_any_move(model, fast) {
        fields.push(("restores", remedies(model, &fast.restores), plain_remedies(&slow.restored_by)));
    }
    fields
}

/// The one place where the definition lets the two differ. What a sustained feed keeps going is settled from what ran before, false or
/// approximate as it may have been; so a thing that was set going by something false goes on truly after any move at all. Which of such
/// moves are told hangs on which ones a search leaves out.
fn may_come_true_by_any_move(model: &Model, fast: &Effects) -> bool {
    let feeds = model.nodes.iter().flat_map(|n| &n.needs).flat_map(Need::feeds);
    let by_moves = fast.restores.iter().flat_map(|r| &r.approximate);
    let unsure: BTreeSet<&NodeIx> = fast.after.misleads.iter().chain(&fast.after.approximate).chain(by_moves).collect();
    feeds.filter(|f| f.sustained).any(|f| unsure.contains(&f.from))
}

fn facts(model: &Model, fast: &Effects, slow: &audit::Effects) -> Vec<Field> {
    let (shown_alerts, gauges) = shown(fast);
    let nodes = |list: &[Affected]| ids(model, list.iter().map(|a| &a.node));
    vec![
        ("reached", fast.reached.to_string(), slow.reached.to_string()),
        ("misleading", nodes(&fast.misleads), plain(&slow.misleading)),
        ("approximate", newly_approximate(model, fast), plain(&slow.approximate)),
        ("lost", nodes(&fast.lost), plain(&slow.lost)),
        ("weakened", ids(model, &fast.weakened), plain(&slow.weakened)),
        ("lost later", later(model, fast), plain_later(slow)),
        ("still tells", tells(model, fast), plain_tells(slow)),
        ("alerts", alerts(model, shown_alerts), plain(&slow.alerts)),
        ("gauges", ids(model, &gauges), plain(&slow.gauges)),
        ("instruments", ids(model, &fast.looks_dead), plain(&slow.instruments)),
        ("no longer warns", alerts(model, fast.no_longer_warns.iter().copied()), plain(&slow.no_longer_warns)),
        ("runs unasked", ids(model, &fast.runs_unasked), plain(&slow.runs_unasked)),
        ("stops", remedies(model, &fast.stops), plain_remedies(&slow.stopped_by)),
        ("hazards", fast.hazards.iter().filter(|h| h.active).count().to_string(), slow.hazards.len().to_string()),
        ("how you know", fast.how_you_know.word().to_owned(), slow.how_you_know.clone()),
        ("silent", fast.is_silent().to_string(), slow.silent.to_string()),
        ("no backup", no_backup(model, fast), plain_no_backup(slow)),
    ]
}

fn newly_approximate(model: &Model, fast: &Effects) -> String {
    ids(model, fast.after.approximate.difference(&fast.before.approximate))
}

/// What the two solvers say differently of a model: each asked fault in each state, from running and from cold.
fn differences(model: &Model) -> Vec<String> {
    let analysis = Analysis::new(model);
    let plain_model = PlainModel::read(&canonical_model(model)).expect("the canonical text is read");
    let mut differences = Vec::new();
    for state in model.state_indices() {
        let id = model[state].id.as_str();
        let asked: BTreeSet<String> = analysis.asked_in(state).iter().map(|f| model.fault_id(*f)).collect();
        let also = plain_model.all_faults(id).expect("the state is there");
        let also: BTreeSet<String> = also.iter().map(|f| format!("{}:{}", f.item, f.fault)).collect();
        assert_eq!(asked, also, "asked in {id}");
        for fault in analysis.asked_in(state) {
            for start in [Start::Running, Start::Cold] {
                differences.extend(differences_of(&analysis, &plain_model, id, &[fault], start));
            }
        }
    }
    differences
}

fn differences_of(
    analysis: &Analysis,
    plain_model: &PlainModel,
    id: &str,
    faults: &[FaultIx],
    start: Start,
) -> Vec<String> {
    let model = analysis.model();
    let mut question = Question::faults(model.find_state(id).expect("a state"), faults.to_vec());
    question.start = start;
    let fast = analysis.effects(&question);
    let said: Vec<String> = faults.iter().map(|f| model.fault_id(*f)).collect();
    let names: Vec<FaultName> = said.iter().map(|f| FaultName::from_text(f)).collect();
    let slow = plain_model.effects(id, &names, start == Start::Cold).expect("the plain solver answers");
    let differ = fields(model, &fast, &slow).into_iter().filter(|(_, a, b)| a != b);
    let said = said.join(" and ");
    let line = |(field, a, b)| format!("{field}: {said} in {id} {start:?}: fast `{a}`, plain `{b}`");
    differ.map(line).collect()
}

/// The same of each two faults that follow each other, from running.
fn differences_of_pairs(model: &Model) -> Vec<String> {
    let analysis = Analysis::new(model);
    let plain_model = PlainModel::read(&canonical_model(model)).expect("the canonical text is read");
    let mut differences = Vec::new();
    for state in model.state_indices() {
        let faults = analysis.asked_in(state);
        for pair in faults.windows(2) {
            differences.extend(differences_of(&analysis, &plain_model, model[state].id.as_str(), pair, Start::Running));
        }
    }
    differences
}

fn agree(spec: &Spec) -> Result<(), TestCaseError> {
    let text = text(spec, &Names { turn: 0, backwards: false });
    let differences = differences(&model(&text));
    prop_assert!(differences.is_empty(), "{}\n{text}", differences.join("\n"));
    Ok(())
}

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(config(48))]

    #[test]
    fn two_solvers_agree_on_random_models(spec in spec()) {
        agree(&spec)?;
    }
}

proptest! {
    #![proptest_config(config(16))]

    #[test]
    fn two_solvers_agree_on_pairs_of_faults(spec in spec()) {
        let text = text(&spec, &Names { turn: 0, backwards: false });
        let differences = differences_of_pairs(&model(&text));
        prop_assert!(differences.is_empty(), "{}\n{text}", differences.join("\n"));
    }
}

proptest! {
    #![proptest_config(config(2000))]

    #[test]
    #[ignore = "takes minutes; by hand after a change of either solver"]
    fn two_solvers_agree_on_thousands_of_random_models(spec in spec()) {
        agree(&spec)?;
    }
}

/// A comparison of empty answers proves nothing: every field must say something in some of the models.
#[test]
fn every_answer_that_is_compared_comes_up_in_random_models() {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for model in models().take(60) {
        let analysis = Analysis::new(&model);
        for effects in model.state_indices().flat_map(|s| analysis.single_faults(s)) {
            let (alerts, gauges) = shown(&effects);
            let control_feeds = |n: &NodeIx| model.item_of(*n).is_some_and(|i| model.control(i).is_some());
            let says = [
                ("not reached", !effects.reached),
                ("false", !effects.misleads.is_empty()),
                ("approximate", !newly_approximate(&model, &effects).is_empty()),
                ("lost", !effects.lost.is_empty()),
                ("lost with a control", effects.lost.iter().any(|l| l.misses.iter().any(control_feeds))),
                ("weakened", !effects.weakened.is_empty()),
                ("lost later", !effects.lost_later.is_empty()),
                ("no backup", !effects.no_backup.is_empty()),
                ("still tells", effects.still_tells.iter().any(|s| !s.sources.is_empty())),
                ("alerts", !alerts.is_empty()),
                ("gauges", !gauges.is_empty()),
                ("looks dead", !effects.looks_dead.is_empty()),
                ("sensing and looks dead", effects.looks_dead.iter().any(|n| !model[*n].senses.is_empty())),
                ("no longer warns", !effects.no_longer_warns.is_empty()),
                ("runs unasked", !effects.runs_unasked.is_empty()),
                ("stops", effects.stops.iter().any(|r| !r.costs)),
                ("stops at a cost", effects.stops.iter().any(|r| r.costs)),
                ("restores", !effects.restores.is_empty() && !may_come_true_by_any_move(&model, &effects)),
                ("restores by two", effects.restores.iter().any(|r| r.moves.len() > 1)),
                ("cycles", effects.restores.iter().any(|r| r.moves.iter().any(|m| m.from == m.to))),
            ];
            for (field, is) in says {
                *counts.entry(field).or_default() += usize::from(is);
            }
        }
    }
    println!("{counts:#?}");
    let rare: Vec<_> = counts.iter().filter(|(_, count)| **count < 3).collect();
    assert!(rare.is_empty(), "{rare:?}");
}

/// The gauge comes back with the selector to the right, which takes the fan along unless the spare switch keeps it up first.
const KEPT_UP: &str = r#"
[given.airflow]
normally = true
gives = "electricity"
[item.motor]
kind = "motor"
gives = "rotation"
[item.selector]
kind = "selector"
reachable = "in flight"
positions = ["left", "right"]
conducts-in = ["left", "right"]
gives = "electricity"
[item.spare]
kind = "switch"
reachable = "in flight"
gives = "electricity"
[item.fan]
kind = "motor"
gives = "air"
needs = [{ any = [{ from = "airflow", when = { selector = ["left"] } }, { from = "airflow", when = { spare = ["on"] } }] }]
[item.dial]
kind = "gauge"
needs = [{ any = [{ from = "motor" }, { from = "airflow", when = { selector = ["right"] } }] }]
[state.cruise]
in-flight = true
"#;

#[test]
fn a_move_that_keeps_up_what_another_would_take_is_part_of_the_set() {
    let model = model(KEPT_UP);
    let fault = model.find_fault("motor:fails").expect("a fault");
    let question = Question::faults(model.find_state("cruise").expect("a state"), vec![fault]);
    let effects = Analysis::new(&model).effects(&question);
    assert_eq!(remedies(&model, &effects.restores), "[selector=right spare=on mends dial about ]");
    assert_eq!(differences(&model), Vec::<String>::new());
}

/// A tank that ice or dirt closes, with a drain that lets its pressure out then.
const SHUT_IN: &str = r#"
[given.clear-air]
normally = true
gives = "air"
[item.heater]
kind = "switch"
reachable = "in flight"
gives = "heat"
[item.mast]
kind = "mast"
gives = "pitot-pressure"
needs = ["clear-air or heater"]
[item.drain]
kind = "vent"
gives = "air"
[item.drain.fault.fails]
traps = ["mast"]
[item.dial]
kind = "instrument"
needs = ["mast"]
[state.cruise]
in-flight = true
"#;

fn two(faults: [&str; 2]) -> (String, String, String) {
    let model = model(SHUT_IN);
    let faults = faults.map(|f| model.find_fault(f).expect("a fault"));
    let question = Question::faults(model.find_state("cruise").expect("a state"), faults.to_vec());
    let analysis = Analysis::new(&model);
    let effects = analysis.effects(&question);
    let plain_model = PlainModel::read(&canonical_model(&model)).expect("the canonical text is read");
    let differ = differences_of(&analysis, &plain_model, "cruise", &faults, Start::Running);
    assert_eq!(differ, Vec::<String>::new());
    let nodes = |list: &[Affected]| ids(&model, list.iter().map(|a| &a.node));
    (nodes(&effects.misleads), nodes(&effects.lost), remedies(&model, &effects.restores))
}

/// Source: FAA-H-8083-25, chapter on flight instruments, blockage of the pitot system with the drain open and with the drain shut.
#[test]
fn what_is_shut_in_is_false_where_it_would_be_lost() {
    let model = model(SHUT_IN);
    let alone = |fault: &str| {
        let question = Question::faults(
            model.find_state("cruise").expect("a state"),
            vec![model.find_fault(fault).expect("a fault")],
        );
        Analysis::new(&model).effects(&question)
    };
    let nodes = |list: &[Affected]| ids(&model, list.iter().map(|a| &a.node));
    assert_eq!(nodes(&alone("drain:fails").misleads), "");
    assert_eq!(nodes(&alone("drain:fails").lost), "");
    assert_eq!(nodes(&alone("mast:fails").lost), "dial");
    assert_eq!(two(["mast:fails", "drain:fails"]), ("dial mast".into(), String::new(), String::new()));
    let heated = "[heater=on mends dial mast about ]".to_owned();
    assert_eq!(two(["clear-air:fails", "drain:fails"]), ("dial mast".into(), String::new(), heated));
}

/// A set in which one fault alone kills what was seen wrong explains it when another shuts it in.
#[test]
fn suspects_hold_what_shuts_in() {
    let model = model(SHUT_IN);
    let dial = model.find_node("dial").expect("a node");
    let state = model.find_state("cruise").expect("a state");
    let (lost, wrong, working) = (Vec::new(), vec![dial], Vec::new());
    let seen = Seen { state, start: Start::Running, lost, wrong, working, shows: Vec::new(), not_shows: Vec::new() };
    let found = Analysis::new(&model).suspects(&seen).explanations;
    let set = |faults: &Vec<FaultIx>| plain(&faults.iter().map(|f| model.fault_id(*f)).collect());
    let found: BTreeSet<String> = found.iter().map(set).collect();
    let wanted = ["clear-air:fails drain:fails", "drain:fails mast:fails"];
    assert_eq!(found, wanted.map(str::to_owned).into());
}
