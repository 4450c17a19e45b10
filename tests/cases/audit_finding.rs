//! Damage to the tables of finding: what is seen and what it can be.

use super::audit::{damage, findings};

const SUSPECTS: &str = "<table id=\"suspects\"";
const PUMP_ROW: &str = "data-about=\"vacuum-pump:fails suction-hose:fails";

const PUMP_THEN_HOSE: &str = concat!(
    r#"<li><span class="name" data-of="vacuum-pump">the vacuum pump</span> fails</li>
<li><span class="name" "#,
    r#"data-of="suction-hose">the suction hose</span> <span class="quoted" data-of="suction-hose:fails/said">comes off</span></li>"#
);
const HOSE_THEN_PUMP: &str = "<li>the suction hose comes off</li><li>the vacuum pump fails</li>";

#[test]
fn damage_to_what_is_seen_and_what_it_can_be_is_named() {
    findings(&[
        damage(
            "a light is left out of the picture",
            (PUMP_ROW, ">Low-suction warning</span>: ", ">Low-voltage warning</span>: "),
            ("line-missing", &["What is seen", "column “What you see”"]),
        ),
        damage(
            "a gyro is left out of what looks alive",
            (PUMP_ROW, "Gone, though it can look alive: ", "Shows falsely: "),
            ("name-extra", &["What is seen", "column “What you see”"]),
        ),
        damage(
            "a cause is dropped",
            (
                PUMP_ROW,
                "<li><span class=\"name\" data-of=\"suction-hose\">the suction hose</span> ",
                "<li hidden><span>x</span> ",
            ),
            ("line-missing", &["What is seen", "column “What it can be”"]),
        ),
        damage(
            "a cause belongs to another picture",
            (PUMP_ROW, ">the suction hose</span>", ">the static line</span>"),
            ("unreadable", &["What is seen"]),
        ),
        damage(
            "a cause of another picture joins a row",
            (
                "data-about=\"gyro-filter:fails\"",
                "<span class=\"name\" data-of=\"gyro-filter\">the gyro air filter</span> <span class=\"quoted\" data-of=\"gyro-filter:fails/said\">is clogged</span>",
                "the vacuum pump fails",
            ),
            ("row-extra", &["What is seen"]),
        ),
        damage(
            "the row of a picture is hidden",
            (SUSPECTS, "<tr data-about=\"gyro-filter:fails\">", "<tr hidden data-about=\"gyro-filter:fails\">"),
            ("row-missing", &["What is seen"]),
        ),
        damage(
            "faults that differ are said to show the same",
            ("data-about=\"breaker-com-1:fails com-1:fails\"", "Noticed: ", "Unnoticed: "),
            ("line-missing", &["What is seen", "column “What tells them apart”"]),
        ),
        damage(
            "the likeliest cause stands second",
            (PUMP_ROW, PUMP_THEN_HOSE, HOSE_THEN_PUMP),
            ("order-wrong", &["What is seen", "column “What it can be”"]),
        ),
        damage(
            "one of two causes is said to stand alone",
            (PUMP_ROW, "Nothing in sight.", "No other single fault shows just so."),
            ("line-missing", &["What is seen", "column “What tells them apart”"]),
        ),
        damage(
            "the table is of a state that it does not name",
            (SUSPECTS, ">cruise<", ">starting<"),
            ("unreadable", &["What is seen"]),
        ),
    ]);
}
