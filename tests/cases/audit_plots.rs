//! Plots damaged in known ways: the audit names each damage by the plot and the place on it.

use super::audit::{damage, findings, made};
use ribstitch::audit::Examiner;

const STATIC: &str = "<figure id=\"figure/plot/blocked/steps/static/2\"";
const CLOCKS: &str = "<figure id=\"figure/plot/clocks\"";
const READING: &str = "<p class=\"figure-reading\">Left of the upright";
const BATTERY: &str = "<figure id=\"figure/plot/endurance\"";
const LOAD: &str = "<figure id=\"figure/plot/load\"";

#[test]
fn a_damaged_line_is_named() {
    findings(&[
        damage(
            "the line of the clock is shifted at its end",
            (CLOCKS, "\"1.1\" points=\"17.12,61.4 256.98,61.4\"", "\"1.1\" points=\"17.12,61.4 256.98,61.9\""),
            ("curve-wrong", &["one hour of the clock"]),
        ),
        damage(
            "one corner of the tachometer's line is shifted",
            (CLOCKS, " 150.38,109.21 ", " 150.38,109.31 "),
            ("curve-wrong", &["line “tachometer”"]),
        ),
        damage(
            "what is shown is drawn as what is true",
            (STATIC, " stroke-dasharray=\"6 2.5\"", ""),
            ("curve-wrong", &["Static ports blocked"]),
        ),
        damage(
            "the labels change places",
            (STATIC, ">shown</text>", ">as it is</text>"),
            ("curve-wrong", &["Static ports blocked"]),
        ),
        damage(
            "a chart is of another instrument",
            (STATIC, ">Altitude, ft<", ">Airspeed, kt<"),
            ("curve-wrong", &["Static ports blocked"]),
        ),
        damage(
            "a leg has another name over the chart",
            (STATIC, ">climb</text>", ">descent</text>"),
            ("name-missing", &["Static ports blocked", "over the chart"]),
        ),
        damage(
            "where a leg ends is not drawn",
            (STATIC, "class=\"bound\"", "class=\"chart\""),
            ("curve-wrong", &["Static ports blocked", "uprights of legs"]),
        ),
        damage(
            "the upright stands at another speed",
            (
                CLOCKS,
                "class=\"level\" stroke-width=\"1.2\" points=\"230.33,",
                "class=\"level\" stroke-width=\"1.2\" points=\"226.33,",
            ),
            ("curve-wrong", &["one hour of the clock", "upright"]),
        ),
    ]);
}

#[test]
fn a_damaged_tick_is_named() {
    findings(&[
        damage(
            "a tick up has another number",
            (STATIC, ">60</text>", ">70</text>"),
            ("tick-wrong", &["Static ports blocked"]),
        ),
        damage(
            "a tick across has another number",
            (STATIC, ">5</text>", ">6</text>"),
            ("tick-wrong", &["Static ports blocked"]),
        ),
        damage("a tick has no number", (LOAD, ">20</text>", "></text>"), ("tick-wrong", &["Continuous load"])),
        damage(
            "a tick in the middle has another number",
            (CLOCKS, ">1500</text>", ">1600</text>"),
            ("tick-wrong", &["one hour"]),
        ),
    ]);
}

#[test]
fn a_damaged_value_beside_a_plot_is_named() {
    findings(&[
        damage(
            "a shown airspeed is another",
            (STATIC, "<td>42 kt</td>", "<td>43 kt</td>"),
            ("number-wrong", &["Static ports blocked", "row “climb”", "Airspeed, shown"]),
        ),
        damage(
            "an altitude is not rounded as it is said",
            (STATIC, "<td>2300 ft</td>", "<td>2301 ft</td>"),
            ("number-wrong", &["Static ports blocked", "row “climb”"]),
        ),
        damage(
            "a value is in another unit",
            (STATIC, "<td>120 kt</td>", "<td>120 mph</td>"),
            ("number-wrong", &["Static ports blocked", "row “descent”"]),
        ),
        damage(
            "the words inside the drawing differ from the table",
            (STATIC, "climb; 5 min; 90 kt; 42 kt", "climb; 5 min; 90 kt; 90 kt"),
            ("drawing-wrong", &["Static ports blocked", "in words"]),
        ),
        damage(
            "another tachometer time",
            (CLOCKS, "<td>37.5 min</td>", "<td>37.6 min</td>"),
            ("number-wrong", &["one hour of the clock", "row “1500 rpm”"]),
        ),
        damage(
            "another rounding is said",
            (READING, "rounded to 0.1 min", "rounded to 0.2 min"),
            ("number-wrong", &["one hour of the clock", "how to read it"]),
        ),
        damage(
            "another opening is named",
            (
                STATIC,
                "<p class=\"figure-title\">Static ports blocked",
                "<p class=\"figure-title\">Ram hole and drain blocked",
            ),
            ("number-wrong", &["Ram hole and drain blocked", "Airspeed, shown"]),
        ),
    ]);
}

#[test]
fn a_damaged_bar_is_named() {
    const BAR: &str = "class=\"plot-bar\" stroke-width=\"0.8\" rx=\"0\" x=\"";
    findings(&[
        damage(
            "a bar begins elsewhere",
            (BATTERY, BAR, "class=\"plot-bar\" stroke-width=\"0.8\" rx=\"0\" x=\"1"),
            ("curve-wrong", &["row “nothing off”", "length of the bar"]),
        ),
        damage(
            "a bar is longer",
            (BAR, "\" width=\"", "\" width=\"9"),
            ("curve-wrong", &["Continuous load", "length of the bar"]),
        ),
        damage(
            "the name at a bar is another",
            (BATTERY, ">DME off too</text>", ">clock off too</text>"),
            ("curve-wrong", &["row “DME off too”", "letters at the bar"]),
        ),
        damage(
            "the value in the table is another",
            (BATTERY, "<td>DME off too</td><td>", "<td>DME off too</td><td>1"),
            ("number-wrong", &["row “DME off too”"]),
        ),
        damage(
            "a bar is of another load",
            (BATTERY, "<td>DME off too</td>", "<td>clock off too</td>"),
            ("number-wrong", &["row “clock off too”"]),
        ),
        damage("an upright is missing", (LOAD, "class=\"level\"", "class=\"span\""), ("curve-wrong", &["upright"])),
        damage(
            "a limit is another",
            (LOAD, "<td>48.0 A</td>", "<td>60.0 A</td>"),
            ("number-wrong", &["Continuous load"]),
        ),
        damage(
            "a load is another",
            (LOAD, "<td>cruise</td><td>", "<td>cruise</td><td>1"),
            ("number-wrong", &["Continuous load", "row “cruise”"]),
        ),
    ]);
}

#[test]
fn a_plot_that_is_left_out_is_named() {
    let made = made();
    let begin = made.html.find(CLOCKS).unwrap();
    let end = begin + made.html[begin..].find("</figure>").unwrap() + "</figure>".len();
    let without = format!("{}{}", &made.html[..begin], &made.html[end..]);
    let found = Examiner::new(&made.basis).report(&without).findings;
    assert!(found.iter().any(|f| f.code == "drawing-missing" && f.says.contains("clocks")), "{found:#?}");
}
