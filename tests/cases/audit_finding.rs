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

const ROUND_GAUGES: &str = "<table id=\"walk-round/instruments\"";
const ROUND_SOURCES: &str = "<table id=\"walk-round/sources/off-panel\"";

#[test]
fn damage_to_the_walk_round_is_named() {
    findings(&[
        damage(
            "a number of the panel belongs to another thing",
            (ROUND_GAUGES, "<td>2</td>", "<td>3</td>"),
            ("line-extra", &["On the panel: instruments", "column “No.”"]),
        ),
        damage(
            "an engraving is changed",
            ("<table id=\"walk-round/switches\"", "Engraved: <code>", "Engraved: <code>X"),
            ("line-extra", &["On the panel: switches", "column “Item”"]),
        ),
        damage(
            "a thing of the panel is left out",
            (ROUND_GAUGES, "<tr data-about=\"altimeter\">", "<tr hidden data-about=\"altimeter\">"),
            ("name-missing", &["On the panel: instruments"]),
        ),
        damage(
            "a thing stands in another system",
            (ROUND_SOURCES, "data-of=\"electrical\">electrical power<", "data-of=\"suction\">suction<"),
            ("line-extra", &["Off the panel: sources", "column “Item”"]),
        ),
        damage(
            "what is seen without it is another look",
            ("<tr data-about=\"ammeter\"", "Without ", "Despite "),
            ("line-extra", &["row “Ammeter”"]),
        ),
        damage(
            "the table calls itself by another group",
            (ROUND_GAUGES, "On the panel: instruments", "On the panel: radios"),
            ("name-extra", &["On the panel: radios"]),
        ),
    ]);
    let draws = damage(
        "what it draws is another number",
        (ROUND_GAUGES, "Draws <span class=\"shown\" data-fact=\"turn-coordinator/draws\">", "Draws 7<span>"),
        ("number-wrong", &["row “Turn coordinator”"]),
    );
    findings(&[draws]);
}

#[test]
fn damage_to_the_index_is_named() {
    const INDEX: &str = "<table id=\"index-of-items\"";
    const PUMP_LINK: &str = "<a href=\"#fail/vacuum-pump\">";
    findings(&[
        damage(
            "a link leads to another table",
            (INDEX, PUMP_LINK, "<a href=\"#fail/alternator\">"),
            ("link-astray", &["Index of items"]),
        ),
        damage(
            "a link is out of sight",
            (INDEX, PUMP_LINK, "<a hidden href=\"#fail/vacuum-pump\">"),
            ("link-missing", &["Index of items"]),
        ),
        damage(
            "an item is left out",
            (INDEX, "<tr data-about=\"vacuum-pump\">", "<tr hidden data-about=\"vacuum-pump\">"),
            ("name-missing", &["Index of items"]),
        ),
        damage(
            "a link says another number",
            (INDEX, "walk round, no. 1<", "walk round, no. 99<"),
            ("link-extra", &["Index of items"]),
        ),
        damage("the whole index is gone", (INDEX, ">Where it is told<", ">Where<"), ("table-missing", &["Index"])),
    ]);
}

#[test]
fn damage_to_the_topics_is_named() {
    const TOPICS: &str = "<table id=\"examination-topics\"";
    findings(&[
        damage(
            "a topic says something else",
            (TOPICS, "Electricity", "Hydraulics"),
            ("line-extra", &["Topics of the examination", "PA.I.G.K1f"]),
        ),
        damage(
            "a topic has a code of its own",
            (TOPICS, "<code>PA.I.G.K1f</code>", "<code>PA.I.G.K9</code>"),
            ("unreadable", &["Topics of the examination"]),
        ),
        damage(
            "a link leads to another heading",
            (TOPICS, "<a href=\"#not-in-guide\">", "<a href=\"#not-in-aircraft\">"),
            ("link-astray", &["Topics of the examination", "PA.I.G.K1a"]),
        ),
        damage(
            "what is left out is said to be taught",
            (TOPICS, "Not in this guide: ", ""),
            ("line-extra", &["Topics of the examination", "PA.I.G.K1a"]),
        ),
    ]);
}

#[test]
fn a_wrong_tag_of_a_medium_is_named() {
    findings(&[damage(
        "a medium has the tag of another",
        ("data-fact=\"suction/tag\"", ">SU<", ">ST<"),
        ("tag-wrong", &["tag of suction"]),
    )]);
}
