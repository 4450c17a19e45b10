//! Every phrase with every sort of noun and list, in a reference file that is read by eye.

use ribstitch::compose::phrase::{Argument, NounPhrase, all, say};
use ribstitch::compose::words::Words;
use ribstitch::doc::{Inline, plain_text};
use std::path::Path;

/// Holds a text against `tests/reference/<name>`. With `RIBSTITCH_UPDATE` set, writes it there instead.
pub fn matches_reference(name: &str, text: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference").join(name);
    if std::env::var_os("RIBSTITCH_UPDATE").is_some() {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, text).unwrap();
    }
    let old = std::fs::read_to_string(&path).unwrap_or_default();
    let differs = old.lines().zip(text.lines()).enumerate().find(|(_, (a, b))| a != b);
    if let Some((at, (old, new))) = differs {
        panic!(
            "tests/reference/{name}, line {}:\n  was: {old}\n  is:  {new}\nset RIBSTITCH_UPDATE to take the new one",
            at + 1
        );
    }
    assert_eq!(old.lines().count(), text.lines().count(), "tests/reference/{name} has another length");
}

const NOUNS: &str = r#"
[aircraft]
name = "Test"
maker = "Test"
revision = 1
date = 2026-05-02
handbook = "Handbook"
[system.power]
name = "electrical power"
number = "24"
[state.cruise]
name = "cruise"
in-flight = true
[item.alternator]
name = "alternator"
kind = "alternator"
gives = "electricity"
system = "power"
[item.elt]
name = "ELT"
kind = "transmitter"
system = "power"
[item.landing-lights]
name = "landing lights"
plural = true
kind = "light"
system = "power"
[item.vacuum-pump]
name = "vacuum pump"
kind = "pump"
gives = "suction"
system = "power"
[item.transponder]
name = "transponder"
kind = "radio"
system = "power"
[item.transponder.function.altitude]
name = "altitude reporting"
[item.hour-meter]
name = "hour meter"
kind = "hour-meter"
system = "power"
[item.unit]
name = "unit"
kind = "computer"
system = "power"
"#;

fn words() -> Words {
    let mut sources = ribstitch::base::Sources::default();
    let texts = vec![("nouns.toml".to_owned(), NOUNS.to_owned())];
    let (model, diagnostics) = ribstitch::resolve::load_texts(texts, &mut sources);
    Words::new(&model.unwrap_or_else(|| panic!("{diagnostics:?}")))
}

const LISTED: [&str; 7] =
    ["vacuum-pump", "landing-lights", "alternator", "elt", "hour-meter", "unit", "transponder.altitude"];

/// What stands for an argument, by its name.
fn argument<'a>(words: &'a Words, id: &str, name: &str, how: &How<'a>) -> Argument<'a> {
    match name {
        "thing" | "control" | "source" | "information" => how.noun.into(),
        "state" => words.find("cruise").unwrap().into(),
        "medium" => words.find("electricity").unwrap().into(),
        "system" => words.find("power").unwrap().into(),
        "things" | "others" => how.list.clone().into(),
        "first" | "sustained" => how.flag.into(),
        "fact" => Inline::text("30 min").into(),
        "text" if id.starts_with("see") => Inline::text("handbook 3.4").into(),
        "text" => Inline::text("The needle falls to zero.").into(),
        "position" => Inline::Code("OPEN".to_owned()).into(),
        other => Inline::text(format!("<{other}>")).into(),
    }
}

struct How<'a> {
    noun: &'a NounPhrase,
    list: Vec<&'a NounPhrase>,
    flag: bool,
}

fn render(words: &Words, id: &str, variables: &[String], how: &How<'_>) -> Vec<Inline> {
    let names = variables.iter().map(|v| -> &'static str { v.clone().leak() });
    let arguments: Vec<(&'static str, Argument<'_>)> = names.map(|n| (n, argument(words, id, n, how))).collect();
    say(id, &arguments)
}

/// Each noun with a list of two; then the first noun with lists of every length and with the flags set.
fn ways(words: &Words) -> Vec<How<'_>> {
    let noun = |id: &str| words.find(id).unwrap();
    let list = |length: usize| LISTED.iter().take(length).map(|id| noun(id)).collect();
    let nouns = ["vacuum-pump", "landing-lights", "alternator", "elt"];
    let mut ways: Vec<How<'_>> = nouns.iter().map(|id| How { noun: noun(id), list: list(2), flag: false }).collect();
    ways.extend([0, 1, 2, 7].map(|n| How { noun: noun("vacuum-pump"), list: list(n), flag: n == 1 }));
    ways.push(How { noun: noun("landing-lights"), list: list(2), flag: true });
    ways
}

#[test]
fn every_phrase_reads_well_with_every_noun_and_list() {
    let words = words();
    let mut text = String::new();
    for (id, variables) in all() {
        text.push_str(&format!("{id}\n"));
        let mut lines: Vec<String> = Vec::new();
        for how in ways(&words) {
            let line = plain_text(&render(&words, &id, &variables, &how));
            lines.extend((!lines.contains(&line)).then_some(line));
        }
        lines.iter().for_each(|line| text.push_str(&format!("    {line}\n")));
    }
    matches_reference("phrases.txt", &text);
}

#[test]
fn articles_follow_the_sound_of_the_name() {
    let words = words();
    let said = |id: &str| words.find(id).unwrap();
    let a: Vec<&str> = LISTED.iter().map(|id| said(id).a.as_str()).collect();
    assert_eq!(
        a,
        [
            "a vacuum pump",
            "landing lights",
            "an alternator",
            "an ELT",
            "an hour meter",
            "a unit",
            "an altitude reporting of the transponder"
        ]
    );
    assert_eq!(said("electricity").the, "electricity");
    assert_eq!(said("power").the, "the electrical power system");
}

#[test]
fn phrase_never_gives_a_name_as_bare_text() {
    let words = words();
    let pump = words.find("vacuum-pump").unwrap();
    for (id, variables) in all() {
        let how = How { noun: pump, list: vec![pump], flag: true };
        let bare = |i: &Inline| matches!(i, Inline::Text(t) if t.to_lowercase().contains("vacuum pump"));
        assert!(!render(&words, &id, &variables, &how).iter().any(bare), "{id}");
    }
}
