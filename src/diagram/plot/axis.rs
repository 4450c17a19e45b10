//! Scales with round ticks.

use crate::doc::Axis;

/// From values to places, with the values that get a tick.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    /// The values at its ends.
    values: (f64, f64),
    /// The places of its ends, pt.
    places: (f64, f64),
    /// Values with a tick, each as it is printed.
    pub ticks: Vec<(f64, String)>,
}

impl Scale {
    /// A scale that begins and ends where the axis does; its ticks lie inside.
    pub fn exact(axis: &Axis, places: (f64, f64)) -> Self {
        let (from, to) = ordered(axis);
        let step = step(to - from, most(places, 34.0));
        Self { values: (from, to), places, ticks: ticks(from, to, step) }
    }

    /// A scale that is widened to ticks at both ends, each at least so far from the next.
    pub fn widened(axis: &Axis, places: (f64, f64), room: f64) -> Self {
        let (from, to) = ordered(axis);
        let step = step(to - from, most(places, room));
        let (from, to) = (libm::floor(from / step + 1e-9) * step, libm::ceil(to / step - 1e-9) * step);
        Self { values: (from, to), places, ticks: ticks(from, to, step) }
    }

    /// The same with a quarter of a step more at the low or the high end, where a line would run along the frame.
    pub fn padded(self, (low, high): (bool, bool)) -> Self {
        let [(first, _), (second, _), ..] = self.ticks.as_slice() else { return self };
        let more = |is: bool| if is { (second - first) / 4.0 } else { 0.0 };
        let values = (self.values.0 - more(low), self.values.1 + more(high));
        Self { values, ..self }
    }

    /// The values at its ends.
    pub fn values(&self) -> (f64, f64) {
        self.values
    }

    /// Where a value stands.
    pub fn place(&self, value: f64) -> f64 {
        let share = (value - self.values.0) / (self.values.1 - self.values.0);
        self.places.0 + share * (self.places.1 - self.places.0)
    }

    /// The places of its ends.
    pub fn places(&self) -> (f64, f64) {
        self.places
    }
}

/// The ends of an axis, never one place.
fn ordered(axis: &Axis) -> (f64, f64) {
    let sound = axis.from.is_finite() && axis.to.is_finite() && axis.to > axis.from;
    if sound { (axis.from, axis.to) } else { (0.0, if axis.to > 0.0 && axis.to.is_finite() { axis.to } else { 1.0 }) }
}

/// How many steps there is room for.
fn most((from, to): (f64, f64), room: f64) -> f64 {
    ((to - from).abs() / room).max(1.0)
}

/// The least of 1, 2 and 5 times a power of ten that gives no more than so many steps.
pub fn step(span: f64, most: f64) -> f64 {
    let least = span / most;
    let power = libm::pow(10.0, libm::floor(libm::log10(least)));
    let steps = [1.0, 2.0, 5.0, 10.0].map(|n| n * power);
    steps.into_iter().find(|s| *s >= least * (1.0 - 1e-9)).unwrap_or(10.0 * power)
}

fn ticks(from: f64, to: f64, step: f64) -> Vec<(f64, String)> {
    let (first, last) = (libm::ceil(from / step - 1e-9), libm::floor(to / step + 1e-9));
    let decimals = usize::try_from(-(libm::floor(libm::log10(step) + 1e-9) as i64)).unwrap_or(0);
    let count = ((last - first).clamp(0.0, 60.0)) as u32;
    let tick = |n: u32| {
        let value = (first + f64::from(n)) * step;
        (value, printed(value, decimals))
    };
    (0..=count).map(tick).collect()
}

/// A tick's number: no minus before zero, a true minus sign before all else below it.
fn printed(value: f64, decimals: usize) -> String {
    let text = format!("{:.decimals$}", value.abs());
    let zero = text.chars().all(|c| matches!(c, '0' | '.'));
    if value < 0.0 && !zero { format!("\u{2212}{text}") } else { text }
}
