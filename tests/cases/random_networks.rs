//! The fast solver on random models: against the definition, and what must hold of any solver.

use crate::support::definition::{self, Answer, Nodes};
use crate::support::generator::{Names, Spec, spec, text};
use crate::support::models::model;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use ribstitch::analyse::answer::{Question, Solution, Start};
use ribstitch::analyse::network::{Analysis, Rule, Rules};
use ribstitch::model::{Control, FaultIx, Model, Need, NodeIx, StateIx};

const PLAIN: Names = Names { turn: 0, backwards: false };
/// Models in which shares are counted and broken solvers must be caught.
const MODELS: usize = 64;

fn answer(solution: &Solution) -> Answer {
    let Solution { works, misleads, approximate } = solution.clone();
    Answer { works, misleads, approximate }
}

/// Answers of a solver: each state; each fault in each state from running; each in the last state from cold.
fn all_answers(model: &Model, rules: Rules) -> Vec<Answer> {
    let analysis = Analysis::with_rules(model, rules);
    let faults = asked(model);
    let mut answers = Vec::new();
    for state in model.state_indices() {
        answers.push(answer(&analysis.state(state).solution));
        let sets: Vec<Vec<FaultIx>> = faults.iter().map(|f| vec![*f]).collect();
        answers.extend(analysis.solutions(state, &sets).iter().map(answer));
    }
    let last = StateIx::new(model.states.len() - 1);
    for fault in &faults {
        let mut question = Question::faults(last, vec![*fault]);
        question.start = Start::Cold;
        answers.push(answer(&analysis.effects(&question).after));
    }
    answers
}

/// The same by the definition.
fn defined_answers(model: &Model) -> Vec<Answer> {
    let mut answers = Vec::new();
    for state in model.state_indices() {
        let (last, plain) = definition::from_cold(model, state, &[]);
        let stand = definition::stand(model, last);
        let struck = asked(model).into_iter().map(|f| definition::solve(model, &stand, &[f], &plain.works));
        let struck: Vec<Answer> = struck.collect();
        answers.push(plain);
        answers.extend(struck);
    }
    let last = StateIx::new(model.states.len() - 1);
    answers.extend(asked(model).into_iter().map(|f| definition::from_cold(model, last, &[f]).1));
    answers
}

/// Faults of the author's, and some that just stop a thing.
fn asked(model: &Model) -> Vec<FaultIx> {
    let written = |f: &FaultIx| model[*f].id.as_str() != "fails";
    let (named, plain): (Vec<FaultIx>, Vec<FaultIx>) = model.fault_indices().partition(written);
    named.into_iter().chain(plain.into_iter().step_by(3)).collect()
}

fn config() -> Config {
    Config { cases: 64, failure_persistence: None, ..Config::default() }
}

/// The same models each time.
pub fn models() -> impl Iterator<Item = Model> {
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let mut runner = TestRunner::new_with_rng(Config::default(), rng);
    (0..MODELS).map(move |_| {
        let tree = spec().new_tree(&mut runner).expect("the strategy gives a model");
        model(&text(&tree.current(), &PLAIN))
    })
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn fast_solver_agrees_with_the_definition(spec in spec()) {
        let model = model(&text(&spec, &PLAIN));
        prop_assert_eq!(all_answers(&model, Rules::ALL), defined_answers(&model));
    }

    #[test]
    fn order_of_ids_and_of_needs_never_matters(spec in spec(), turn in 1..90usize) {
        let (one, other) = (model(&text(&spec, &PLAIN)), model(&text(&spec, &Names { turn, backwards: true })));
        let (one, other) = (named_answers(&spec, &one, &PLAIN), named_answers(&spec, &other, &Names { turn, backwards: true }));
        prop_assert_eq!(one.len(), other.len());
        for (one, other) in one.iter().zip(&other) {
            prop_assert_eq!(one, other);
        }
    }

    #[test]
    fn lanes_give_what_one_at_a_time_gives(spec in spec()) {
        let model = model(&text(&spec, &PLAIN));
        let analysis = Analysis::new(&model);
        let sets: Vec<Vec<FaultIx>> = pairs(&asked(&model));
        for state in model.state_indices() {
            let together = analysis.solutions(state, &sets);
            let situation = &analysis.state(state).situation;
            let before = &analysis.state(state).solution.works;
            for (set, solution) in sets.iter().zip(&together) {
                prop_assert_eq!(solution, &analysis.settled(situation, set, before));
            }
            for effects in analysis.single_faults(state) {
                prop_assert_eq!(&analysis.effects(&effects.question), &effects);
            }
        }
    }

    #[test]
    fn more_faults_never_leave_more_that_is_true_but_for_those_that_ignore(spec in spec()) {
        let model = model(&text(&spec, &PLAIN));
        let analysis = Analysis::new(&model);
        let faults: Vec<FaultIx> = model.fault_indices().filter(|f| model[*f].ignores.is_empty()).collect();
        for state in model.state_indices() {
            let untrue = |sets: &[Vec<FaultIx>]| -> Vec<Nodes> {
                let all = |s: &Solution| model.node_indices().filter(|n| !s.is_true(*n)).collect();
                analysis.solutions(state, sets).iter().map(all).collect()
            };
            let pairs = pairs(&faults);
            let one = untrue(&pairs.iter().map(|p| vec![p[0]]).collect::<Vec<_>>());
            for (one, both) in one.iter().zip(untrue(&pairs)) {
                prop_assert!(one.is_subset(&both));
            }
        }
    }

    #[test]
    fn what_effects_say_holds_of_their_solutions(spec in spec()) {
        let model = model(&text(&spec, &PLAIN));
        let analysis = Analysis::new(&model);
        for effects in model.state_indices().flat_map(|s| analysis.single_faults(s)) {
            for lost in &effects.lost {
                prop_assert!(effects.before.works.contains(&lost.node) && !effects.after.works.contains(&lost.node));
                prop_assert!(!lost.because.is_empty(), "{} is lost for no reason", &model[lost.node].id);
                prop_assert_eq!(Some(lost.because[0]), effects.question.faults.first().map(|f| model[*f].of));
            }
            for restore in &effects.restores {
                let mut question = effects.question.clone();
                question.then = restore.moves.iter().map(|m| (m.control, m.to)).collect();
                let moved = analysis.effects(&question);
                let back = restore.what.iter().all(|n| moved.after.is_true(*n));
                let more_than_a_move = restore.moves.iter().any(|m| {
                    let springs = |c: &Control| c.springs_to.iter().any(|(from, _)| *from == m.to);
                    m.from == m.to || model.control(m.control).is_some_and(springs)
                });
                prop_assert!(back || more_than_a_move);
            }
        }
    }
}

/// Every pair, both ways round.
fn pairs(faults: &[FaultIx]) -> Vec<Vec<FaultIx>> {
    let all = faults.iter().flat_map(|a| faults.iter().map(move |b| vec![*a, *b]));
    all.filter(|p| p[0] != p[1]).collect()
}

/// Answers with the names of things put back to what the plain names would be.
fn named_answers(spec: &Spec, model: &Model, names: &Names) -> Vec<String> {
    let plain = |node: &NodeIx| -> String {
        let id = &model[*node].id;
        let (item, rest) = id.split_once('.').map_or((id.as_str(), String::new()), |(i, f)| (i, format!(".{f}")));
        let back = (0..spec.items.len()).find(|n| names.item(*n) == item);
        back.map_or(id.clone(), |n| format!("{}{rest}", PLAIN.item(n)))
    };
    let analysis = Analysis::new(model);
    let mut all = Vec::new();
    for effects in model.state_indices().flat_map(|s| analysis.single_faults(s)) {
        let fault = &model[effects.question.faults[0]];
        let sorted = |nodes: &mut dyn Iterator<Item = &NodeIx>| {
            let mut named: Vec<String> = nodes.map(plain).collect();
            named.sort();
            named.join(" ")
        };
        let far: Vec<usize> = effects.lost.iter().map(|l| l.because.len()).collect();
        all.push(format!(
            "{:?} {}:{} works {} false {} about {} lost {} far {} unasked {}",
            effects.question.state,
            plain(&fault.of),
            fault.id,
            sorted(&mut effects.after.works.iter()),
            sorted(&mut effects.after.misleads.iter()),
            sorted(&mut effects.after.approximate.iter()),
            sorted(&mut effects.lost.iter().map(|l| &l.node)),
            far.iter().sum::<usize>(),
            sorted(&mut effects.runs_unasked.iter()),
        ));
    }
    all.sort();
    all
}

#[test]
fn every_broken_solver_is_caught() {
    let mut left: Vec<Rule> = Rule::ALL.to_vec();
    for model in models() {
        let right = defined_answers(&model);
        left.retain(|rule| all_answers(&model, Rules::without(*rule)) == right);
        if left.is_empty() {
            return;
        }
    }
    panic!("not caught: {left:?}");
}

/// How many models have a feature, and in how many it changes an answer.
#[derive(Debug, Default)]
struct Share {
    has: usize,
    changes: usize,
}

#[test]
fn generator_makes_enough_of_everything_and_all_of_it_matters() {
    let rules = [Rule::Least, Rule::Sustained, Rule::Guards, Rule::AtLeast, Rule::Misleads];
    let mut shares: Vec<Share> = rules.iter().map(|_| Share::default()).collect();
    for model in models() {
        let right = all_answers(&model, Rules::ALL);
        for (rule, share) in rules.iter().zip(&mut shares) {
            share.has += usize::from(has(&model, *rule));
            share.changes += usize::from(all_answers(&model, Rules::without(*rule)) != right);
        }
    }
    for (rule, share) in rules.iter().zip(&shares) {
        println!("{rule:?}: in {} of {MODELS} models, changes answers in {}", share.has, share.changes);
        assert!(share.has * 10 > MODELS && share.changes * 10 > MODELS, "{rule:?}: {share:?}");
    }
}

fn has(model: &Model, rule: Rule) -> bool {
    let needs = || model.nodes.iter().flat_map(|n| &n.needs);
    match rule {
        Rule::Least => model.node_indices().any(|n| hangs_on_itself(model, n)),
        Rule::Sustained => needs().flat_map(Need::feeds).any(|f| f.sustained),
        Rule::Guards => needs().flat_map(Need::feeds).any(|f| !f.when.is_always()),
        Rule::AtLeast => needs().any(|n| matches!(n, Need::AtLeast { .. })),
        _ => model.faults.iter().any(|f| !f.misleads.is_empty()),
    }
}

/// Along feeds that are not sustained, what they pass, and from a function to its item.
fn hangs_on_itself(model: &Model, node: NodeIx) -> bool {
    let (mut seen, mut todo) = (Nodes::new(), vec![node]);
    while let Some(at) = todo.pop() {
        let feeds = model[at].needs.iter().flat_map(Need::feeds).filter(|f| !f.sustained);
        let item = model.item_of(at).map(|i| model[i].node).filter(|item| *item != at);
        for next in feeds.flat_map(|f| f.through.iter().chain([&f.from])).copied().chain(item) {
            if next == node {
                return true;
            }
            if seen.insert(next) {
                todo.push(next);
            }
        }
    }
    false
}
