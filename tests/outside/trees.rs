//! Small fault trees with known minimal cut sets, written as models and solved for every set of faults.
//!
//! # Source
//! `data/minimal_cut_sets.csv`: the pressure tank of NUREG-0492, chapter VIII (structure from memory), and two open benchmarks; 27 of
//! the 32 assignments of the pressure tank fail (pyeda 0.29, sympy 1.14, dd 0.6).

use super::rows;
use ribstitch::analyse::answer::Question;
use ribstitch::analyse::network::Analysis;
use ribstitch::base::Sources;
use ribstitch::model::{FaultIx, Model};
use ribstitch::resolve;
use std::collections::BTreeSet;

type Set = BTreeSet<String>;

/// A model of parts that need nothing, and a top that needs them.
fn tree(parts: &[&str], needs: &str) -> Model {
    let mut text = String::from(
        "[aircraft]\nname = \"Tree\"\nmaker = \"Nobody\"\nrevision = 1\ndate = 2026-01-01\nhandbook = \"None\"\n\
         reference-state = \"on\"\n[system.all]\nname = \"everything\"\nnumber = \"24\"\n[state.on]\nname = \"on\"\nin-flight = true\n",
    );
    for part in parts {
        let kind = if *part == "relay" { "relay" } else { "battery" };
        text += &format!(
            "[item.{part}]\nname = \"part {part}\"\nkind = \"{kind}\"\nsystem = \"all\"\ngives = \"electricity\"\n"
        );
    }
    text += &format!(
        "[item.top]\nname = \"top\"\nkind = \"lamp\"\nsystem = \"all\"\ncannot-fail = \"It stands for the whole.\"\nneeds = [{needs}]\n"
    );
    let mut sources = Sources::default();
    let (model, said) = resolve::load_texts(vec![("tree.toml".to_owned(), text)], &mut sources);
    model.unwrap_or_else(|| panic!("{said:?}"))
}

/// Every set of parts that takes the top.
fn failing(model: &Model, parts: &[&str]) -> Vec<Set> {
    let analysis = Analysis::new(model);
    let top = model.find_node("top").unwrap();
    let subsets = (0..1_u32 << parts.len()).map(|bits| {
        let chosen = parts.iter().enumerate().filter(|(i, _)| bits >> i & 1 == 1);
        chosen.map(|(_, p)| (*p).to_owned()).collect::<Set>()
    });
    let takes = |set: &Set| {
        let faults: Vec<FaultIx> = set.iter().map(|p| model.find_fault(p).unwrap()).collect();
        let effects = analysis.effects(&Question::faults(model.reference_state.unwrap(), faults));
        !effects.after.works.contains(&top)
    };
    subsets.filter(takes).collect()
}

fn minimal(failing: &[Set]) -> BTreeSet<Set> {
    let smaller = |set: &Set| failing.iter().any(|other| other.is_subset(set) && other != set);
    failing.iter().filter(|set| !smaller(set)).cloned().collect()
}

fn published(tree: &str) -> BTreeSet<Set> {
    let rows = rows("minimal_cut_sets.csv").into_iter().filter(|r| r[0] == tree);
    rows.map(|r| r[1].split(' ').map(str::to_owned).collect()).collect()
}

#[test]
fn pressure_tank_has_the_published_sets_and_27_of_32_assignments_fail() {
    let parts = ["t", "k2", "s", "k1", "r"];
    let model = tree(&parts, r#""t", "k2", { any = ["s", { all = ["k1", "r"] }] }"#);
    let failing = failing(&model, &parts);
    assert_eq!(failing.len(), 27);
    assert_eq!(minimal(&failing), published("pressure-tank"));
}

#[test]
fn two_trains_have_the_published_sets() {
    let parts = ["v1", "p1", "v2", "p2"];
    let model = tree(&parts, r#"{ any = [{ all = ["v1", "p1"] }, { all = ["v2", "p2"] }] }"#);
    assert_eq!(minimal(&failing(&model, &parts)), published("two-trains"));
}

#[test]
fn theatre_supply_has_the_published_sets() {
    let parts = ["mains", "generator", "relay"];
    let model = tree(&parts, r#""mains or generator through relay""#);
    assert_eq!(minimal(&failing(&model, &parts)), published("theatre"));
}
