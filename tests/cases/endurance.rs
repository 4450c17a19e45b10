//! The time on the battery where the model wants it computed, and what draws in it.

use crate::support::models::{model, state};
use ribstitch::analyse::load::by_state;
use ribstitch::analyse::network::Analysis;
use ribstitch::audit::{Basis, Examiner};
use ribstitch::pipeline::{Request, Until, compile};
use ribstitch::render::html::Paper;
use std::path::Path;

const CHAPTER: &str = "# Power\n\n{{ The(of=\"battery\") }} lasts {{ value(of=\"battery.lasts\") }}.\n\n\
                       [The main bus lasts for a time](<claim:main-bus lasts 36 min after alternator>).\n\n\
                       {{ failure(of=\"alternator\") }}\n\n{{ battery() }}\n";

/// The guide of one chapter on the demo, each file of which is changed so; and its canonical text.
fn guide_with(change: impl Fn(String) -> String, chapter: &str) -> (String, String) {
    let folder = tempfile::tempdir().unwrap();
    let (aircraft, book) = (folder.path().join("sandling"), folder.path().join("book"));
    std::fs::create_dir(&aircraft).unwrap();
    std::fs::create_dir(&book).unwrap();
    let files = std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("aircraft/sandling")).unwrap();
    for path in files.map(|f| f.unwrap().path()).filter(|p| p.extension().is_some_and(|e| e == "toml")) {
        let text = change(std::fs::read_to_string(&path).unwrap());
        std::fs::write(aircraft.join(path.file_name().unwrap()), text).unwrap();
    }
    std::fs::write(book.join("01-power.md"), chapter).unwrap();
    let request = Request {
        aircraft,
        book: Some(book),
        only: None,
        paper: Paper::A4,
        strict: false,
        card: false,
        booklet: false,
        pdf: false,
        until: Until::Audited,
    };
    let compiled = compile(&request).unwrap();
    let told: Vec<String> = compiled.findings.iter().map(|d| format!("{} {}", d.code, d.message)).collect();
    let guide = compiled.guide.unwrap_or_else(|| panic!("{told:#?}"));
    (guide.html, compiled.document.unwrap().meta.canonical)
}

#[test]
fn a_time_that_is_a_result_is_that_of_the_phases_and_is_proved() {
    let computed = |text: String| text.replace("lasts    = \"30 min\"", "lasts = { result = \"endurance\" }");
    let (html, canonical) = guide_with(computed, CHAPTER);
    assert!(canonical.contains("result = \"endurance\""), "the canonical text keeps what is to be computed");
    assert!(html.contains(">36 min</span>"), "36.7 min, down to whole minutes");
    let basis = Basis::read(&canonical).unwrap();
    assert!(Examiner::new(&basis).report(&html).findings.is_empty());
    let damaged = html.replace(">36 min</span>", ">40 min</span>");
    let found = Examiner::new(&basis).report(&damaged).findings;
    assert!(found.iter().any(|f| f.place.contains("Lost later")), "{found:#?}");
    assert!(found.iter().any(|f| f.place.contains("battery/lasts")), "{found:#?}");
}

/// The audit wants no table and no sum of what the model does not tell.
#[test]
fn an_aircraft_without_phases_has_a_guide_all_the_same() {
    let without = |text: String| match (text.find("\n[endurance]"), text.find("\n[flight.lesson]")) {
        (Some(from), Some(to)) => format!("{}{}", &text[..from], &text[to..]),
        _ => text,
    };
    let chapter =
        "# Power\n\n{{ battery() }}\n\n{{ gains() }}\n\n{{ stages(shed=\"dme\") }}\n\n{{ drain() }}\n\n{{ loads() }}\n";
    let (html, canonical) = guide_with(without, chapter);
    assert!(!canonical.contains("[endurance]") && html.contains("id=\"loads/worked\""));
}

const LAMPS: &str = r#"
[item.battery]
kind = "battery"
gives = "electricity"
does = "Stores."
[item.alternator]
kind = "alternator"
gives = "electricity"
does = "Makes."
rating = "60 A"
draws = "3 A"
needs = ["bus through field-switch (sustained)"]
[item.field-switch]
kind = "switch"
does = "Opens the field."
[item.bus]
kind = "bus"
does = "Shares."
needs = ["battery or alternator"]
[item.warning-light]
kind = "light"
does = "Warns."
needs = ["bus"]
draws = "0.1 A"
[item.landing-light]
kind = "light"
does = "Shines."
needs = ["bus"]
draws = "7 A"
[alert.low-voltage]
on = "warning-light"
watches = ["alternator"]
needs = ["warning-light"]
[state.cruise]
controls = { field-switch = "on" }
in-flight = true
[state.alternator-off]
after = "cruise"
in-flight = true
controls = { field-switch = "off" }
[endurance]
battery = "battery"
state = "cruise"
phase = [{ name = "unnoticed", lasts = "5 min" }, { name = "then", controls = { field-switch = "off" } }]
"#;

#[test]
fn a_warning_light_draws_while_it_is_lit_and_a_field_while_it_is_fed() {
    let model = model(LAMPS);
    let analysis = Analysis::new(&model);
    let amps = |id: &str| {
        let loads = by_state(&model, &analysis).into_iter().find(|s| s.state == state(&model, id)).unwrap();
        loads.continuous.0
    };
    assert!((amps("cruise") - 10.0).abs() < 1e-12, "light and field: {}", amps("cruise"));
    assert!((amps("alternator-off") - 7.1).abs() < 1e-12, "both lights: {}", amps("alternator-off"));
    let plan = ribstitch::analyse::battery::plan(&model, &analysis, &[]).unwrap();
    let currents: Vec<f64> = plan.phases.iter().map(|p| p.current().0).collect();
    assert!((currents[0] - 10.1).abs() < 1e-12, "the field of a lost alternator still draws: {currents:?}");
    assert!((currents[1] - 7.1).abs() < 1e-12, "{currents:?}");
}
