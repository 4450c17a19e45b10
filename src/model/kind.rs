//! The closed list of kinds: walking group and defaults.

/// The groups in which a person walks the aircraft.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum WalkGroup {
    Instruments,
    Radios,
    Switches,
    Breakers,
    Levers,
    Lights,
    Sources,
}

impl WalkGroup {
    /// Every group, in the order of walking when a model says none.
    pub const ALL: [Self; 7] =
        [Self::Instruments, Self::Radios, Self::Switches, Self::Breakers, Self::Levers, Self::Lights, Self::Sources];

    /// The word in model files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Instruments => "instruments",
            Self::Radios => "radios",
            Self::Switches => "switches",
            Self::Breakers => "breakers",
            Self::Levers => "levers",
            Self::Lights => "lights",
            Self::Sources => "sources",
        }
    }
}

macro_rules! kinds {
    ($($variant:ident $word:literal $group:ident $conducts:literal),* $(,)?) => {
        /// What sort of thing an item is.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        #[allow(missing_docs)]
        pub enum Kind { $($variant),* }

        impl Kind {
            /// Every kind.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];

            /// The word in model files.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),* }
            }

            /// Where it stands in the walk.
            pub fn group(self) -> WalkGroup {
                match self { $(Self::$variant => WalkGroup::$group),* }
            }

            /// True if it passes on what it is fed with, so that its medium need not be said.
            pub fn conducts(self) -> bool {
                match self { $(Self::$variant => $conducts),* }
            }
        }
    };
}

kinds! {
    Instrument "instrument" Instruments false,
    Gauge "gauge" Instruments false,
    Horn "horn" Instruments false,
    Display "display" Instruments false,
    Clock "clock" Instruments false,
    HourMeter "hour-meter" Instruments false,
    Probe "probe" Instruments false,
    Sensor "sensor" Instruments false,
    Radio "radio" Radios false,
    Receiver "receiver" Radios false,
    Navigator "navigator" Radios false,
    Transmitter "transmitter" Radios false,
    Intercom "intercom" Radios false,
    AudioPanel "audio-panel" Radios false,
    Computer "computer" Radios false,
    Antenna "antenna" Radios false,
    Encoder "encoder" Radios false,
    Switch "switch" Switches true,
    KeySwitch "key-switch" Switches false,
    Button "button" Switches true,
    Selector "selector" Switches true,
    Breaker "breaker" Breakers true,
    Fuse "fuse" Breakers true,
    Lever "lever" Levers false,
    Knob "knob" Levers false,
    Wheel "wheel" Levers false,
    Yoke "yoke" Levers false,
    Valve "valve" Levers true,
    Lamp "lamp" Lights false,
    Light "light" Lights false,
    Battery "battery" Sources false,
    Alternator "alternator" Sources false,
    Generator "generator" Sources false,
    Bus "bus" Sources true,
    Contactor "contactor" Sources true,
    Relay "relay" Sources true,
    Regulator "regulator" Sources true,
    Starter "starter" Sources false,
    Outlet "outlet" Sources false,
    Connector "connector" Sources true,
    Motor "motor" Sources false,
    Heater "heater" Sources false,
    Pump "pump" Sources false,
    Filter "filter" Sources true,
    Line "line" Sources true,
    Port "port" Sources false,
    Mast "mast" Sources false,
    Tank "tank" Sources false,
    Strainer "strainer" Sources true,
    Carburettor "carburettor" Sources false,
    Primer "primer" Levers false,
    Vent "vent" Sources false,
    Magneto "magneto" Sources false,
    Lead "lead" Sources true,
    Plug "plug" Sources false,
    Shaft "shaft" Sources false,
    Engine "engine" Sources false,
    Exhaust "exhaust" Sources false,
    Servo "servo" Sources false,
    Structure "structure" Sources false,
}

impl Kind {
    /// The kind of that word.
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|k| k.word() == word)
    }

    /// True for what opens by itself to protect a circuit: never a move that restores.
    pub fn protects(self) -> bool {
        matches!(self, Self::Breaker | Self::Fuse)
    }
}
