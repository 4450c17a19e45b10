//! What must hold of blocked openings on any flight.

use proptest::prelude::*;
use ribstitch::analyse::airspeed::{calibrated, impact_pressure};
use ribstitch::analyse::altimeter::{STANDARD_SETTING, static_pressure};
use ribstitch::analyse::measure::{Feet, Knots, Minutes, Pascals};
use ribstitch::analyse::pitot_static::{AirError, AirFlight, AirLeg, CLEAR, Openings, PitotLine, StaticLine};

fn flights(openings: Openings) -> impl Strategy<Value = AirFlight> {
    let leg = (0.5..30.0f64, 0.0..14_000.0f64, 45.0..180.0f64).prop_map(move |(time, altitude, airspeed)| AirLeg {
        time: Minutes(time),
        altitude: Feet(altitude),
        airspeed: Knots(airspeed),
        openings,
    });
    let start = (95_000.0..105_000.0f64, 0.0..14_000.0f64, 45.0..180.0f64);
    (start, prop::collection::vec(leg, 1..6)).prop_map(|((setting, altitude, airspeed), legs)| AirFlight {
        setting: Pascals(setting),
        altitude: Feet(altitude),
        airspeed: Knots(airspeed),
        legs,
    })
}

proptest! {
    #[test]
    fn a_trapped_static_line_makes_the_altimeter_constant(flight in flights(Openings { statics: StaticLine::Trapped, ..CLEAR })) {
        for moment in flight.moments(5).unwrap() {
            prop_assert!((moment.shown.altitude - flight.altitude).0.abs() < 1e-6);
            prop_assert_eq!(moment.shown.vertical.0, 0.0);
        }
    }

    /// Pitot pressure stands still, so the airspeed indicator shows static pressure alone, whatever is flown: an altimeter.
    #[test]
    fn a_pitot_line_blocked_with_its_drain_behaves_as_an_altimeter(flight in flights(Openings { pitot: PitotLine::Trapped, ..CLEAR })) {
        let trapped = static_pressure(flight.altitude, flight.setting) + impact_pressure(flight.airspeed);
        let mut moments = flight.moments(5).unwrap();
        for moment in &moments {
            let statics = static_pressure(moment.true_reading.altitude, flight.setting);
            prop_assert!((moment.shown.airspeed - calibrated(trapped - statics)).0.abs() < 1e-6);
        }
        moments.sort_by(|a, b| a.true_reading.altitude.0.total_cmp(&b.true_reading.altitude.0));
        for pair in moments.windows(2) {
            prop_assert!(pair[1].shown.airspeed.0 >= pair[0].shown.airspeed.0 - 1e-9, "higher shows faster");
        }
    }

    #[test]
    fn a_leak_lies_between_sound_and_broken(flight in flights(CLEAR), share in 0.0..1.0f64, offset in -500.0..0.0f64) {
        let altitudes = |statics| {
            let mut flight = flight.clone();
            flight.legs.iter_mut().for_each(|l| l.openings.statics = statics);
            flight.fly().unwrap().iter().map(|l| l.to.shown.altitude.0).collect::<Vec<_>>()
        };
        let (sound, broken) = (altitudes(StaticLine::Ports), altitudes(StaticLine::Cabin(Pascals(offset))));
        let leaking = altitudes(StaticLine::Leak { offset: Pascals(offset), share });
        for ((low, high), between) in sound.iter().zip(&broken).zip(&leaking) {
            prop_assert!(low - 1e-6 <= *between && between - 1e-6 <= *high);
        }
    }

    /// What was trapped and is open again is true again.
    #[test]
    fn a_line_that_is_open_again_is_true_again(flight in flights(Openings { pitot: PitotLine::Trapped, statics: StaticLine::Trapped })) {
        let mut flight = flight;
        let last = *flight.legs.last().unwrap();
        flight.legs.push(AirLeg { openings: CLEAR, ..last });
        let end = flight.fly().unwrap().pop().unwrap().to;
        prop_assert!((end.shown.altitude - end.true_reading.altitude).0.abs() < 1e-6);
        prop_assert!((end.shown.airspeed - end.true_reading.airspeed).0.abs() < 1e-6);
    }
}

#[test]
fn what_cannot_be_flown_is_refused() {
    let leg = AirLeg { time: Minutes(1.0), altitude: Feet(0.0), airspeed: Knots(90.0), openings: CLEAR };
    let fly = |leg: AirLeg, setting: Pascals| {
        AirFlight { setting, altitude: Feet(0.0), airspeed: Knots(90.0), legs: vec![leg] }.fly().err()
    };
    let standard = STANDARD_SETTING;
    assert_eq!(fly(leg, standard), None);
    assert_eq!(fly(AirLeg { time: Minutes(0.0), ..leg }, standard), Some(AirError::Time(0.0)));
    assert_eq!(fly(AirLeg { airspeed: Knots(-1.0), ..leg }, standard), Some(AirError::Airspeed(-1.0)));
    assert_eq!(fly(AirLeg { altitude: Feet(1e9), ..leg }, standard), Some(AirError::Altitude(1e9)));
    assert!(matches!(fly(AirLeg { altitude: Feet(f64::NAN), ..leg }, standard), Some(AirError::Altitude(_))));
    assert_eq!(fly(leg, Pascals(0.0)), Some(AirError::Setting(0.0)));
    let cabin = Openings { statics: StaticLine::Cabin(Pascals(-1e6)), ..CLEAR };
    assert_eq!(fly(AirLeg { openings: cabin, ..leg }, standard), Some(AirError::Offset(-1e4)));
    let leak = Openings { statics: StaticLine::Leak { offset: Pascals(-100.0), share: 2.0 }, ..CLEAR };
    assert_eq!(fly(AirLeg { openings: leak, ..leg }, standard), Some(AirError::Share(2.0)));
}
