//! What the README shows is what the program does.

use crate::program::{call, call_in};
use std::collections::BTreeSet;
use std::fs;
use std::sync::OnceLock;

fn readme() -> String {
    fs::read_to_string("README.md").unwrap()
}

/// The indented block that begins with a line, without its indent.
fn block(first: &str) -> Vec<String> {
    let text = readme();
    let lines = text.lines().map(|l| l.strip_prefix("    ").unwrap_or(l));
    let found: Vec<String> =
        lines.skip_while(|l| !l.starts_with(first)).take_while(|l| !l.is_empty()).map(str::to_owned).collect();
    assert!(!found.is_empty(), "no block that begins with `{first}`");
    found
}

/// A copy of the demo in a folder of its own.
fn copy() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    for folder in ["aircraft", "book"] {
        for entry in walkdir::WalkDir::new(folder).into_iter().map(Result::unwrap) {
            let to = home.path().join(entry.path());
            if entry.file_type().is_dir() {
                fs::create_dir_all(to).unwrap();
            } else {
                fs::copy(entry.path(), to).unwrap();
            }
        }
    }
    home
}

/// The page and the suction drawing of the demo's guide, made once.
fn guide() -> &'static (String, String) {
    static MADE: OnceLock<(String, String)> = OnceLock::new();
    MADE.get_or_init(|| {
        let home = copy();
        let made = call_in(home.path(), &["guide", "sandling", "--out", "g"]);
        assert_eq!(made.status, 0, "{}", made.err);
        let read = |name: &str| fs::read_to_string(home.path().join("g").join(name)).unwrap();
        (read("guide.html"), read("drawings/suction.svg"))
    })
}

#[test]
fn the_model_it_shows_stands_in_the_demo() {
    let demo = fs::read_to_string("aircraft/sandling/suction.toml").unwrap();
    let shown = block("[item.low-suction-light]");
    assert_eq!(shown.len(), 8);
    for line in shown {
        assert!(demo.lines().any(|l| l == line), "{line}");
    }
}

#[test]
fn the_row_it_shows_stands_in_the_guide() {
    let page = scraper::Html::parse_document(&guide().0);
    let rows = scraper::Selector::parse("tr").unwrap();
    let squeeze = |text: String| text.split_whitespace().collect::<String>().replace('|', "");
    let rows: BTreeSet<String> = page.select(&rows).map(|r| squeeze(r.text().collect())).collect();
    let text = readme();
    let shown = text.lines().find(|l| l.starts_with("| Low-suction light")).unwrap();
    assert!(rows.contains(&squeeze(shown.to_owned())), "{shown}");
}

#[test]
fn the_diagnostic_it_shows_is_the_one_that_is_given() {
    let home = copy();
    let file = home.path().join("aircraft/sandling/suction.toml");
    let text = fs::read_to_string(&file).unwrap();
    fs::write(&file, text.replace("breaker-warning and suction-switch", "breaker-warnings and suction-switch"))
        .unwrap();
    let said = call_in(home.path(), &["check", "sandling"]).err;
    let text = readme();
    let lines: Vec<&str> = text.lines().map(|l| l.strip_prefix("    ").unwrap_or(l)).collect();
    let begin = lines.iter().position(|l| l.starts_with("error[unknown-name]")).unwrap();
    let shown: Vec<&str> = lines[begin..].iter().copied().take_while(|l| !l.is_empty()).collect();
    let without_numbers = |text: &str| text.chars().filter(|c| !c.is_ascii_digit()).collect::<String>();
    assert!(without_numbers(&said).contains(&without_numbers(&shown.join("\n"))), "{said}");
}

#[test]
fn the_tail_it_shows_stops_at_what_still_hangs_on_what_was_removed() {
    let home = copy();
    let tail = block("[aircraft]").into_iter().chain(block("[remove.")).collect::<Vec<_>>().join("\n");
    fs::write(home.path().join("aircraft/sandling/tails/fm-105.toml"), tail).unwrap();
    let called = call_in(home.path(), &["guide", "fm-105"]);
    assert_eq!(called.status, 1);
    assert!(called.err.contains("nav-indicator") && called.err.contains("instruments.toml"), "{}", called.err);
}

/// Made again by `cargo run -- guide sandling` and a copy of `out/sandling/drawings/suction.svg`.
#[test]
fn its_picture_says_what_the_drawing_says_now() {
    let labels = |svg: &str| -> BTreeSet<String> {
        let page = scraper::Html::parse_fragment(svg);
        let texts = scraper::Selector::parse("text").unwrap();
        page.select(&texts).map(|t| t.text().collect::<String>().replace('\u{a0}', " ")).collect()
    };
    let shown = fs::read_to_string("book/pictures/suction.svg").unwrap();
    assert!(!labels(&guide().1).is_empty());
    assert_eq!(labels(&shown), labels(&guide().1));
}

#[test]
fn the_calls_it_shows_go_well() {
    for line in block("ribstitch whatif") {
        let words: Vec<&str> = line.split("  ").next().unwrap().split_whitespace().skip(1).collect();
        let called = call(&words);
        assert_eq!(called.status, 0, "{line}: {}", called.err);
    }
}
