//! Cockpit states, and rings of `after`, `like` and `off-with`.

use super::build::{Builder, flag, name, name_list, text};
use super::names::Declared;
use crate::base::{Diagnostic, Spanned};
use crate::model::{GivenIx, ItemIx, Place, PositionIx, Start, State, StateIx};
use crate::parse::RawTable;
use crate::parse::need::name_of;

/// All states.
pub fn states(b: &mut Builder<'_, '_>) -> Vec<State> {
    let declared = b.names.states.clone();
    let mut states: Vec<State> = declared.iter().map(|d| state(b, d)).collect();
    refuse_state_rings(b, &mut states, &declared);
    let places = places(&states, &declared);
    states.iter_mut().zip(places).for_each(|(state, place)| state.place = place);
    refuse_off_with_rings(b);
    states
}

fn state(b: &mut Builder<'_, '_>, declared: &Declared<'_>) -> State {
    let t = declared.table;
    if flag(t, "in-flight") && flag(t, "on-ground") {
        let at = t.get("on-ground").map_or(declared.span, |e| e.key_span);
        let message = format!("the state `{}` cannot be in flight and on the ground", declared.id);
        b.diagnostics.push(Diagnostic::error("both-places", at, message).help("keep one of the two"));
    }
    State {
        name: text(t, "name").unwrap_or_default(),
        start: start(b, declared),
        controls: controls(b, t),
        givens: givens(b, t),
        reached_if: name_list(t, "reached-if").iter().filter_map(|n| b.names.node(n, b.diagnostics)).collect(),
        place: Place::OnTheGround,
        note: text(t, "note"),
        span: declared.span,
        id: declared.id.clone(),
    }
}

fn start(b: &mut Builder<'_, '_>, declared: &Declared<'_>) -> Start {
    let (after, like) = (name(declared.table, "after"), name(declared.table, "like"));
    if let (Some(after), Some(like)) = (&after, &like) {
        let message = format!("the state `{}` cannot come after one state and be like another", declared.id);
        b.diagnostics.push(
            Diagnostic::error("both-after-and-like", like.span, message)
                .also(after.span, "it comes after this one")
                .help("keep `after` if it starts running, `like` if it starts cold"),
        );
    }
    let mut find = |name: &Spanned<String>| b.names.state("unknown-state", name, b.diagnostics);
    match (after, like) {
        (Some(after), _) => find(&after).map_or(Start::Cold, Start::After),
        (None, Some(like)) => find(&like).map_or(Start::Cold, Start::Like),
        (None, None) => Start::Cold,
    }
}

/// The positions that a table sets.
pub fn controls(b: &mut Builder<'_, '_>, t: &RawTable) -> Vec<(ItemIx, PositionIx)> {
    let mut found = Vec::new();
    for entry in t.table("controls").map_or(&[][..], |t| &t.entries) {
        let control = Spanned::new(entry.key.clone(), entry.key_span);
        let Some(item) = b.names.control(&control, b.diagnostics) else { continue };
        let position = name_of(&entry.value).and_then(|n| b.names.position(item, &n, b.diagnostics));
        found.extend(position.map(|p| (item, p)));
    }
    found.sort();
    found
}

fn givens(b: &mut Builder<'_, '_>, t: &RawTable) -> Vec<(GivenIx, bool)> {
    let mut found = Vec::new();
    for entry in t.table("givens").map_or(&[][..], |t| &t.entries) {
        let name = Spanned::new(entry.key.clone(), entry.key_span);
        let given = b.names.given(&name, b.diagnostics);
        found.extend(given.zip(entry.value.as_bool()));
    }
    found.sort();
    found
}

fn before(state: &State) -> Option<StateIx> {
    match state.start {
        Start::Cold => None,
        Start::Like(before) | Start::After(before) => Some(before),
    }
}

/// The ring that begins and ends with `start`, if going on from there comes back to it.
fn ring_from(start: usize, next: &dyn Fn(usize) -> Option<usize>, most: usize) -> Option<Vec<usize>> {
    let mut ring = vec![start];
    let mut at = start;
    while ring.len() <= most {
        at = next(at)?;
        if at == start {
            return Some(ring);
        }
        ring.push(at);
    }
    None
}

/// Rings, each once: told at its first member.
fn rings(count: usize, next: &dyn Fn(usize) -> Option<usize>) -> Vec<Vec<usize>> {
    let mut known = vec![false; count];
    let mut found = Vec::new();
    for start in 0..count {
        let mut path = Vec::new();
        let mut at = Some(start);
        while let Some(here) = at.filter(|h| !known[*h]) {
            known[here] = true;
            path.push(here);
            at = next(here);
        }
        let closes = at.filter(|h| path.contains(h));
        found.extend(closes.and_then(|h| ring_from(h, next, count)));
    }
    found
}

fn refuse_state_rings(b: &mut Builder<'_, '_>, states: &mut [State], declared: &[Declared<'_>]) {
    let next = |at: usize| before(&states[at]).map(StateIx::usize);
    for ring in rings(states.len(), &next) {
        let words: Vec<&str> = ring.iter().chain(ring.first()).map(|i| states[*i].id.as_str()).collect();
        let message = format!("these states hang on each other in a ring: {}", shown_ring(&words, " on "));
        let Some(first) = ring.first() else { continue };
        let t = declared[*first].table;
        let at = name(t, "after").or_else(|| name(t, "like")).map_or(states[*first].span, |n| n.span);
        b.diagnostics.push(
            Diagnostic::error("state-loop", at, message)
                .help("let one of them start cold: take its `after` or `like` out"),
        );
        states[*first].start = Start::Cold;
    }
}

/// A ring in words, cut short where it is long.
fn shown_ring(words: &[&str], between: &str) -> String {
    match words {
        [head @ .., last] if words.len() > 12 => {
            let head = head.get(..10).unwrap_or(head).join(between);
            format!("{head}{between}…{between}{last}")
        }
        _ => words.join(between),
    }
}

/// Where the aircraft is in each state: as said, else as in the state before, else on the ground.
fn places(states: &[State], declared: &[Declared<'_>]) -> Vec<Place> {
    let mut places: Vec<Option<Place>> = declared.iter().map(|d| said_place(d.table)).collect();
    for start in 0..states.len() {
        let mut path = Vec::new();
        let mut at = start;
        let place = loop {
            if let Some(place) = places[at] {
                break place;
            }
            path.push(at);
            match before(&states[at]).filter(|_| path.len() <= states.len()) {
                Some(before) => at = before.usize(),
                None => break Place::OnTheGround,
            }
        };
        for at in path {
            places[at] = Some(place);
        }
    }
    places.into_iter().map(|p| p.unwrap_or(Place::OnTheGround)).collect()
}

fn said_place(t: &RawTable) -> Option<Place> {
    let says = |key: &str| t.get(key).and_then(|e| e.value.as_bool());
    match (says("in-flight"), says("on-ground")) {
        (Some(true), _) | (None, Some(false)) => Some(Place::InFlight),
        (Some(false), _) | (None, Some(true)) => Some(Place::OnTheGround),
        (None, None) => None,
    }
}

fn refuse_off_with_rings(b: &mut Builder<'_, '_>) {
    let names: Vec<Option<Spanned<String>>> = b.names.items.iter().map(|i| name(i.table, "off-with")).collect();
    let ids: Vec<String> = b.names.items.iter().map(|i| i.id.to_string()).collect();
    let next = |at: usize| names[at].as_ref().and_then(|n| ids.binary_search(&n.value).ok());
    for ring in rings(ids.len(), &next) {
        let words: Vec<&str> = ring.iter().chain(ring.first()).map(|i| ids[*i].as_str()).collect();
        let Some(at) = ring.first().and_then(|i| names[*i].as_ref()) else { continue };
        let message = format!("these controls are off with each other in a ring: {}", shown_ring(&words, " with "));
        b.diagnostics
            .push(Diagnostic::error("off-with-ring", at.span, message).help("take `off-with` out of one of them"));
    }
}
