//! Pass 3. Before: parts and links of one band. After: vertices in columns; every edge joins a column to the next.
//!
//! Links from one source that pass the same devices share them: they part after the last device that they share.

use super::layers::{Edge, Layers, Slot, Stands, Vertex};
use super::parts::Parts;
use super::rank;
use super::sizes::{Shown, chain_vertex, origin_vertex, part_vertex};
use crate::diagram::plan::{Form, Link, Plan};

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

/// A plan with all that is the same in every band that is tried: every part as a vertex is measured once.
pub(super) struct Stock<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// Links that would run backwards, by place.
    pub back: &'a [bool],
    /// Each part in its own form, and each device as a plain box.
    parts: Vec<Vertex>,
    boxed: Vec<Option<Vertex>>,
    /// Each part as it gives to a band in which it is not itself; a bus besides where all of the band hangs on it.
    origins: Vec<[Vertex; 2]>,
    /// At which row of its part a link ends, from 1; 0 of a taker.
    rows: Vec<usize>,
}

impl<'a> Stock<'a> {
    /// Measures the parts of a plan.
    pub fn new(plan: &'a Plan, back: &'a [bool]) -> Self {
        let origin = |(at, part)| [origin_vertex(part, at, false), origin_vertex(part, at, true)];
        let boxed = |part| Some(part_vertex(Shown { part, form: Form::Box }));
        let mut rows = vec![0; plan.links.len()];
        for part in plan.parts.iter().filter(|p| p.form != Form::Taker) {
            for (at, row) in part.rows.iter().enumerate() {
                row.inputs.iter().for_each(|input| input.each_link(&mut |link| rows[link] = at + 1));
            }
        }
        Self {
            plan,
            back,
            parts: plan.parts.iter().map(|p| part_vertex(Shown::own(p))).collect(),
            boxed: plan.parts.iter().map(|p| if is_device(p.form) { boxed(p) } else { None }).collect(),
            origins: plan.parts.iter().enumerate().map(origin).collect(),
            rows,
        }
    }

    /// At which row of its part a link ends, from 1; 0 where it may end anywhere.
    pub fn row(&self, link: usize) -> usize {
        self.rows.get(link).copied().unwrap_or(0)
    }

    /// Links that run ahead.
    pub fn ahead(&self) -> impl Iterator<Item = &'a Link> + Clone + '_ {
        self.plan.links.iter().zip(self.back).filter(|(_, back)| !**back).map(|(link, _)| link)
    }

    /// Devices of a band that no line passes there: they are plain boxes.
    pub fn idle(&self, members: &Parts) -> Parts {
        let here = self.ahead().filter(|link| members.contains(link.to));
        let passed: Parts = here.flat_map(|link| self.plan.steps_of(link)).filter_map(|step| step.home()).collect();
        let devices = self.plan.parts.iter().enumerate().filter(|(_, p)| is_device(p.form));
        devices.map(|(at, _)| at).filter(|at| !passed.contains(*at)).collect()
    }

    /// A part as it is drawn where those devices are plain boxes.
    pub fn shown(&self, part: usize, idle: &Parts) -> Shown<'a> {
        let part_of = &self.plan.parts[part];
        Shown { part: part_of, form: if idle.contains(part) { Form::Box } else { part_of.form } }
    }

    fn vertex(&self, part: usize, idle: &Parts) -> &Vertex {
        let boxed = self.boxed.get(part).and_then(Option::as_ref).filter(|_| idle.contains(part));
        boxed.unwrap_or(&self.parts[part])
    }
}

fn is_device(form: Form) -> bool {
    matches!(form, Form::Device(_))
}

/// A band to be built.
#[derive(Clone, Copy)]
pub(super) struct Wanted<'a> {
    /// Its parts.
    pub members: &'a Parts,
    /// Devices that are plain boxes.
    pub idle: &'a Parts,
    /// How often ports stand in it.
    pub ports: Ports,
}

/// Builds vertices and edges of one band.
pub(super) fn build(stock: &Stock<'_>, wanted: Wanted<'_>) -> Layers {
    let mut layers = in_columns(stock, wanted, false);
    layers.fill_columns();
    layers
}

/// About how wide and high a band of these parts will be, before anything is placed.
pub(super) fn extent(stock: &Stock<'_>, members: &Parts) -> (f64, f64) {
    let idle = Parts::default();
    in_columns(stock, Wanted { members, idle: &idle, ports: Ports::Shared }, true).extent()
}

/// Every vertex has its column, and every edge joins a column to the next. `bare`: only sizes are wanted, not what comes in where.
fn in_columns(stock: &Stock<'_>, wanted: Wanted<'_>, bare: bool) -> Layers {
    let plan = stock.plan;
    let mut builder = Builder {
        stock,
        wanted,
        bare,
        layers: Layers::default(),
        parts: vec![None; plan.parts.len()],
        passed: Parts::default(),
        homes: true,
    };
    for part in wanted.members.iter() {
        let vertex = builder.add(stock.vertex(part, wanted.idle), Stands::Part(part));
        builder.parts[part] = Some(vertex);
    }
    let mut links = Vec::new();
    for origin in origins(stock, wanted).chunk_by(|a, b| a.0 == b.0) {
        let Some(((by_port, from, medium, _), _)) = origin.first() else { continue };
        links.clear();
        links.extend(origin.iter().map(|(_, link)| *link));
        builder.add_ways((*from, *medium), &links, *by_port);
    }
    let mut layers = builder.layers;
    rank::rank(&mut layers);
    rank::takers_last(&mut layers, plan);
    rank::pass_columns(&mut layers);
    layers
}

type Origin = (bool, usize, usize, usize);

/// Links of a band by what they come from: first from parts of the band, then from ports; by part, medium, and port.
fn origins(stock: &Stock<'_>, wanted: Wanted<'_>) -> Vec<(Origin, usize)> {
    let links = stock.plan.links.iter().enumerate();
    let origin = |(at, link): (usize, &Link)| {
        let by_port = stock.back[at] || !wanted.members.contains(link.from);
        let target = match wanted.ports {
            Ports::Split if by_port && stock.plan.parts[link.from].form != Form::Bar => link.to,
            Ports::Each if by_port && stock.plan.parts[link.from].form != Form::Bar => at,
            _ => 0,
        };
        ((by_port, link.from, link.medium, target), at)
    };
    let mut origins: Vec<_> = links.filter(|(_, link)| wanted.members.contains(link.to)).map(origin).collect();
    origins.sort_unstable();
    origins
}

/// A way from a source through devices, shared by links as far as they pass the same.
#[derive(Debug, Default)]
struct Way {
    step: Option<usize>,
    next: Vec<usize>,
    ends: Vec<usize>,
}

struct Builder<'a> {
    stock: &'a Stock<'a>,
    wanted: Wanted<'a>,
    bare: bool,
    layers: Layers,
    /// The vertex of each part.
    parts: Vec<Option<usize>>,
    passed: Parts,
    /// Lines pass the parts that their devices are.
    homes: bool,
}

impl Builder<'_> {
    fn add(&mut self, like: &Vertex, stands: Stands) -> usize {
        let vertex = if self.bare { like.bare(stands) } else { Vertex { stands, ..like.clone() } };
        self.layers.vertices.push(vertex);
        self.layers.vertices.len() - 1
    }

    fn join(&mut self, from: usize, to: usize, (slot, medium): (usize, usize), own: bool) {
        let vertex = &self.layers.vertices[to];
        let wedge =
            matches!(vertex.stands, Stands::Part(_)) && !matches!(vertex.slots.get(slot), Some((Slot::Pass, _)));
        self.layers.edges.push(Edge { from, to, slot, wedge, own, medium, leaves: 0.0, track: None });
    }

    fn add_ways(&mut self, (from, medium): (usize, usize), links: &[usize], by_port: bool) {
        let stock = self.stock;
        let origin = if by_port {
            let members = self.wanted.members;
            let continued = stock.plan.links.iter().all(|l| l.from == from || !members.contains(l.to));
            let vertex = &stock.origins[from][usize::from(continued)];
            self.add(vertex, vertex.stands.clone())
        } else {
            let Some(vertex) = self.parts[from] else { return };
            vertex
        };
        for (back, homes) in [(false, true), (true, false)] {
            self.homes = homes;
            let links = links.iter().copied().filter(|l| stock.back[*l] == back);
            let is_plain = |link: &usize| stock.plan.links[*link].through.is_empty();
            links.clone().filter(is_plain).for_each(|link| self.end(link, (origin, medium), true));
            let mut others = links.filter(|link| !is_plain(link)).peekable();
            if others.peek().is_some() {
                let ways = self.ways(others);
                self.follow(&ways, 0, origin, medium);
            }
        }
    }

    /// A link ends at its part; `first`: it passed nothing.
    fn end(&mut self, link: usize, (from, medium): (usize, usize), first: bool) {
        let to = self.stock.plan.links[link].to;
        let Some(vertex) = self.parts[to] else { return };
        let mut slots = self.stock.vertex(to, self.wanted.idle).slots.iter();
        if let Some(slot) = slots.position(|(s, _)| *s == Slot::Link(link)) {
            let own = first && self.is_device(from);
            self.join(from, vertex, (slot, medium), own);
        }
    }

    fn ways(&self, links: impl Iterator<Item = usize>) -> Vec<Way> {
        let mut ways = vec![Way::default()];
        for link in links {
            let mut at = 0;
            for step in &self.stock.plan.links[link].through {
                let known = ways[at].next.iter().copied().find(|n| ways[*n].step == Some(*step));
                at = known.unwrap_or_else(|| {
                    ways.push(Way { step: Some(*step), ..Way::default() });
                    let new = ways.len() - 1;
                    ways[at].next.push(new);
                    new
                });
            }
            ways[at].ends.push(link);
        }
        ways
    }

    /// From a vertex on: links that end here, then each way that goes on.
    fn follow(&mut self, ways: &[Way], at: usize, from: usize, medium: usize) {
        ways[at].ends.iter().for_each(|link| self.end(*link, (from, medium), at == 0));
        let own = at == 0 && self.is_device(from);
        for next in &ways[at].next {
            self.follow_step(ways, *next, (from, own), medium);
        }
    }

    fn follow_step(&mut self, ways: &[Way], at: usize, (from, own): (usize, bool), medium: usize) {
        if let Some((home, vertex)) = self.home(ways[at].step) {
            self.passed.insert(home);
            self.join(from, vertex, (0, medium), own);
            self.follow(ways, at, vertex, medium);
            return;
        }
        let (mut last, mut steps) = (at, Vec::new());
        steps.extend(ways[at].step);
        while let ([next], true) = (ways[last].next.as_slice(), ways[last].ends.is_empty()) {
            if self.home(ways[*next].step).is_some() {
                break;
            }
            steps.extend(ways[*next].step);
            last = *next;
        }
        self.layers.vertices.push(chain_vertex(self.stock.plan, &steps));
        let vertex = self.layers.vertices.len() - 1;
        self.join(from, vertex, (0, medium), own);
        self.follow(ways, last, vertex, medium);
    }

    fn is_device(&self, vertex: usize) -> bool {
        let Stands::Part(part) = self.layers.vertices[vertex].stands else { return false };
        is_device(self.stock.shown(part, self.wanted.idle).form)
    }

    /// The part in which a device is drawn and its vertex, if it is in this band and no line passes it yet.
    fn home(&self, step: Option<usize>) -> Option<(usize, usize)> {
        let home = self.stock.plan.steps.get(step?)?.home().filter(|h| self.homes && !self.passed.contains(*h))?;
        Some((home, self.parts.get(home).copied().flatten()?))
    }
}
