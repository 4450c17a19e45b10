//! Drawings of the panel damaged in known ways: the audit names each damage by the drawing and the sign.

use super::audit::{damage, findings};

const PUMP: &str = "<figure id=\"figure/fail/vacuum-pump\"";
const STATIC: &str = "<figure id=\"figure/fail/static-line\"";
const STATES: &str = "<figure id=\"figure/states\"";
const COM: &str = "<figure id=\"figure/fail/com-1\"";
const OPEN: &str = "<figure id=\"figure/fail/breaker-com-1\"";
const SHAFT: &str = "<figure id=\"figure/fail/crankshaft\"";
const WELDS: &str = "<figure id=\"figure/fail/battery-contactor/welds/in/secured\"";
const PANEL: &str = "<figure id=\"figure/panel\"";
const CLOCK: &str = "<figure id=\"figure/chain/clock\"";

#[test]
fn a_damaged_sign_on_the_panel_after_a_failure_is_named() {
    findings(&[
        damage(
            "a ring stands elsewhere",
            (
                PUMP,
                "<circle class=\"still\" stroke-width=\"2.2\" cx=\"",
                "<circle class=\"still\" stroke-width=\"2.2\" cx=\"1",
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
            (PUMP, ">Gone: 8 attitude indicator", ">Gone: 9 altimeter"),
            ("drawing-wrong", &["vacuum pump", "“Gone” in the legend"]),
        ),
        damage(
            "the words name another thing",
            (PUMP, "<li>Lit: 28 low-suction light", "<li>Lit: 29 low oil pressure light"),
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

#[test]
fn a_damaged_word_of_what_still_tells_is_named() {
    findings(&[
        damage(
            "the ring is for something else",
            (PUMP, "<li>Still tells bank: 17", "<li>Still tells altitude: 17"),
            ("drawing-wrong", &["vacuum pump", "“Still tells bank” in words"]),
        ),
        damage(
            "what tells indirectly is said to tell directly",
            (PUMP, ">(indirectly)</text>", ">(directly)</text>"),
            ("drawing-wrong", &["vacuum pump", "“Still tells bank” in the legend"]),
        ),
        damage(
            "a limit is left out",
            (PUMP, "magnetic compass (in steady, level flight)</li>", "magnetic compass</li>"),
            ("drawing-wrong", &["vacuum pump", "“Still tells heading” in words"]),
        ),
        damage(
            "a move of a control is said to bring nothing back",
            (COM, "<li>Nothing tells, as the controls stand: ", "<li>Nothing tells: "),
            ("drawing-wrong", &["com 1 radio", "“Nothing tells, as the controls stand” in words"]),
        ),
        damage(
            "what nothing tells is left out",
            (COM, "talking with the ground</li>", "talking in the cabin</li>"),
            ("drawing-wrong", &["com 1 radio", "“Nothing tells, as the controls stand” in words"]),
        ),
        damage(
            "another thing is off the panel",
            (SHAFT, "<li>Gone, off the panel: engine", "<li>Gone, off the panel: propeller"),
            ("drawing-wrong", &["crankshaft", "“Gone, off the panel” in words"]),
        ),
    ]);
}

#[test]
fn a_damaged_number_or_sign_of_a_face_is_named() {
    findings(&[
        damage(
            "a number is of another face",
            (PUMP, ">18</text>", ">19</text>"),
            ("drawing-wrong", &["number on the panel"]),
        ),
        damage(
            "a dial that shows the loss has no sign",
            (PUMP, "class=\"shows\"", "class=\"part\""),
            ("drawing-wrong", &["vacuum pump", "“Shows the loss” on the panel"]),
        ),
        damage(
            "an open breaker looks like any other",
            (OPEN, "class=\"opened\"", "class=\"part\""),
            ("drawing-wrong", &["com 1 breaker", "“Opened” on the panel"]),
        ),
        damage(
            "what was dead before looks alive",
            (WELDS, "class=\"before\"", "class=\"part\""),
            ("drawing-wrong", &["battery contactor", "“Not working before” on the panel"]),
        ),
        damage(
            "the short pointer of the altimeter is missing",
            (PUMP, "class=\"needle\" stroke-width=\"2\"", "class=\"part\" stroke-width=\"2\""),
            ("needle-wrong", &["vacuum pump", "needle of the altimeter"]),
        ),
    ]);
}

#[test]
fn damaged_lists_below_a_state_are_named() {
    findings(&[
        damage(
            "a control stands elsewhere",
            (STATES, ">Away from rest: 66 FUEL LEFT", ">Away from rest: 66 FUEL RIGHT"),
            ("drawing-wrong", &["each state", "list below secured"]),
        ),
        damage(
            "the note of a state is another one",
            (STATES, ">The engine has just fired", ">The engine has long fired"),
            ("drawing-wrong", &["each state", "list below starting"]),
        ),
        damage(
            "a half is on that follows one that is off",
            (
                STATES,
                "<li>electrics off, set: 41 transponder ALTITUDE",
                "<li>electrics off, set: 57 alternator half of the master switch ON",
            ),
            ("drawing-wrong", &["each state", "“Set” in words of electrics off"]),
        ),
    ]);
}

#[test]
fn a_damaged_position_on_the_panel_is_named() {
    findings(&[
        damage(
            "the list tells of another position",
            (PANEL, ">cabin heat: OFF, ON; at ON<", ">cabin heat: OFF, ON; at OFF<"),
            ("drawing-wrong", &["“The panel”", "list"]),
        ),
        damage(
            "the words tell of another position",
            (PANEL, "transponder, part E, at ALTITUDE</li>", "transponder, part E, at ON</li>"),
            ("drawing-wrong", &["“The panel”", "in words"]),
        ),
    ]);
}
