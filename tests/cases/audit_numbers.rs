//! Damage to sums and tables of numbers: a digit changed, a row dropped, a unit changed.

use super::audit::{damage, findings};

const BATTERY: &str = "id=\"battery/minutes\"";
const LOADS: &str = "<table id=\"loads\"";
const CIRCUITS: &str = "<table id=\"circuits\"";
const GAINS: &str = "<table id=\"battery/gains\"";
const STAGES: &str = "<table id=\"battery/stages\"";
const COLD: &str = "<table id=\"battery/cold\"";
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
            "what is lost ahead of the wire is left out",
            (CIRCUITS, "numbers/circuit/breaker-com-1/drop/from-bus\">0.122 V", "numbers/x\">0.047 V"),
            ("figure-wrong", &["Circuits", "row “Com 1 breaker”", "column “Voltage drop”"]),
        ),
        damage(
            "a breaker of which no load is known carries nothing",
            (CIRCUITS, "Outlet breaker</span></th><td>", "Outlet breaker</span></th><td>0 A "),
            ("figure-wrong", &["Circuits", "row “Outlet breaker”"]),
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
            (BATTERY, "numbers/battery/total\">36.7 min", "numbers/battery/total\">36.7 h"),
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
            (PHASES, "numbers/battery/phase/2/time\">16.7 min", "numbers/battery/phase/2/time\">26.7 min"),
            ("figure-wrong", &["The phases on the battery alone", "column “Time”"]),
        ),
        damage(
            "a load buys more than it does",
            (GAINS, "numbers/battery/gain/dme/time\">2.8 min", "numbers/battery/gain/dme/time\">12.8 min"),
            ("figure-wrong", &["What leaving off each load", "row “DME”"]),
        ),
        damage(
            "the load that buys most is left out",
            (GAINS, "<tr data-about=\"nav-lights\">", "<tr hidden data-about=\"nav-lights\">"),
            ("row-missing", &["What leaving off each load"]),
        ),
        damage(
            "a stage is of another thing",
            (STAGES, ">ADF receiver<", ">DME<"),
            ("figure-wrong", &["Minutes on the battery"]),
        ),
        damage(
            "nothing left off lasts as long as the phases",
            (STAGES, "numbers/battery/stage/nothing/time\">25.5 min", "numbers/x\">36.7 min"),
            ("figure-wrong", &["Minutes on the battery", "row “Nothing left off at all”", "column “Time in all”"]),
        ),
        damage(
            "the cold takes nothing",
            (COLD, "numbers/battery/cold/0/time\">27.2 min", "numbers/x\">36.7 min"),
            ("figure-wrong", &["in the cold", "column “Time in all”"]),
        ),
        damage(
            "a battery that is empty before its time is not said to be",
            (COLD, "Empty in the phase", "Full in the phase"),
            ("figure-wrong", &["in the cold", "column “Time in all”"]),
        ),
        damage("the cold is left out", (COLD, "<table id=", "<table hidden id="), ("table-missing", &[])),
        damage(
            "a load that is off by then draws",
            (GAINS, "off by then", "7 A"),
            ("figure-wrong", &["What leaving off each load", "column “Mean current”"]),
        ),
        damage(
            "a master left on lasts for days",
            ("id=\"battery/left-on\"", "/coil-hours\">35.7 h", "/coil-hours\">357 h"),
            ("sum-wrong", &["with the master left on"]),
        ),
        damage(
            "the standing drain is in years",
            ("id=\"battery/drain\"", "208 days", "208 years"),
            ("sum-wrong", &["with everything off"]),
        ),
    ]);
}

#[test]
fn damage_to_the_clocks_is_named() {
    findings(&[
        damage(
            "an engine speed is another",
            ("<table id=\"flight/lesson\"", "numbers/flight/lesson/1/engine\">2450 rpm", "numbers/x\">2540 rpm"),
            ("figure-wrong", &["Clocks of one lesson", "row “climb”", "column “Engine speed”"]),
        ),
        damage(
            "a leg is left out",
            ("<table id=\"flight/lesson\"", "<tr data-about=\"leg-3\">", "<tr hidden data-about=\"leg-3\">"),
            ("row-missing", &["Clocks of one lesson"]),
        ),
        damage(
            "a worked leg has another speed",
            ("id=\"flight/lesson/worked\"", "1000 rpm</span> ÷", "1100 rpm</span> ÷"),
            ("sum-wrong", &["worked sum “Times of one lesson"]),
        ),
        damage(
            "a flight is flown more often",
            ("<table id=\"months\"", "/monthly\">8<", "/monthly\">9<"),
            ("figure-wrong", &["A month and a year", "column “In a month”"]),
        ),
        damage(
            "a reading lost a digit",
            ("id=\"months/worked\"", "4000 h", "400 h"),
            ("sum-wrong", &["worked sum “What the ratio"]),
        ),
    ]);
}

#[test]
fn damage_to_readings_of_blocked_openings_is_named() {
    const STATIC: &str = "<table id=\"air/lesson/static\"";
    findings(&[
        damage(
            "a true altitude is another",
            (STATIC, "/true-altitude\">1000 ft", "/true-altitude\">1100 ft"),
            ("figure-wrong", &["Static ports blocked", "column “Altitude, as it is”"]),
        ),
        damage(
            "what is shown is in another unit",
            (STATIC, " ft/min</span>", " ft</span>"),
            ("figure-wrong", &["Static ports blocked", "column “Vertical speed, as it is”"]),
        ),
        damage(
            "a leg is left out",
            (STATIC, "<tr data-about=\"leg-3\">", "<tr hidden data-about=\"leg-3\">"),
            ("row-missing", &["Static ports blocked"]),
        ),
        damage(
            "a false instrument is said to be true",
            (
                "<table id=\"air/cross-country/ram-hole\"",
                ">altitude, vertical speed, encoder<",
                ">airspeed, altitude, vertical speed, encoder<",
            ),
            ("figure-wrong", &["Ram hole blocked", "column “Still agrees”"]),
        ),
        damage(
            "a pressure of the worked sum is another",
            ("id=\"air/lesson/static/worked\"", "1013.25 hPa", "1031.25 hPa"),
            ("sum-wrong", &["Static ports blocked: worked"]),
        ),
        damage(
            "readings are called the same that lie far apart",
            ("numbers/air/same/altitude", "20 ft", "200 ft"),
            ("number-wrong", &["numbers/air/same/altitude"]),
        ),
        damage(
            "the controller sees another altitude",
            ("<table id=\"encoder\"", "/controller\">5500 ft", "/controller\">5800 ft"),
            ("figure-wrong", &["What is reported", "column “Controller sees”"]),
        ),
        damage(
            "the encoder reports nothing of a leg",
            ("<table id=\"encoder\"", "<tr data-about=\"leg-2\">", "<tr hidden data-about=\"leg-2\">"),
            ("row-missing", &["What is reported"]),
        ),
    ]);
}

#[test]
fn damage_to_fuel_calendar_and_needles_is_named() {
    findings(&[
        damage(
            "a tank gives more than it can",
            ("<table id=\"fuel/tanks\"", "numbers/fuel/tank-left/usable\">23 gal", "numbers/x\">24 gal"),
            ("figure-wrong", &["Fuel by tank", "column “Usable”"]),
        ),
        damage(
            "a time to dry tanks is rounded up",
            ("<table id=\"fuel/tanks\"", "numbers/fuel/all/time\">306 min", "numbers/x\">307 min"),
            ("figure-wrong", &["Fuel by tank", "row “In all”", "column “Time”"]),
        ),
        damage(
            "fuel to be carried is rounded down",
            ("<table id=\"fuel/reserves\"", "15.8 gal", "15.7 gal"),
            ("figure-wrong", &["with its reserve", "column “By night”"]),
        ),
        damage(
            "the longest flight is longer",
            ("numbers/fuel/longest/night", "261 min", "276 min"),
            ("number-wrong", &["numbers/fuel/longest/night"]),
        ),
        damage(
            "a reserve is shorter",
            ("id=\"fuel/reserves/worked\"", ">30 min<", ">20 min<"),
            ("sum-wrong", &["worked sum “Fuel for a flight"]),
        ),
        damage(
            "a time on one tank is left out",
            ("<table id=\"fuel/one/tank-left\"", "<tr data-about=\"after-60\">", "<tr hidden data-about=\"after-60\">"),
            ("row-missing", &["On the left tank alone"]),
        ),
        damage(
            "a calendar month ends early",
            ("<table id=\"due\"", "2027-01-31", "2027-01-30"),
            ("figure-wrong", &["when each is due next", "column “Due next”"]),
        ),
        damage(
            "a count falls due later",
            ("<table id=\"due\"", ">3080.5 h<", ">3090.5 h<"),
            ("figure-wrong", &["when each is due next", "column “Due next”"]),
        ),
        damage(
            "an interval may be exceeded by more",
            ("<table id=\"due\"", ">10 h<", ">100 h<"),
            ("figure-wrong", &["when each is due next", "column “Due next”"]),
        ),
        damage(
            "a needle stands as in cruise while the engine idles",
            ("<table id=\"needles\"", "oil-pressure-gauge/engine-running\">45 psi", "x\">75 psi"),
            ("figure-wrong", &["Where needles stand", "row “Oil pressure gauge”", "column “engine running”"]),
        ),
        damage(
            "a needle stands elsewhere",
            ("<table id=\"needles\"", "numbers/needle/suction-gauge/cruise\">5 inHg", "numbers/x\">4 inHg"),
            ("figure-wrong", &["Where needles stand", "row “Suction gauge”", "column “cruise”"]),
        ),
    ]);
}

#[test]
fn a_worked_sum_that_is_left_out_is_named() {
    let hide = |name, id: &'static str| damage(name, (id, "id=", "hidden id="), ("sum-missing", &[]));
    findings(&[
        hide("the time on the battery is not worked", "id=\"battery/minutes\""),
        hide("the standing drain is not worked", "id=\"battery/drain\""),
        hide("the master left on is not worked", "id=\"battery/left-on\""),
        hide("the load is not worked", "id=\"loads/worked\""),
        hide("the drop is not worked", "id=\"circuits/worked\""),
        hide("a flight is not worked", "id=\"flight/lesson/worked\""),
        hide("the ratio is not worked", "id=\"months/worked\""),
        hide("a blocked opening is not worked", "id=\"air/lesson/static/worked\""),
        hide("the fuel of a flight is not worked", "id=\"fuel/reserves/worked\""),
        hide("one tank is not worked", "id=\"fuel/one/tank-left/worked\""),
        hide("a leg of the clocks is not worked", "id=\"clocks/1500-6\""),
        hide("the sum of legs is not worked", "id=\"clocks/all-legs/2\""),
        damage(
            "a sum stands twice",
            ("id=\"months/worked\"", "What the ratio of the two clocks does", "All legs"),
            ("sum-extra", &["clocks"]),
        ),
    ]);
}
