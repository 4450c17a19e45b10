//! Colours of media against the contrast that can be read.
//!
//! # Source
//! W3C, Web Content Accessibility Guidelines 2.2: "relative luminance" and "contrast ratio" in the glossary, success criterion
//! 1.4.3 (4.5:1 for text) (from memory).

use ribstitch::model::BUILT_IN_MEDIA;
use std::collections::BTreeSet;

/// Relative luminance of `#rrggbb`: each channel made linear, then 0.2126 R + 0.7152 G + 0.0722 B.
fn luminance(colour: &str) -> f64 {
    let channel = |at: usize| {
        let value = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap()) / 255.0;
        if value <= 0.040_45 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

fn contrast(a: &str, b: &str) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// WCAG: white on black is 21:1, a colour on itself 1:1; `#767676` is the lightest grey that reaches 4.5:1 on white
/// (common practice, no source).
#[test]
fn the_formula_gives_the_known_ends() {
    assert!((contrast("#ffffff", "#000000") - 21.0).abs() < 1e-9);
    assert!((contrast("#123456", "#123456") - 1.0).abs() < 1e-12);
    assert!(contrast("#767676", "#ffffff") >= 4.5 && contrast("#777777", "#ffffff") < 4.5);
}

#[test]
fn every_medium_can_be_read_on_white() {
    for medium in BUILT_IN_MEDIA {
        let contrast = contrast(medium.colour, "#ffffff");
        assert!(contrast >= 4.5, "{}: {contrast:.2}", medium.id);
    }
}

/// WCAG 1.4.1: colour is not the only means of telling things apart.
#[test]
fn media_are_told_apart_without_their_colour() {
    let tags: BTreeSet<&str> = BUILT_IN_MEDIA.iter().map(|m| m.tag).collect();
    let lines: BTreeSet<_> = BUILT_IN_MEDIA.iter().map(|m| m.line.lengths()).collect();
    assert_eq!(tags.len(), BUILT_IN_MEDIA.len());
    assert_eq!(lines.len(), BUILT_IN_MEDIA.len());
}
