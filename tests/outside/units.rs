//! Conversion factors against the published ones.
//!
//! # Source
//! NIST Special Publication 811 (2008), appendix B.8 (from memory).

use ribstitch::base::{Quantity, Unit};

fn si(text: &str) -> f64 {
    Quantity::parse(text).unwrap().si()
}

/// Unit, SI units in one of it, digits that the publication gives.
const FACTORS: &[(&str, f64, f64)] = &[
    ("1 ft", 0.3048, 1e-15),        // exact
    ("1 in", 0.0254, 1e-15),        // exact
    ("1 lb", 0.453_592_37, 1e-15),  // exact
    ("1 kt", 0.514_444_4, 5e-8),    // knot, 7 digits
    ("1 mph", 0.447_04, 1e-15),     // exact
    ("1 gal", 3.785_412e-3, 5e-10), // US gallon, 7 digits
    ("1 psi", 6_894.757, 5e-4),     // 7 digits
    ("1 inHg", 3_386.389, 1e-9),    // inch of mercury, conventional, at 0 degC; at 60 degF it would be 3376.85
    ("1 hPa", 100.0, 1e-12),        // exact
    ("1 Ah", 3600.0, 1e-12),        // exact
    ("1 ft/min", 5.08e-3, 1e-15),   // exact
    ("1 rpm", 1.0 / 60.0, 1e-15),   // turns a second
];

#[test]
fn factors_are_the_published_ones() {
    for (text, published, within) in FACTORS {
        let found = si(text);
        assert!((found - published).abs() <= *within, "{text}: {found} against {published}");
    }
}

/// NIST SP 811, B.8: t/degC = (t/degF - 32)/1.8, T/K = t/degC + 273.15.
#[test]
fn temperatures_have_their_offsets() {
    for (fahrenheit, celsius) in [(32.0, 0.0), (212.0, 100.0), (-40.0, -40.0), (59.0, 15.0)] {
        let kelvin = Unit::find("degF").unwrap().to_si(fahrenheit);
        assert!((kelvin - (celsius + 273.15)).abs() < 1e-9, "{fahrenheit} degF");
        assert!((Unit::find("degC").unwrap().from_si(kelvin) - celsius).abs() < 1e-9);
    }
}

/// ICAO Doc 7488/3: standard pressure at mean sea level is 1013.25 hPa; 29.921 inHg (`standard_atmosphere_ft.csv`, computed).
#[test]
fn standard_pressure_is_the_same_in_both_units() {
    let inches = Unit::find("inHg").unwrap().from_si(si("1013.25 hPa"));
    assert!((inches - 29.92125).abs() < 5e-6, "{inches}");
}

#[test]
fn a_number_goes_to_another_unit_and_back_unchanged() {
    let fuel = Quantity::parse("36 gal").unwrap();
    let litres = fuel.in_unit(Unit::find("L").unwrap()).unwrap();
    assert!((litres - 136.274_824_224).abs() < 1e-9); // 36 x 231 cubic inches
    assert_eq!(fuel.in_unit(Unit::find("lb").unwrap()), None);
}
