//! Networks made by number, and a plain peer: one fault at a time, a list of work, one truth a node.

use ribstitch::base::{Id, Span};
use ribstitch::model::{
    Aircraft, Asked, BUILT_IN_MEDIA, Duty, Entry, Fault, Feed, Item, ItemIx, Kind, Medium, MediumIx, Model, Need, Node,
    NodeIx, NodeKind, Noun, Place, Start, State, System, SystemIx, When,
};
use std::collections::BTreeMap;

/// A model of so many items in loose layers: some are fed from one before them, some from either of two or from both, some from two of
/// three, some from one that comes later (a loop), half of these by a feed that is sustained. One in fifty needs nothing.
pub fn generated(nodes: usize) -> Model {
    let mut random = Random(nodes as u64);
    let needs: Vec<Vec<Need>> = (0..nodes).map(|n| needs(n, nodes, &mut random)).collect();
    Model {
        aircraft: Aircraft {
            name: "generated".into(),
            maker: "nobody".into(),
            registration: None,
            revision: 1,
            date: "2026-05-02".into(),
            handbook: "none".into(),
            note: None,
        },
        display: BTreeMap::new(),
        media: BUILT_IN_MEDIA.iter().take(1).map(medium).collect(),
        systems: vec![System {
            id: id("all"),
            name: "all".into(),
            number: "24".into(),
            does: None,
            span: Span::default(),
        }],
        information: Vec::new(),
        givens: Vec::new(),
        items: (0..nodes).map(item).collect(),
        nodes: needs.into_iter().enumerate().map(|(n, needs)| node(n, needs)).collect(),
        faults: (0..nodes).map(fault).collect(),
        alerts: Vec::new(),
        flights: Vec::new(),
        endurance: None,
        states: vec![state()],
        reference_state: None,
        quantities: Vec::new(),
        time: None,
        inspections: Vec::new(),
        panel: None,
        changes: Vec::new(),
    }
}

/// Numbers that look random and are always the same.
///
/// # Source
/// G. Marsaglia, Xorshift RNGs, Journal of Statistical Software 8 (2003), 64 bits, shifts 13, 7, 17.
struct Random(u64);

impl Random {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % end.max(1) as u64) as usize
    }
}

fn needs(n: usize, nodes: usize, random: &mut Random) -> Vec<Need> {
    if n < 10 || random.below(50) == 0 {
        return Vec::new();
    }
    let before = |random: &mut Random| feed(n - 1 - random.below(n.min(200)), false);
    let span = Span::default();
    match random.below(20) {
        0..=5 => vec![Need::Any(vec![before(random), before(random)], span)],
        6..=13 => vec![before(random)],
        14..=15 => vec![before(random), before(random)],
        16..=17 => vec![Need::AtLeast { count: 2, of: (0..3).map(|_| before(random)).collect(), span }],
        _ => {
            let later = (n + 1 + random.below(100)).min(nodes - 1);
            vec![Need::Any(vec![before(random), feed(later, random.below(2) == 0)], span)]
        }
    }
}

fn feed(from: usize, sustained: bool) -> Need {
    let (through, when) = (Vec::new(), When::default());
    Need::Feed(Feed { from: NodeIx::new(from), through, when, sustained, approximate: None, span: Span::default() })
}

fn id(text: &str) -> Id {
    Id::new(text).unwrap_or_else(|e| panic!("{text}: {e}"))
}

fn medium(row: &ribstitch::model::BuiltInMedium) -> Medium {
    Medium {
        id: id(row.id),
        name: row.name.into(),
        tag: row.tag.into(),
        colour: row.colour.into(),
        line: row.line,
        built_in: true,
    }
}

fn item(n: usize) -> Item {
    Item {
        id: id(&format!("n{n:06}")),
        node: NodeIx::new(n),
        functions: Vec::new(),
        kind: Kind::Connector,
        system: SystemIx::new(0),
        rating: None,
        capacity: None,
        voltage: None,
        usable: None,
        wire: None,
        discharge: None,
        pressure_offset: None,
        likely: None,
        cannot_fail: None,
        seen: None,
        control: None,
        pull: false,
        off_card: false,
        panel: None,
        scale: None,
        span: Span::default(),
    }
}

fn node(n: usize, needs: Vec<Need>) -> Node {
    let name = format!("n{n:06}");
    let noun = Noun { name: name.clone(), short: None, said: None, aliases: Vec::new(), article: None, plural: false };
    Node {
        id: name,
        kind: NodeKind::Item(ItemIx::new(n)),
        noun,
        does: None,
        needs,
        senses: Vec::new(),
        kept_by: Vec::new(),
        spent_by: Vec::new(),
        gives: Some(MediumIx::new(0)),
        draws: None,
        duty: Duty::default(),
        intermittent: false,
        tells: Vec::new(),
        on_loss: Vec::new(),
        on_false: Vec::new(),
        reads_when_absent: None,
        lasts: None,
        cite: None,
        note: None,
        span: Span::default(),
    }
}

fn fault(n: usize) -> Fault {
    Fault {
        id: id("fails"),
        of: NodeIx::new(n),
        said: None,
        loses: vec![Entry { what: NodeIx::new(n), when: When::default(), text: None }],
        weakens: Vec::new(),
        misleads: Vec::new(),
        trips: Vec::new(),
        ignores: Vec::new(),
        leads_to: Vec::new(),
        shows: Vec::new(),
        hides: Vec::new(),
        found_by: None,
        cue: None,
        traps: Vec::new(),
        hazards: Vec::new(),
        see: None,
        likely: None,
        transient: false,
        restorable: false,
        asked: Asked::Always,
        span: Span::default(),
        written: false,
    }
}

fn state() -> State {
    State {
        id: id("cruise"),
        name: "cruise".into(),
        start: Start::Cold,
        controls: Vec::new(),
        givens: Vec::new(),
        reached_if: Vec::new(),
        place: Place::InFlight,
        note: None,
        span: Span::default(),
    }
}

/// The textbook way: a list of work, from nothing upwards, for one fault at a time.
pub struct Peer<'m> {
    model: &'m Model,
    dependents: Vec<Vec<u32>>,
}

impl<'m> Peer<'m> {
    /// Who hangs on whom.
    pub fn new(model: &'m Model) -> Self {
        let mut dependents = vec![Vec::new(); model.nodes.len()];
        for (n, node) in model.nodes.iter().enumerate() {
            for feed in node.needs.iter().flat_map(Need::feeds) {
                dependents[feed.from.usize()].push(n as u32);
            }
        }
        Self { model, dependents }
    }

    /// From cold, with no fault.
    pub fn cold(&self) -> Vec<bool> {
        self.settle(vec![false; self.model.nodes.len()], None)
    }

    /// How many nodes that worked do not when one fails.
    pub fn lost(&self, before: &[bool], failed: NodeIx) -> usize {
        let after = self.settle(before.to_vec(), Some(failed));
        before.iter().zip(&after).filter(|(before, after)| **before && !**after).count()
    }

    fn settle(&self, mut memory: Vec<bool>, failed: Option<NodeIx>) -> Vec<bool> {
        loop {
            let least = self.least(&memory, failed);
            let kept: Vec<bool> = memory.iter().zip(&least).map(|(a, b)| *a && *b).collect();
            if kept == memory {
                break;
            }
            memory = kept;
        }
        loop {
            let alive = self.least(&memory, failed);
            if alive == memory {
                return alive;
            }
            memory = alive;
        }
    }

    fn least(&self, memory: &[bool], failed: Option<NodeIx>) -> Vec<bool> {
        let mut works = vec![false; self.model.nodes.len()];
        let mut work: Vec<u32> = (0..works.len() as u32).rev().collect();
        while let Some(n) = work.pop() {
            let at = n as usize;
            let holds = |need: &Need| holds(need, &works, memory);
            if !works[at] && failed != Some(NodeIx::new(at)) && self.model.nodes[at].needs.iter().all(holds) {
                works[at] = true;
                work.extend(&self.dependents[at]);
            }
        }
        works
    }
}

fn holds(need: &Need, works: &[bool], memory: &[bool]) -> bool {
    match need {
        Need::Feed(feed) => works[feed.from.usize()] || (feed.sustained && memory[feed.from.usize()]),
        Need::When(..) => true,
        Need::Any(of, _) => of.iter().any(|n| holds(n, works, memory)),
        Need::All(of, _) => of.iter().all(|n| holds(n, works, memory)),
        Need::AtLeast { count, of, .. } => of.iter().filter(|n| holds(n, works, memory)).count() >= *count,
    }
}
