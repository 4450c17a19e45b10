//! Damage to lines that speak of several things, and to tables that a call asks for in a state of its own.

use super::audit::{damage, findings, made};
use ribstitch::audit::Examiner;

const AVIONICS: &str = "<table id=\"fail/avionics-bus\"";
const LEAK: &str = "<table id=\"fail/static-line/leaks\"";
const SECOND_RADIO: &str = ", <span class=\"name\" data-of=\"com-2\">com 2 radio</span>";
const SPEED_AND_HEIGHT: &str = concat!(
    r#"<li><span class="name" data-of="airspeed-indicator">Airspeed indicator</span>, "#,
    r#"<span class="name" data-of="altimeter">altimeter</span>: "#,
    r#"<span class="quoted" data-of="static-line:leaks/weakens">The reading is slightly high.</span></li>"#
);

/// The two radios in one line, as the guide has them, and then apart.
const RADIOS: [&str; 2] = [
    concat!(
        r#"<li><span class="name" data-of="com-1">Com 1 radio</span>, <span class="name" data-of="com-2">com 2 radio</span>: "#,
        r#"<span class="quoted" data-of="com-1/on-loss">The figures go dark, and nothing is heard.</span></li>"#
    ),
    concat!(
        r#"<li><span class="name" data-of="com-2">Com 2 radio</span>: The figures go dark, and nothing is heard.</li>"#,
        r#"<li><span class="name" data-of="com-1">Com 1 radio</span>: The figures go dark, and nothing is heard.</li>"#
    ),
];

#[test]
fn damage_to_a_line_that_speaks_of_several_things_is_named() {
    let lost: &[&str] = &["avionics bus", "row “Lost”"];
    findings(&[
        damage("a name of a shared line is dropped", (AVIONICS, SECOND_RADIO, ""), ("name-missing", lost)),
        damage(
            "a name of a shared line is another",
            (AVIONICS, SECOND_RADIO, ", <span class=\"name\" data-of=\"clock\">clock</span>"),
            ("name-extra", lost),
        ),
        damage(
            "a name of a shared line is no name",
            (AVIONICS, SECOND_RADIO, ", the rest of the radios"),
            ("unreadable", lost),
        ),
        damage(
            "a name moves to the line of other things",
            (
                AVIONICS,
                concat!(
                    r#", <span class="name" data-of="com-2">com 2 radio</span>: "#,
                    r#"<span class="quoted" data-of="com-1/on-loss">The figures go dark, and nothing is heard.</span></li>"#,
                    "\n",
                    r#"<li><span class="name" data-of="nav-1">Nav 1 receiver</span>"#
                ),
                concat!(
                    r#": <span class="quoted" data-of="com-1/on-loss">The figures go dark, and nothing is heard.</span></li>"#,
                    "\n",
                    r#"<li>Nav 1 receiver, com 2 radio"#
                ),
            ),
            ("sentence-wrong", &["avionics bus", "row “Lost”", "com 2 radio"]),
        ),
        damage(
            "a name stands in the lines of two ways",
            (AVIONICS, ">Course indicator</span>", ">Course indicator</span>, second course indicator"),
            ("way-wrong", &["avionics bus", "row “Lost”", "second course indicator"]),
        ),
        damage(
            "a name stands in two lines",
            (AVIONICS, ">Nav 1 receiver</span>", ">Nav 1 receiver</span>, nav 2 receiver"),
            ("name-twice", lost),
        ),
        damage(
            "a weakened thing is dropped from a shared line",
            (LEAK, ", <span class=\"name\" data-of=\"altimeter\">altimeter</span>", ""),
            ("line-missing", &["static line comes off", "row “Weakened”"]),
        ),
        damage(
            "a weakened thing moves to a shared line",
            (LEAK, ">altimeter</span>: ", ">altimeter</span>, encoder: "),
            ("line-extra", &["static line comes off", "row “Weakened”"]),
        ),
    ]);
}

#[test]
fn two_lines_that_could_be_one_are_no_error() {
    let made = made();
    let start = made.html.find(AVIONICS).unwrap();
    assert!(made.html[start..].contains(RADIOS[0]) && made.html.contains(SPEED_AND_HEIGHT));
    let apart = made.html.replace(RADIOS[0], RADIOS[1]);
    assert_eq!(Examiner::new(&made.basis).report(&apart).findings, []);
}

#[test]
fn damage_to_a_table_that_a_call_asks_in_a_state_is_named() {
    const NIGHT: &str = "<table id=\"fail/breaker-nav-lights/in/night-approach\"";
    const STATE: &str = "data-of=\"night-approach\">night approach</span>)";
    findings(&[
        damage(
            "the table is gone",
            (NIGHT, NIGHT, "<table hidden id=\"fail/breaker-nav-lights/in/night-approach\""),
            ("fault-missing", &["navigation lights breaker", "(night-approach)"]),
        ),
        damage(
            "the table asks in the reference state",
            (NIGHT, STATE, "data-of=\"cruise\">cruise</span>)"),
            ("fault-twice", &["navigation lights breaker", "(cruise)"]),
        ),
        damage(
            "the table asks in a state that no call names",
            (NIGHT, STATE, "data-of=\"secured\">secured</span>)"),
            ("fault-misplaced", &["Lights"]),
        ),
        damage(
            "what is lost there is another light",
            (NIGHT, ">Navigation lights</span>", ">Landing light</span>"),
            ("name-missing", &["navigation lights breaker", "row “Lost”"]),
        ),
    ]);
}
