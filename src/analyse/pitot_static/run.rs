//! A flight as it is flown: what stands in the lines, moment by moment.

use super::{AirFlight, Moment, Openings, PitotLine, Reading, StaticLine};
use crate::analyse::airspeed::{calibrated, impact_pressure};
use crate::analyse::altimeter::{encoder_hundreds, shown_altitude, static_pressure, vertical_speed};
use crate::analyse::measure::{Feet, FeetPerMinute, Knots, Minutes, Pascals};

/// Where the aircraft is and what stands in its lines.
#[derive(Clone, Copy)]
struct Point {
    at: Minutes,
    altitude: Feet,
    airspeed: Knots,
    pitot: Pascals,
    statics: Pascals,
}

pub struct Run<'f> {
    flight: &'f AirFlight,
    now: Point,
}

impl<'f> Run<'f> {
    pub fn new(flight: &'f AirFlight) -> Self {
        let statics = static_pressure(flight.altitude, flight.setting);
        let pitot = statics + impact_pressure(flight.airspeed);
        let (altitude, airspeed) = (flight.altitude, flight.airspeed);
        Self { flight, now: Point { at: Minutes(0.0), altitude, airspeed, pitot, statics } }
    }

    /// Flies one leg: its beginning, and the ends of so many equal parts.
    pub fn leg(&mut self, number: usize, parts: usize) -> Vec<Moment> {
        let leg = self.flight.legs[number];
        self.settle(leg.openings);
        let from = self.now;
        let mut points = vec![from];
        for step in 1..=parts {
            let share = step as f64 / parts as f64;
            let last = step == parts;
            self.now.at = from.at + leg.time * share;
            self.now.altitude =
                if last { leg.altitude } else { from.altitude + (leg.altitude - from.altitude) * share };
            self.now.airspeed =
                if last { leg.airspeed } else { from.airspeed + (leg.airspeed - from.airspeed) * share };
            self.settle(leg.openings);
            points.push(self.now);
        }
        let climb = FeetPerMinute((leg.altitude - from.altitude).0 / leg.time.0);
        let part = leg.time * (1.0 / parts as f64);
        let rates: Vec<FeetPerMinute> =
            points.windows(2).map(|w| vertical_speed(w[0].statics, w[1].statics, part)).collect();
        let rate = |at: usize| rates[at.saturating_sub(1)];
        points.iter().enumerate().map(|(at, p)| self.moment(number, *p, climb, rate(at))).collect()
    }

    /// What stands in the lines once the openings are so.
    fn settle(&mut self, openings: Openings) {
        let around = static_pressure(self.now.altitude, self.flight.setting);
        self.now.pitot = match openings.pitot {
            PitotLine::Clear => around + impact_pressure(self.now.airspeed),
            PitotLine::RamBlocked => around,
            PitotLine::Trapped => self.now.pitot,
        };
        self.now.statics = match openings.statics {
            StaticLine::Ports => around,
            StaticLine::Trapped => self.now.statics,
            StaticLine::Cabin(offset) => around + offset,
            StaticLine::Leak { offset, share } => around + offset * share,
        };
    }

    fn moment(&self, leg: usize, point: Point, climb: FeetPerMinute, rate: FeetPerMinute) -> Moment {
        let setting = self.flight.setting;
        let reported_hundreds = encoder_hundreds(static_pressure(point.altitude, setting));
        let true_reading =
            Reading { airspeed: point.airspeed, altitude: point.altitude, vertical: climb, reported_hundreds };
        let shown = Reading {
            airspeed: calibrated(point.pitot - point.statics),
            altitude: shown_altitude(point.statics, setting),
            vertical: rate,
            reported_hundreds: encoder_hundreds(point.statics),
        };
        Moment { leg, at: point.at, true_reading, shown }
    }
}
