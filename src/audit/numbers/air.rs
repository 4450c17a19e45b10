//! What instruments show while an opening is blocked.
//!
//! # Source
//! ICAO Doc 7488/3: pressure falls with the power 5.25588 of temperature, which falls by 6.5 K/km from 288.15 K. NASA RP-1046: impact
//! pressure `p0 ((1 + 0.2 (V / a0)²)^3.5 - 1)`, `a0` the speed of sound at sea level.

use super::facts::Flight;
use super::{Want, WantedRow, figure, one};
use crate::audit::book::Call;
use crate::audit::page::Grid;
use crate::audit::tables::Desk;

/// Sea level, hPa.
const SEA_LEVEL: f64 = 1013.25;
/// Where temperature would reach nothing, ft.
const SCALE_FT: f64 = 288.15 / 0.0065 / 0.3048;
const POWER: f64 = 9.806_65 / (287.052_87 * 0.0065);
/// Speed of sound at sea level, kt: the root of 1.4 × 287.05287 × 288.15, in m/s.
const SOUND_KT: f64 = 340.294 * 3600.0 / 1852.0;

/// Pressure at an altitude; below the tropopause, where light aircraft fly.
pub(in crate::audit) fn pressure(feet: f64) -> f64 {
    SEA_LEVEL * (1.0 - feet / SCALE_FT).powf(POWER)
}

/// Altitude at a pressure, ft.
pub(in crate::audit) fn altitude(hpa: f64) -> f64 {
    SCALE_FT * (1.0 - (hpa / SEA_LEVEL).powf(1.0 / POWER))
}

/// Impact pressure at a calibrated airspeed, hPa.
pub(in crate::audit) fn impact(knots: f64) -> f64 {
    SEA_LEVEL * ((1.0 + 0.2 * (knots / SOUND_KT).powi(2)).powf(3.5) - 1.0)
}

/// Calibrated airspeed at an impact pressure, kt; none below zero.
pub(in crate::audit) fn airspeed(hpa: f64) -> f64 {
    SOUND_KT * (5.0 * ((hpa.max(0.0) / SEA_LEVEL + 1.0).powf(2.0 / 7.0) - 1.0)).sqrt()
}

fn hundreds(feet: f64) -> f64 {
    (feet / 100.0 + 0.5).floor() * 100.0
}

const WHATS: [(&str, &str); 5] = [
    ("ram-hole", "Ram hole blocked, drain open"),
    ("ram-hole-and-drain", "Ram hole and drain blocked"),
    ("static", "Static ports blocked"),
    ("alternate", "Alternate static source in use"),
    ("leak", "Static line leaking behind the panel"),
];

/// A flight with something blocked, as a chapter calls for it.
#[derive(Clone)]
struct Blocked {
    flight: Flight,
    what: &'static str,
    said: &'static str,
    from: usize,
    /// Cabin pressure less static pressure by the share that counts, hPa.
    offset: f64,
    share: f64,
}

/// Altitude and airspeed at the ends of legs, the beginning first.
pub(in crate::audit) fn points(flight: &Flight) -> Vec<(f64, f64)> {
    let mut at = (flight.altitude_ft, flight.airspeed_kt);
    let mut all = vec![at];
    for leg in &flight.legs {
        at = (leg.altitude_ft.unwrap_or(at.0), leg.airspeed_kt.unwrap_or(at.1));
        all.push(at);
    }
    all
}

impl Blocked {
    /// Pitot and static line at the end of a leg.
    fn lines(&self, leg: usize) -> (f64, f64) {
        let points = points(&self.flight);
        let (feet, knots) = points[leg + 1];
        let around = pressure(feet);
        let sound = (around + impact(knots), around);
        if leg < self.from {
            return sound;
        }
        let (before_feet, before_knots) = points[self.from];
        match self.what {
            "ram-hole" => (around, around),
            "ram-hole-and-drain" => (pressure(before_feet) + impact(before_knots), around),
            "static" => (sound.0, pressure(before_feet)),
            _ => (sound.0, around + self.offset * self.share),
        }
    }

    /// What stands in the static line as a leg begins, once the openings are as in it.
    fn static_at_start(&self, leg: usize) -> f64 {
        let around = pressure(points(&self.flight)[leg].0);
        match self.what {
            _ if leg < self.from => around,
            "static" => pressure(points(&self.flight)[self.from].0),
            "alternate" | "leak" => around + self.offset * self.share,
            _ => around,
        }
    }

    fn row(&self, leg: usize) -> WantedRow {
        let points = points(&self.flight);
        let (from_feet, (feet, knots)) = (points[leg].0, points[leg + 1]);
        let minutes = self.flight.legs[leg].minutes;
        let (pitot, statics) = self.lines(leg);
        let shown = (airspeed(pitot - statics), altitude(statics));
        let climbs = (feet - from_feet) / minutes;
        let shown_climb = (shown.1 - altitude(self.static_at_start(leg))) / minutes;
        let agree = [
            ((shown.0 - knots).abs() <= 2.0, "airspeed"),
            ((shown.1 - feet).abs() <= 20.0, "altitude"),
            ((shown_climb - climbs).abs() <= 20.0, "vertical speed"),
            (hundreds(shown.1) == hundreds(feet), "encoder"),
        ];
        let agree: Vec<&str> = agree.into_iter().filter(|(holds, _)| *holds).map(|(_, name)| name).collect();
        let agree = if agree.is_empty() { "nothing".to_owned() } else { agree.join(", ") };
        vec![
            one(Want::text(self.flight.legs[leg].name.clone())),
            figure(knots, "kt"),
            figure(shown.0, "kt"),
            figure(feet, "ft"),
            figure(shown.1, "ft"),
            figure(climbs, "ft/min"),
            figure(shown_climb, "ft/min"),
            figure(hundreds(shown.1), "ft"),
            one(Want::text(agree)),
        ]
    }

    fn leg_name(&self, leg: usize) -> &str {
        self.flight.legs.get(leg).map_or("", |l| l.name.as_str())
    }

    /// The leg that is worked: the first from where it was blocked that ends at another altitude; with the ram hole alone blocked the
    /// first of all.
    fn worked_leg(&self) -> Option<usize> {
        let points = points(&self.flight);
        let moves = |leg: &usize| (points[leg + 1].0 - points[self.from].0).abs() > 1.0;
        (self.from..self.flight.legs.len()).find(|leg| self.what == "ram-hole" || moves(leg))
    }

    fn title(&self) -> Option<String> {
        let leg = self.leg_name(self.worked_leg()?);
        Some(format!("{}: worked for the end of the leg “{leg}”, {}", self.said, self.flight.name))
    }

    fn results(&self) -> Option<Vec<(f64, &'static str)>> {
        let leg = self.worked_leg()?;
        let points = points(&self.flight);
        let ((before_feet, before_knots), (feet, knots)) = (points[self.from], points[leg + 1]);
        let mut results = vec![pressure(feet)];
        if matches!(self.what, "static" | "ram-hole-and-drain") {
            results.push(pressure(before_feet));
        }
        let (pitot, statics) = self.lines(leg);
        match self.what {
            "ram-hole" => {}
            "ram-hole-and-drain" => results.extend([impact(before_knots), pitot]),
            _ => results.extend([impact(knots), pitot]),
        }
        if matches!(self.what, "alternate" | "leak") {
            results.push(statics);
        }
        results.push(pitot - statics);
        let mut results: Vec<(f64, &'static str)> = results.into_iter().map(|p| (p, "hPa")).collect();
        if pitot - statics >= 0.0 {
            results.push((airspeed(pitot - statics), "kt"));
        }
        results.push((altitude(statics), "ft"));
        Some(results)
    }
}

impl Desk<'_> {
    fn blocked_of(&self, call: &Call) -> Option<Blocked> {
        let flight = self.words.facts.flights.get(&call.of)?.clone();
        let (what, said) = WHATS.into_iter().find(|(name, _)| Some(*name) == call.get("what"))?;
        let from = call.get("leg").map_or(Some(1), |leg| leg.parse::<usize>().ok())?.checked_sub(1)?;
        let share = if what == "leak" { call.get("share").map_or(Some(0.5), |s| s.parse().ok())? } else { 1.0 };
        let offset = self.words.facts.cabin_hpa().unwrap_or(0.0);
        (from < flight.legs.len()).then_some(Blocked { flight, what, said, from, offset, share })
    }

    fn all_blocked(&self) -> Vec<Blocked> {
        let calls = self.book.iter().flat_map(|chapter| &chapter.calls).filter(|call| call.name == "blocked");
        calls.filter_map(|call| self.blocked_of(call)).collect()
    }

    pub(in crate::audit) fn check_blocked(&mut self, grid: &Grid) {
        let caption = |b: &Blocked| format!("{}, from the leg “{}” on: {}", b.said, b.leg_name(b.from), b.flight.name);
        let Some(blocked) = self.all_blocked().into_iter().find(|b| caption(b) == grid.caption) else {
            return self.notes.find("unreadable", grid.name(), &grid.caption, "what a chapter calls for");
        };
        let legs = blocked.flight.legs.iter().enumerate();
        let airborne = legs.filter(|(_, leg)| self.flies(&leg.state)).map(|(at, _)| at);
        let rows: Vec<WantedRow> = airborne.map(|leg| blocked.row(leg)).collect();
        self.expect_ordered(grid, &rows);
    }

    /// The results of a worked reading, by its title.
    pub(super) fn blocked_results(&mut self, title: &str) -> Option<Vec<(f64, &'static str)>> {
        self.all_blocked().into_iter().find(|b| b.title().is_some_and(|t| t == title))?.results()
    }

    /// The title of the reading that is worked for a call; none where every leg ends at the altitude of the blockage.
    pub(super) fn blocked_title(&self, call: &Call) -> Option<String> {
        self.blocked_of(call)?.title()
    }

    pub(in crate::audit) fn check_encoder(&mut self, grid: &Grid) {
        let calls = self.book.iter().flat_map(|chapter| &chapter.calls).filter(|call| call.name == "encoder");
        let found = calls.filter_map(|call| {
            let flight = self.words.facts.flights.get(&call.of)?.clone();
            let setting = crate::audit::amount::Amount::read(call.get("setting")?)?.number_in("hPa")?;
            let begins = format!("What is reported on one {} with ", flight.name);
            let rest = grid.caption.strip_prefix(&begins)?;
            let (shown, rest) = rest.split_once(" in the window, which is the setting of the day; at most ")?;
            let limit = rest.strip_suffix(" may lie between report and altimeter at standard setting")?;
            (super::shows(shown, setting, "hPa", 1.0) && limit == "125 ft").then_some((flight, setting))
        });
        let Some((flight, setting)) = found.into_iter().next() else {
            return self.notes.find("unreadable", grid.name(), &grid.caption, "what a chapter calls for");
        };
        let row = |(leg, (feet, _)): (usize, (f64, f64))| {
            let pressure_altitude = feet + altitude(setting);
            let name = one(Want::text(flight.legs[leg].name.clone()));
            let reported = hundreds(pressure_altitude);
            let apart = figure(reported - pressure_altitude, "ft");
            let seen = figure(hundreds(reported - altitude(setting)), "ft");
            vec![name, figure(feet, "ft"), figure(pressure_altitude, "ft"), figure(reported, "ft"), apart, seen]
        };
        let rows: Vec<WantedRow> = points(&flight).into_iter().skip(1).enumerate().map(row).collect();
        self.expect_ordered(grid, &rows);
    }
}
