//! Tables: what stands in rows and columns.

use super::inline::Inlines;

/// What a block is about.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Subject {
    /// The whole aircraft.
    #[default]
    Aircraft,
    /// One thing of the model, by id.
    One(String),
    /// Faults, `item:fault`, and the state in which they were asked.
    Faults {
        /// Faults that have the same effects, each asked alone.
        faults: Vec<String>,
        /// Id of the state.
        state: String,
    },
}

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// `fail/vacuum-pump`.
    pub id: String,
    /// What sort.
    pub kind: TableKind,
    /// What it is about.
    pub subject: Subject,
    /// What stands above it.
    pub caption: Inlines,
    /// Columns from left to right.
    pub columns: Vec<Column>,
    /// Rows from top to bottom; each with a cell for each column.
    pub rows: Vec<Row>,
}

/// One row.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Row {
    /// What it is about: an id of the model, or the name of an aspect.
    pub about: String,
    /// From left to right.
    pub cells: Vec<Cell>,
}

/// One cell.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cell {
    /// A sign with its word, before the lines.
    pub mark: Option<Mark>,
    /// Each line stands alone.
    pub lines: Vec<Inlines>,
}

impl Cell {
    /// A cell of one line.
    pub fn line(line: Inlines) -> Self {
        Self { mark: None, lines: vec![line] }
    }

    /// A cell of a sign and its word.
    pub fn mark(mark: Mark) -> Self {
        Self { mark: Some(mark), lines: Vec::new() }
    }
}

/// A sign that stands with its word, so that it can be read without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum Mark {
    Works,
    Partly,
    Dead,
    Misleads,
    NotReached,
}

impl Mark {
    /// The word beside the sign.
    pub fn word(self) -> &'static str {
        match self {
            Self::Works => "works",
            Self::Partly => "partly",
            Self::Dead => "dead",
            Self::Misleads => "false",
            Self::NotReached => "not reached",
        }
    }
}

/// What sort of table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TableKind {
    /// What a fault does: one row an aspect.
    Failure,
    /// Faults that take nothing.
    NothingLost,
    /// What works in which state: one row an item, one column a state.
    States,
    /// What each control does.
    Controls,
    /// Every item of a system.
    Items,
    /// Breakers and what they protect.
    Breakers,
    /// Named quantities.
    Quantities,
    /// Tachometer time beside clock time.
    Clocks,
    /// Alerts.
    Alerts,
    /// Faults by what is seen of them.
    Suspects,
    /// Every item in walking order, with what is told of it.
    Round,
    /// Every item with links to what tells of it.
    Index,
    /// Topics of an examination with links to the headings that teach them.
    Topics,
    /// The sign-off sheet.
    Walk,
    /// Inspections.
    Inspections,
    /// What each consumer draws in each state.
    Loads,
    /// Breakers against loads and wires.
    Circuits,
    /// What the battery carries in each phase.
    PhaseLoads,
    /// The phases on the battery.
    Phases,
    /// Minutes with more and more left off.
    Stages,
    /// The time on the battery at each temperature that is told.
    Cold,
    /// What leaving off each load buys in minutes.
    Gains,
    /// A flight as its clocks see it.
    FlightClocks,
    /// A month and a year of flights.
    Months,
    /// What instruments show while an opening is blocked.
    Blocked,
    /// What the encoder reports.
    Encoder,
    /// Inspections against the log.
    Due,
    /// Fuel by tank.
    Tanks,
    /// Fuel with its reserve.
    Reserves,
    /// One tank alone.
    OneTank,
    /// Where needles stand in each state.
    Needles,
    /// What a tail changes.
    Changes,
    /// Of the card: what is lost with each source and bus.
    CardLosses,
    /// Of the card: numbers with names.
    CardNumbers,
    /// Of the card: breakers with their ratings.
    CardBreakers,
    /// A table typed in a chapter.
    Plain,
}

/// A column with its fixed heading.
#[derive(Debug, Clone, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Column {
    Aspect,
    Effect,
    Item,
    Does,
    DrivenBy,
    WhenGone,
    Draws,
    Breaker,
    Rating,
    Protects,
    Value,
    Source,
    Engine,
    Clock,
    TachometerTime,
    Sum,
    Number,
    Where,
    Confirmed,
    Initials,
    Control,
    Positions,
    Changes,
    Fault,
    HowYouKnow,
    Alert,
    ShowsWhen,
    Looks,
    Inspection,
    Every,
    CountedBy,
    Change,
    Reason,
    Quantity,
    Handbook,
    Seen,
    CanBe,
    Apart,
    DrivenAndSeen,
    ToldIn,
    Code,
    Topic,
    TaughtIn,
    Consumer,
    Circuit,
    OpensAt,
    LargestForWire,
    Load,
    Wire,
    Length,
    Drop,
    Allowed,
    OnBattery,
    Phase,
    MeanCurrent,
    CountsAs,
    Time,
    Takes,
    LeftOff,
    InAll,
    Gained,
    Buys,
    Leg,
    HourMeterTime,
    InService,
    Flight,
    Monthly,
    AtEndOf,
    TrueAirspeed,
    ShownAirspeed,
    TrueAltitude,
    ShownAltitude,
    TrueVertical,
    ShownVertical,
    Reported,
    StillTrue,
    Altitude,
    PressureAltitude,
    DoneLast,
    DueNext,
    Carried,
    Left,
    ComesOn,
    Tank,
    Holds,
    Usable,
    TripTime,
    ByDay,
    ByNight,
    After,
    Difference,
    Needle,
    OutBy,
    ControllerSees,
    Temperature,
    CountedOn,
    NothingOff,
    LostOrFalse,
    StillTells,
    /// A phase on the battery: the heading is its name.
    PhaseNamed(String),
    /// A state: the heading is its name.
    State {
        id: String,
        name: String,
    },
    /// A heading typed in a chapter.
    Plain(String),
}

impl Column {
    /// The visible heading.
    pub fn heading(&self) -> &str {
        match self {
            Self::Aspect => "What changes",
            Self::Effect => "How",
            Self::Item => "Item",
            Self::Does => "What it does",
            Self::DrivenBy => "What drives it",
            Self::WhenGone => "What it shows when that is gone",
            Self::Draws => "Draws",
            Self::Breaker => "Breaker",
            Self::Rating => "Rating",
            Self::Protects => "Carries",
            Self::Value => "Value",
            Self::Source => "Source",
            Self::Engine => "Engine speed",
            Self::Clock => "Clock time",
            Self::TachometerTime => "Tachometer time",
            Self::Sum => "Sum",
            Self::Number => "No.",
            Self::Where => "Where",
            Self::Confirmed => "Confirmed",
            Self::Initials => "Initials and date",
            Self::Control => "Control",
            Self::Positions => "Positions",
            Self::Changes => "What each position changes",
            Self::Fault => "If",
            Self::HowYouKnow => "How you know",
            Self::Alert => "Alert",
            Self::ShowsWhen => "Shows when this is lost",
            Self::Looks => "What is seen",
            Self::Inspection => "Inspection",
            Self::Every => "Every",
            Self::CountedBy => "Counted by",
            Self::Change => "Change",
            Self::Reason => "Why",
            Self::Quantity => "Number",
            Self::Handbook => "Handbook",
            Self::Seen => "What you see",
            Self::CanBe => "What it can be",
            Self::Apart => "What tells them apart",
            Self::ToldIn => "Where it is told",
            Self::Code => "Code",
            Self::Topic => "Topic",
            Self::TaughtIn => "Where it is taught",
            Self::DrivenAndSeen => "What drives it, and what is seen without it",
            Self::PhaseNamed(name) => name,
            Self::State { name, .. } => name,
            Self::Plain(text) => text,
            other => other.heading_of_numbers(),
        }
    }

    /// The heading of a column of a table of numbers.
    fn heading_of_numbers(&self) -> &'static str {
        match self {
            Self::Consumer => "Consumer",
            Self::Circuit => "Circuit",
            Self::OpensAt => "Rating",
            Self::LargestForWire => "Largest rating for the wire",
            Self::Load => "Load",
            Self::Wire => "Wire",
            Self::Length => "Length",
            Self::Drop => "Voltage drop",
            Self::Allowed => "At most",
            Self::OnBattery => "Carried by the battery",
            Self::Phase => "Phase",
            Self::MeanCurrent => "Mean current",
            Self::CountsAs => "Counts as",
            Self::Time => "Time",
            Self::Takes => "Takes",
            Self::LeftOff => "Left off, one more at each line",
            Self::InAll => "Time in all",
            Self::Gained => "Gained in all",
            Self::Buys => "Buys",
            Self::Leg => "Leg",
            Self::HourMeterTime => "Hour-meter time",
            Self::InService => "Time in service",
            Self::Flight => "Flight",
            Self::Monthly => "In a month",
            Self::AtEndOf => "At the end of",
            Self::TrueAirspeed => "Airspeed, as it is",
            Self::ShownAirspeed => "Airspeed, shown",
            Self::TrueAltitude => "Altitude, as it is",
            Self::ShownAltitude => "Altitude, shown",
            Self::TrueVertical => "Vertical speed, as it is",
            Self::ShownVertical => "Vertical speed, shown",
            Self::Reported => "Encoder reports",
            Self::StillTrue => "Still agrees",
            Self::Altitude => "Altitude by the altimeter",
            Self::PressureAltitude => "Pressure altitude",
            Self::DoneLast => "Done last",
            Self::DueNext => "Due next",
            Self::Carried => "Carried over",
            Self::Left => "Remaining in it",
            Self::ComesOn => "Comes on",
            Self::Tank => "Tank",
            Self::Holds => "Holds",
            Self::Usable => "Usable",
            Self::TripTime => "Flight of",
            Self::ByDay => "By day",
            Self::ByNight => "By night",
            Self::After => "Time on this tank",
            Self::Difference => "Difference in weight",
            Self::Needle => "Gauge",
            Self::OutBy => "Apart by",
            Self::ControllerSees => "Controller sees",
            Self::Temperature => "Temperature",
            Self::CountedOn => "Counted on",
            Self::NothingOff => "Time with nothing left off",
            Self::LostOrFalse => "Lost or false",
            Self::StillTells => "Still tells you",
            _ => "",
        }
    }
}
