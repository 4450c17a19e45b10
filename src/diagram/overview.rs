//! The aircraft in one picture: its systems, and what each gives the others.

use super::layout;
use super::plan::{Form, Input, Link, Part, Plan, Row};
use super::scene::Scene;
use super::system::scene_medium;
use crate::model::{MediumIx, Model, Need, NodeIx, SystemIx};
use std::collections::{BTreeMap, BTreeSet};

/// How to read the drawing.
const READING: &str = "Read from left to right: a system gives what the line's tag says to the system at its wedge. A pointed \
                     frame stands for a system that is drawn elsewhere in the picture.";

/// Draws the systems.
pub(super) fn draw(model: &Model) -> Scene {
    let plan = plan(model);
    let mut scene = layout::lay_out(&plan);
    scene.reading.push_str(READING);
    let name = |part: usize| plan.parts.get(part).map_or("", |p| p.name.text.as_str());
    let line = |l: &Link| format!("{} → {} ({})", name(l.from), name(l.to), plan.media[l.medium].name);
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
    for (from, to, medium) in gives(model) {
        let at = *media.entry(medium).or_insert_with(|| {
            plan.media.push(scene_medium(&model[medium]));
            plan.media.len() - 1
        });
        let (Some(from), Some(to)) = (place.get(&from), place.get(&to)) else { continue };
        plan.links.push(Link { from: *from, through: Vec::new(), to: *to, medium: at, sustained: false });
        let link = Input::Link(plan.links.len() - 1);
        plan.parts[*to].rows[0].inputs.push(link);
    }
    plan
}

/// What systems give each other: sorted, each once.
fn gives(model: &Model) -> BTreeSet<(SystemIx, SystemIx, MediumIx)> {
    let system = |node: NodeIx| model.item_of(node).map(|item| model[item].system);
    let mut given = BTreeSet::new();
    for (at, node) in model.nodes.iter().enumerate() {
        let Some(to) = system(NodeIx::new(at)) else { continue };
        for feed in node.needs.iter().chain(&node.senses).flat_map(Need::feeds) {
            let Some(from) = system(feed.from).filter(|from| *from != to) else { continue };
            given.extend(model[feed.from].gives.map(|medium| (from, to, medium)));
        }
    }
    given
}
