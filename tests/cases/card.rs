//! The quick-reference card: it fits, says what the model says, and is read back from its own bytes.

use super::diagram::demo;
use crate::program::call_in;
use ribstitch::analyse::network::Analysis;
use ribstitch::audit::{Basis, Examiner};
use ribstitch::base::Sources;
use ribstitch::compose;
use ribstitch::doc::{Block, Cell, Document, Inline, Meta, Row, TableKind};
use ribstitch::model::Model;
use ribstitch::render::pdf::card::{self, CardError};
use ribstitch::render::pdf::fonts::Fonts;
use ribstitch::resolve;
use sha2::{Digest, Sha256};
use std::path::Path;
use std::process::Command;

/// The demo's card and what it was made from.
fn made() -> (Document, String) {
    let model = demo();
    let canonical = resolve::canonical_model(&model);
    (composed(&model, &canonical), canonical)
}

fn composed(model: &Model, canonical: &str) -> Document {
    let print: String = Sha256::digest(canonical.as_bytes()).iter().map(|b| format!("{b:02x}")).collect();
    let meta = Meta {
        title: "Study guide".to_owned(),
        type_name: model.aircraft.name.clone(),
        date: model.aircraft.date.clone(),
        revision: model.aircraft.revision,
        confirmed: model.items.iter().filter(|i| i.seen.is_some()).count(),
        items: model.items.len(),
        facts_fingerprint: print,
        canonical: canonical.to_owned(),
        language: "en".to_owned(),
        ..Meta::default()
    };
    compose::card(model, &Analysis::new(model), &Sources::default(), &meta)
}

fn written(document: &Document) -> Vec<u8> {
    card::write(document, &mut Fonts::new()).unwrap()
}

fn rows(document: &mut Document, kind: TableKind) -> &mut Vec<Row> {
    let blocks = document.chapters.iter_mut().flat_map(|c| &mut c.blocks);
    let table = blocks.filter_map(|b| if let Block::Table(t) = b { Some(t) } else { None }).find(|t| t.kind == kind);
    &mut table.unwrap().rows
}

#[test]
fn the_card_of_the_demo_fits_and_agrees_with_its_model() {
    let (document, canonical) = made();
    let (letters, left) = card::measured(&document, &mut Fonts::new()).unwrap();
    assert!(letters >= 7.5 && left >= 0.0, "{letters} pt, {left} pt left");
    let source = Basis::read(&canonical).unwrap();
    let report = Examiner::new(&source).card(&written(&document));
    assert!(report.findings.is_empty(), "{:#?}", report.findings);
    assert!(report.proved.cells > 120 && report.proved.numbers > 50, "{:?}", report.proved);
    assert_eq!(report.proved.notices, 2);
}

#[test]
fn the_same_card_has_the_same_bytes() {
    let (document, _) = made();
    assert!(written(&document) == written(&document));
}

/// What an instructor expects of the Sandling: common practice, no source.
#[test]
fn the_card_tells_what_a_pilot_asks_of_it() {
    let (mut document, _) = made();
    let text = |cell: &Cell| cell.lines.iter().map(|l| ribstitch::doc::plain_text(l)).collect::<Vec<_>>().join("\n");
    let losses = rows(&mut document, TableKind::CardLosses).clone();
    let row = |id: &str| losses.iter().find(|r| r.about == id).unwrap_or_else(|| panic!("no row of {id}"));
    let pump = row("vacuum-pump");
    assert!(text(&pump.cells[1]).contains("attitude indicator, heading indicator"));
    assert!(text(&pump.cells[2]).contains("turn coordinator (indirectly)"));
    assert!(text(&row("alternator").cells[1]).starts_with("After 30 min, as the battery is spent: main bus"));
    assert!(text(&row("static-line").cells[1]).starts_with("False: airspeed indicator, altimeter"));
    assert!(losses.iter().any(|r| r.about == "main-bus") && losses.iter().any(|r| r.about == "avionics-bus"));
    assert!(losses.iter().all(|r| r.about != "elt-battery"), "the model leaves it off the card");
}

#[test]
fn a_card_that_was_changed_is_found_out() {
    let (document, canonical) = made();
    let source = Basis::read(&canonical).unwrap();
    let mut examiner = Examiner::new(&source);
    let text = |t: &str| vec![Inline::text(t)];
    let mut codes = |change: &dyn Fn(&mut Document)| {
        let mut other = document.clone();
        change(&mut other);
        let found = examiner.card(&written(&other)).findings;
        found.into_iter().map(|f| f.code).collect::<Vec<_>>()
    };
    let loss = |d: &mut Document, id: &str, column: usize, line: &str| {
        let row = rows(d, TableKind::CardLosses).iter_mut().find(|r| r.about == id).unwrap();
        row.cells[column] = Cell::line(text(line));
    };
    let cases: [(&str, &dyn Fn(&mut Document)); 11] = [
        ("name-missing", &|d| loss(d, "vacuum-pump", 1, "Lost: attitude indicator")),
        ("name-extra", &|d| loss(d, "vacuum-pump", 1, "Lost: attitude indicator, heading indicator, turn coordinator")),
        ("unreadable", &|d| loss(d, "vacuum-pump", 1, "Lost: attitude indicater, heading indicator")),
        ("unreadable", &|d| loss(d, "vacuum-pump", 1, "Nearly everything")),
        ("line-missing", &|d| loss(d, "vacuum-pump", 2, "Bank: turn coordinator (indirectly).")),
        ("time-wrong", &|d| {
            loss(
                d,
                "alternator",
                1,
                "After 31 min, as the battery is spent: main bus with all that is lost with it, clock, hot battery bus",
            );
        }),
        ("name-missing", &|d| {
            loss(d, "alternator", 1, "After 30 min, as the battery is spent: clock, hot battery bus")
        }),
        ("row-missing", &|d| rows(d, TableKind::CardLosses).retain(|r| r.about != "main-bus")),
        ("number-wrong", &|d| rows(d, TableKind::CardNumbers)[0].cells[1] = Cell::line(text("31 min"))),
        ("name-missing", &|d| drop(rows(d, TableKind::CardBreakers).remove(3))),
        ("fingerprint-wrong", &|d| d.meta.facts_fingerprint = "0".repeat(64)),
    ];
    for (at, (code, change)) in cases.iter().enumerate() {
        let found = codes(change);
        assert!(found.contains(code), "change {at}: {found:?} instead of {code}");
    }
    let (model, other) = (demo(), canonical.replacen("30 min", "31 min", 1));
    let stale = written(&composed(&model, &other));
    assert!(examiner.card(&stale).findings.iter().any(|f| f.code == "copy-wrong"));
}

#[test]
fn a_card_that_is_too_full_says_by_how_much_and_which_rows_take_most() {
    let (mut document, _) = made();
    let losses = rows(&mut document, TableKind::CardLosses);
    losses.extend(losses.clone());
    let Err(CardError::TooFull { lines, largest }) = card::write(&document, &mut Fonts::new()) else { panic!() };
    assert!((5..200).contains(&lines), "{lines}");
    assert_eq!(largest[0].0, "main-bus");
}

#[test]
fn what_to_cut_is_shown_at_its_place_and_cutting_it_helps() {
    let home = tempfile::tempdir().unwrap();
    assert_eq!(call_in(home.path(), &["new", "dinghy"]).status, 0);
    let file = home.path().join("dinghy/aircraft.toml");
    let small = std::fs::read_to_string(&file).unwrap();
    let numbers = |off: &str| {
        let one = |n: usize| {
            format!(
                "\n[quantity.number-{n}]\nname = \"number {n} of many, with a name of some length\"\nvalue = \"{n} kt\"\n{off}"
            )
        };
        small.clone() + &(1..=120).map(one).collect::<String>()
    };
    std::fs::write(&file, numbers("")).unwrap();
    let full = call_in(home.path(), &["guide", "dinghy", "--formats", "card", "--out", "g"]);
    assert_eq!(full.status, 1, "{}", full.err);
    assert!(full.err.contains("error[card-too-full]") && full.err.contains("aircraft.toml:"), "{}", full.err);
    assert!(full.err.contains("off-card = true"), "{}", full.err);
    assert!(!home.path().join("g").exists());
    std::fs::write(&file, numbers("off-card = true\n")).unwrap();
    let fits = call_in(home.path(), &["guide", "dinghy", "--formats", "card", "--out", "g"]);
    assert_eq!(fits.status, 0, "{}", fits.err);
    assert!(home.path().join("g/card.pdf").is_file());
}

/// Poppler and qpdf of the system, where they are installed.
#[test]
fn other_readers_find_a_tagged_a5_sheet_with_two_sides_inside_its_margins() {
    let (document, _) = made();
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("card.pdf");
    std::fs::write(&file, written(&document)).unwrap();
    let said = |program: &str, arguments: &[&str]| {
        let done = Command::new(program).args(arguments).arg(&file).arg("-").output();
        done.map(|d| String::from_utf8_lossy(&d.stdout).into_owned())
            .map_err(|_| eprintln!("{program} is not installed: not read"))
    };
    if let Ok(info) = Command::new("pdfinfo").arg(&file).output() {
        let info = String::from_utf8_lossy(&info.stdout).into_owned();
        for line in ["Tagged:          yes", "Pages:           2", "Page size:       419.53 x 595.28 pts"] {
            assert!(info.contains(line), "{info}");
        }
    }
    if let Ok(boxes) = said("pdftotext", &["-bbox"]) {
        let number = |line: &str, key: &str| -> Option<f64> {
            line.split_once(&format!("{key}=\""))?.1.split_once('"')?.0.parse().ok()
        };
        let mut count = 0;
        for line in boxes.lines().filter(|l| l.contains("<word ")) {
            let [left, top, right, bottom] = ["xMin", "yMin", "xMax", "yMax"].map(|k| number(line, k).unwrap());
            assert!(left >= 19.5 && right <= 400.1 && top >= 15.0 && bottom <= 580.0, "{line}");
            count += 1;
        }
        assert!(count > 400, "{count} words");
    }
    if let Ok(checked) = Command::new("qpdf").arg("--check").arg(&file).output() {
        assert!(checked.status.success() && checked.stderr.is_empty(), "{}", String::from_utf8_lossy(&checked.stderr));
    }
}

/// Bytes that are broken anywhere are a finding, and never the end of the program.
#[test]
fn broken_bytes_are_told_and_stop_nothing() {
    let (document, canonical) = made();
    let bytes = written(&document);
    let source = Basis::read(&canonical).unwrap();
    let mut examiner = Examiner::new(&source);
    for end in (0..bytes.len()).step_by(bytes.len() / 60 + 1) {
        assert!(!examiner.card(&bytes[..end]).findings.is_empty(), "cut at {end}");
    }
    for at in (9..bytes.len()).step_by(bytes.len() / 150 + 1) {
        let mut broken = bytes.clone();
        broken[at] ^= 0x55;
        let _ = examiner.card(&broken);
    }
    assert!(Path::new("aircraft/sandling").is_dir());
}
