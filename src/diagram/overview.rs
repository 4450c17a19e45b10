//! The aircraft in one picture: its systems, and what each gives the others.

use super::item::scene_medium;
use super::layout;
use super::plan::{Form, Input, Label, Link, Part, Plan, Row, Step};
use super::scene::Scene;
use crate::model::{Fault, MediumIx, Model, Need, NodeIx, SystemIx};
use std::collections::{BTreeMap, BTreeSet};

/// Said of what the other system misses only in time.
const IN_TIME: &str = "in time";

/// How to read the drawing.
const READING: &str = "Read from left to right: a system gives what the line's tag says to the system at its wedge. A pointed \
                     frame stands for a system that is drawn elsewhere in the picture. Where it says in time, the system \
                     at the wedge fails only some time after what it is given.";

/// Draws the systems.
pub(super) fn draw(model: &Model) -> Scene {
    let plan = plan(model);
    let mut scene = layout::lay_out(&plan);
    scene.reading.push_str(READING);
    let name = |part: usize| plan.parts.get(part).map_or("", |p| p.name.text.as_str());
    let line = |l: &Link| {
        let flag = if l.through.is_empty() { String::new() } else { format!(", {IN_TIME}") };
        format!("{} → {}{flag} ({})", name(l.from), name(l.to), plan.media[l.medium].name)
    };
    scene.alternative = plan.links.iter().map(line).collect();
    scene
}

fn plan(model: &Model) -> Plan {
    let used: BTreeSet<SystemIx> = model.items.iter().map(|i| i.system).collect();
    let place: BTreeMap<SystemIx, usize> = used.iter().enumerate().map(|(at, s)| (*s, at)).collect();
    let parts = used.iter().map(|s| Part {
        rows: vec![Row::default()],
        ..Part::new(model[*s].id.to_string(), Form::Box, model[*s].name.clone(), model[*s].number.clone())
    });
    let mut plan = Plan { parts: parts.collect(), ..Plan::default() };
    let mut media: BTreeMap<MediumIx, usize> = BTreeMap::new();
    for ((from, to, medium), in_time) in gives(model) {
        let at = *media.entry(medium).or_insert_with(|| {
            plan.media.push(scene_medium(&model[medium]));
            plan.media.len() - 1
        });
        let (Some(from), Some(to)) = (place.get(&from), place.get(&to)) else { continue };
        let through = if in_time { vec![flag(&mut plan)] } else { Vec::new() };
        plan.links.push(Link { from: *from, through, to: *to, medium: at, sustained: in_time });
        let link = Input::Link(plan.links.len() - 1);
        plan.parts[*to].rows[0].inputs.push(link);
    }
    plan
}

/// The step of what is missed only in time.
fn flag(plan: &mut Plan) -> usize {
    if plan.steps.is_empty() {
        plan.steps.push(Step::Flag(Label::on_feed(IN_TIME.to_owned())));
    }
    plan.steps.len() - 1
}

/// One system, another, and what the first gives the second.
type Given = (SystemIx, SystemIx, MediumIx);

/// What systems give each other, sorted, each once; true of what the other misses only in time. What keeps on a thing that runs
/// already is left out: nothing starts by it.
fn gives(model: &Model) -> BTreeMap<Given, bool> {
    let system = |node: NodeIx| model.item_of(node).map(|item| model[item].system);
    let given = |from: NodeIx, to: NodeIx| {
        let (from, to) = (system(from), system(to)?);
        Some((from.filter(|from| *from != to)?, to))
    };
    let mut all = BTreeMap::new();
    for (from, to) in in_time(model) {
        let medium = model[from].gives;
        all.extend(given(from, to).zip(medium).map(|((from, to), medium)| ((from, to, medium), true)));
    }
    for to in model.node_indices() {
        let needs = model[to].needs.iter().chain(&model[to].senses);
        for feed in needs.flat_map(Need::feeds).filter(|feed| !feed.sustained) {
            let medium = model[feed.from].gives;
            all.extend(given(feed.from, to).zip(medium).map(|((from, to), medium)| ((from, to, medium), false)));
        }
    }
    all
}

/// Things whose loss takes another in time, without a third between them: the last of those that feed one another.
fn in_time(model: &Model) -> Vec<(NodeIx, NodeIx)> {
    let lost = |fault: &&Fault| fault.loses.iter().any(|entry| entry.what == fault.of);
    let follows = |fault: &Fault| fault.leads_to.iter().map(|l| model[l.fault].of).collect::<Vec<_>>();
    let pairs: BTreeSet<(NodeIx, NodeIx)> =
        model.faults.iter().filter(lost).flat_map(|f| follows(f).into_iter().map(|to| (f.of, to))).collect();
    let feeds = |from: NodeIx, to: NodeIx| model[to].needs.iter().flat_map(Need::feeds).any(|feed| feed.from == from);
    let by_way_of = |(from, to): &(NodeIx, NodeIx)| pairs.iter().any(|(other, end)| end == to && feeds(*from, *other));
    pairs.iter().filter(|pair| !by_way_of(pair)).copied().collect()
}
