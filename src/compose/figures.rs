//! Figures, and the facts that drawings of the panel show. A face is told of by its item; what is out of sight wears no sign.

use super::composer::{Composer, chain_order, is_in_sight};
use super::phrase::say;
use super::say::joined;
use crate::analyse::answer::{Effects, Indication, Situation, Solution};
use crate::doc::{Block, Figure, FigureKind, Inline, Inlines, PanelShown, Sign, Subject};
use crate::model::{AlertIx, FaultIx, Item, ItemIx, Kind, NodeIx, StateIx, SystemIx};
use std::collections::BTreeSet;

impl Composer<'_> {
    /// The panel to scale, with its controls as in the reference state.
    pub fn panel_figure(&mut self) -> Block {
        let positions = self.reference.map(|state| self.analysis.state(state).situation.clone());
        let mut shown = PanelShown::default();
        for item in self.faces() {
            let stands = positions.as_ref().and_then(|s| s.positions.get(item.usize()));
            if let (Some(at), Some(_)) = (stands, &self.model[item].control) {
                shown.positions.insert(self.model[item].id.to_string(), at.usize());
            }
        }
        self.panels("figure/panel", FigureKind::Panel, Subject::Aircraft, (say("caption-panel", &[]), vec![shown]))
    }

    /// The panel after a failure, where that takes or falsifies something on it, or lights a lamp. It stands with the table of that id, and tells of
    /// the first of the faults that share the table.
    pub fn after_figure(&mut self, table: &str, state: StateIx, effects: &Effects) -> Option<Block> {
        self.model.panel.as_ref()?;
        let mut shown = self.shown_after(effects);
        let takes = [Sign::Gone, Sign::GoneInPart, Sign::Misleading, Sign::Opened];
        let shows = self.lights(new_alerts(effects));
        if shows.is_empty() && !takes.iter().any(|sign| shown.signs.contains_key(sign)) {
            return None;
        }
        shown.still = self.still_told(effects);
        shown.stopped =
            self.stopped(effects).into_iter().map(|i| self.model[self.model[i].node].noun.name.clone()).collect();
        self.ring(&mut shown);
        if Some(state) == self.reference {
            shown.needles = self.needles(effects, &shown);
        }
        let faults = &effects.question.faults;
        let clauses = faults.iter().map(|f| self.clause(*f)).collect();
        let part = joined(clauses, " and ");
        let caption = say("caption-after", &[("part", part.into()), ("state", self.words.state(state).into())]);
        let subject = Subject::Faults {
            faults: faults.iter().map(|f| self.model.fault_id(*f)).collect(),
            state: self.model[state].id.to_string(),
        };
        Some(self.panels(&format!("figure/{table}"), FigureKind::After, subject, (caption, vec![shown])))
    }

    /// The panel in each state, in the order of their chain.
    pub fn states_figure(&mut self) -> Block {
        let order = chain_order(self.model);
        let shown = order.into_iter().map(|state| self.shown_in(state)).collect();
        let caption = say("caption-panel-states", &[]);
        self.panels("figure/states", FigureKind::States, Subject::Aircraft, (caption, shown))
    }

    /// What one item hangs on.
    pub fn chain_figure(&mut self, item: ItemIx) -> Block {
        let id = self.model[item].id.to_string();
        let thing = self.words.item(self.model, item);
        let caption = say("caption-chain", &[("thing", thing.into())]);
        self.panels(&format!("figure/chain/{id}"), FigureKind::Chain, Subject::One(id), (caption, Vec::new()))
    }

    /// What each item of the panel hangs on, of one system.
    pub fn chain_figures(&mut self, system: SystemIx) -> Vec<Block> {
        let model = self.model;
        let of_system = |i: &ItemIx| model[*i].system == system && self.has_a_chain(*i);
        let items: Vec<ItemIx> = self.faces().into_iter().filter(of_system).collect();
        items.into_iter().map(|i| self.chain_figure(i)).collect()
    }

    fn panels(
        &mut self,
        id: &str,
        kind: FigureKind,
        subject: Subject,
        (caption, panels): (Inlines, Vec<PanelShown>),
    ) -> Block {
        Block::Figure(Figure { id: self.take_id(id), kind, subject, caption, panels, plot: None })
    }

    pub(super) fn faces(&self) -> Vec<ItemIx> {
        self.model.item_indices().filter(|i| self.model[*i].panel.is_some()).collect()
    }

    fn has_a_chain(&self, item: ItemIx) -> bool {
        let item = &self.model[item];
        let needs = |n: &NodeIx| !self.model[*n].needs.is_empty() || !self.model[*n].senses.is_empty();
        !item.kind.conducts() && std::iter::once(&item.node).chain(&item.functions).any(needs)
    }

    /// Signs after a failure, but those of needles.
    fn shown_after(&self, effects: &Effects) -> PanelShown {
        let mut shown = PanelShown::default();
        let named = self.named_by_faults(effects);
        let told = |n: NodeIx| named.contains(&n) || is_in_sight(self.model, n);
        let gone = |n: NodeIx| effects.before.works.contains(&n) && !effects.after.works.contains(&n) && told(n);
        let misled: BTreeSet<NodeIx> = effects.misleads.iter().map(|a| a.node).filter(|n| told(*n)).collect();
        let shows = |item: &Item| effects.shows.contains(&Indication::Gauge(item.node));
        let lit = self.lights(new_alerts(effects).chain(effects.already_on.iter().copied()));
        let opened = self.opened(effects);
        for ix in self.faces() {
            let item = &self.model[ix];
            let open =
                opened.contains(&item.node) || gone(item.node) && matches!(item.kind, Kind::Breaker | Kind::Fuse);
            let dead = !open && gone(item.node);
            let before = self.has_a_chain(ix) && !effects.before.works.contains(&item.node);
            let false_too = std::iter::once(&item.node).chain(&item.functions).any(|n| misled.contains(n));
            let part = !dead && item.functions.iter().any(|f| gone(*f));
            let signs = [
                (Sign::Gone, dead),
                (Sign::GoneInPart, part),
                (Sign::Misleading, !dead && false_too),
                (Sign::Shows, shows(item)),
                (Sign::Lit, lit.contains(&ix)),
                (Sign::Opened, open),
                (Sign::Before, before && !effects.after.works.contains(&item.node)),
            ];
            wear(&mut shown, item, &signs);
        }
        shown
    }

    /// What the faults take by themselves, whether it is in sight or not.
    fn named_by_faults(&self, effects: &Effects) -> BTreeSet<NodeIx> {
        let positions = &effects.situation.positions;
        let of = |f: &FaultIx| self.model.named_by(&self.model[*f].loses, positions);
        effects.question.faults.iter().flat_map(of).collect()
    }

    fn opened(&self, effects: &Effects) -> BTreeSet<NodeIx> {
        let positions = &effects.situation.positions;
        let trips = |f: &FaultIx| self.model.named_by(&self.model[*f].trips, positions);
        effects.question.faults.iter().flat_map(trips).collect()
    }

    /// Lamps and lights that show these alerts.
    fn lights(&self, alerts: impl Iterator<Item = AlertIx>) -> BTreeSet<ItemIx> {
        let light = |i: &ItemIx| matches!(self.model[*i].kind, Kind::Lamp | Kind::Light);
        alerts.map(|a| self.model[a].on).filter(light).collect()
    }

    /// Signs in a state without faults; none where it is not reached.
    fn shown_in(&self, state: StateIx) -> PanelShown {
        let solved = self.analysis.state(state);
        let name = Inline::text(self.model[state].name.clone());
        if !solved.reached {
            return PanelShown { caption: vec![name, Inline::text(": not reached")], ..PanelShown::default() };
        }
        let note = self.model[state].note.clone();
        let mut shown = PanelShown { caption: vec![name], note, ..PanelShown::default() };
        let lit = self.lights(self.analysis.alerts_in(state).into_iter());
        for ix in self.faces() {
            let mut signs = self.signs_in(ix, &solved.solution);
            signs.push((Sign::Lit, lit.contains(&ix)));
            let set = self.is_set(ix, &solved.situation);
            signs.push((Sign::Set, set));
            if let Some(at) = solved.situation.positions.get(ix.usize()).filter(|_| set) {
                shown.positions.insert(self.model[ix].id.to_string(), at.usize());
            }
            wear(&mut shown, &self.model[ix], &signs);
        }
        shown
    }

    fn signs_in(&self, ix: ItemIx, solution: &Solution) -> Vec<(Sign, bool)> {
        if !self.has_a_chain(ix) {
            return Vec::new();
        }
        let item = &self.model[ix];
        let works = |n: &NodeIx| solution.works.contains(n);
        let misled = solution.misleads.contains(&item.node);
        let dead = !misled && !works(&item.node);
        let part = !misled && !dead && !item.functions.iter().all(works);
        vec![(Sign::Gone, dead), (Sign::GoneInPart, part), (Sign::Misleading, misled)]
    }

    /// Whether a control stands away from where it rests in the cold aircraft. A half that follows another one, which is off, does not.
    fn is_set(&self, ix: ItemIx, situation: &Situation) -> bool {
        let Some(control) = &self.model[ix].control else { return false };
        let at = |i: ItemIx| situation.positions.get(i.usize()).copied();
        let mut above = control.off_with;
        for _ in 0..self.model.items.len() {
            let Some((of, stands)) = above.and_then(|i| Some((self.model[i].control.as_ref()?, at(i)?))) else { break };
            if !of.conducts_in.contains(&stands) {
                return false;
            }
            above = of.off_with;
        }
        at(ix).is_some_and(|at| at != control.rest)
    }
}

/// What shows now and did not before.
fn new_alerts(effects: &Effects) -> impl Iterator<Item = AlertIx> {
    effects.shows.iter().filter_map(|i| if let Indication::Alert(alert) = i { Some(*alert) } else { None })
}

fn wear(shown: &mut PanelShown, item: &Item, signs: &[(Sign, bool)]) {
    for (sign, _) in signs.iter().filter(|(_, wears)| *wears) {
        shown.signs.entry(*sign).or_default().push(item.id.to_string());
    }
}
