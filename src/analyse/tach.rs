//! Time as the recording tachometer counts it, beside time by the clock.
//!
//! # Source
//! A recording tachometer counts turns and shows hours at one reference speed: at that speed it keeps clock time, at half of it
//! half of that (common practice; rows of a tachometer maker's note are held in `tests/outside`).

/// Some time at one engine speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// Engine speed.
    pub rpm: f64,
    /// Clock time.
    pub clock_min: f64,
}

/// Tachometer time of one leg, h: speed over reference speed, times clock time.
///
/// The reference is greater than nothing; `resolve` sees to that.
pub fn tach_h(leg: Leg, reference_rpm: f64) -> f64 {
    leg.rpm * leg.clock_min / (reference_rpm * 60.0)
}

/// Clock time of one leg, h: what an hour meter counts while the engine runs.
pub fn clock_h(leg: Leg) -> f64 {
    leg.clock_min / 60.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_the_speed_counts_half_the_time() {
        let at = |rpm| tach_h(Leg { rpm, clock_min: 60.0 }, 2400.0);
        assert_eq!((at(2400.0), at(1200.0), at(0.0)), (1.0, 0.5, 0.0));
        assert_eq!(clock_h(Leg { rpm: 1200.0, clock_min: 90.0 }), 1.5);
    }
}
