//! Damage to the tables of failures: the audit names each with its code and its place.

use super::audit::{damage, findings, made};

const PUMP: &str = "<table id=\"fail/vacuum-pump\"";
const STATIC: &str = "<table id=\"fail/static-line\"";
const ALTERNATOR: &str = "<table id=\"fail/alternator\"";
const MAIN_BUS: &str = "<table id=\"fail/main-bus\"";
const HEADING_LINE: &str = concat!(
    r#"<li><span class="name" data-of="heading-indicator">Heading indicator</span>: "#,
    r#"<span class="quoted" data-of="heading-indicator/on-loss">The gyro runs down over minutes, and the card drifts away from "#,
    r#"the heading with no flag.</span></li>"#
);

#[test]
fn damage_to_what_is_lost_or_false_is_named() {
    findings(&[
        damage(
            "a lost instrument is dropped",
            (PUMP, HEADING_LINE, ""),
            ("name-missing", &["vacuum pump", "row “Lost”"]),
        ),
        damage(
            "a name is added to what is lost",
            (PUMP, "<ul class=\"lines\"><li>", "<ul class=\"lines\"><li>Clock</li>\n<li>"),
            ("name-extra", &["vacuum pump", "row “Lost”"]),
        ),
        damage(
            "what is lost is called false",
            (PUMP, "<th scope=\"row\">Lost</th>", "<th scope=\"row\">False</th>"),
            ("name-extra", &["vacuum pump", "row “False”"]),
        ),
        damage(
            "a row has a name of its own",
            (PUMP, "<th scope=\"row\">Lost</th>", "<th scope=\"row\">Gone</th>"),
            ("unreadable", &["vacuum pump", "row “Gone”"]),
        ),
        damage(
            "a false instrument is renamed",
            (STATIC, ">Altimeter</span>", ">Ammeter</span>"),
            ("name-missing", &["static line", "row “False”"]),
        ),
        damage(
            "what is out of sight loses a name",
            (STATIC, "<span class=\"name\" data-of=\"encoder\">encoder</span>, ", ""),
            ("name-missing", &["static line", "row “False”"]),
        ),
        damage(
            "a look belongs to another thing",
            (PUMP, "and the card drifts away from the heading with no flag.", "and the red flag shows."),
            ("sentence-wrong", &["vacuum pump", "row “Lost”", "heading indicator"]),
        ),
        damage(
            "the error comes by another way",
            (STATIC, ">the static manifold</span>", ">the pitot line</span>"),
            ("way-wrong", &["static line", "row “False”"]),
        ),
        damage(
            "a line says nothing that can be read",
            (PUMP, ">Heading indicator</span>: ", ">Heading indicator</span> and so on: "),
            ("unreadable", &["vacuum pump", "row “Lost”"]),
        ),
    ]);
}

#[test]
fn damage_to_what_comes_later_or_still_tells_is_named() {
    findings(&[
        damage(
            "a store lasts longer",
            (ALTERNATOR, "30 min", "80 min"),
            ("time-wrong", &["alternator", "row “Lost later”"]),
        ),
        damage(
            "a time has another unit",
            (ALTERNATOR, "30 min", "30 h"),
            ("time-wrong", &["alternator", "row “Lost later”"]),
        ),
        damage(
            "a name of what is lost later is dropped",
            (ALTERNATOR, "<span class=\"name\" data-of=\"clock\">clock</span>, ", ""),
            ("name-missing", &["alternator", "row “Lost later”"]),
        ),
        damage(
            "the cause of what is lost later is another",
            (ALTERNATOR, ">the battery</span> is spent", ">the clock</span> is spent"),
            ("unreadable", &["alternator", "row “Lost later”"]),
        ),
        damage(
            "a backup that is left is dropped from what is not",
            (PUMP, ">rate of turn</span></li>", ">heading</span></li>"),
            ("name-extra", &["vacuum pump", "row “No backup left”"]),
        ),
        damage(
            "the count of other faults is wrong",
            (STATIC, "any of 6 other faults", "any of 5 other faults"),
            ("number-wrong", &["static line", "row “No backup left”"]),
        ),
        damage(
            "a source that is gone still tells",
            (PUMP, ">Rate of turn</span>: ", ">Rate of turn</span>: attitude indicator, "),
            ("line-extra", &["vacuum pump", "row “Still tells you”"]),
        ),
        damage(
            "an indirect source is direct",
            (PUMP, " (indirectly).", "."),
            ("line-extra", &["row “Still tells you”"]),
        ),
        damage(
            "a limit is dropped",
            (PUMP, "in steady, level flight", "in any flight"),
            ("line-missing", &["vacuum pump", "row “Still tells you”"]),
        ),
        damage(
            "a piece of information has nothing that tells it",
            (STATIC, "<span class=\"name\" data-of=\"attitude-indicator\">attitude indicator</span>.", "nothing."),
            ("line-missing", &["static line", "row “Still tells you”"]),
        ),
    ]);
}

#[test]
fn damage_to_how_you_know_and_to_hazards_is_named() {
    findings(&[
        damage(
            "nothing tells, it says",
            (
                PUMP,
                "<th scope=\"row\">How you know</th><td><ul class=\"lines\">",
                "<th scope=\"row\">How you know</th><td><ul class=\"lines\"><li>Nothing tells you.</li>",
            ),
            ("line-extra", &["vacuum pump", "row “How you know”"]),
        ),
        damage(
            "a silent fault is said to be found",
            (STATIC, "Nothing tells you.", "Found only in use."),
            ("line-missing", &["static line", "row “How you know”"]),
        ),
        damage(
            "the silence is not told",
            (
                STATIC,
                "<tr data-about=\"how-you-know\"><th scope=\"row\">How you know</th><td>Nothing tells you.</td></tr>",
                "",
            ),
            ("line-missing", &["static line", "row “How you know”"]),
        ),
        damage(
            "a gauge shows something else",
            (PUMP, "The needle falls below its green arc.", "The needle stays in its green arc."),
            ("line-missing", &["vacuum pump", "row “How you know”"]),
        ),
        damage(
            "an instrument that looks dead is dropped",
            (
                MAIN_BUS,
                "Looks dead or flagged: <span class=\"name\" data-of=\"engine-monitor\">engine monitor</span>, ",
                "Looks dead or flagged: ",
            ),
            ("name-missing", &["main bus", "row “How you know”"]),
        ),
        damage(
            "a light that is dead still warns",
            (MAIN_BUS, "Low-suction warning</span>: ", "Low-voltage warning</span>: "),
            ("line-missing", &["main bus", "row “No longer warns of”"]),
        ),
        damage(
            "a hazard is dropped",
            (MAIN_BUS, "<tr data-about=\"hazard\">", "<tr data-about=\"hazard\" hidden>"),
            ("hidden", &["Electrical"]),
        ),
        damage(
            "a hazard says less",
            (MAIN_BUS, "Current into a short burns behind the panel and soon flattens the battery.", "Nothing burns."),
            ("hazard-missing", &["main bus", "row “Hazard”"]),
        ),
        damage(
            "a warning is only a caution",
            (MAIN_BUS, "<strong>WARNING</strong>", "<strong>CAUTION</strong>"),
            ("hazard-missing", &["main bus", "row “Hazard”"]),
        ),
        damage(
            "the handbook speaks of it elsewhere",
            (MAIN_BUS, "handbook 3.6", "handbook 3.9"),
            ("line-missing", &["main bus", "row “Handbook”"]),
        ),
    ]);
}

#[test]
fn damage_to_what_restores_is_named() {
    const RESTORES: &str = "<tr data-about=\"works-again-with\">";
    findings(&[
        damage(
            "a restoring move is dropped",
            (STATIC, "<th scope=\"row\">Works again with</th>", "<th scope=\"row\">Stops with</th>"),
            ("remedy-missing", &["static line", "row “Works again with”"]),
        ),
        damage(
            "a restoring move goes the other way",
            (STATIC, "<code>OPEN</code>", "<code>CLOSED</code>"),
            ("remedy-extra", &["static line", "row “Works again with”"]),
        ),
        damage(
            "a restoring move is invented",
            (
                PUMP,
                "<tr data-about=\"handbook\">",
                "<tr data-about=\"works-again-with\"><th scope=\"row\">Works again with</th><td>Alternate static valve OPEN: attitude indicator</td></tr><tr data-about=\"handbook\">",
            ),
            ("remedy-extra", &["vacuum pump", "row “Works again with”"]),
        ),
        damage(
            "what reads high is said to be exact",
            (STATIC, "altimeter</span> (approximately)", "altimeter</span>"),
            ("approximate-wrong", &["static line", "row “Works again with”"]),
        ),
        damage(
            "how it reads is said the other way",
            (STATIC, "read slightly high", "read slightly low"),
            ("sentence-wrong", &["static line", "row “Works again with”"]),
        ),
        damage(
            "what works again loses a name",
            (
                STATIC,
                "(approximately), <span class=\"name\" data-of=\"vertical-speed-indicator\">vertical speed indicator</span>",
                "",
            ),
            ("name-missing", &["static line", "row “Works again with”"]),
        ),
    ]);
    assert!(made().html.contains(RESTORES));
}

#[test]
fn a_table_that_is_gone_or_tells_of_another_fault_is_named() {
    findings(&[
        damage(
            "a whole table is no table any more",
            (PUMP, PUMP, "<table hidden id=\"fail/vacuum-pump\""),
            ("fault-missing", &["vacuum pump"]),
        ),
        damage(
            "a fault is dropped from a caption",
            (
                PUMP,
                ", or if <span class=\"name\" data-of=\"suction-hose\">the suction hose</span> <span class=\"quoted\" data-of=\"suction-hose:fails/said\">comes off</span>",
                "",
            ),
            ("fault-missing", &["suction hose"]),
        ),
        damage(
            "a caption tells of another fault",
            (PUMP, ">the vacuum pump</span> fails", ">the clock</span> fails"),
            ("fault-twice", &["clock fails"]),
        ),
        damage(
            "a caption tells of another state",
            (
                PUMP,
                "<span class=\"name\" data-of=\"cruise\">cruise</span>",
                "<span class=\"name\" data-of=\"cruise\">secured</span>",
            ),
            ("fault-missing", &["vacuum pump"]),
        ),
        damage("a caption cannot be read", (PUMP, "If <span", "When <span"), ("unreadable", &["vacuum pump"])),
        damage(
            "a fault that takes nothing is dropped from its list",
            (
                "<table id=\"nothing-lost\"",
                "<tr data-about=\"alternate-static:",
                "<tr hidden data-about=\"alternate-static:",
            ),
            ("fault-missing", &["alternate static valve"]),
        ),
        damage(
            "a heading of a known table is changed",
            (PUMP, "<th scope=\"col\">How</th>", "<th scope=\"col\">Why</th>"),
            ("unreadable", &["vacuum pump"]),
        ),
        damage(
            "a table passes for one that was typed",
            (PUMP, "<th scope=\"col\">How</th>", "<th scope=\"col\">How it is</th>"),
            ("fault-missing", &["vacuum pump"]),
        ),
    ]);
}

#[test]
fn what_could_run_load_or_lead_elsewhere_is_named() {
    findings(&[
        damage(
            "the script is altered",
            ("<script>", "\"use strict\";", "\"use strict\"; alert(1);"),
            ("policy-wrong", &["policy"]),
        ),
        damage(
            "the style is altered",
            ("<style>", "text-align: left;", "text-align: right;"),
            ("policy-wrong", &["policy"]),
        ),
        damage(
            "the policy allows more",
            ("<meta http-equiv", "default-src &#39;none&#39;", "default-src *"),
            ("policy-wrong", &["policy"]),
        ),
        damage("a second script", ("</main>", "</main>", "</main><script>1</script>"), ("script-wrong", &["Page"])),
        damage("an event", ("class=\"cover\"", "<h1 ", "<h1 onclick=\"x()\" "), ("active-content", &["Cover"])),
        damage("a frame", ("</main>", "</main>", "<iframe></iframe></main>"), ("active-content", &["Page"])),
        damage(
            "a picture from elsewhere",
            ("</main>", "</main>", "<img src=\"https://example.org/a.png\"></main>"),
            ("active-content", &["Page"]),
        ),
        damage(
            "a link to elsewhere",
            ("class=\"contents\"", "href=\"#", "href=\"https://example.org/#"),
            ("active-content", &["Page"]),
        ),
        damage("a link to nothing", ("class=\"contents\"", "href=\"#", "href=\"#no-"), ("link-broken", &["Page"])),
        damage("an id twice", (PUMP, "id=\"fail/vacuum-pump\"", "id=\"page/cover\""), ("id-twice", &["Page"])),
        damage(
            "a dress of its own",
            (PUMP, "<caption ", "<caption style=\"color:white\" "),
            ("active-content", &["Suction"]),
        ),
        damage("text out of sight", ("<style>", "/* Cover. */", "td{display:none}"), ("hidden", &["style sheet"])),
    ]);
}

#[test]
fn damage_to_what_is_said_of_false_and_weakened_things_is_named() {
    const MANIFOLD: &str = "<table id=\"fail/static-manifold\"";
    const LEAK: &str = "<table id=\"fail/static-line/leaks\"";
    const HEARD: &str = "The pointers stay at the altitude where the pressure was shut in.";
    findings(&[
        damage(
            "a false instrument is said to show something else",
            (STATIC, HEARD, "The pointers fall to zero."),
            ("sentence-wrong", &["static line", "row “False”", "altimeter"]),
        ),
        damage(
            "a false instrument has the sentence of another",
            (MANIFOLD, HEARD, "The pointer rests at zero in every climb and descent."),
            ("sentence-wrong", &["static manifold", "row “False”", "altimeter"]),
        ),
        damage(
            "a false instrument says nothing of how it is false",
            (
                MAIN_BUS,
                ": <span class=\"quoted\" data-of=\"main-bus:fails/misleads\">The needle stands at the middle, as it does when nothing is wrong.</span>",
                "",
            ),
            ("sentence-wrong", &["main bus goes dead", "row “False”", "ammeter"]),
        ),
        damage(
            "a weakened instrument is weakened the other way",
            (LEAK, "The reading is slightly high.", "The reading is slightly low."),
            ("line-missing", &["static line comes off", "row “Weakened”"]),
        ),
    ]);
}

#[test]
fn damage_to_what_a_fault_takes_and_opens_by_itself_is_named() {
    const SHORTED: &str = "<table id=\"fail/turn-coordinator/shorted\"";
    const MAST: &str = "<table id=\"fail/pitot-mast\"";
    findings(&[
        damage(
            "another breaker opens",
            (SHORTED, ">Turn coordinator breaker</span>", ">Field breaker</span>"),
            ("name-missing", &["turn coordinator", "row “Opens”"]),
        ),
        damage(
            "no breaker opens",
            (SHORTED, "<th scope=\"row\">Opens</th>", "<th scope=\"row\">Works unasked</th>"),
            ("name-missing", &["turn coordinator", "row “Opens”"]),
        ),
        damage(
            "what is shorted is not gone",
            (SHORTED, "<th scope=\"row\">Gone itself</th>", "<th scope=\"row\">Works unasked</th>"),
            ("name-missing", &["turn coordinator", "row “Gone itself”"]),
        ),
        damage(
            "a thing that simply fails is told as gone",
            (
                PUMP,
                "<tr data-about=\"lost\">",
                "<tr data-about=\"gone-itself\"><th scope=\"row\">Gone itself</th><td>Vacuum pump</td></tr><tr data-about=\"lost\">",
            ),
            ("line-extra", &["vacuum pump", "row “Gone itself”"]),
        ),
        damage(
            "of several faults, one takes something else",
            (MAST, ">pitot line</span></td>", ">pitot mast</span></td>"),
            ("name-extra", &["pitot mast", "row “Gone itself”"]),
        ),
    ]);
}

#[test]
fn damage_to_what_a_passed_thing_carries_is_named() {
    const ELECTRICAL: &str = "<table id=\"items/electrical\"";
    const SHUNT: &str = "<tr data-about=\"ammeter-shunt\">";
    const CABLE: &str = "<tr data-about=\"tachometer-cable\">";
    const DRIVES: &[&str] = &["column “What drives it"];
    findings(&[
        damage(
            "a breaker carries to another user",
            (ELECTRICAL, ">the low-suction light</span>", ">the clock</span>"),
            ("name-missing", &["Warning lights breaker", "column “What drives it”"]),
        ),
        damage(
            "a breaker carries from another bus",
            (
                ELECTRICAL,
                "from <span class=\"name\" data-of=\"main-bus\">the main bus</span> to",
                "from <span class=\"name\">the avionics bus</span> to",
            ),
            ("line-missing", DRIVES),
        ),
        damage(
            "what is sensed through a cable is another thing",
            (CABLE, ">the crankshaft</span>", ">the oil pump</span>"),
            ("line-missing", &["Tachometer cable", "column “What drives it"]),
        ),
        damage(
            "a line of what the shunt carries is dropped",
            (SHUNT, "<li>Carries ", "<li hidden>Carries "),
            ("line-missing", &["Ammeter shunt", "column “What drives it"]),
        ),
        damage(
            "a source is said to pass something on",
            ("<tr data-about=\"tank-left\">", "Nothing: it is a source.", "Nothing; it passes on what comes to it."),
            ("line-missing", &["Left tank", "column “What drives it"]),
        ),
    ]);
}
