//! Rows of failure tables: lines that speak of several things, and tables of one state.

use super::compose::{demo, dump, everything, report, row, small, tables};

#[test]
fn things_of_which_the_same_is_said_share_a_line() {
    let document = everything();
    let lost = row(&document, "fail/avionics-bus", "Lost");
    let receivers = "Nav 1 receiver, nav 2 receiver, DME, ADF receiver: The figures go dark.";
    assert!(lost.iter().any(|l| l == receivers), "{lost:?}");
    let needles: Vec<&String> = lost.iter().filter(|l| l.contains("The needle centres")).collect();
    assert_eq!(needles.len(), 2, "each course indicator is lost by a way of its own: {needles:?}");
    let weakened = row(&document, "fail/static-line/leaks", "Weakened");
    assert_eq!(weakened[0], "Airspeed indicator, altimeter: The reading is slightly high.");
}

#[test]
fn a_text_that_says_it_or_they_keeps_its_own_line() {
    let model = r#"
[aircraft]
name = "Test"
maker = "Test"
revision = 1
date = 2026-01-01
handbook = "handbook"
[system.s]
name = "lights"
number = "01"
[item.source]
name = "source"
kind = "battery"
system = "s"
gives = "electricity"
[item.left]
name = "left lamp"
kind = "lamp"
system = "s"
needs = ["source"]
on-loss = { electricity = { looks = "dark", text = "The glass goes dark." } }
[item.right]
name = "right lamp"
kind = "lamp"
system = "s"
needs = ["source"]
on-loss = { electricity = { looks = "dark", text = "The glass goes dark." } }
[item.high]
name = "high lamp"
kind = "lamp"
system = "s"
needs = ["source"]
on-loss = { electricity = { looks = "dark" } }
[item.low]
name = "low lamp"
kind = "lamp"
system = "s"
needs = ["source"]
on-loss = { electricity = { looks = "dark" } }
[item.third]
name = "third lamp"
kind = "lamp"
system = "s"
needs = ["source"]
[item.fourth]
name = "fourth lamp"
kind = "lamp"
system = "s"
needs = ["source"]
[state.cruise]
name = "cruise"
in-flight = true
"#;
    let (composed, sources) = small(model, &[("01-a.md", "# A\n\n{{ failures(system=\"s\") }}\n")]);
    let document = composed.document.unwrap_or_else(|| panic!("{}", report(&composed.diagnostics, &sources)));
    let lost = row(&document, "fail/source", "Lost");
    let expected = [
        "Fourth lamp, third lamp",
        "High lamp: It goes dark.",
        "Left lamp, right lamp: The glass goes dark.",
        "Low lamp: It goes dark.",
    ];
    assert_eq!(lost, expected);
}

#[test]
fn a_failure_can_be_asked_in_a_state_alone() {
    let in_night = |of: &str| {
        let chapter = format!("# A\n\n{{{{ failure(of=\"{of}\", in=\"night-approach\") }}}}\n");
        let (composed, sources) = demo(&[("01-a.md", &chapter)]);
        composed.document.unwrap_or_else(|| panic!("{}", report(&composed.diagnostics, &sources)))
    };
    let document = in_night("breaker-nav-lights");
    let ids: Vec<&str> = tables(&document).into_iter().map(|t| t.id.as_str()).collect();
    assert_eq!(ids, ["fail/breaker-nav-lights/in/night-approach"]);
    let lost = row(&document, "fail/breaker-nav-lights/in/night-approach", "Lost");
    assert_eq!(lost.len(), 1);
    assert!(lost[0].starts_with("Navigation lights: "), "{lost:?}");
    let document = in_night("nav-lights");
    assert!(tables(&document).is_empty());
    assert!(dump(&document).contains("No fault of the navigation lights takes anything in night approach."));
}
