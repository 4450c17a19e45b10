//! Reading and writing models.
use proptest::prelude::*;
use ribstitch::base::{Diagnostics, Sources, snippet};
use ribstitch::model::{Model, Start};
use ribstitch::{parse, resolve};

/// Loads one text that must be right.
fn load(text: &str) -> Model {
    let mut sources = Sources::default();
    let (model, diagnostics) = resolve::load_texts(vec![("model.toml".to_owned(), text.to_owned())], &mut sources);
    assert!(diagnostics.is_empty(), "{}", snippet::render(&diagnostics, &sources, false));
    model.expect("a model without diagnostics is there")
}

const SMALL: &str = r#"
[aircraft]
name     = "BW-4 Sandling"
maker    = "Brackwater"
revision = 1
date     = 2026-05-02
handbook = "BW-4 Pilot's Handbook"

[system.electrical]
name   = "electrical power"
number = "24"

[item.battery]
name   = "battery"
kind   = "battery"
system = "electrical"
gives  = "electricity"

[item.master]
name   = "master switch"
kind   = "switch"
system = "electrical"
needs  = ["battery"]

[item.clock]
name   = "clock"
kind   = "clock"
system = "electrical"
needs  = ["battery through master"]
"#;

#[test]
fn small_model_is_whole() {
    let model = load(SMALL);
    let ids: Vec<&str> = model.items.iter().map(|i| i.id.as_str()).collect();
    assert_eq!(ids, ["battery", "clock", "master"]);
    let master = model.find_item("master").unwrap();
    let control = model.control(master).unwrap();
    assert_eq!(control.position(control.rest).as_str(), "off");
    assert_eq!(control.conducts_in.len(), 1);
    assert_eq!(model.nodes[2].gives, model.find_medium("electricity"), "a switch passes on what feeds it");
    assert_eq!(model.faults.len(), 3);
}

/// Loads texts that may be wrong.
fn try_load(texts: &[(&str, &str)]) -> (Option<Model>, Diagnostics, Sources) {
    let mut sources = Sources::default();
    let texts = texts.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
    let (model, diagnostics) = resolve::load_texts(texts, &mut sources);
    (model, diagnostics, sources)
}

fn codes(diagnostics: &Diagnostics) -> Vec<&'static str> {
    diagnostics.iter().map(|d| d.code).collect()
}

const LARGER: &str = r##"
[aircraft]
name     = "BW-4 Sandling"
maker    = "Brackwater"
revision = 1
date     = 2026-05-02
handbook = "BW-4 Pilot's Handbook"
reference-state = "running"

[display]
speed = "kt"

[medium.de-icing]
name   = "de-icing fluid"
tag    = "DI"
colour = "#224488"
line   = "long-dash-short-dot"

[given.airflow]
name     = "airflow"
normally = false
gives    = "rotation"
fault.fails.said = "is gone"

[system.electrical]
name   = "electrical power"
number = "24"

[information.bank]
name   = "bank"
prefer = ["horizon"]

[item.battery]
name   = "battery"
kind   = "battery"
system = "electrical"
gives  = "electricity"
lasts  = "30 min"
kept-by = ["generator through relay or when master is off"]
capacity = "25 Ah"
likely = 0.25
seen   = { by = "RB", on = 2026-05-02 }

[item.battery.fault.fails]
leads-to = { what = "generator:slips", in = "10 min" }

[item.master]
name   = "master switch"
kind   = "switch"
system = "electrical"
needs  = ["battery"]
resets = ["relay"]

[item.master.panel]
at   = ["4.5 in", "90 mm"]
size = "20 mm"
face = "rocker"

[item.relay]
name   = "relay"
kind   = "relay"
system = "electrical"
needs  = ["battery through master, or generator (sustained)", "two of battery, generator, airflow"]

[item.generator]
name   = "generator"
kind   = "generator"
system = "electrical"
gives  = "electricity"
needs  = [{ any = ["airflow", { from = "battery", when = { master = "on" }, approximate = "It turns slowly." }] }]

[item.generator.fault.slips]
said     = "slips"
weakens  = [{ what = "generator", when = { master = ["on"] } }]
trips    = ["relay"]
ignores  = [{ what = "master", for = ["horizon"] }]
hazard   = ["The belt smokes.", { text = "The belt breaks.", level = "caution", when = { master = "on" } }]
takes    = ["horizon.bank"]
shows    = ["low"]

[item.horizon]
name   = "horizon"
kind   = "instrument"
system = "electrical"
needs  = ["relay"]

[item.horizon.function.bank]
name  = "bank"
tells = [{ information = "bank", how = "indirectly", only = "in steady flight" }]

[item.horizon.fault.tumbles]
loses = ["bank"]

[item.horizon.scale]
span = "0..10 V"
arcs = [{ over = "1..2 V", mark = "red" }]

[alert.low]
name    = "low voltage light"
on      = "horizon"
watches = ["generator"]

[state.parked]
name = "parked"
controls = { master = "off" }

[state.running]
name = "running"
after = "parked"
controls = { master = "on" }
givens = { airflow = true }
in-flight = true
reached-if = ["battery"]

[time]
tachometer = "horizon"
reference = "2400 rpm"

[[inspection]]
name = "yearly"
every = "12 calendar months"
by = "calendar"

[[inspection]]
name = "hourly"
every = "100 h"
by = "time in service"

[panel]
size = ["800 mm", "300 mm"]
walk = ["switches"]

[quantity.idle]
name = "idle speed"
value = "700 rpm"
of = "generator"

[private]
secret = "never to be seen"
"##;

#[test]
fn canonical_text_gives_the_same_text_again_and_holds_nothing_private() {
    let text = resolve::canonical_model(&load(LARGER));
    assert_eq!(resolve::canonical_model(&load(&text)), text);
    assert!(!text.contains("never to be seen"));
    assert!(!text.contains('\r') && text.ends_with('\n'));
}

#[test]
fn canonical_text_says_the_defaults_that_the_meaning_hangs_on() {
    let text = resolve::canonical_model(&load(SMALL));
    for said in [
        "[item.master]\nconducts-in = [\"on\"]\ngives = \"electricity\"\n",
        "positions = [\"off\", \"on\"]\nreachable = \"no\"\nrest = \"off\"\n",
        "[item.clock.fault.fails]\nloses = [\"clock\"]\n",
        "needs = [{ from = \"battery\", through = [\"master\"] }]\n",
    ] {
        assert!(text.contains(said), "{said}\nin\n{text}");
    }
}

#[test]
fn state_takes_its_place_from_the_one_before() {
    let model = load(LARGER);
    let running = &model[model.find_state("running").unwrap()];
    assert_eq!(running.start, Start::After(model.find_state("parked").unwrap()));
    assert_eq!(model.reference_state, model.find_state("running"));
}

#[test]
fn blocked_static_line_misleads_and_blocked_fuel_line_takes() {
    let line = |medium: &str| {
        let text = format!(
            "{SMALL}\n[item.line]\nname = \"line\"\nkind = \"line\"\nsystem = \"electrical\"\ngives = \"{medium}\"\n"
        );
        let model = load(&text);
        let fault = model[model.find_fault("line").unwrap()].clone();
        (fault.loses.len(), fault.misleads.len(), fault.said)
    };
    assert_eq!(line("static-pressure"), (0, 1, Some("is blocked".to_owned())));
    assert_eq!(line("pitot-pressure"), (0, 1, Some("is blocked".to_owned())));
    assert_eq!(line("fuel"), (1, 0, None));
}

/// What a fault says of a thing, and what a thing says of a false medium, with a text that may be no sentence.
fn saying(text: &str, own: &str) -> String {
    format!(
        "{SMALL}on-false = {{ electricity = \"{own}\" }}\n[item.clock.fault.creeps]\n\
        misleads = [{{ what = \"clock\", text = \"{text}\" }}]\nweakens = [{{ what = \"battery\", text = \"{text}\" }}]\n"
    )
}

#[test]
fn what_is_said_of_the_false_and_the_weakened_is_kept_and_must_be_a_sentence() {
    let model = load(&saying("It loses a minute.", "It stops."));
    let fault = &model[model.find_fault("clock:creeps").unwrap()];
    let said = |list: &[ribstitch::model::Entry<_>]| list[0].text.clone();
    assert_eq!(
        (said(&fault.misleads), said(&fault.weakens)),
        (said(&fault.weakens), Some("It loses a minute.".to_owned()))
    );
    let canonical = resolve::canonical_model(&model);
    assert!(canonical.contains("on-false = { electricity = \"It stops.\" }"), "{canonical}");
    assert!(canonical.contains("misleads = [{ text = \"It loses a minute.\", what = \"clock\" }]"), "{canonical}");
    assert_eq!(resolve::canonical_model(&load(&canonical)), canonical);
    let wrong = try_load(&[("m.toml", &saying("loses a minute", "stops"))]).1;
    assert_eq!(codes(&wrong), ["not-a-sentence"; 3]);
    let foreign = saying("It loses a minute.", "It stops.").replace("weakens", "loses");
    assert!(codes(&try_load(&[("m.toml", &foreign)]).1).contains(&"unknown-key"));
}

#[test]
fn inspections_go_by_the_length_of_their_intervals() {
    let one = |name: &str, every: &str, by: &str| {
        format!("[[inspection]]\nname = \"{name}\"\nevery = \"{every}\"\nby = \"{by}\"\n")
    };
    let text = [
        one("a year", "12 calendar months", "calendar"),
        one("a hundred", "100 h", "time in service"),
        one("a month", "30 days", "calendar"),
        one("twenty-five", "25 h", "tachometer"),
        one("a half hour", "30 min", "tachometer"),
    ];
    let model = load(&format!("{SMALL}{}", text.concat().replace("tachometer", "time in service")));
    let names: Vec<&str> = model.inspections.iter().map(|i| i.name.as_str()).collect();
    assert_eq!(names, ["a half hour", "twenty-five", "a hundred", "a month", "a year"]);
}

const TAIL: &str = r#"
[aircraft]
registration = "FM-101"

[add.item.bell]
reason = "The owner wanted a bell."
name   = "bell"
kind   = "horn"
system = "electrical"

[add.item.bell.fault.sticks]
cue = "It rings."

[add.item.clock.panel]
reason = "The clock was moved."
at   = ["1 mm", "2 mm"]
size = "1 mm"
face = "dial"

[replace.item.battery]
reason = "A larger one."
capacity = "40 Ah"

[replace.item.clock]
reason = "A wind-up clock."
needs  = []

[remove.item.master]
reason = "It has none."
"#;

#[test]
fn tail_adds_replaces_and_removes_with_reasons() {
    let (model, diagnostics, sources) = try_load(&[("type.toml", SMALL), ("tails/fm-101.toml", TAIL)]);
    assert!(diagnostics.is_empty(), "{}", snippet::render(&diagnostics, &sources, false));
    let model = model.unwrap();
    let said: Vec<String> = model.changes.iter().map(|c| format!("{} {}", c.kind.word(), c.path)).collect();
    let expected =
        ["add item.bell", "add item.clock.panel", "replace item.battery", "replace item.clock", "remove item.master"];
    assert_eq!(said, expected);
    assert!(model.find_fault("bell:sticks").is_some());
    assert!(model.find_item("master").is_none());
    assert_eq!(model[model.find_item("battery").unwrap()].capacity.as_ref().unwrap().typed, "40 Ah");
    assert_eq!(model.aircraft.registration.as_deref(), Some("FM-101"));
}

#[test]
fn overlay_twice_is_overlay_once() {
    let again = "[tail]\nover = \"fm-101\"\n[replace.item.battery]\nreason = \"A larger one.\"\ncapacity = \"40 Ah\"\n";
    let once = try_load(&[("type.toml", SMALL), ("tails/fm-101.toml", TAIL)]).0.unwrap();
    let twice = try_load(&[("type.toml", SMALL), ("tails/fm-101.toml", TAIL), ("tails/again.toml", again)]).0.unwrap();
    assert_eq!(resolve::canonical_model(&once), resolve::canonical_model(&twice));
}

#[test]
fn name_that_a_tail_removed_is_told_where_it_is_still_used() {
    let tail = "[aircraft]\nregistration = \"FM-101\"\n[remove.item.battery]\nreason = \"It has none.\"\n";
    let (model, diagnostics, sources) = try_load(&[("type.toml", SMALL), ("tails/fm-101.toml", tail)]);
    assert!(model.is_none());
    let first = diagnostics.iter().next().unwrap();
    assert_eq!((first.code, sources.slice(first.primary.span)), ("unknown-name", "battery"));
    assert_eq!(sources.name(first.primary.span.file), "type.toml");
}

#[test]
fn nesting_of_ten_thousand_is_refused_at_its_place() {
    for deep in [
        format!("a = {}", "[".repeat(10_000)),
        format!("[a{}]", ".a".repeat(10_000)),
        "a = { b = ".repeat(10_000),
        format!("a{} = 1", ".a".repeat(10_000)),
    ] {
        let (model, diagnostics, _) = try_load(&[("deep.toml", &deep)]);
        assert!(model.is_none());
        let found = diagnostics.iter().find(|d| d.code == "nested-too-deep").unwrap();
        assert!(found.primary.span.start < 400, "told where it becomes too deep");
    }
}

#[test]
fn name_of_a_megabyte_is_refused_in_a_short_message() {
    let long = "a".repeat(1_000_000);
    let text = format!(
        "{SMALL}\n[item.{long}]\nname = \"x\"\n[item.x]\nneeds = [\"{long}\"]\n{long} = 1\nkind = \"{long}\"\n"
    );
    let (model, diagnostics, _) = try_load(&[("long.toml", &text)]);
    assert!(model.is_none());
    for code in ["bad-id", "unknown-name", "unknown-key", "unknown-kind"] {
        assert!(codes(&diagnostics).contains(&code), "{code}");
    }
    assert!(diagnostics.iter().all(|d| d.message.len() < 400), "messages stay short");
}

#[test]
fn twenty_thousand_unknown_names_are_all_told() {
    let names: Vec<String> = (0..20_000).map(|n| format!("\"no-such-{n}\"")).collect();
    let text = SMALL.replace("\"battery through master\"", &names.join(", "));
    let (_, diagnostics, _) = try_load(&[("many.toml", &text)]);
    assert_eq!(codes(&diagnostics).iter().filter(|c| **c == "unknown-name").count(), 20_000);
}

#[test]
fn diagnostic_as_text_shows_file_line_label_and_help() {
    let text = SMALL.replace("battery through master", "batery through master");
    let (_, diagnostics, sources) = try_load(&[("electrical.toml", &text)]);
    let shown = snippet::render(&diagnostics, &sources, false);
    for part in [
        "error[unknown-name]: there is no item, function or given `batery`",
        "electrical.toml:29:12",
        "help: write `battery`",
    ] {
        assert!(shown.contains(part), "{part}\nin\n{shown}");
    }
    assert!(!shown.contains('\u{1b}') && snippet::render(&diagnostics, &sources, true).contains('\u{1b}'));
}

#[test]
fn reference_page_and_schema_speak_of_every_key() {
    let (page, schema) = (parse::reference(), parse::model_schema().to_string());
    for key in ["kept-by", "conducts-in", "reads-when-absent", "leads-to", "at-least", "reached-if", "restorable"] {
        assert!(page.contains(&format!("| `{key}` |")), "{key} in the page");
        assert!(schema.contains(&format!("\"{key}\":")), "{key} in the schema");
    }
    assert!(page.contains("## `[item.<id>.fault.<id>]`") && page.contains("| `inHg` | pressure |"));
}

#[test]
fn key_twice_in_one_file_shows_both_places() {
    let twice = |old: &str, new: &str| {
        let text = SMALL.replace(old, new);
        let (_, diagnostics, sources) = try_load(&[("model.toml", &text)]);
        let found = diagnostics.iter().next().unwrap().clone();
        let line = |span| sources.line_column(span).0;
        (found.code, line(found.primary.span), found.secondary.first().map(|l| line(l.span)))
    };
    assert_eq!(twice("kind   = \"clock\"", "kind   = \"clock\"\nname = \"watch\""), ("key-twice", 28, Some(26)));
    assert_eq!(twice("[item.clock]", "[item.battery]"), ("key-twice", 25, Some(13)));
}

#[test]
fn tails_are_in_the_reference_and_the_schema() {
    assert!(parse::reference().contains("## `[tail]`") && parse::reference().contains("| `reason` |"));
    let schema = parse::model_schema();
    let properties = schema["properties"].as_object().unwrap();
    assert!(["tail", "add", "replace", "remove"].iter().all(|k| properties.contains_key(*k)));
}

#[cfg(unix)]
#[test]
fn link_out_of_the_folder_is_refused_and_not_read() {
    let outside = tempfile::tempdir().unwrap();
    let inside = tempfile::tempdir().unwrap();
    std::fs::write(outside.path().join("secret.toml"), "secret = \"x\"").unwrap();
    std::fs::write(inside.path().join("model.toml"), SMALL).unwrap();
    std::os::unix::fs::symlink(outside.path().join("secret.toml"), inside.path().join("link.toml")).unwrap();
    std::os::unix::fs::symlink(outside.path(), inside.path().join("folder")).unwrap();
    let mut sources = Sources::default();
    let (model, diagnostics) = resolve::load(inside.path(), &mut sources);
    assert!(model.is_none());
    assert_eq!(codes(&diagnostics), ["path-climbs", "path-climbs"]);
    assert!(sources.iter().all(|(_, file)| !file.text.contains("secret")));
}

#[test]
fn aircraft_is_found_by_bare_name_and_the_near_one_is_offered() {
    let root = tempfile::tempdir().unwrap();
    let tails = root.path().join("aircraft/sandling/tails");
    std::fs::create_dir_all(&tails).unwrap();
    std::fs::write(tails.join("fm-101.toml"), TAIL).unwrap();
    std::fs::write(root.path().join("aircraft/sandling/model.toml"), SMALL).unwrap();
    let tail = resolve::find("FM-101", root.path()).unwrap();
    assert_eq!(tail, tails.join("fm-101.toml"));
    assert!(resolve::find("sandling", root.path()).unwrap().is_dir());
    assert!(resolve::find("sandlign", root.path()).unwrap_err().contains("write `sandling`"));
    let (model, diagnostics) = resolve::load(&tail, &mut Sources::default());
    assert!(model.is_some_and(|m| m.changes.len() == 5) && diagnostics.is_empty());
}

/// The tables of a text, each with what stands under its head.
fn blocks(text: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for line in text.lines() {
        match found.last_mut() {
            Some(block) if !line.starts_with('[') => {
                block.push_str(line);
                block.push('\n');
            }
            _ => found.push(format!("{line}\n")),
        }
    }
    found.retain(|b| !b.trim().is_empty());
    found
}

fn shuffled(seed: u64) -> Vec<(String, String)> {
    let mut blocks = blocks(LARGER);
    let mut state = seed | 1;
    let mut next = |below: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % below.max(1)
    };
    for at in (1..blocks.len()).rev() {
        blocks.swap(at, next(at + 1));
    }
    let mut files = vec![String::new(), String::new(), String::new()];
    for block in blocks {
        let (head, keys) = block.split_once('\n').unwrap();
        let mut keys: Vec<&str> = keys.lines().collect();
        if next(2) == 0 {
            keys.reverse();
        }
        files[next(3)].push_str(&format!("{head}\n{}\n", keys.join("\n")));
    }
    files.into_iter().enumerate().map(|(n, text)| (format!("{n}.toml"), text)).collect()
}

/// Pieces that make texts which come close to being models.
const PIECES: &[&str] = &[
    "[item.a]",
    "[item.b]",
    "[item.a.fault.fails]",
    "[item.a.function.f]",
    "[state.s]",
    "[given.g]",
    "[alert.l]",
    "[tail]",
    "[add.item.c]",
    "[replace.item.a]",
    "[remove.item.b]",
    "[aircraft]",
    "[panel]",
    "[item.a.panel]",
    "[item.a.scale]",
    "[medium.m]",
    "[[inspection]]",
    "over = \"x\"",
    "needs = [\"a\", \"b through a when b is on\"]",
    "needs = [{ at-least = 2, of = [\"a\"] }]",
    "kind = \"switch\"",
    "positions = [\"off\", \"on\"]",
    "after = \"s\"",
    "like = \"s\"",
    "off-with = \"a\"",
    "loses = [\"a\"]",
    "misleads = [{ what = \"a\" }]",
    "ignores = [\"a\"]",
    "size = [\"9 mm\", \"-1e9 m\"]",
    "at = [\"1 mm\"]",
    "span = \"5..1 V\"",
    "lasts = { result = \"endurance\" }",
    "gives = \"fuel\"",
    "tells = [{ information = \"i\" }]",
    "every = \"12 calendar months\"",
    "date = 2026-02-30",
    "name = \"\u{202e}\"",
    "\"",
    "'''",
    "{",
    "]",
];

fn piece() -> impl Strategy<Value = String> {
    let known = prop::sample::select(PIECES).prop_map(str::to_owned);
    prop_oneof![4 => known, 1 => ".{0,12}", 1 => "[a-z]{1,4} = .{0,8}"]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn order_of_files_and_keys_never_matters(seed: u64) {
        let mut sources = Sources::default();
        let (model, diagnostics) = resolve::load_texts(shuffled(seed), &mut sources);
        prop_assert!(diagnostics.is_empty(), "{}", snippet::render(&diagnostics, &sources, false));
        let expected = resolve::canonical_model(&load(LARGER));
        prop_assert_eq!(model.map(|m| resolve::canonical_model(&m)), Some(expected));
    }

    #[test]
    fn nothing_panics_on_any_text(lines in prop::collection::vec(piece(), 0..40), tail: bool) {
        let text = lines.join("\n");
        let name = if tail { "tails/t.toml" } else { "t.toml" };
        let (_, diagnostics, sources) = try_load(&[("m.toml", SMALL), (name, &text)]);
        let _ = snippet::render(&diagnostics, &sources, false);
    }

    #[test]
    fn nothing_panics_on_a_damaged_model(at in 0..LARGER.len(), cut in 0usize..60, put in ".{0,6}") {
        let mut bytes = LARGER.as_bytes().to_vec();
        bytes.splice(at..(at + cut).min(LARGER.len()), put.bytes());
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let (model, diagnostics, sources) = try_load(&[("m.toml", &text)]);
        prop_assert_eq!(model.is_some(), !diagnostics.has_errors());
        let _ = snippet::render(&diagnostics, &sources, false);
        if let Some(model) = model {
            let canonical = resolve::canonical_model(&model);
            let again = try_load(&[("c.toml", &canonical)]).0.map(|m| resolve::canonical_model(&m));
            prop_assert_eq!(again, Some(canonical));
        }
    }

    #[test]
    fn nothing_panics_on_random_bytes(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let (model, _, _) = try_load(&[("m.toml", &text)]);
        prop_assert!(model.is_none());
    }
}
