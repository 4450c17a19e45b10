//! Pass 3. Before: parts and links of one band. After: vertices in columns; every edge joins a column to the next.
//!
//! Links from one source that pass the same devices share them: they part after the last device that they share.

use super::rank;
use crate::diagram::lettering::{LEADING, widest, wrap};
use crate::diagram::plan::{FLAG_WIDTH, Form, Input, PITCH, Part, Plan, Row, Step, flag_height};
use crate::diagram::symbol::HALF_HEIGHT;
use std::collections::{BTreeMap, BTreeSet};

/// Space for a wedge at the border of a part, pt.
pub(super) const WEDGE: f64 = 7.0;
/// Space for one bracket with its word, pt.
pub(super) const BRACKET: f64 = 31.0;
/// Space for the tag of a medium after a source, pt.
pub(super) const TAG: f64 = 17.0;
/// Thickness of a bar, pt.
pub(super) const BAR: f64 = 6.0;
/// From the left edge of a chain that runs down to its line, pt.
pub(super) const CHAIN_INSET: f64 = 11.0;
/// A chain of more steps runs down.
const LONGEST_ACROSS: usize = 2;
/// Width of a pennant beside its words, pt.
pub(super) const PENNANT: f64 = 10.0;

/// One band in columns.
#[derive(Debug, Clone, Default)]
pub(super) struct Layers {
    /// Vertices; edges refer to them by place.
    pub vertices: Vec<Vertex>,
    /// Edges.
    pub edges: Vec<Edge>,
    /// Vertices of each column from top to bottom.
    pub columns: Vec<Vec<usize>>,
    /// Left edge of each column, then its width; set by `route`.
    pub places: Vec<(f64, f64)>,
    /// Width of the whole; set by `route`.
    pub width: f64,
    /// Height of the whole; set by `place`.
    pub height: f64,
    /// Place of each vertex in its column; set by `seat`.
    pub seats: Vec<usize>,
    /// Edges that leave each vertex, and edges that come to it; set when the columns are filled.
    pub joined: Vec<(Vec<usize>, Vec<usize>)>,
}

/// What a vertex stands for.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Stands {
    /// A part.
    Part(usize),
    /// Devices and flags in a row.
    Chain(Vec<Step>, bool),
    /// A part that is drawn elsewhere.
    Port(usize),
    /// A bus that is drawn in another band too; true if all of this band hangs on it.
    Bus(usize, bool),
    /// An edge that passes a column.
    Passing,
    /// A node of a graph that has nothing but a size.
    Plain,
}

/// Where something comes in.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Slot {
    /// Of a link.
    Link(usize),
    /// The line that passes a device.
    Pass,
    /// A condition on its own.
    Flag(String),
}

/// A bracket beside a part.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bracket {
    /// From the part's border to the left: 0 is the innermost.
    pub level: usize,
    /// Slots that it spans, and the two between which its word stands.
    pub slots: (usize, usize),
    /// Slots between which the word stands.
    pub word_between: (usize, usize),
    /// Its word.
    pub word: String,
}

/// One vertex.
#[derive(Debug, Clone)]
pub(super) struct Vertex {
    /// What it stands for.
    pub stands: Stands,
    /// Its column.
    pub column: usize,
    /// Space left of the body: wedge, brackets, flags.
    pub left: f64,
    /// Width of the body.
    pub body: f64,
    /// Height.
    pub height: f64,
    /// Where the line leaves, from the top.
    pub out: f64,
    /// Where its own line leaves, if one passes it besides.
    pub own_out: f64,
    /// Where lines come in.
    pub slots: Vec<(Slot, f64)>,
    /// Brackets.
    pub brackets: Vec<Bracket>,
    /// Upper edge; set by `place`.
    pub y: f64,
    /// A bus: feeds leave it at heights of their own.
    pub is_bar: bool,
}

/// One edge.
#[derive(Debug, Clone)]
pub(super) struct Edge {
    /// From.
    pub from: usize,
    /// To.
    pub to: usize,
    /// Where it comes in.
    pub slot: usize,
    /// It ends at a consumer.
    pub wedge: bool,
    /// It is the own line of a device that another line passes.
    pub own: bool,
    /// What flows.
    pub medium: usize,
    /// Where it leaves; set by `place`.
    pub leaves: f64,
    /// Track between the columns; set by `route`, none if it runs straight.
    pub track: Option<f64>,
}

impl Layers {
    /// Edges that come from a vertex.
    pub fn out_of(&self, vertex: usize) -> impl Iterator<Item = usize> + '_ {
        self.joined.get(vertex).into_iter().flat_map(|(out, _)| out.iter().copied())
    }

    /// Edges that come to a vertex.
    pub fn ins(&self, vertex: usize) -> impl Iterator<Item = usize> + '_ {
        self.joined.get(vertex).into_iter().flat_map(|(_, ins)| ins.iter().copied())
    }

    /// About how wide and high it will be, before anything is placed.
    pub fn extent(&self) -> (f64, f64) {
        let (mut wide, mut high) = (0.0, 0.0_f64);
        for column in &self.columns {
            let vertices = || column.iter().map(|v| &self.vertices[*v]);
            let sources = || column.iter().filter(|v| self.out_of(**v).next().is_some());
            wide += vertices().map(|v| v.left).fold(0.0, f64::max) + vertices().map(|v| v.body).fold(0.0, f64::max);
            let chain = |v: &usize| matches!(self.vertices[*v].stands, Stands::Chain(..) | Stands::Passing);
            wide += match (sources().count(), sources().all(chain)) {
                (0, _) => 0.0,
                (some, true) => 10.0 + some.min(2) as f64 * 4.0,
                (some, false) => TAG + 8.0 + some.min(8) as f64 * 4.0,
            };
            high = high.max(vertices().map(|v| v.height + 5.0).sum());
        }
        (wide, high)
    }

    /// Notes the place of each vertex in its column.
    pub fn seat(&mut self) {
        self.seats.resize(self.vertices.len(), 0);
        for column in &self.columns {
            column.iter().enumerate().for_each(|(at, vertex)| self.seats[*vertex] = at);
        }
    }

    /// Fills the columns and notes which edges are joined to which vertex.
    pub fn fill_columns(&mut self) {
        let count = self.vertices.iter().map(|v| v.column + 1).max().unwrap_or(0);
        self.columns = vec![Vec::new(); count];
        self.joined = vec![(Vec::new(), Vec::new()); self.vertices.len()];
        for (at, vertex) in self.vertices.iter().enumerate() {
            self.columns[vertex.column].push(at);
        }
        for (at, edge) in self.edges.iter().enumerate() {
            self.joined[edge.from].0.push(at);
            self.joined[edge.to].1.push(at);
        }
    }

    /// Where an edge comes in, from the top of the page.
    pub fn enters(&self, edge: &Edge) -> f64 {
        let to = &self.vertices[edge.to];
        to.y + to.slots.get(edge.slot).map_or(to.out, |s| s.1)
    }
}

/// A way from a source through devices, shared by links as far as they pass the same.
#[derive(Debug, Default)]
struct Way {
    step: Option<Step>,
    next: Vec<usize>,
    ends: Vec<usize>,
}

/// How often something that is drawn elsewhere stands in a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ports {
    /// Once.
    Shared,
    /// Once for each part that it feeds; a bus still once.
    Split,
    /// Once for each feed; a bus still once.
    Each,
}

/// Builds vertices and edges of one band.
pub(super) fn build(plan: &Plan, back: &BTreeSet<usize>, members: &BTreeSet<usize>, ports: Ports) -> Layers {
    let mut builder = Builder {
        plan,
        members,
        back,
        layers: Layers::default(),
        parts: BTreeMap::new(),
        passed: BTreeSet::new(),
        homes: true,
    };
    for part in members {
        let vertex = part_vertex(&plan.parts[*part]);
        let vertex = builder.add(Vertex { stands: Stands::Part(*part), ..vertex });
        builder.parts.insert(*part, vertex);
    }
    let inside = |l: usize| members.contains(&plan.links[l].to);
    for by_port in [false, true] {
        let mut origins: BTreeMap<(usize, usize, usize), Vec<usize>> = BTreeMap::new();
        for at in (0..plan.links.len()).filter(|l| inside(*l)) {
            let link = &plan.links[at];
            if (back.contains(&at) || !members.contains(&link.from)) == by_port {
                let target = match ports {
                    Ports::Split if by_port && plan.parts[link.from].form != Form::Bar => link.to,
                    Ports::Each if by_port && plan.parts[link.from].form != Form::Bar => at,
                    _ => 0,
                };
                origins.entry((link.from, link.medium, target)).or_default().push(at);
            }
        }
        for ((from, medium, _), links) in origins {
            builder.add_ways((from, medium), &links, by_port);
        }
    }
    let mut layers = builder.layers;
    rank::rank(&mut layers);
    rank::takers_last(&mut layers, plan);
    rank::pass_columns(&mut layers);
    layers
}

struct Builder<'a> {
    plan: &'a Plan,
    members: &'a BTreeSet<usize>,
    layers: Layers,
    back: &'a BTreeSet<usize>,
    parts: BTreeMap<usize, usize>,
    passed: BTreeSet<usize>,
    /// Lines pass the parts that their devices are.
    homes: bool,
}

impl Builder<'_> {
    fn add(&mut self, vertex: Vertex) -> usize {
        self.layers.vertices.push(vertex);
        self.layers.vertices.len() - 1
    }

    fn join(&mut self, from: usize, to: usize, slot: usize, medium: usize, own: bool) {
        let wedge = matches!(self.layers.vertices[to].stands, Stands::Part(_))
            && !matches!(self.layers.vertices[to].slots.get(slot), Some((Slot::Pass, _)));
        self.layers.edges.push(Edge { from, to, slot, wedge, own, medium, leaves: 0.0, track: None });
    }

    fn add_ways(&mut self, (from, medium): (usize, usize), links: &[usize], by_port: bool) {
        let origin = if by_port {
            let continued = self.plan.links.iter().all(|l| l.from == from || !self.members.contains(&l.to));
            self.add(origin_vertex(&self.plan.parts[from], from, continued))
        } else {
            let Some(vertex) = self.parts.get(&from) else { return };
            *vertex
        };
        let (back, ahead): (Vec<usize>, Vec<usize>) = links.iter().partition(|l| self.back.contains(l));
        for (links, homes) in [(ahead, true), (back, false)] {
            self.homes = homes;
            let ways = self.ways(&links);
            self.follow(&ways, 0, origin, medium);
        }
    }

    fn ways(&self, links: &[usize]) -> Vec<Way> {
        let mut ways = vec![Way::default()];
        for link in links {
            let mut at = 0;
            for step in &self.plan.links[*link].through {
                let known = ways[at].next.iter().copied().find(|n| ways[*n].step.as_ref() == Some(step));
                at = known.unwrap_or_else(|| {
                    ways.push(Way { step: Some(step.clone()), ..Way::default() });
                    let new = ways.len() - 1;
                    ways[at].next.push(new);
                    new
                });
            }
            ways[at].ends.push(*link);
        }
        ways
    }

    /// From a vertex on: links that end here, then each way that goes on.
    fn follow(&mut self, ways: &[Way], at: usize, from: usize, medium: usize) {
        let own = at == 0 && self.is_device(from);
        for link in &ways[at].ends {
            let to = self.plan.links[*link].to;
            let Some(vertex) = self.parts.get(&to).copied() else { continue };
            let slot = self.layers.vertices[vertex].slots.iter().position(|(s, _)| *s == Slot::Link(*link));
            if let Some(slot) = slot {
                self.join(from, vertex, slot, medium, own);
            }
        }
        for next in &ways[at].next {
            self.follow_step(ways, *next, (from, own), medium);
        }
    }

    fn follow_step(&mut self, ways: &[Way], at: usize, (from, own): (usize, bool), medium: usize) {
        if let Some(home) = self.home(ways[at].step.as_ref()) {
            self.passed.insert(home);
            let vertex = self.parts[&home];
            self.join(from, vertex, 0, medium, own);
            self.follow(ways, at, vertex, medium);
            return;
        }
        let (mut last, mut steps) = (at, Vec::new());
        steps.extend(ways[at].step.clone());
        while let ([next], true) = (ways[last].next.as_slice(), ways[last].ends.is_empty()) {
            if self.home(ways[*next].step.as_ref()).is_some() {
                break;
            }
            steps.extend(ways[*next].step.clone());
            last = *next;
        }
        let vertex = chain_vertex(&steps);
        let vertex = self.add(vertex);
        self.join(from, vertex, 0, medium, own);
        self.follow(ways, last, vertex, medium);
    }

    fn is_device(&self, vertex: usize) -> bool {
        matches!(self.layers.vertices[vertex].stands, Stands::Part(p) if matches!(self.plan.parts[p].form, Form::Device(_)))
    }

    /// The part in which a device is drawn, if it is in this band and no line passes it yet.
    fn home(&self, step: Option<&Step>) -> Option<usize> {
        match step {
            Some(Step::Device { home: Some(home), .. }) => {
                Some(*home).filter(|h| self.homes && self.members.contains(h) && !self.passed.contains(h))
            }
            _ => None,
        }
    }
}

/// A part that gives to a band in which it is not itself.
fn origin_vertex(part: &Part, at: usize, continued: bool) -> Vertex {
    if part.form == Form::Bar {
        return Vertex { stands: Stands::Bus(at, continued), ..part_vertex(&bus_again(part, continued)) };
    }
    Vertex { stands: Stands::Port(at), ..port_vertex(part) }
}

/// A bus as it is drawn again: without what feeds it.
pub(super) fn bus_again(part: &Part, continued: bool) -> Part {
    let detail = if continued { "continued" } else { "in this drawing" };
    Part { rows: Vec::new(), detail: detail.to_owned(), ..part.clone() }
}

/// A part with its slots in written order.
fn part_vertex(part: &Part) -> Vertex {
    let mut vertex = empty(Stands::Passing);
    match part.form {
        Form::Taker | Form::Outside => return taker_vertex(part),
        Form::Device(_) => vertex.slots.push((Slot::Pass, 0.0)),
        _ => {}
    }
    arrange(&mut vertex, part, &|_| 0.0);
    let depth = part.rows.iter().flat_map(|r| &r.inputs).map(Input::depth).max().unwrap_or(0);
    let flag = vertex.slots.iter().map(flag_width).fold(0.0, f64::max);
    vertex.left = if vertex.slots.is_empty() { 0.0 } else { WEDGE + depth as f64 * BRACKET + flag };
    vertex.body = body_width(part);
    vertex.is_bar = part.form == Form::Bar;
    vertex
}

fn flag_width((slot, _): &(Slot, f64)) -> f64 {
    match slot {
        Slot::Flag(words) => widest(&wrap(words, FLAG_WIDTH)) + PENNANT + 6.0,
        _ => 0.0,
    }
}

/// Widest line of a part's name, pt.
pub(super) const NAME_WIDTH: f64 = 62.0;

fn body_width(part: &Part) -> f64 {
    let names = part.rows.iter().flat_map(|r| wrap(&r.name, NAME_WIDTH));
    let lines: Vec<String> =
        wrap(&part.name, NAME_WIDTH).into_iter().chain(wrap(&part.detail, NAME_WIDTH)).chain(names).collect();
    let least = if part.form == Form::Bar { BAR } else { 34.0 };
    (widest(&lines) * 1.04 + if part.form == Form::Bar { 4.0 } else { 12.0 }).max(least)
}

/// Height of the heading of a part: its name and what it is rated.
pub(super) fn head_height(part: &Part) -> f64 {
    let lines = wrap(&part.name, NAME_WIDTH).len() + wrap(&part.detail, NAME_WIDTH).len();
    lines as f64 * LEADING + if part.form == Form::Bar { 3.0 } else { 7.0 }
}

/// Gives every slot of a part its place, the inputs of a row sorted by `key` of their links, brackets kept together.
pub(super) fn arrange(vertex: &mut Vertex, part: &Part, key: &dyn Fn(usize) -> f64) {
    vertex.brackets.clear();
    let head = head_height(part);
    if let Form::Device(_) = part.form {
        vertex.out = head + HALF_HEIGHT + 1.0;
        vertex.own_out = head / 2.0;
        vertex.slots[0].1 = vertex.out;
    }
    let spans = row_spans(part);
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
    vertex.height = if part.form == Form::Bar { (end + 6.0).max(head + 26.0) } else { end.max(head) + 1.0 };
    if let Form::Device(_) = part.form {
        vertex.height = vertex.height.max(head + 2.0 * HALF_HEIGHT + 4.0);
    } else {
        vertex.out = if part.form == Form::Bar { head.midpoint(vertex.height) } else { vertex.height / 2.0 };
    }
}

/// Upper edge and height of each row of a part.
pub(super) fn row_spans(part: &Part) -> Vec<(f64, f64)> {
    let head = head_height(part);
    let mut top = match part.form {
        Form::Bar => head,
        Form::Device(_) => head + 2.0 * HALF_HEIGHT + 3.0,
        _ => 0.0,
    };
    let mut spans = Vec::new();
    for row in &part.rows {
        let wanted = row.inputs.iter().map(Input::height).sum::<f64>();
        let least = match (part.form, row.name.is_empty()) {
            (Form::Box, true) => head,
            (Form::Box, false) => wrap(&row.name, NAME_WIDTH).len() as f64 * LEADING + 5.0,
            _ => 0.0,
        };
        if !row.name.is_empty() && part.form == Form::Box {
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
    let mean = |i: &&Input| {
        let links = i.links();
        let sum: f64 = links.iter().map(|l| key(*l)).sum();
        if links.is_empty() { f64::MAX } else { sum / links.len() as f64 }
    };
    let mut inputs: Vec<&Input> = inputs.iter().collect();
    inputs.sort_by(|a, b| mean(a).total_cmp(&mean(b)));
    inputs
}

fn input_slots(vertex: &mut Vertex, input: &Input, key: &dyn Fn(usize) -> f64, order: &mut Vec<usize>) {
    match input {
        Input::Link(link) => order.push(slot_of(vertex, Slot::Link(*link))),
        Input::Flag(words) => order.push(slot_of(vertex, Slot::Flag(words.clone()))),
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
                word: word.clone(),
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

/// A vertex without size.
pub(super) fn empty(stands: Stands) -> Vertex {
    Vertex {
        stands,
        column: 0,
        left: 0.0,
        body: 0.0,
        height: 0.0,
        out: 0.0,
        own_out: 0.0,
        slots: Vec::new(),
        brackets: Vec::new(),
        y: 0.0,
        is_bar: false,
    }
}

/// Widest line of a port, pt.
const PORT_WIDTH: f64 = 74.0;

/// Lines of a port: name, then where it is drawn.
pub(super) fn port_lines(part: &Part, here: bool) -> (Vec<String>, Vec<String>) {
    let detail = if here { "in this drawing" } else { part.detail.as_str() };
    (wrap(&part.name, PORT_WIDTH), wrap(detail, PORT_WIDTH))
}

fn port_vertex(part: &Part) -> Vertex {
    let (name, detail) = port_lines(part, !matches!(part.form, Form::Outside | Form::Taker));
    let mut vertex = empty(Stands::Passing);
    vertex.body = widest(&name).max(widest(&detail)) + 14.0;
    vertex.height = (name.len() + detail.len()) as f64 * LEADING + 5.0;
    vertex.out = vertex.height / 2.0;
    vertex
}

/// A taker's feeds are each shown; how many of them it needs is told where it is drawn.
fn taker_vertex(part: &Part) -> Vertex {
    let mut vertex = port_vertex(part);
    let links: Vec<usize> = part.rows.iter().flat_map(|r| &r.inputs).flat_map(Input::links).collect();
    vertex.height = vertex.height.max(links.len() as f64 * 9.0 + 4.0);
    let (count, height) = (links.len() as f64, vertex.height);
    let place = |at: usize| height / 2.0 + (at as f64 - (count - 1.0) / 2.0) * 9.0;
    vertex.slots = links.iter().enumerate().map(|(at, l)| (Slot::Link(*l), place(at))).collect();
    vertex.left = WEDGE;
    vertex
}

/// Lines of a step's name.
pub(super) fn step_lines(step: &Step) -> Vec<String> {
    match step {
        Step::Device { name, .. } => wrap(name, 50.0),
        Step::Flag(words) => wrap(words, 54.0),
    }
}

/// Width of a step that stands in a row, pt.
pub(super) fn step_width(step: &Step) -> f64 {
    widest(&step_lines(step)).max(18.0) + if matches!(step, Step::Flag(_)) { PENNANT + 6.0 } else { 10.0 }
}

/// Height of a step in a chain that runs down, pt.
pub(super) fn step_height(step: &Step) -> f64 {
    (step_lines(step).len() as f64 * LEADING + 4.0).max(22.0)
}

fn chain_vertex(steps: &[Step]) -> Vertex {
    let flagged = steps.iter().any(|s| matches!(s, Step::Flag(_)));
    let down = steps.len() > LONGEST_ACROSS || (flagged && steps.len() > 1);
    let mut vertex = empty(Stands::Chain(steps.to_vec(), down));
    if down {
        let widths = steps.iter().map(|s| widest(&step_lines(s)));
        vertex.body = CHAIN_INSET + HALF_HEIGHT + 8.0 + widths.fold(0.0, f64::max);
        vertex.height = 16.0 + steps.iter().map(step_height).sum::<f64>();
        vertex.out = vertex.height - 5.0;
        vertex.slots.push((Slot::Pass, 5.0));
    } else {
        let lines = steps.iter().map(|s| step_lines(s).len()).max().unwrap_or(0);
        vertex.body = steps.iter().map(step_width).sum();
        vertex.out = lines as f64 * LEADING + 4.0 + HALF_HEIGHT;
        vertex.height = vertex.out + 3.5;
        vertex.slots.push((Slot::Pass, vertex.out));
    }
    vertex
}
