//! What the program promises: exit statuses, all or nothing, the same bytes twice, no panic.

use crate::program::{call, call_in, program};
use std::collections::BTreeMap;
use std::fs;
use std::io::Read;
use std::path::Path;

/// A small aircraft with its own book, in a folder of its own.
fn new_aircraft() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    let made = call_in(home.path(), &["new", "dinghy"]);
    assert_eq!(made.status, 0, "{}{}", made.out, made.err);
    home
}

/// Every file under a folder, by name, with its bytes.
fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let files = walkdir::WalkDir::new(folder).into_iter().map(Result::unwrap).filter(|e| e.file_type().is_file());
    let named = files
        .map(|e| (e.path().strip_prefix(folder).unwrap().to_string_lossy().into_owned(), fs::read(e.path()).unwrap()));
    named.collect()
}

#[test]
fn new_writes_a_model_a_book_and_a_guide_that_check_accepts() {
    let home = new_aircraft();
    let files = contents(home.path());
    assert!(
        files.contains_key("dinghy/aircraft.toml") && files.contains_key("dinghy/guide/guide.html"),
        "{:?}",
        files.keys()
    );
    let checked = call_in(home.path(), &["check", "dinghy", "--strict"]);
    assert_eq!(checked.status, 0, "{}", checked.err);
}

#[test]
fn new_refuses_a_folder_that_holds_something() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("mine.txt"), "mine").unwrap();
    let refused = call_in(home.path(), &["new", "."]);
    assert_eq!(refused.status, 3);
    assert!(refused.err.contains("mine.txt"), "{}", refused.err);
    assert_eq!(contents(home.path()).len(), 1);
}

#[test]
fn the_same_bytes_come_out_twice_and_from_any_folder() {
    let home = new_aircraft();
    let guide = |folder: &Path, aircraft: &str, out: &str| {
        let made = call_in(folder, &["guide", aircraft, "--out", out]);
        assert_eq!(made.status, 0, "{}", made.err);
        contents(&folder.join(out))
    };
    let first = guide(home.path(), "dinghy", "one");
    let second = guide(home.path(), "./dinghy", "two/deep");
    let third = guide(&home.path().join("dinghy"), ".", "../three");
    assert!(first.len() >= 3 && first == second && first == third);
    assert_eq!(first, contents(&home.path().join("dinghy/guide")));
}

#[test]
fn a_guide_is_replaced_whole_and_a_model_with_errors_leaves_the_old_one() {
    let home = new_aircraft();
    let model = home.path().join("dinghy/aircraft.toml");
    let old = contents(&home.path().join("dinghy/guide"));
    let text = fs::read_to_string(&model).unwrap();
    fs::write(&model, text.replace("needs = [\"battery through", "needs = [\"batery through")).unwrap();
    let failed = call_in(home.path(), &["guide", "dinghy", "--out", "dinghy/guide"]);
    assert_eq!(failed.status, 1, "{}", failed.err);
    assert!(failed.err.contains("batery") && failed.err.contains("aircraft.toml:"), "{}", failed.err);
    assert_eq!(contents(&home.path().join("dinghy/guide")), old);
    fs::write(&model, text.replace("revision = 1", "revision = 2")).unwrap();
    let made = call_in(home.path(), &["guide", "dinghy", "--out", "dinghy/guide"]);
    assert_eq!(made.status, 0, "{}", made.err);
    let new = contents(&home.path().join("dinghy/guide"));
    assert!(new != old && new.keys().eq(old.keys()));
    assert_eq!(fs::read_dir(home.path().join("dinghy")).unwrap().count(), 3);
}

#[test]
fn a_foreign_file_in_the_place_of_a_guide_is_named_and_kept() {
    let home = new_aircraft();
    let place = home.path().join("dinghy/guide");
    fs::write(place.join("my notes.txt"), "keep me").unwrap();
    let before = contents(&place);
    let refused = call_in(home.path(), &["guide", "dinghy", "--out", "dinghy/guide"]);
    assert_eq!(refused.status, 3);
    assert!(refused.err.contains("my notes.txt"), "{}", refused.err);
    assert_eq!(contents(&place), before);
}

#[test]
#[cfg(unix)]
fn a_link_in_the_place_of_a_guide_is_not_followed() {
    let home = new_aircraft();
    let before = contents(&home.path().join("dinghy/guide"));
    std::os::unix::fs::symlink("dinghy/guide", home.path().join("link")).unwrap();
    let refused = call_in(home.path(), &["guide", "dinghy", "--out", "link/"]);
    assert_eq!(refused.status, 3);
    assert!(refused.err.contains("link"), "{}", refused.err);
    assert!(home.path().join("link").is_symlink());
    assert_eq!(contents(&home.path().join("dinghy/guide")), before);
}

#[test]
#[cfg(unix)]
fn a_folder_that_cannot_be_written_fails_as_the_machine_and_leaves_all() {
    use std::os::unix::fs::PermissionsExt;
    let home = new_aircraft();
    let shut = home.path().join("shut");
    fs::create_dir(&shut).unwrap();
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o555)).unwrap();
    let may_write_anyway = fs::File::create(shut.join("probe")).is_ok(); // the superuser may
    let failed = call_in(home.path(), &["guide", "dinghy", "--out", "shut/guide"]);
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o755)).unwrap();
    if !may_write_anyway {
        assert_eq!(failed.status, 3, "{}", failed.err);
        assert!(contents(&shut).is_empty());
    }
    fs::write(home.path().join("file"), "a file").unwrap();
    let failed = call_in(home.path(), &["guide", "dinghy", "--out", "file/guide"]);
    assert_eq!(failed.status, 3, "{}", failed.err);
    assert_eq!(fs::read_to_string(home.path().join("file")).unwrap(), "a file");
}

#[test]
fn exit_statuses_are_as_promised() {
    let cases: [(&[&str], u8); 17] = [
        (&["--version"], 0),
        (&["help"], 0),
        (&["schema"], 0),
        (&["check", "templates/starter"], 0),
        (&["whatif", "templates/starter", "--fail", "no-such"], 1),
        (&["whatif", "templates/starter", "--fail", "battery", "--state", "no-such"], 1),
        (&["trace", "templates/starter", "no-such"], 1),
        (&["tach", "templates/starter", "--leg", "1200:60"], 1),
        (&[], 2),
        (&["no-such-verb"], 2),
        (&["whatif", "templates/starter"], 2),
        (&["whatif", "templates/starter", "--set", "master-switch=off"], 2),
        (&["whatif", "templates/starter", "--then", "master-switch=off"], 0),
        (&["trace", "templates/starter", "battery", "--picture", "battery.png"], 2),
        (&["trace", "templates/starter", "electrical"], 1),
        (&["check", "no-such-aircraft"], 2),
        (&["guide", "templates/starter", "--formats", "paper"], 2),
    ];
    for (arguments, status) in cases {
        let called = call(arguments);
        assert_eq!(called.status, status, "{arguments:?}: {}", called.err);
        assert_eq!(status == 0, called.err.is_empty(), "{arguments:?}: {}", called.err);
        assert!(status == 0 || called.out.is_empty(), "{arguments:?}: {}", called.out);
    }
}

#[test]
fn an_unknown_id_is_shown_at_its_characters_with_the_one_that_may_be_meant() {
    let called = call(&["whatif", "templates/starter", "--fail", "battrey"]);
    assert!(called.err.contains("battrey") && called.err.contains("`battery`"), "{}", called.err);
}

#[test]
fn findings_are_json_and_sarif_too_with_their_places() {
    let home = new_aircraft();
    let model = home.path().join("dinghy/aircraft.toml");
    let text = fs::read_to_string(&model).unwrap().replacen("kind = \"lamp\"", "kind = \"lampp\"", 1);
    fs::write(&model, &text).unwrap();
    let line = text.lines().position(|l| l.contains("lampp")).unwrap() + 1;
    let called = call_in(home.path(), &["check", "dinghy", "--format", "json"]);
    assert_eq!(called.status, 1);
    let json: serde_json::Value = serde_json::from_str(&called.out).unwrap();
    let finding = &json["diagnostics"][0];
    assert_eq!(
        (finding["line"].as_u64(), finding["severity"].as_str()),
        (Some(line as u64), Some("error")),
        "{json:#}"
    );
    assert!(finding["help"].as_str().unwrap().contains("lamp"), "{json:#}");
    let called = call_in(home.path(), &["check", "dinghy", "--format", "sarif"]);
    let sarif: serde_json::Value = serde_json::from_str(&called.out).unwrap();
    let place = &sarif["runs"][0]["results"][0]["locations"][0]["physicalLocation"];
    assert_eq!(place["region"]["startLine"].as_u64(), Some(line as u64), "{sarif:#}");
}

#[test]
fn only_one_chapter_is_written_and_an_unknown_one_is_wrong_usage() {
    let home = new_aircraft();
    let called = call_in(home.path(), &["guide", "dinghy", "--only", "no-such", "--out", "g"]);
    assert_eq!(called.status, 2);
    assert!(called.err.contains("first-look"), "{}", called.err);
    let called = call_in(home.path(), &["guide", "dinghy", "--only", "first-look", "--out", "g"]);
    assert_eq!(called.status, 0, "{}", called.err);
}

/// A reader that goes away (`ribstitch states … | head -1`) is no failure.
#[test]
fn a_broken_pipe_ends_quietly() {
    let mut child = program(Path::new("."))
        .args(["schema"])
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let mut said = String::new();
    child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    assert_eq!((child.wait().unwrap().code(), said.as_str()), (Some(0), ""));
}

/// Nothing from the surroundings reaches a guide.
#[test]
fn the_environment_does_not_reach_the_guide() {
    let home = new_aircraft();
    let made = |name: &str, variables: &[(&str, &str)]| {
        let done = program(home.path())
            .args(["guide", "dinghy", "--out", name])
            .envs(variables.iter().copied())
            .output()
            .unwrap();
        assert!(done.status.success());
        contents(&home.path().join(name))
    };
    let other = [("LANG", "de_DE.UTF-8"), ("TZ", "Asia/Tokyo"), ("SOURCE_DATE_EPOCH", "1"), ("COLUMNS", "20")];
    assert_eq!(made("a", &[]), made("b", &other));
}

/// Every code that is printed can be explained.
#[test]
fn every_code_that_is_shown_is_explained() {
    for arguments in [
        &[
            "whatif",
            "templates/starter",
            "--fail",
            "no-such",
            "battery:no-such",
            "--set",
            "battery=on",
            "master-switch=up",
        ][..],
        &["whatif", "templates/starter", "--fail", "battery", "--state", "no-such"],
        &["trace", "templates/starter", "no-such"],
    ] {
        let err = call(arguments).err;
        let codes = err.lines().filter_map(|l| l.strip_prefix("error[")?.split_once(']').map(|(code, _)| code));
        let codes: Vec<&str> = codes.collect();
        assert!(!codes.is_empty(), "{err}");
        for code in codes {
            let explained = call(&["explain", code]);
            assert_eq!(explained.status, 0, "{}", explained.err);
        }
    }
    assert_eq!(call(&["explain", "error[audit]"]).status, 0);
    assert_eq!(call(&["explain", "no-such-code"]).status, 2);
}

/// Neither a pipe that nobody writes to, nor a loop of links, nor a file without end holds the program up.
#[test]
#[cfg(unix)]
fn odd_things_in_a_model_folder_hold_nothing_up() {
    use std::os::unix::fs::symlink;
    let home = new_aircraft();
    let folder = home.path().join("dinghy");
    let pipe = std::process::Command::new("mkfifo").args([folder.join("p.toml"), folder.join("book/02-p.md")]).status();
    if pipe.is_ok_and(|s| s.success()) {
        assert_eq!(call_in(home.path(), &["check", "dinghy"]).status, 0);
    }
    symlink(".", folder.join("loop")).unwrap();
    symlink("/dev/zero", folder.join("zero.toml")).unwrap();
    let said = call_in(home.path(), &["check", "dinghy"]);
    assert_eq!((said.status, said.err.matches("error[path-climbs]").count()), (1, 2), "{}", said.err);
}

/// A chapter with seventy thousand findings is told of in a moment: some are drawn, all are counted and listed as JSON.
#[test]
fn many_findings_are_counted_and_listed_and_some_are_drawn() {
    let home = new_aircraft();
    let chapter = home.path().join("dinghy/book/02-long.md");
    fs::write(&chapter, format!("# Long\n\n{}\n", "<b>".repeat(70_000))).unwrap();
    let said = call_in(home.path(), &["check", "dinghy"]);
    assert_eq!((said.status, said.err.matches("error[raw-markup]").count()), (1, 200));
    assert!(said.err.contains("70000 errors"), "{}", said.err);
    let json = call_in(home.path(), &["check", "dinghy", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(json["diagnostics"].as_array().unwrap().len(), 70_000);
    fs::write(&chapter, format!("# Long\n\n{}\n", "[a](<claim:battery needs battery>) ".repeat(30_000))).unwrap();
    let said = call_in(home.path(), &["check", "dinghy"]);
    assert!(said.err.contains("error[book-too-long]"), "{}", said.err);
}

#[test]
fn new_takes_an_empty_folder_that_one_stands_in_and_leaves_nothing_where_it_fails() {
    let home = tempfile::tempdir().unwrap();
    let made = call_in(home.path(), &["new", "."]);
    assert_eq!(made.status, 0, "{}", made.err);
    let mut names: Vec<_> = fs::read_dir(home.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
    names.sort();
    assert_eq!(names, ["aircraft.toml", "book", "guide"]);
    let before = contents(home.path());
    assert_eq!(call_in(home.path(), &["new", "aircraft.toml/x"]).status, 3);
    assert_eq!(contents(home.path()), before);
}

#[test]
fn a_tail_is_found_from_within_its_folder_too() {
    let here = fs::canonicalize("aircraft/sandling/tails").unwrap();
    let asked = ["whatif", "fm-104.toml", "--fail", "com-2", "--json"];
    let within = call_in(&here, &asked);
    assert_eq!(within.status, 0, "{}", within.err);
    let named = call(&["whatif", "fm-104", "--fail", "com-2", "--json"]);
    assert_eq!(within.out, named.out);
}

/// What is typed is shown, never obeyed by the terminal.
#[test]
fn control_characters_in_names_do_not_reach_the_terminal() {
    let home = tempfile::tempdir().unwrap();
    for arguments in [&["check", "no\u{1b}[31m"][..], &["new", "x\u{1b}[31m"], &["trace", "x\u{1b}[31m", "a\u{1b}b"]] {
        let called = call_in(home.path(), arguments);
        assert!(!called.out.contains('\u{1b}') && !called.err.contains('\u{1b}'), "{arguments:?}");
    }
}

#[test]
fn an_id_that_is_something_else_is_told_what_it_is() {
    for (id, is) in [
        ("electrical", "a system"),
        ("parked", "a state"),
        ("battery-voltage", "a piece of information"),
        ("electricity", "a medium"),
        ("panel-lamp:shorted", "a fault"),
    ] {
        let called = call(&["trace", "templates/starter", id]);
        assert_eq!(called.status, 1);
        assert!(called.err.contains(&format!("`{id}` is {is}")), "{}", called.err);
    }
}
