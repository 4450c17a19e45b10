//! Air data against published tables and against libraries of others.
//!
//! # Source
//! `standard_atmosphere_ft.csv`: ICAO Doc 7488/3 and US Standard Atmosphere 1976 (computed). `impact_pressure.csv`: NASA RP-1046, tables
//! A19 and A27 (reprint read). `grid_*.csv`: made by `grid.py`, library and version in each head. Blockages: FAA-H-8083-25, flight
//! instruments (reprint read). Correspondence of encoder and altimeter: 14 CFR 43 Appendix E (c) (reprint read).

use super::rows;
use ribstitch::analyse::airspeed::{calibrated, calibrated_of_true, impact_pressure, true_airspeed};
use ribstitch::analyse::altimeter::{
    STANDARD_SETTING, corresponds, encoder_hundreds, shown_altitude, static_pressure, vertical_speed,
};
use ribstitch::analyse::atmosphere::{density_kg_m3, pressure, pressure_altitude, temperature};
use ribstitch::analyse::measure::{Feet, Knots, Minutes, Pascals};
use ribstitch::analyse::pitot_static::{
    AirFlight, AirLeg, CLEAR, FlownLeg, Openings, PitotLine, StaticLine, cabin_offset,
};
use ribstitch::base::Unit;

/// The numbers of a table.
pub fn numbers(name: &str) -> Vec<Vec<f64>> {
    rows(name).iter().map(|r| r.iter().map(|c| c.parse().unwrap_or(f64::NAN)).collect()).collect()
}

fn near(found: f64, published: f64, relative: f64) -> bool {
    (found - published).abs() <= relative * published.abs()
}

fn std_air(altitude: f64) -> (f64, f64, f64) {
    let (t, p) = (temperature(Feet(altitude)), pressure(Feet(altitude)));
    (t.0, p.0, density_kg_m3(p, t))
}

/// Within half of the last printed digit, since the table is printed from the same formula.
#[test]
fn the_atmosphere_is_that_of_the_published_constants() {
    for row in numbers("standard_atmosphere_ft.csv") {
        let (t, p, density) = std_air(row[0]);
        assert!((t - row[1]).abs() <= 5.1e-5, "{row:?}: {t} K");
        assert!((p - row[2]).abs() <= 5.1e-4, "{row:?}: {p} Pa");
        assert!((p / 3386.389 - row[3]).abs() <= 5.1e-6, "{row:?}: {p} Pa");
        assert!((density - row[4]).abs() <= 5.1e-7, "{row:?}: {density}");
        assert!((pressure_altitude(Pascals(p)).0 - row[0]).abs() < 1e-6);
    }
}

/// Within 2e-6: the libraries use the gas constant of 1976 (8314.32 J/(kmol K), 28.9644 kg/kmol), which differs in the seventh digit,
/// and that difference grows with the exponent up to 60,000 ft.
#[test]
fn the_atmosphere_agrees_with_two_libraries_on_a_grid() {
    for row in numbers("grid_atmosphere.csv") {
        let (t, p, density) = std_air(row[0]);
        for (own, theirs) in [(t, row[1]), (p, row[2]), (density, row[3]), (t, row[4]), (p, row[5]), (density, row[6])]
        {
            assert!(near(own, theirs, 2e-6), "{row:?}: {own} against {theirs}");
        }
    }
}

/// The published column within half of its last digit, with 407.513 inches of water at 20 degC to a standard atmosphere; the computed
/// one within half of a thousandth of a pascal and the tenth digit of the speed of sound (340.2941 m/s in the source).
#[test]
fn impact_pressure_is_the_published_one() {
    for row in numbers("impact_pressure.csv") {
        let found = impact_pressure(Knots(row[0])).0;
        assert!((found - row[1]).abs() <= 5e-4 + 1e-6 * row[1], "{row:?}: {found} Pa");
        let inches = found / 101_325.0 * 407.513;
        assert!((inches - row[3]).abs() <= 0.0051, "{row:?}: {inches} inH2O");
        assert!((calibrated(Pascals(found)).0 - row[0]).abs() < 1e-9);
    }
}

/// Within 1e-6: the library rounds its speed of sound in the seventh digit.
#[test]
fn airspeeds_agree_with_a_library_on_a_grid() {
    for row in numbers("grid_airspeed.csv") {
        let (t, p) = (temperature(Feet(row[0])), pressure(Feet(row[0])));
        let speed = true_airspeed(Knots(row[1]), p, t);
        assert!(near(impact_pressure(Knots(row[1])).0, row[2], 1e-6), "{row:?}");
        assert!(near(speed.0, row[3], 1e-6), "{row:?}: {speed:?}");
        assert!(near(calibrated_of_true(speed, p, t).0, row[1], 1e-12), "{row:?}");
    }
}

/// `checks/README.md` of the design: aerocalc3 0.10, `cas2tas(v, h, temp='std')`; printed to a thousandth.
#[test]
fn three_true_airspeeds_are_as_computed_elsewhere() {
    for (cas, altitude, tas) in [(100.0, 10_000.0, 116.218), (120.0, 8_000.0, 135.162), (90.0, 5_000.0, 96.910)] {
        let found = true_airspeed(Knots(cas), pressure(Feet(altitude)), temperature(Feet(altitude)));
        assert!((found.0 - tas).abs() <= 6e-4, "{found:?}");
    }
}

/// Within 0.2 ft: the library's inch of mercury differs in the seventh digit, a tenth of a foot of setting.
#[test]
fn the_altimeter_agrees_with_a_library_on_a_grid() {
    let inch = Unit::find("inHg").unwrap();
    for row in numbers("grid_altimeter.csv") {
        let setting = Pascals(inch.to_si(row[1]));
        let found = shown_altitude(Pascals(row[0]), setting);
        assert!((found.0 - row[2]).abs() < 0.2, "{row:?}: {found:?}");
        assert!((static_pressure(found, setting).0 - row[0]).abs() < 1e-6);
    }
}

/// FAA-H-8083-25 (reprint read): an inch of setting moves the pointers by about a thousand feet.
#[test]
fn an_inch_of_setting_is_about_a_thousand_feet() {
    let inch = Unit::find("inHg").unwrap();
    let at = |setting| shown_altitude(pressure(Feet(2000.0)), Pascals(inch.to_si(setting))).0;
    assert!((at(30.92) - at(29.92) - 1000.0).abs() < 100.0);
    assert!(at(30.92) > at(29.92), "a higher setting shows a higher altitude");
}

#[test]
fn an_encoder_reports_the_nearest_hundred_feet_and_corresponds_within_125() {
    for (altitude, hundreds) in [(0.0, 0), (49.0, 0), (51.0, 1), (5540.0, 55), (5560.0, 56), (-140.0, -1)] {
        assert_eq!(encoder_hundreds(pressure(Feet(altitude))), hundreds, "{altitude} ft");
    }
    assert!(corresponds(Feet(5125.0), 50) && corresponds(Feet(4875.0), 50));
    assert!(!corresponds(Feet(5126.0), 50) && !corresponds(Feet(4874.0), 50));
}

#[test]
fn a_steady_climb_is_shown_at_its_rate() {
    let rate = vertical_speed(pressure(Feet(3000.0)), pressure(Feet(4000.0)), Minutes(2.0));
    assert!((rate.0 - 500.0).abs() < 1e-6, "{rate:?}");
}

/// Level, then a climb of 2,000 ft, then a descent of 4,000 ft, all at 100 kt, with the openings so from the first leg on.
fn flown(openings: Openings) -> Vec<FlownLeg> {
    let leg = |minutes, altitude| AirLeg {
        time: Minutes(minutes),
        altitude: Feet(altitude),
        airspeed: Knots(100.0),
        openings,
    };
    let legs = vec![leg(5.0, 5000.0), leg(4.0, 7000.0), leg(8.0, 3000.0)];
    AirFlight { setting: STANDARD_SETTING, altitude: Feet(5000.0), airspeed: Knots(100.0), legs }.fly().unwrap()
}

fn static_instruments_are_true(flight: &[FlownLeg]) -> bool {
    flight.iter().flat_map(|l| [l.from, l.to]).all(|m| {
        let (shown, real) = (m.shown, m.true_reading);
        (shown.altitude - real.altitude).0.abs() < 1e-6 && (shown.vertical - real.vertical).0.abs() < 1e-6
    })
}

#[test]
fn with_nothing_blocked_all_is_true() {
    let flight = flown(CLEAR);
    assert!(static_instruments_are_true(&flight));
    assert!(flight.iter().all(|l| (l.to.shown.airspeed.0 - 100.0).abs() < 1e-9));
}

#[test]
fn a_blocked_ram_hole_with_its_drain_open_gives_no_airspeed() {
    let flight = flown(Openings { pitot: PitotLine::RamBlocked, ..CLEAR });
    assert!(static_instruments_are_true(&flight));
    assert!(flight.iter().all(|l| l.from.shown.airspeed == Knots(0.0) && l.to.shown.airspeed == Knots(0.0)));
}

#[test]
fn ram_hole_and_drain_blocked_rises_in_a_climb_and_falls_in_a_descent() {
    let flight = flown(Openings { pitot: PitotLine::Trapped, ..CLEAR });
    let speeds: Vec<f64> = flight.iter().map(|l| l.to.shown.airspeed.0).collect();
    assert!(static_instruments_are_true(&flight));
    assert!((speeds[0] - 100.0).abs() < 1e-9 && speeds[1] > 150.0 && speeds[2] < 50.0, "{speeds:?}");
}

#[test]
fn a_blocked_static_line_freezes_the_altimeter_and_reads_slow_above_and_fast_below() {
    let flight = flown(Openings { statics: StaticLine::Trapped, ..CLEAR });
    for leg in &flight {
        assert!((leg.to.shown.altitude.0 - 5000.0).abs() < 1e-6 && leg.to.shown.vertical.0 == 0.0);
        assert_eq!(leg.to.shown.reported_hundreds, 50);
    }
    let speeds: Vec<f64> = flight.iter().map(|l| l.to.shown.airspeed.0).collect();
    assert!((speeds[0] - 100.0).abs() < 1e-9 && speeds[1] < 90.0 && speeds[2] > 110.0, "{speeds:?}");
}

/// The offset is ours (the handbook gives none): 2 hPa of cabin suction.
#[test]
fn the_alternate_source_reads_somewhat_high_and_fast_after_a_momentary_climb() {
    for statics in [StaticLine::Cabin(Pascals(-200.0)), StaticLine::Leak { offset: Pascals(-400.0), share: 0.5 }] {
        let flight = flown(Openings { statics, ..CLEAR });
        let level = &flight[0];
        let high = level.to.shown.altitude.0 - 5000.0;
        assert!((50.0..80.0).contains(&high), "{high}");
        assert!(level.to.shown.airspeed.0 > 104.0 && level.to.shown.vertical.0.abs() < 1e-9);
        assert!((level.jump.0 - high).abs() < 1e-6, "{:?}", level.jump);
        assert!(flight[1].jump.0.abs() < 1e-6);
    }
}

/// NIST SP 811 and pint: seven digits, since pint's inch of mercury is the density of mercury times standard gravity.
#[test]
fn units_agree_with_a_library() {
    for row in rows("grid_units.csv") {
        let unit = Unit::find(&row[0]).unwrap_or_else(|| panic!("no unit `{}`", row[0]));
        assert!(near(unit.to_si(1.0) - unit.to_si(0.0), row[1].parse().unwrap(), 2e-7), "{row:?}");
    }
}

/// The demo's cross-country flight with the static line blocked in its climb, and the alternate source opened in cruise: the altimeter
/// stands, and then reads high by less than a hundred feet.
#[test]
fn a_flight_of_the_demo_shows_what_the_handbook_says() {
    let model = super::sandling();
    let flight = model.flights.iter().find(|f| f.id.as_str() == "cross-country").unwrap();
    let (valve, offset) = cabin_offset(&model).unwrap();
    assert_eq!(model[valve].id.as_str(), "alternate-static");
    let blocked = Openings { statics: StaticLine::Trapped, ..CLEAR };
    let cabin = Openings { statics: StaticLine::Cabin(offset), ..CLEAR };
    let flown = AirFlight::of(flight, STANDARD_SETTING).with(blocked, 1).with(cabin, 2).fly().unwrap();
    let climb = flown[1].to;
    assert!(climb.shown.altitude.0.abs() < 1e-6 && (climb.true_reading.altitude.0 - 5500.0).abs() < 1e-9);
    assert!(climb.shown.airspeed < climb.true_reading.airspeed);
    let wrong = climb.agreement();
    assert!(!wrong.airspeed && !wrong.altitude && !wrong.vertical && !wrong.reported);
    let cruise = flown[2].to;
    let high = cruise.shown.altitude.0 - 5500.0;
    assert!((20.0..100.0).contains(&high) && cruise.agreement().vertical, "{high}");
    assert!(flown[2].jump.0 > 5000.0, "the vertical speed indicator shows a climb as the valve is opened");
    assert!(AirFlight::of(flight, STANDARD_SETTING).fly().unwrap().iter().all(|l| l.to.agreement().altitude));
}
