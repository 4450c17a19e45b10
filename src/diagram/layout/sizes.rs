//! Part of pass 3: how large what stands in a drawing is, and where lines come in at it.

use super::layers::{BAR, BRACKET, Bracket, CHAIN_INSET, PENNANT, Slot, Stands, Vertex, WEDGE, empty};
use crate::diagram::lettering::LEADING;
use crate::diagram::plan::{Form, Input, Label, PITCH, Part, Plan, Row, Step, flag_height};
use crate::diagram::symbol::HALF_HEIGHT;
use std::rc::Rc;

/// A chain of more steps runs down.
const LONGEST_ACROSS: usize = 2;

/// A part as it is drawn in a band: a device that no line passes there is a plain box.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shown<'a> {
    /// The part.
    pub part: &'a Part,
    /// Its form there.
    pub form: Form,
}

impl<'a> Shown<'a> {
    /// A part in its own form.
    pub fn own(part: &'a Part) -> Self {
        Self { part, form: part.form }
    }
}

/// A part that gives to a band in which it is not itself.
pub(super) fn origin_vertex(part: &Part, at: usize, continued: bool) -> Vertex {
    if part.form == Form::Bar {
        return Vertex { stands: Stands::Bus(at, continued), ..part_vertex(Shown::own(&bus_again(part, continued))) };
    }
    Vertex { stands: Stands::Port(at), ..port_vertex(part) }
}

/// A bus as it is drawn again: without what feeds it.
pub(super) fn bus_again(part: &Part, continued: bool) -> Part {
    let detail = Label::in_part(if continued { "continued" } else { "in this drawing" }.to_owned());
    let (of, name, port) = (part.of.clone(), part.name.clone(), part.port.clone());
    Part { of, form: part.form, name, detail, port, rows: Vec::new() }
}

/// A part with its slots in written order.
pub(super) fn part_vertex(shown: Shown<'_>) -> Vertex {
    let part = shown.part;
    let mut vertex = empty(Stands::Passing);
    match shown.form {
        Form::Taker | Form::Outside => return taker_vertex(part),
        Form::Device(_) => vertex.slots.push((Slot::Pass, 0.0)),
        _ => {}
    }
    arrange(&mut vertex, shown, &|_| 0.0);
    let depth = part.rows.iter().flat_map(|r| &r.inputs).map(Input::depth).max().unwrap_or(0);
    let flag = vertex.slots.iter().map(flag_width).fold(0.0, f64::max);
    vertex.left = if vertex.slots.is_empty() { 0.0 } else { WEDGE + depth as f64 * BRACKET + flag };
    vertex.body = body_width(shown);
    vertex.is_bar = shown.form == Form::Bar;
    vertex
}

fn flag_width((slot, _): &(Slot, f64)) -> f64 {
    match slot {
        Slot::Flag(words) => words.wide + PENNANT + 6.0,
        _ => 0.0,
    }
}

fn body_width(shown: Shown<'_>) -> f64 {
    let part = shown.part;
    let names = part.rows.iter().map(|r| r.name.wide);
    let widest = names.fold(part.name.wide.max(part.detail.wide), f64::max);
    let (space, least) = if shown.form == Form::Bar { (4.0, BAR) } else { (12.0, 34.0) };
    (widest * 1.04 + space).max(least)
}

/// Height of the heading of a part: its name and what it is rated.
pub(super) fn head_height(shown: Shown<'_>) -> f64 {
    let lines = shown.part.name.lines.len() + shown.part.detail.lines.len();
    lines as f64 * LEADING + if shown.form == Form::Bar { 3.0 } else { 7.0 }
}

/// Gives every slot of a part its place, the inputs of a row sorted by `key` of their links, brackets kept together.
pub(super) fn arrange(vertex: &mut Vertex, shown: Shown<'_>, key: &dyn Fn(usize) -> f64) {
    vertex.brackets.clear();
    let Shown { part, form } = shown;
    let head = head_height(shown);
    if let Form::Device(_) = form {
        vertex.out = head + HALF_HEIGHT + 1.0;
        vertex.own_out = head / 2.0;
        vertex.slots[0].1 = vertex.out;
    }
    let spans = row_spans(shown);
    for (row, (top, height)) in part.rows.iter().zip(&spans) {
        let order = row_slots(vertex, row, key);
        let heights: Vec<f64> = order.iter().map(|slot| slot_height(&vertex.slots[*slot].0)).collect();
        let mut y = top + (height - heights.iter().sum::<f64>()) / 2.0;
        for (slot, high) in order.into_iter().zip(heights) {
            vertex.slots[slot].1 = y + high / 2.0;
            y += high;
        }
    }
    let end = spans.last().map_or(0.0, |(top, height)| top + height);
    vertex.height = if form == Form::Bar { (end + 6.0).max(head + 26.0) } else { end.max(head) + 1.0 };
    if let Form::Device(_) = form {
        vertex.height = vertex.height.max(head + 2.0 * HALF_HEIGHT + 4.0);
    } else {
        vertex.out = if form == Form::Bar { head.midpoint(vertex.height) } else { vertex.height / 2.0 };
    }
}

/// Upper edge and height of each row of a part.
pub(super) fn row_spans(shown: Shown<'_>) -> Vec<(f64, f64)> {
    let Shown { part, form } = shown;
    let head = head_height(shown);
    let mut top = match form {
        Form::Bar => head,
        Form::Device(_) => head + 2.0 * HALF_HEIGHT + 3.0,
        _ => 0.0,
    };
    let mut spans = Vec::new();
    for row in &part.rows {
        let wanted = row.inputs.iter().map(Input::height).sum::<f64>();
        let least = match (form, row.name.text.is_empty()) {
            (Form::Box, true) => head,
            (Form::Box, false) => row.name.height() + 5.0,
            _ => 0.0,
        };
        if !row.name.text.is_empty() && form == Form::Box {
            top = top.max(head);
        }
        spans.push((top, wanted.max(least)));
        top += wanted.max(least);
    }
    spans
}

fn slot_height(slot: &Slot) -> f64 {
    if let Slot::Flag(words) = slot { flag_height(words) } else { PITCH }
}

/// The slots of a row in their order from top to bottom; new ones are added.
fn row_slots(vertex: &mut Vertex, row: &Row, key: &dyn Fn(usize) -> f64) -> Vec<usize> {
    let mut order = Vec::new();
    for input in sorted(&row.inputs, key) {
        input_slots(vertex, input, key, &mut order);
    }
    order
}

fn sorted<'a>(inputs: &'a [Input], key: &dyn Fn(usize) -> f64) -> Vec<&'a Input> {
    if let [only] = inputs {
        return vec![only];
    }
    let mean = |input: &Input| {
        let (mut sum, mut count) = (0.0, 0.0);
        input.each_link(&mut |link| {
            sum += key(link);
            count += 1.0;
        });
        if count == 0.0 { f64::MAX } else { sum / count }
    };
    let mut keyed: Vec<(f64, &Input)> = inputs.iter().map(|input| (mean(input), input)).collect();
    keyed.sort_by(|a, b| a.0.total_cmp(&b.0));
    keyed.into_iter().map(|(_, input)| input).collect()
}

fn input_slots(vertex: &mut Vertex, input: &Input, key: &dyn Fn(usize) -> f64, order: &mut Vec<usize>) {
    match input {
        Input::Link(link) => order.push(slot_of(vertex, Slot::Link(*link))),
        Input::Flag(words) => order.push(slot_of(vertex, Slot::Flag(Rc::clone(words)))),
        Input::Group(word, of) => {
            let (begin, mut first_ends) = (order.len(), None);
            for part in sorted(of, key) {
                input_slots(vertex, part, key, order);
                first_ends.get_or_insert(order.len());
            }
            let (Some(first), Some(last), Some(split)) = (order.get(begin), order.last(), first_ends) else { return };
            let after = order.get(split).unwrap_or(last);
            let before = split.checked_sub(1).and_then(|s| order.get(s)).unwrap_or(first);
            vertex.brackets.push(Bracket {
                level: input.depth() - 1,
                slots: (*first, *last),
                word_between: (*before, *after),
                word: Rc::clone(word),
            });
        }
    }
}

fn slot_of(vertex: &mut Vertex, slot: Slot) -> usize {
    vertex.slots.iter().position(|(s, _)| *s == slot).unwrap_or_else(|| {
        vertex.slots.push((slot, 0.0));
        vertex.slots.len() - 1
    })
}

fn port_vertex(part: &Part) -> Vertex {
    let [name, detail] = &part.port;
    let mut vertex = empty(Stands::Passing);
    vertex.body = name.wide.max(detail.wide) + 14.0;
    vertex.height = name.height() + detail.height() + 5.0;
    vertex.out = vertex.height / 2.0;
    vertex
}

/// A taker's feeds are those that this drawing shows.
fn taker_vertex(part: &Part) -> Vertex {
    let mut vertex = port_vertex(part);
    let low = vertex.height;
    arrange_taker(&mut vertex, part, &|_| 0.0);
    let depth = part.rows.iter().flat_map(|r| &r.inputs).map(Input::depth).max().unwrap_or(0);
    vertex.height = low.max(vertex.slots.len() as f64 * taker_pitch(&vertex) + 4.0);
    vertex.out = low / 2.0;
    vertex.left = WEDGE + depth as f64 * BRACKET;
    arrange_taker(&mut vertex, part, &|_| 0.0);
    vertex
}

/// Distance of two feeds at a taker, pt: between those of a bracket there must be room for its word.
fn taker_pitch(vertex: &Vertex) -> f64 {
    if vertex.brackets.is_empty() { 9.0 } else { PITCH }
}

/// Gives every slot of a taker its place, as `arrange` does.
pub(super) fn arrange_taker(vertex: &mut Vertex, part: &Part, key: &dyn Fn(usize) -> f64) {
    vertex.brackets.clear();
    let mut order = Vec::new();
    for row in &part.rows {
        order.extend(row_slots(vertex, row, key));
    }
    let (pitch, middle) = (taker_pitch(vertex), (order.len() as f64 - 1.0) / 2.0);
    for (at, slot) in order.into_iter().enumerate() {
        vertex.slots[slot].1 = vertex.height / 2.0 + (at as f64 - middle) * pitch;
    }
}

/// Width of a step that stands in a row, pt.
pub(super) fn step_width(step: &Step) -> f64 {
    step.label().wide.max(18.0) + if matches!(step, Step::Flag(_)) { PENNANT + 6.0 } else { 10.0 }
}

/// Height of a step in a chain that runs down, pt.
pub(super) fn step_height(step: &Step) -> f64 {
    (step.label().height() + 4.0).max(22.0)
}

/// Devices and flags in a row, or one below the other.
pub(super) fn chain_vertex(plan: &Plan, steps: &[usize]) -> Vertex {
    let of = || steps.iter().filter_map(|step| plan.steps.get(*step));
    let flagged = of().any(|s| matches!(s, Step::Flag(_)));
    let down = steps.len() > LONGEST_ACROSS || (flagged && steps.len() > 1);
    let mut vertex = empty(Stands::Chain(steps.into(), down));
    if down {
        vertex.body = CHAIN_INSET + HALF_HEIGHT + 8.0 + of().map(|s| s.label().wide).fold(0.0, f64::max);
        vertex.height = 16.0 + of().map(step_height).sum::<f64>();
        vertex.out = vertex.height - 5.0;
        vertex.slots.push((Slot::Pass, 5.0));
    } else {
        let highest = of().map(|s| s.label().height()).fold(0.0, f64::max);
        vertex.body = of().map(step_width).sum();
        vertex.out = highest + 4.0 + HALF_HEIGHT;
        vertex.height = vertex.out + 3.5;
        vertex.slots.push((Slot::Pass, vertex.out));
    }
    vertex
}
