//! Every table of a known sort, row for row and cell for cell. What sort a table is, its visible headings decide.

mod aspects;
mod card;
mod carries;
mod chain;
mod chains;
mod control;
mod drives;
mod failure;
mod figures;
mod index;
mod items;
mod known;
mod matrix;
mod numbers;
mod own;
mod pointers;
mod remedy;
mod rings;
mod round;
mod suspects;
mod topics;

use super::amount::Chosen;
use super::book::Chapter;
use super::effects::{Effects, Inquiry, Pairs, Target};
use super::finding::{Notes, Report};
use super::page::{Grid, Page};
use super::parts::{FaultName, PlainModel};
use super::speech::{Dictionary, bare, capital, engraved};
use super::states::StateAnswer;
use super::words::Words;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What sort of table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Sort {
    Failure,
    NothingLost,
    States,
    Items,
    Controls,
    Breakers,
    Alerts,
    Quantities,
    Clocks,
    Inspections,
    Round,
    Index,
    Topics,
    Walk,
    Suspects,
    Changes,
    Loads,
    Circuits,
    PhaseLoads,
    Phases,
    Stages,
    Cold,
    Gains,
    FlightClocks,
    Months,
    Blocked,
    Encoder,
    Due,
    Tanks,
    Reserves,
    OneTank,
    Needles,
}

const ROUND: &str = "What drives it, and what is seen without it";

const HEADINGS: &[(Sort, &[&str])] = &[
    (Sort::Failure, &["What changes", "How"]),
    (Sort::NothingLost, &["If", "How you know"]),
    (Sort::Items, &["Item", "What it does", "What drives it", "What it shows when that is gone", "Draws", "Breaker"]),
    (Sort::Controls, &["Control", "Positions", "What each position changes"]),
    (Sort::Breakers, &["Breaker", "Rating", "Carries"]),
    (Sort::Alerts, &["Alert", "Item", "Shows when this is lost", "What is seen"]),
    (Sort::Quantities, &["Number", "Value", "Source"]),
    (Sort::Clocks, &["Engine speed", "Clock time", "Sum", "Tachometer time"]),
    (Sort::Inspections, &["Inspection", "Every", "Counted by", "Source"]),
    (Sort::Round, &["No.", "Item", "What it does", ROUND]),
    (Sort::Round, &["Item", "What it does", ROUND]),
    (Sort::Index, &["Item", "Where it is told"]),
    (Sort::Topics, &["Code", "Topic", "Where it is taught"]),
    (Sort::Walk, &["No.", "Item", "Where", "Confirmed", "Initials and date"]),
    (Sort::Suspects, &["What you see", "What it can be", "What tells them apart"]),
    (Sort::Changes, &["Change", "Why"]),
    (
        Sort::Circuits,
        &["Circuit", "Rating", "Load", "Wire", "Largest rating for the wire", "Length", "Voltage drop", "At most"],
    ),
    (Sort::Phases, &["Phase", "Mean current", "Counts as", "Time", "Takes"]),
    (Sort::Stages, &["Left off, one more at each line", "Time in all", "Gained in all"]),
    (Sort::Cold, &["Temperature", "Counted on", "Time in all", "Time with nothing left off"]),
    (Sort::Gains, &["Consumer", "Mean current", "Buys"]),
    (
        Sort::FlightClocks,
        &["Leg", "Engine speed", "Clock time", "Tachometer time", "Hour-meter time", "Time in service"],
    ),
    (Sort::Months, &["Flight", "In a month", "Clock time", "Tachometer time", "Hour-meter time", "Time in service"]),
    (
        Sort::Blocked,
        &[
            "At the end of",
            "Airspeed, as it is",
            "Airspeed, shown",
            "Altitude, as it is",
            "Altitude, shown",
            "Vertical speed, as it is",
            "Vertical speed, shown",
            "Encoder reports",
            "Still agrees",
        ],
    ),
    (
        Sort::Encoder,
        &[
            "At the end of",
            "Altitude by the altimeter",
            "Pressure altitude",
            "Encoder reports",
            "Apart by",
            "Controller sees",
        ],
    ),
    (Sort::Due, &["Inspection", "Every", "Due next"]),
    (Sort::Tanks, &["Tank", "Holds", "Usable", "Time"]),
    (Sort::Reserves, &["Flight of", "By day", "By night"]),
    (Sort::OneTank, &["Time on this tank", "Remaining in it", "Difference in weight"]),
];

/// A fault that some table tells of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Told {
    pub(super) chapter: String,
    pub(super) sort: Sort,
    pub(super) state: String,
    pub(super) fault: FaultName,
    /// The caption of the table.
    pub(super) caption: String,
}

/// A table that was read: its chapter, its sort, and the id of the system it is of, where it is of one; of the walk round, its caption.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Stands {
    pub(super) chapter: String,
    pub(super) sort: Sort,
    pub(super) system: Option<String>,
}

/// Where tables are read: the model, what it calls things, the answers worked out so far, and the report.
pub(super) struct Desk<'a> {
    pub(super) model: &'a PlainModel,
    pub(super) book: &'a [Chapter],
    pub(super) words: &'a Words,
    pub(super) reference: Option<String>,
    chosen: Chosen,
    pub(super) nodes: Dictionary<String>,
    alerts: Dictionary<String>,
    clauses: Dictionary<FaultName>,
    targets: Dictionary<String>,
    moves: Dictionary<String>,
    inquiries: BTreeMap<String, Option<Inquiry<'a>>>,
    effects: BTreeMap<(String, FaultName), Arc<Effects>>,
    states: BTreeMap<String, Option<Arc<StateAnswer>>>,
    pub(super) told: Vec<Told>,
    pub(super) stands: Vec<Stands>,
    /// Tables of the card that were read.
    card: card::Seen,
    pub(super) notes: Notes,
}

impl<'a> Desk<'a> {
    /// A desk for one model.
    pub(super) fn new(model: &'a PlainModel, words: &'a Words, book: &'a [Chapter]) -> Self {
        let nodes = Dictionary::of(words.things.iter().map(|(id, thing)| (thing.name.clone(), id.clone())));
        let cruise = || words.states.contains_key("cruise").then(|| "cruise".to_owned());
        Self {
            model,
            book,
            words,
            reference: words.reference_state.clone().or_else(cruise),
            chosen: Chosen::of(words.display.iter().map(String::as_str)),
            nodes,
            alerts: Dictionary::of(words.alerts.iter().map(|(id, alert)| (alert.name.clone(), id.clone()))),
            clauses: Dictionary::of(words.faults.keys().map(|fault| (words.clause(fault), fault.clone()))),
            targets: targets(words),
            moves: moves(model, words),
            inquiries: BTreeMap::new(),
            effects: BTreeMap::new(),
            states: BTreeMap::new(),
            told: Vec::new(),
            stands: Vec::new(),
            card: card::Seen::new(),
            notes: Notes::default(),
        }
    }

    /// Begins a page; answers stay.
    pub(super) fn begin(&mut self, notes: Notes) {
        self.notes = notes;
        self.told.clear();
        self.stands.clear();
        self.card.clear();
        self.note_ambiguous();
    }

    /// The report on the page.
    pub(super) fn end(&mut self) -> Report {
        std::mem::take(&mut self.notes).finish()
    }

    fn note_ambiguous(&mut self) {
        let faults = self.clauses.ambiguous().iter().map(|text| ("two faults", text));
        let nodes = self.nodes.ambiguous().iter().map(|text| ("two things", text));
        for (what, text) in faults.chain(nodes) {
            self.notes.find("ambiguous", "Model", format!("“{text}” stands for {what}"), "one name for one thing");
        }
    }

    /// Reads every table of the page.
    pub(super) fn read(&mut self, page: &Page) {
        for grid in &page.grids {
            self.read_table(grid);
        }
        for grid in &page.grids {
            match self.sort_of(grid) {
                Some(Sort::Index) => self.check_index(grid, page),
                Some(Sort::Topics) => self.check_topics(grid, page),
                _ => {}
            }
        }
        for sum in &page.sums {
            self.check_worked(sum);
        }
    }

    fn read_table(&mut self, grid: &Grid) {
        let Some(sort) = self.sort_of(grid) else {
            if !grid.typed {
                self.unreadable(&grid.name(), grid.headings.join(" | "), "headings of a known table");
            }
            return;
        };
        self.notes.report.proved.tables += 1;
        self.notes.report.proved.cells += grid.rows.iter().map(Vec::len).sum::<usize>();
        let wide = grid.headings.len();
        if let Some(row) = grid.rows.iter().find(|row| row.len() != wide) {
            let says = format!("{} cells", row.len());
            return self.unreadable(&grid.row_name(row), says, format!("{wide} cells"));
        }
        let system = if sort == Sort::Round { Some(grid.caption.clone()) } else { self.system_in(grid) };
        self.stands.push(Stands { chapter: grid.chapter.clone(), sort, system });
        match sort {
            Sort::Failure => self.check_failure(grid),
            Sort::NothingLost => self.check_nothing_lost(grid),
            Sort::States => self.check_matrix(grid),
            Sort::Items => self.check_items(grid),
            Sort::Controls => self.check_controls(grid),
            Sort::Breakers => self.check_breakers(grid),
            Sort::Alerts => self.check_alerts(grid),
            Sort::Quantities => self.check_quantities(grid),
            Sort::Clocks => self.check_clocks(grid),
            Sort::Inspections => self.check_inspections(grid),
            Sort::Round => self.check_round(grid),
            Sort::Walk => self.check_walk(grid),
            Sort::Suspects => self.check_suspects(grid),
            Sort::Loads => self.check_loads(grid),
            Sort::Circuits => self.check_circuits(grid),
            Sort::PhaseLoads => self.check_phase_loads(grid),
            Sort::Phases => self.check_phases(grid),
            Sort::Stages => self.check_stages(grid),
            Sort::Cold => self.check_cold(grid),
            Sort::Gains => self.check_gains(grid),
            Sort::FlightClocks => self.check_flight_clocks(grid),
            Sort::Months => self.check_months(grid),
            Sort::Blocked => self.check_blocked(grid),
            Sort::Encoder => self.check_encoder(grid),
            Sort::Due => self.check_due(grid),
            Sort::Tanks => self.check_tanks(grid),
            Sort::Reserves => self.check_reserves(grid),
            Sort::OneTank => self.check_one_tank(grid),
            Sort::Needles => self.check_needle_table(grid),
            // These tell of other tables and are read when those were.
            Sort::Index | Sort::Topics | Sort::Changes => {}
        }
    }

    fn sort_of(&self, grid: &Grid) -> Option<Sort> {
        let known = HEADINGS.iter().find(|(_, headings)| grid.headings == *headings).map(|(sort, _)| *sort);
        let states = || {
            let (first, rest) = grid.headings.split_first()?;
            let state = |heading: &String| self.words.states.values().any(|name| name == heading);
            (first == "Item" && !rest.is_empty() && (rest.iter().any(state) || !grid.typed)).then_some(Sort::States)
        };
        let begins =
            |headings: &[&str]| grid.headings.iter().zip(headings).filter(|(a, b)| a == *b).count() == headings.len();
        let open = [
            (Sort::Loads, &["Consumer", "Draws"][..]),
            (Sort::PhaseLoads, &["Carried by the battery"]),
            (Sort::Needles, &["Gauge"]),
        ];
        let loads = || open.into_iter().find(|(_, headings)| !grid.typed && begins(headings)).map(|(sort, _)| sort);
        known.or_else(loads).or_else(states)
    }

    /// The system that a caption names after its colon.
    fn system_in(&self, grid: &Grid) -> Option<String> {
        let (_, name) = grid.caption.split_once(": ")?;
        self.words.systems.iter().find(|(_, n)| *n == name).map(|(id, _)| id.clone())
    }

    fn unreadable(&mut self, place: &str, says: impl Into<String>, expected: impl Into<String>) {
        self.notes.find("unreadable", place, says, expected);
    }

    /// What a fault does in a state, from running.
    pub(super) fn effects(&mut self, state: &str, fault: &FaultName) -> Arc<Effects> {
        let key = (state.to_owned(), fault.clone());
        if let Some(found) = self.effects.get(&key) {
            return Arc::clone(found);
        }
        let inquiry = self.inquiry(state);
        let answer = inquiry.and_then(|i| i.effects(std::slice::from_ref(fault)).ok()).unwrap_or_default();
        let answer = Arc::new(answer);
        self.effects.insert(key, Arc::clone(&answer));
        answer
    }

    /// The questions about a state, from running; none of an unknown state.
    pub(super) fn inquiry(&mut self, state: &str) -> Option<&Inquiry<'a>> {
        let model = self.model;
        let ask = || Inquiry::new(model, state, false, Pairs::Ask).ok();
        self.inquiries.entry(state.to_owned()).or_insert_with(ask).as_ref()
    }

    /// What works in a state; none of an unknown state.
    pub(super) fn answer(&mut self, state: &str) -> Option<Arc<StateAnswer>> {
        let model = self.model;
        let solve = || model.solve_state(state, &[], false).ok().map(Arc::new);
        self.states.entry(state.to_owned()).or_insert_with(solve).clone()
    }

    /// A text that ends with the name of a state in brackets, and the state.
    fn in_state<'t>(&self, text: &'t str) -> Option<(&'t str, String)> {
        self.words.states.iter().find_map(|(id, name)| {
            let rest = text.strip_suffix(')')?.strip_suffix(name.as_str())?.strip_suffix(" (")?;
            Some((rest, id.clone()))
        })
    }
}

/// Information, buses and media: what may be left without a backup.
fn targets(words: &Words) -> Dictionary<String> {
    let information = words.information.values().cloned();
    let buses = words.things.values().filter(|t| t.kind == "bus").map(|t| t.name.clone());
    let media = words.media.values().cloned();
    let built_in = [
        "electricity",
        "suction",
        "pitot pressure",
        "static pressure",
        "fuel",
        "oil pressure",
        "rotation",
        "power",
        "spark",
        "ram air",
        "data",
        "sound",
        "heat",
        "hydraulic pressure",
        "motion",
        "air",
    ];
    let all = information.chain(buses).chain(media).chain(built_in.iter().map(|name| (*name).to_owned()));
    Dictionary::of(all.map(|name| (name.clone(), bare(&name))))
}

impl Words {
    /// A target as it is held against print.
    fn target(&self, target: &Target) -> String {
        bare(&match target {
            Target::Information(id) => self.information.get(id).cloned().unwrap_or_else(|| id.clone()),
            Target::Bus(id) => self.name(id),
            Target::Medium(id) => self.medium(id),
        })
    }
}

/// `fuel pump switch ON`, `alternator half cycled`, as held against print.
fn moves(model: &PlainModel, words: &Words) -> Dictionary<String> {
    let mut all = Vec::new();
    for node in &model.nodes {
        let Some(control) = &node.control else { continue };
        let name = words.name(&node.id);
        let each = control.positions.iter().map(|p| format!("{name} {}", engraved(p)));
        all.extend(each.chain([format!("{name} cycled")]));
    }
    Dictionary::of(all.into_iter().map(|text| (text.clone(), bare(&text))))
}

/// Whether a fault does something that a table has to tell.
pub(super) fn matters(effects: &Effects) -> bool {
    !(effects.lost.is_empty()
        && effects.misleading.is_empty()
        && effects.lost_later.is_empty()
        && effects.weakened.is_empty()
        && effects.no_backup.is_empty()
        && effects.still_tells.is_empty()
        && effects.no_longer_warns.is_empty()
        && effects.runs_unasked.is_empty()
        && effects.hazards.is_empty())
}

/// A name as a row begins with it.
fn heading(name: &str) -> String {
    capital(name)
}
