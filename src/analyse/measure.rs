//! Quantities of the physics, each a type of its own, so that feet are not taken for knots.
//!
//! **Duty.** A number with its unit in its type, and how a quantity of the model becomes one.
//!
//! **Does not know** how a number is rounded for print.

use crate::base::{Dimension, Quantity, Unit};
use std::iter::Sum;
use std::ops::{Add, Div, Mul, Neg, Sub};

macro_rules! measures {
    ($($(#[$doc:meta])* $name:ident $symbol:literal $dimension:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(pub f64);

        impl $name {
            /// The unit as printed.
            pub const UNIT: &'static str = $symbol;

            /// The bare number.
            pub fn get(self) -> f64 {
                self.0
            }

            /// A quantity of the model in this unit; for a range its lower end. `None` where it is of another dimension.
            pub fn of(quantity: &Quantity) -> Option<Self> {
                if quantity.unit.dimension != Dimension::$dimension {
                    return None;
                }
                if quantity.unit.symbol == $symbol {
                    return Some(Self(quantity.number));
                }
                Some(Self(Unit::find($symbol).map_or(quantity.si(), |unit| unit.from_si(quantity.si()))))
            }

            /// The greater of two.
            #[must_use]
            pub fn or_more(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, times: f64) -> Self {
                Self(self.0 * times)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, by: Self) -> f64 {
                self.0 / by.0
            }
        }

        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                Self(all.fold(0.0, |sum, m| sum + m.0)) // the sum of no numbers is minus zero in the library
            }
        }
    )*};
}

measures! {
    /// International feet: altitude, or a length of wire.
    Feet "ft" Length,
    /// Feet a minute.
    FeetPerMinute "ft/min" Speed,
    /// Knots.
    Knots "kt" Speed,
    /// Pascals.
    Pascals "Pa" Pressure,
    /// Kelvin.
    Kelvin "K" Temperature,
    /// Amperes.
    Amps "A" Current,
    /// Volts.
    Volts "V" Voltage,
    /// Ampere hours.
    AmpHours "Ah" Charge,
    /// Minutes.
    Minutes "min" Duration,
    /// Hours.
    Hours "h" Duration,
    /// Turns a minute.
    Rpm "rpm" Rotation,
    /// US gallons.
    Gallons "gal" Volume,
    /// US gallons an hour.
    GallonsPerHour "gph" VolumeFlow,
    /// Pounds.
    Pounds "lb" Mass,
}

impl Minutes {
    /// The same in hours.
    pub fn hours(self) -> Hours {
        Hours(self.0 / 60.0)
    }
}

impl Hours {
    /// The same in minutes.
    pub fn minutes(self) -> Minutes {
        Minutes(self.0 * 60.0)
    }
}
