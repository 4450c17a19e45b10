//! Drawings of the panel damaged in known ways: the audit names each damage by the drawing and the sign.

use super::audit::{damage, findings};

const PUMP: &str = "<figure id=\"figure/fail/vacuum-pump\"";
const STATIC: &str = "<figure id=\"figure/fail/static-line\"";
const STATES: &str = "<figure id=\"figure/states\"";
const CLOCK: &str = "<figure id=\"figure/chain/clock\"";

#[test]
fn a_damaged_sign_on_the_panel_after_a_failure_is_named() {
    findings(&[
        damage(
            "a ring stands elsewhere",
            (
                PUMP,
                "<circle class=\"still\" stroke-width=\"1.6\" cx=\"",
                "<circle class=\"still\" stroke-width=\"1.6\" cx=\"1",
            ),
            ("drawing-wrong", &["vacuum pump", "“Still tells” on the panel"]),
        ),
        damage(
            "a light is not lit",
            (PUMP, "class=\"lit\"", "class=\"face\""),
            ("drawing-wrong", &["vacuum pump", "“Lit” on the panel"]),
        ),
        damage(
            "what is gone is gone in part",
            (PUMP, "class=\"gone\"", "class=\"in-part\""),
            ("drawing-wrong", &["vacuum pump", "“Gone in part” on the panel"]),
        ),
        damage(
            "what misleads has no sign",
            (STATIC, "class=\"false\"", "class=\"rays\""),
            ("drawing-wrong", &["static line", "“Misleading” on the panel"]),
        ),
        damage(
            "a needle is missing",
            (PUMP, "class=\"needle\"", "class=\"part\""),
            ("needle-wrong", &["vacuum pump", "needle of the"]),
        ),
        damage(
            "a face has no outline",
            ("id=\"drawing/panel-outlines\">", "<circle class=\"face\"", "<circle class=\"part\""),
            ("drawing-wrong", &["The panel if"]),
        ),
    ]);
}

#[test]
fn damaged_words_of_a_drawing_are_named() {
    findings(&[
        damage(
            "the legend names another thing",
            (PUMP, ">Gone: attitude indicator", ">Gone: altimeter"),
            ("drawing-wrong", &["vacuum pump", "“Gone” in the legend"]),
        ),
        damage(
            "the words name another thing",
            (PUMP, "<li>Lit: low-suction light", "<li>Lit: low oil pressure light"),
            ("drawing-wrong", &["vacuum pump", "“Lit” in words"]),
        ),
        damage(
            "the drawing says that it is of another failure",
            (PUMP, ">the vacuum pump</span> fails (", ">the clock</span> fails ("),
            ("drawing-missing", &["If the vacuum pump fails"]),
        ),
        damage(
            "a chain has a feed that is none",
            (CLOCK, "<li>hot battery bus → ", "<li>alternator → "),
            ("feed-wrong", &["clock"]),
        ),
    ]);
}

#[test]
fn a_damaged_panel_in_a_state_is_named() {
    findings(&[
        damage(
            "a control is not set",
            (STATES, "class=\"set\"", "class=\"face\""),
            ("drawing-wrong", &["each state", "“Set” in"]),
        ),
        damage(
            "a state is called by another name",
            (STATES, ">cruise</text>", ">starting</text>"),
            ("unreadable", &["each state"]),
        ),
        damage(
            "the words of a state leave a light out",
            (STATES, "<li>battery on, lit: ", "<li>battery on, set: "),
            ("drawing-wrong", &["each state", "in words of battery on"]),
        ),
    ]);
}
