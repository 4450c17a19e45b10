//! Damage to sums and tables of numbers: a digit changed, a row dropped, a unit changed.

use super::audit::{damage, findings};

const BATTERY: &str = "id=\"battery/minutes\"";
const LOADS: &str = "<table id=\"loads\"";
const CIRCUITS: &str = "<table id=\"circuits\"";
const GAINS: &str = "<table id=\"battery/gains\"";
const STAGES: &str = "<table id=\"battery/stages\"";
const PHASES: &str = "<table id=\"battery/phases\"";

#[test]
fn damage_to_the_loads_is_named() {
    findings(&[
        damage(
            "a draw in a state is another",
            (LOADS, "data-fact=\"numbers/load/dme/cruise\">1.5 A", "data-fact=\"numbers/load/dme/cruise\">1.6 A"),
            ("figure-wrong", &["Electrical load", "row “DME”", "column “cruise”"]),
        ),
        damage(
            "a consumer is left out",
            (LOADS, "<tr data-about=\"landing-light\">", "<tr hidden data-about=\"landing-light\">"),
            ("row-missing", &["Electrical load"]),
        ),
        damage(
            "a sum is in another unit",
            (LOADS, "numbers/load/all/allowed/cruise\">48 A", "numbers/load/all/allowed/cruise\">48 V"),
            ("figure-wrong", &["Electrical load", "Four fifths of the rating"]),
        ),
        damage(
            "a consumer is left out of the worked sum",
            ("id=\"loads/worked\"", ">1 A</span> + ", " hidden>1 A</span>"),
            ("sum-wrong", &["worked sum “Continuous load"]),
        ),
        damage(
            "a wire is of another size",
            (CIRCUITS, "<span class=\"quoted\" data-of=\"breaker-com-1/wire\">18", "<span class=\"quoted\">20"),
            ("figure-wrong", &["Circuits", "row “Com 1 breaker”", "column “Wire”"]),
        ),
        damage(
            "a drop is a tenth of what it is",
            (CIRCUITS, "numbers/circuit/breaker-nav-lights/drop\">0.481 V", "numbers/circuit/x\">0.048 V"),
            ("figure-wrong", &["Circuits", "row “Navigation lights breaker”", "column “Voltage drop”"]),
        ),
        damage(
            "the worked drop counts another length, and comes to what that gives",
            (
                "id=\"circuits/worked\"",
                ">20 ft</span> × <span class=\"shown\" data-fact=\"numbers/circuit/breaker-nav-lights/load\">5 A</span></span><span class=\"equals\"> = </span><span class=\"result\"><span class=\"shown\" data-fact=\"numbers/circuit/breaker-nav-lights/drop\">0.481 V",
                ">10 ft</span> × <span class=\"shown\" data-fact=\"numbers/circuit/breaker-nav-lights/load\">5 A</span></span><span class=\"equals\"> = </span><span class=\"result\"><span class=\"shown\" data-fact=\"numbers/circuit/breaker-nav-lights/drop\">0.241 V",
            ),
            ("figure-wrong", &["worked sum “Voltage drop"]),
        ),
    ]);
}

#[test]
fn damage_to_the_time_on_the_battery_is_named() {
    findings(&[
        damage(
            "a digit of a sum is another",
            (BATTERY, "numbers/battery/usable\">18.75 Ah", "numbers/battery/usable\">18.57 Ah"),
            ("sum-wrong", &["worked sum “Time on the battery alone”"]),
        ),
        damage(
            "the result is in another unit",
            (BATTERY, "numbers/battery/total\">37.2 min", "numbers/battery/total\">37.2 h"),
            ("sum-wrong", &["worked sum “Time on the battery alone”"]),
        ),
        damage(
            "a line of the sum is left out",
            (
                BATTERY,
                "<li><span class=\"says\">The same in ampere minutes.",
                "<li hidden><span class=\"says\">The same.",
            ),
            ("sum-wrong", &["worked sum “Time on the battery alone”"]),
        ),
        damage(
            "a phase lasts longer",
            (PHASES, "numbers/battery/phase/2/time\">17.2 min", "numbers/battery/phase/2/time\">27.2 min"),
            ("figure-wrong", &["The phases on the battery alone", "column “Time”"]),
        ),
        damage(
            "a load buys more than it does",
            (GAINS, "numbers/battery/gain/dme/time\">2.8 min", "numbers/battery/gain/dme/time\">12.8 min"),
            ("figure-wrong", &["What each load alone costs", "row “DME”"]),
        ),
        damage(
            "the load that buys most is left out",
            (GAINS, "<tr data-about=\"nav-lights\">", "<tr hidden data-about=\"nav-lights\">"),
            ("row-missing", &["What each load alone costs"]),
        ),
        damage(
            "a stage is of another thing",
            (STAGES, ">ADF receiver<", ">DME<"),
            ("figure-wrong", &["Minutes on the battery"]),
        ),
        damage(
            "the standing drain is in years",
            ("id=\"battery/drain\"", "208 days", "208 years"),
            ("sum-wrong", &["with everything off"]),
        ),
    ]);
}
