//! Random models: written as text, so that they go the way of an author's.

use proptest::collection::vec;
use proptest::prelude::*;
use std::fmt::Write;

/// A position mask and a control, by number; numbers are taken modulo what there is.
type Match = (u8, u8);

/// One feed.
#[derive(Debug, Clone)]
pub struct FeedSpec {
    pub from: u8,
    pub through: Vec<u8>,
    pub when: Option<Match>,
    pub sustained: bool,
    pub approximate: bool,
}

/// One need.
#[derive(Debug, Clone)]
pub enum NeedSpec {
    Feed(FeedSpec),
    When(Match),
    Any(Vec<FeedSpec>),
    AtLeast(u8, Vec<FeedSpec>),
    Nested(Vec<FeedSpec>, FeedSpec),
}

/// A plain item with functions.
#[derive(Debug, Clone)]
pub struct ItemSpec {
    pub needs: Vec<NeedSpec>,
    pub senses: Vec<FeedSpec>,
    pub functions: Vec<Vec<NeedSpec>>,
    /// What else is said of it: it tells, it lasts, it looks dark, an alert watches it.
    pub extra: u8,
    /// It is brought up by a given and kept up by the next item, which hangs on it alone.
    pub kept: Option<(u8, Match)>,
}

/// A control.
#[derive(Debug, Clone)]
pub struct ControlSpec {
    pub positions: u8,
    pub rest: u8,
    pub conducts: u8,
    pub off_with: Option<u8>,
    pub springs: bool,
    pub needs: Option<FeedSpec>,
}

/// What a fault does.
#[derive(Debug, Clone)]
pub struct FaultSpec {
    pub of: u8,
    pub does: u8,
    pub what: u8,
    pub more: u8,
    pub when: Option<Match>,
}

/// A state: it follows the one before or is like the first.
#[derive(Debug, Clone)]
pub struct StateSpec {
    pub like: bool,
    pub controls: Vec<Match>,
    pub givens: Vec<(u8, bool)>,
    pub reached_if: Option<u8>,
}

/// A whole model.
#[derive(Debug, Clone)]
pub struct Spec {
    pub givens: Vec<bool>,
    pub controls: Vec<ControlSpec>,
    pub items: Vec<ItemSpec>,
    pub faults: Vec<FaultSpec>,
    pub states: Vec<StateSpec>,
    /// Small circuits in which something may run unasked beside what hangs on the same bus, or comes back by two moves.
    pub circuits: Vec<(Match, Match, Match)>,
}

fn matches() -> impl Strategy<Value = Match> {
    (any::<u8>(), any::<u8>())
}

fn feed() -> impl Strategy<Value = FeedSpec> {
    let when = proptest::option::weighted(0.25, matches());
    let through = prop_oneof![3 => vec(any::<u8>(), 0..1), 3 => vec(any::<u8>(), 1..2), 1 => vec(any::<u8>(), 2..3)];
    (any::<u8>(), through, when, proptest::bool::weighted(0.35), proptest::bool::weighted(0.15)).prop_map(
        |(from, through, when, sustained, approximate)| FeedSpec { from, through, when, sustained, approximate },
    )
}

fn need() -> impl Strategy<Value = NeedSpec> {
    prop_oneof![
        4 => feed().prop_map(NeedSpec::Feed),
        1 => matches().prop_map(NeedSpec::When),
        5 => vec(feed(), 2..4).prop_map(NeedSpec::Any),
        2 => (2..4u8, vec(feed(), 3..5)).prop_map(|(k, of)| NeedSpec::AtLeast(k, of)),
        1 => (vec(feed(), 2..3), feed()).prop_map(|(of, one)| NeedSpec::Nested(of, one)),
    ]
}

fn item() -> impl Strategy<Value = ItemSpec> {
    let needs = prop_oneof![1 => vec(need(), 0..1), 4 => vec(need(), 1..2), 1 => vec(need(), 2..3)];
    let senses = prop_oneof![4 => vec(feed(), 0..1), 1 => vec(feed(), 1..2)];
    let functions = prop_oneof![2 => vec(vec(need(), 0..2), 0..1), 1 => vec(vec(need(), 0..2), 1..3)];
    let kept = proptest::option::weighted(0.2, (any::<u8>(), matches()));
    (needs, senses, functions, kept, any::<u8>()).prop_map(|(needs, senses, functions, kept, extra)| ItemSpec {
        needs,
        senses,
        functions,
        extra,
        kept,
    })
}

fn control() -> impl Strategy<Value = ControlSpec> {
    let off_with = proptest::option::weighted(0.3, any::<u8>());
    let needs = proptest::option::weighted(0.25, feed());
    (2..4u8, any::<u8>(), any::<u8>(), off_with, proptest::bool::weighted(0.3), needs).prop_map(
        |(positions, rest, conducts, off_with, springs, needs)| ControlSpec {
            positions,
            rest,
            conducts,
            off_with,
            springs,
            needs,
        },
    )
}

fn fault() -> impl Strategy<Value = FaultSpec> {
    let when = proptest::option::weighted(0.35, matches());
    (any::<u8>(), any::<u8>(), any::<u8>(), any::<u8>(), when).prop_map(|(of, does, what, more, when)| FaultSpec {
        of,
        does,
        what,
        more,
        when,
    })
}

fn state() -> impl Strategy<Value = StateSpec> {
    let reached_if = proptest::option::weighted(0.1, any::<u8>());
    let givens = vec((any::<u8>(), proptest::bool::weighted(0.6)), 0..3);
    (proptest::bool::weighted(0.2), vec(matches(), 1..4), givens, reached_if)
        .prop_map(|(like, controls, givens, reached_if)| StateSpec { like, controls, givens, reached_if })
}

/// Models of about ten items.
pub fn spec() -> impl Strategy<Value = Spec> {
    let givens = vec(proptest::bool::weighted(0.7), 2..4);
    let circuits = vec((matches(), matches(), matches()), 0..3);
    (givens, vec(control(), 2..5), vec(item(), 4..10), vec(fault(), 3..8), vec(state(), 2..5), circuits).prop_map(
        |(givens, controls, items, faults, states, circuits)| Spec {
            givens,
            controls,
            items,
            faults,
            states,
            circuits,
        },
    )
}

/// Names for the items and controls of a model: `item(3)` is the id of the fourth.
pub struct Names {
    /// Added to a number before the remainder by a prime is taken, so that order of ids changes.
    pub turn: usize,
    /// Whether lists are written backwards.
    pub backwards: bool,
}

impl Names {
    /// The id of an item.
    pub fn item(&self, n: usize) -> String {
        format!("n{:02}", ((n + 1) * (self.turn + 1)) % 97)
    }
}

struct Writer<'s> {
    spec: &'s Spec,
    names: &'s Names,
    /// Nodes that can feed: items, functions, controls, givens.
    nodes: Vec<String>,
    out: String,
}

/// The model as an author's text.
pub fn text(spec: &Spec, names: &Names) -> String {
    let plain = (0..spec.items.len()).map(|n| names.item(n));
    let functions = spec
        .items
        .iter()
        .enumerate()
        .flat_map(|(n, i)| (0..i.functions.len()).map(move |f| format!("{}.f{f}", names.item(n))));
    let controls = (0..spec.controls.len()).map(|n| format!("c{n}"));
    let givens = (0..spec.givens.len()).map(|n| format!("g{n}"));
    // Givens twice, so that enough of a model works.
    let nodes = plain.chain(functions).chain(controls).chain(givens.clone()).chain(givens).collect();
    let mut writer = Writer { spec, names, nodes, out: String::new() };
    writer.all();
    writer.out
}

impl Writer<'_> {
    fn line(&mut self, text: impl AsRef<str>) {
        self.out.push_str(text.as_ref());
        self.out.push('\n');
    }

    fn all(&mut self) {
        for (n, normally) in self.spec.givens.iter().enumerate() {
            self.line(format!("[given.g{n}]\nnormally = {normally}\ngives = \"electricity\""));
        }
        for n in 0..self.spec.controls.len() {
            self.control(n);
        }
        for n in 0..self.spec.items.len() {
            self.item(n);
        }
        for n in 0..self.spec.faults.len() {
            self.fault(n);
        }
        for n in 0..self.spec.circuits.len() {
            self.circuit(n);
        }
        self.alerts();
        for n in 0..self.spec.states.len() {
            self.state(n);
        }
    }

    fn positions(&self, control: usize) -> usize {
        usize::from(self.spec.controls[control].positions)
    }

    fn control(&mut self, n: usize) {
        let spec = &self.spec.controls[n];
        let count = self.positions(n);
        let rest = usize::from(spec.rest) % count;
        let kind = if spec.rest & 96 == 96 { "breaker" } else { "selector" };
        let reachable = ["in flight", "in flight", "on the ground", "no"][usize::from(spec.conducts >> 6)];
        self.line(format!("[item.c{n}]\nkind = \"{kind}\"\nreachable = \"{reachable}\""));
        self.line("gives = \"electricity\"");
        let all: Vec<String> = (0..count).map(|p| format!("\"{}\"", position(p))).collect();
        self.line(format!("positions = [{}]\nrest = \"{}\"", all.join(", "), position(rest)));
        self.line(format!("conducts-in = {}", self.mask((spec.conducts, n as u8)).1));
        if let Some(above) = spec.off_with.filter(|_| n > 0) {
            self.line(format!("off-with = \"c{}\"", usize::from(above) % n));
        }
        if kind == "breaker" {
            self.line("pull = true");
        }
        if spec.rest & 4 != 0 {
            self.line(format!("resets = [\"{}\"]", self.names.item(usize::from(spec.rest) % self.spec.items.len())));
        } else if n == 0 && !self.spec.circuits.is_empty() {
            self.line("resets = [\"v0\"]");
        }
        if spec.rest & 24 == 24 {
            self.line(format!("never-offer = [\"{}\"]", position(count - 1)));
        }
        if spec.springs {
            let (from, to) = (position(count - 1), position(usize::from(spec.rest) % (count - 1)));
            self.line(format!("springs-to = {{ {from} = \"{to}\" }}"));
        }
        if let Some(feed) = &spec.needs {
            let feed = self.feed(feed, &format!("c{n}"));
            self.line(format!("needs = [{feed}]"));
        }
    }

    /// A control, and a list of one or more of its positions but never all of three.
    fn mask(&self, (mask, control): Match) -> (usize, String) {
        let control = usize::from(control) % self.spec.controls.len();
        let count = self.positions(control);
        let chosen: Vec<String> =
            (0..count).filter(|p| mask >> p & 1 == 1).take(count - 1).map(|p| format!("\"{}\"", position(p))).collect();
        let chosen =
            if chosen.is_empty() { vec![format!("\"{}\"", position(usize::from(mask) % count))] } else { chosen };
        (control, format!("[{}]", chosen.join(", ")))
    }

    fn when(&self, when: Match) -> String {
        let (control, positions) = self.mask(when);
        format!("when = {{ c{control} = {positions} }}")
    }

    /// A node that is not the owner, nor its item.
    fn node(&self, number: u8, owner: &str) -> &str {
        let mut at = usize::from(number) % self.nodes.len();
        while item_of(&self.nodes[at]) == item_of(owner) {
            at = (at + 1) % self.nodes.len();
        }
        &self.nodes[at]
    }

    fn feed(&self, spec: &FeedSpec, owner: &str) -> String {
        let from = self.node(spec.from, owner);
        let mut parts = vec![format!("from = \"{from}\"")];
        let mut through: Vec<&str> = Vec::new();
        for number in &spec.through {
            let device = self.node(number.wrapping_add(7), owner);
            if !device.starts_with('g') && device != from && !through.contains(&device) {
                through.push(device);
            }
        }
        if !through.is_empty() {
            parts.push(format!("through = [{}]", quoted(&through)));
        }
        parts.extend(spec.when.map(|w| self.when(w)));
        if spec.sustained && !from.starts_with('g') {
            parts.push("sustained = true".to_owned());
        }
        if spec.approximate {
            parts.push("approximate = \"It reads high.\"".to_owned());
        }
        format!("{{ {} }}", parts.join(", "))
    }

    fn feeds(&self, specs: &[FeedSpec], owner: &str) -> String {
        let mut feeds: Vec<String> = specs.iter().map(|f| self.feed(f, owner)).collect();
        if self.names.backwards {
            feeds.reverse();
        }
        feeds.join(", ")
    }

    fn need(&self, spec: &NeedSpec, owner: &str) -> String {
        match spec {
            NeedSpec::Feed(feed) => self.feed(feed, owner),
            NeedSpec::When(when) => format!("{{ {} }}", self.when(*when)),
            NeedSpec::Any(of) => format!("{{ any = [{}] }}", self.feeds(of, owner)),
            NeedSpec::AtLeast(k, of) => {
                format!("{{ at-least = {}, of = [{}] }}", usize::from(*k).min(of.len()), self.feeds(of, owner))
            }
            NeedSpec::Nested(of, one) => {
                format!("{{ any = [{{ all = [{}] }}, {}] }}", self.feeds(of, owner), self.feed(one, owner))
            }
        }
    }

    fn needs(&mut self, specs: &[NeedSpec], owner: &str) {
        let mut needs: Vec<String> = specs.iter().map(|n| self.need(n, owner)).collect();
        if self.names.backwards {
            needs.reverse();
        }
        if !needs.is_empty() {
            self.line(format!("needs = [{}]", needs.join(", ")));
        }
    }

    fn item(&mut self, n: usize) {
        let spec = &self.spec.items[n];
        let id = self.names.item(n);
        let kind = if spec.extra % 11 == 3 { "bus" } else { "gauge" };
        let medium = if spec.extra % 3 == 1 { "suction" } else { "electricity" };
        self.line(format!("[item.{id}]\nkind = \"{kind}\"\ngives = \"{medium}\""));
        let kept_by_it = n.checked_sub(1).filter(|before| self.spec.items[*before].kept.is_some());
        match (kept_by_it, spec.kept) {
            (Some(before), _) => self.line(format!("needs = [\"{}\"]", self.names.item(before))),
            (None, Some(kept)) if n + 1 < self.spec.items.len() => self.kept(n, kept),
            _ => self.needs(&spec.needs, &id),
        }
        if !spec.senses.is_empty() {
            let senses = self.feeds(&spec.senses, &id).replace("sustained = true", "sustained = false");
            self.line(format!("senses = [{senses}]"));
        }
        self.extra(n, &id);
        for (f, needs) in spec.functions.iter().enumerate() {
            self.line(format!("[item.{id}.function.f{f}]\ngives = \"electricity\""));
            self.needs(needs, &id);
        }
    }

    /// By bits of a number, so that each comes in a part of all items.
    fn extra(&mut self, n: usize, id: &str) {
        let extra = self.spec.items[n].extra;
        let other = self.node(extra.wrapping_mul(5), id).to_owned();
        match extra % 6 {
            0 => self.line("tells = [\"roll\"]"),
            1 => self.line("tells = [{ information = \"roll\", how = \"indirectly\" }, \"speed\"]"),
            2 => {
                let by = ["kept-by", "kept-by", "spent-by"][usize::from(extra / 6 % 3)];
                self.line(format!("lasts = \"{} min\"\n{by} = [\"{other}\"]", 10 + extra % 5 * 10));
            }
            3 if extra & 64 != 0 => self.line("lasts = \"25 min\""),
            _ => {}
        }
        if extra & 8 != 0 {
            let looks = if extra & 16 != 0 { "dark" } else { "wanders" };
            let of = if extra & 128 != 0 { &other } else { "electricity" };
            self.line(format!("on-loss = {{ {} = {{ looks = \"{looks}\" }} }}", quoted(&[of])));
        }
    }

    fn alerts(&mut self) {
        for (n, item) in self.spec.items.iter().enumerate().filter(|(_, i)| i.extra & 96 == 96) {
            let id = self.names.item(n);
            let watched = self.node(item.extra.wrapping_mul(3), &id).to_owned();
            let fed = self.node(item.extra.wrapping_mul(11), &id).to_owned();
            self.line(format!("[alert.a{n}]\non = \"{id}\"\nwatches = [\"{watched}\"]\nneeds = [\"{fed}\"]"));
        }
        self.line("[information.roll]\n[information.speed]");
    }

    fn kept(&mut self, n: usize, (given, when): (u8, Match)) {
        let given = usize::from(given) % self.spec.givens.len();
        let (next, when) = (self.names.item(n + 1), self.when(when));
        let up = format!("{{ from = \"g{given}\", {when} }}");
        self.line(format!("needs = [{{ any = [{up}, {{ from = \"{next}\", sustained = true }}] }}]"));
    }

    /// A bus with a lamp that may stay on and a radio; and a gauge with a second feed that two controls may open.
    fn circuit(&mut self, n: usize) {
        let (feeds, lights, opens) = self.spec.circuits[n];
        let (feeds, (control, lit), opens) = (self.when(feeds), self.mask(lights), self.mask(opens));
        let also = if opens.0 == control { String::new() } else { format!(", c{} = {}", opens.0, opens.1) };
        let lamp = format!("[item.l{n}]\nkind = \"lamp\"\nneeds = [\"b{n}\", {{ when = {{ c{control} = {lit} }} }}]");
        let stays = format!("[item.l{n}.fault.stays]\nsaid = \"stays on\"\nignores = [\"c{control}\"]");
        let second = format!("{{ from = \"g1\", when = {{ c{control} = {lit}{also} }} }}");
        self.line(format!("[item.b{n}]\nkind = \"bus\"\nneeds = [{{ from = \"g0\", {feeds} }}]"));
        self.line(format!("{lamp}\n{stays}\nhazard = \"It may move.\""));
        self.line(format!("[item.r{n}]\nkind = \"radio\"\nneeds = [\"b{n}\"]\ntells = [\"speed\"]"));
        self.line(format!("[item.v{n}]\nkind = \"pump\"\ngives = \"suction\"\nneeds = [\"g0\"]"));
        self.line(format!("[item.v{n}.fault.sticks]\nsaid = \"sticks\"\ntransient = true\nloses = [\"v{n}\"]"));
        self.line(format!("[item.w{n}]\nkind = \"gauge\"\nneeds = [{{ any = [\"v{n}\", {second}] }}]"));
    }

    fn fault(&mut self, n: usize) {
        let spec = &self.spec.faults[n];
        let of = usize::from(spec.of) % self.spec.items.len();
        let id = self.names.item(of);
        let other = self.node(spec.what, &id).to_owned();
        let not_given = |node: &str| if node.starts_with('g') { id.clone() } else { node.to_owned() };
        let when = spec.when.map(|w| format!(", {}", self.when(w))).unwrap_or_default();
        let entry = |what: &str| format!("{{ what = \"{what}\"{when} }}");
        let control = format!("c{}", usize::from(spec.more) % self.spec.controls.len());
        self.line(format!("[item.{id}.fault.x{n}]\nsaid = \"is odd\""));
        match spec.more % 7 {
            0 => self.line("transient = true"),
            1 => self.line("cue = \"It smells.\"\nfound-by = \"in use\""),
            2 => self.line(format!("leads-to = [{{ what = \"{}\", in = \"15 min\" }}]", not_given(item_of(&other)))),
            3 => self.line(format!("weakens = [\"{}\"]", not_given(&other))),
            _ => {}
        }
        // Some do two things.
        match spec.does / 8 {
            24..=27 if spec.does % 8 < 3 => {
                let trapped = self.names.item(usize::from(spec.more) % self.spec.items.len());
                self.line(format!("traps = [\"{trapped}\"]"));
            }
            28 => self.line("restorable = true"),
            29 if !matches!(spec.does % 8, 1) => self.line(format!("takes = [\"{control}\"]")),
            30 if spec.does % 8 != 6 && spec.does % 8 != 7 => {
                self.line(format!("ignores = [\"{id}\"]\nhazard = \"It may stay on.\""));
            }
            31 if !matches!(spec.does % 8, 4 | 5) => self.line(format!("trips = [\"{control}\"]")),
            _ => {}
        }
        match spec.does % 8 {
            0 => self.line(format!("loses = [{}]", entry(&id))),
            1 => self.line(format!("takes = [{}]", entry(&not_given(&other)))),
            2 | 3 => self.line(format!("misleads = [{}]", entry(&not_given(&other)))),
            4 | 5 => self.line(format!("trips = [{}]", entry(item_of(&not_given(&other))))),
            6 => self.line(format!("ignores = [{}]\nhazard = \"It may move.\"", entry(&control))),
            _ => {
                let of = not_given(&other);
                let what = format!("{{ what = \"{control}\", for = [\"{of}\"]{when} }}");
                self.line(format!("ignores = [{what}]\nhazard = \"It may move.\""));
            }
        }
    }

    fn state(&mut self, n: usize) {
        let spec = &self.spec.states[n];
        let place = if spec.controls.len() == 3 { "on-ground" } else { "in-flight" };
        self.line(format!("[state.s{n}]\n{place} = true"));
        if n > 0 {
            let start = if spec.like { "like" } else { "after" };
            self.line(format!("{start} = \"s{}\"", if spec.like { 0 } else { n - 1 }));
            if let Some(node) = spec.reached_if.filter(|_| !spec.like) {
                let node = self.names.item(usize::from(node) % self.spec.items.len());
                self.line(format!("reached-if = [\"{node}\"]"));
            }
        }
        let mut set = vec![None; self.spec.controls.len()];
        for (mask, control) in &spec.controls {
            let control = usize::from(*control) % set.len();
            set[control] = Some(position(usize::from(*mask) % self.positions(control)));
        }
        let mut out = String::new();
        for (control, position) in set.iter().enumerate() {
            if let Some(position) = position {
                let _ = write!(out, "{}c{control} = \"{position}\"", if out.is_empty() { "" } else { ", " });
            }
        }
        self.line(format!("controls = {{ {out} }}"));
        let mut givens = vec![None; self.spec.givens.len()];
        for (given, holds) in &spec.givens {
            let at = usize::from(*given) % givens.len();
            givens[at] = Some(*holds);
        }
        let set: Vec<String> =
            givens.iter().enumerate().filter_map(|(g, h)| h.map(|h| format!("g{g} = {h}"))).collect();
        self.line(format!("givens = {{ {} }}", set.join(", ")));
    }
}

fn item_of(node: &str) -> &str {
    node.split('.').next().unwrap_or(node)
}

fn position(n: usize) -> &'static str {
    ["off", "low", "high"][n]
}

fn quoted(ids: &[&str]) -> String {
    ids.iter().map(|id| format!("\"{id}\"")).collect::<Vec<_>>().join(", ")
}
