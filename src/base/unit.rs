//! The units that the trade uses, with their exact published factors.
//!
//! # Source
//! NIST SP 811 (2008), appendix B, for the factors (from memory; the factors of foot, pound, gallon, knot and mile are exact by
//! definition); inHg is the conventional inch of mercury at 0 degC, 3386.389 Pa.

/// What a unit measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Dimension {
    Voltage,
    Current,
    Charge,
    Power,
    Resistance,
    Pressure,
    Speed,
    Length,
    Temperature,
    Rotation,
    Duration,
    Volume,
    Mass,
    MassFlow,
    VolumeFlow,
    Angle,
    Frequency,
    Share,
}

impl Dimension {
    /// The dimension in words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Charge => "charge",
            Self::Power => "power",
            Self::Resistance => "resistance",
            Self::Pressure => "pressure",
            Self::Speed => "speed",
            Self::Length => "length",
            Self::Temperature => "temperature",
            Self::Rotation => "speed of rotation",
            Self::Duration => "time",
            Self::Volume => "volume",
            Self::Mass => "mass",
            Self::MassFlow => "mass flow",
            Self::VolumeFlow => "volume flow",
            Self::Angle => "angle",
            Self::Frequency => "frequency",
            Self::Share => "share",
        }
    }
}

/// One unit: `si = (number + offset) * factor`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// As typed.
    pub symbol: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// SI units in one of it.
    pub factor: f64,
    /// Added before the factor is applied; nothing but for degrees.
    pub offset: f64,
}

const fn unit(symbol: &'static str, dimension: Dimension, factor: f64) -> Unit {
    Unit { symbol, dimension, factor, offset: 0.0 }
}

/// US gallon: 231 cubic inches, in cubic metres.
const GALLON: f64 = 0.003_785_411_784;
/// International pound, in kilograms.
const POUND: f64 = 0.453_592_37;
/// International foot, in metres.
const FOOT: f64 = 0.3048;

/// Every unit that a model may use.
pub const UNITS: &[Unit] = &[
    unit("V", Dimension::Voltage, 1.0),
    unit("A", Dimension::Current, 1.0),
    unit("Ah", Dimension::Charge, 3600.0),
    unit("W", Dimension::Power, 1.0),
    unit("ohm", Dimension::Resistance, 1.0),
    unit("hPa", Dimension::Pressure, 100.0),
    unit("inHg", Dimension::Pressure, 3386.389),
    unit("psi", Dimension::Pressure, 6_894.757_293_168_361),
    unit("kt", Dimension::Speed, 1852.0 / 3600.0),
    unit("mph", Dimension::Speed, 1609.344 / 3600.0),
    unit("ft/min", Dimension::Speed, FOOT / 60.0),
    unit("ft", Dimension::Length, FOOT),
    unit("m", Dimension::Length, 1.0),
    unit("mm", Dimension::Length, 0.001),
    unit("in", Dimension::Length, 0.0254),
    Unit { symbol: "degC", dimension: Dimension::Temperature, factor: 1.0, offset: 273.15 },
    Unit { symbol: "degF", dimension: Dimension::Temperature, factor: 5.0 / 9.0, offset: 459.67 },
    unit("rpm", Dimension::Rotation, 1.0 / 60.0),
    unit("h", Dimension::Duration, 3600.0),
    unit("min", Dimension::Duration, 60.0),
    unit("s", Dimension::Duration, 1.0),
    unit("gal", Dimension::Volume, GALLON),
    unit("L", Dimension::Volume, 0.001),
    unit("lb", Dimension::Mass, POUND),
    unit("kg", Dimension::Mass, 1.0),
    unit("lb/h", Dimension::MassFlow, POUND / 3600.0),
    unit("gph", Dimension::VolumeFlow, GALLON / 3600.0),
    unit("deg", Dimension::Angle, std::f64::consts::PI / 180.0),
    unit("MHz", Dimension::Frequency, 1e6),
    unit("kHz", Dimension::Frequency, 1e3),
    unit("%", Dimension::Share, 0.01),
];

impl Unit {
    /// As printed: degrees of temperature with their sign.
    pub fn sign(&self) -> &'static str {
        match self.symbol {
            "degC" => "°C",
            "degF" => "°F",
            other => other,
        }
    }

    /// The unit of that symbol.
    pub fn find(symbol: &str) -> Option<&'static Self> {
        UNITS.iter().find(|u| u.symbol == symbol)
    }

    /// The number in SI units.
    pub fn to_si(&self, number: f64) -> f64 {
        (number + self.offset) * self.factor
    }

    /// The number in this unit of what is given in SI units.
    pub fn from_si(&self, si: f64) -> f64 {
        si / self.factor - self.offset
    }
}
