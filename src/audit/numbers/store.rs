//! What a battery gives, and how phases spend it.
//!
//! # Source
//! Peukert's law (from memory): a current of `n` times that of the rating empties the battery `n` to the power of the exponent times as
//! fast. A smaller one counts as itself.

use std::collections::BTreeMap;

/// What is on in a phase, by id: mean current.
pub(super) type On = BTreeMap<String, f64>;

/// A phase worked out.
pub(super) struct Worked {
    pub(super) amps: f64,
    pub(super) counts_as: f64,
    pub(super) minutes: f64,
}

/// What a battery gives.
#[derive(Clone, Copy)]
pub(super) struct Store {
    pub(super) rated_ah: f64,
    pub(super) usable: f64,
    pub(super) exponent: f64,
    pub(super) over_h: Option<f64>,
}

impl Store {
    pub(super) fn counts_as(&self, amps: f64) -> f64 {
        match self.over_h.map(|h| self.rated_ah / h) {
            Some(rated) if amps > rated => rated * (amps / rated).powf(self.exponent),
            _ => amps,
        }
    }

    /// Minutes of each phase; none where the numbers give no end.
    pub(super) fn spend(&self, on: &[On], lasts: &[Option<f64>]) -> Option<Vec<Worked>> {
        let mut left = self.rated_ah * self.usable * 60.0;
        let counts: Vec<f64> = on.iter().map(|o| self.counts_as(o.values().sum())).collect();
        let fixed: f64 = counts.iter().zip(lasts).map(|(c, t)| c * t.unwrap_or(0.0)).sum();
        let rest = (left - fixed).max(0.0);
        let mut worked = Vec::new();
        for ((on, counts_as), lasts) in on.iter().zip(counts).zip(lasts) {
            let wanted = lasts.unwrap_or(rest / counts_as);
            let minutes = if counts_as > 0.0 { wanted.min(left / counts_as) } else { wanted };
            if !minutes.is_finite() {
                return None;
            }
            left = (left - counts_as * minutes).max(0.0);
            worked.push(Worked { amps: on.values().sum(), counts_as, minutes });
        }
        Some(worked)
    }
}
