//! The house rules, read from the sources themselves: which module uses which, sizes, names, weight.
//!
//! The table of modules is read from `DEVELOPERS.md`, so that page and code cannot disagree.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test stops at what must not be
#![allow(clippy::float_cmp)] // where a test wants the very number, it says so

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Lines of a file, at most.
const LONGEST_FILE: usize = 800;
/// Lines of a function, at most.
const LONGEST_FUNCTION: usize = 70;
/// Half of all functions are at most so long.
const MEDIAN_FUNCTION: usize = 10;
/// Parameters of a function, `self` aside, at most.
const MOST_PARAMETERS: usize = 5;
/// Crates that `Cargo.toml` names for the program, at most.
const MOST_DIRECT: usize = 30;
/// Crates in the tree of the program, at most.
const MOST_CRATES: usize = 190;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn read(path: impl AsRef<Path>) -> String {
    let path = root().join(path);
    fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// Files under a folder with one of these endings, by name, relative to the root.
fn files(folder: &str, endings: &[&str]) -> Vec<PathBuf> {
    let all = walkdir::WalkDir::new(root().join(folder)).sort_by_file_name().into_iter().flatten();
    let fits = |p: &Path| p.extension().is_some_and(|e| endings.iter().any(|want| e == *want));
    let ours = all.filter(|e| e.file_type().is_file() && fits(e.path())).map(walkdir::DirEntry::into_path);
    let ours = ours.filter(|p| !p.components().any(|c| c.as_os_str() == "target"));
    ours.filter_map(|p| p.strip_prefix(root()).map(Path::to_owned).ok()).collect()
}

fn rust_files() -> Vec<PathBuf> {
    ["src", "tests", "benches", "fuzz"].iter().flat_map(|f| files(f, &["rs"])).collect()
}

/// The text with comments, strings and character literals blanked out; every line break stays where it is.
fn blanked(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let (mut out, mut i) = (String::with_capacity(text.len()), 0);
    while i < chars.len() {
        let end = token_end(&chars, i);
        let kept = end == i + 1;
        for c in &chars[i..end] {
            out.push(if kept || *c == '\n' { *c } else { ' ' });
        }
        i = end;
    }
    out
}

/// Where the comment, string or character literal that begins here ends; the next character if none begins.
fn token_end(chars: &[char], i: usize) -> usize {
    let next = |k: usize| chars.get(i + k).copied().unwrap_or('\0');
    let before = i.checked_sub(1).map_or(' ', |b| chars[b]);
    let in_word = before.is_alphanumeric() || before == '_';
    match (chars[i], next(1)) {
        ('/', '/') => find(chars, i, |k| chars[k] == '\n'),
        ('/', '*') => find(chars, i + 2, |k| chars[k - 1] == '*' && chars[k] == '/' && k > i + 2) + 1,
        ('r', '"' | '#') if !in_word => raw_string_end(chars, i),
        ('b', '"') if !in_word => quoted_end(chars, i + 1, '"'),
        ('"', _) => quoted_end(chars, i, '"'),
        ('\'', '\\') => quoted_end(chars, i, '\''),
        ('\'', _) if next(2) == '\'' => i + 3,
        _ => i + 1,
    }
}

fn find(chars: &[char], from: usize, is: impl Fn(usize) -> bool) -> usize {
    (from..chars.len()).find(|k| is(*k)).unwrap_or(chars.len())
}

fn quoted_end(chars: &[char], quote: usize, mark: char) -> usize {
    let mut k = quote + 1;
    while k < chars.len() && chars[k] != mark {
        k += if chars[k] == '\\' { 2 } else { 1 };
    }
    (k + 1).min(chars.len())
}

fn raw_string_end(chars: &[char], r: usize) -> usize {
    let hashes = chars[r + 1..].iter().take_while(|c| **c == '#').count();
    if chars.get(r + 1 + hashes) != Some(&'"') {
        return r + 1;
    }
    let closes =
        |k: usize| chars[k] == '"' && chars[k + 1..].iter().take(hashes).filter(|c| **c == '#').count() == hashes;
    (find(chars, r + 2 + hashes, closes) + 1 + hashes).min(chars.len())
}

/// The shipped part of a file: without its tests, blanked.
fn shipped(path: &Path) -> String {
    if path.file_name().is_some_and(|n| n == "tests.rs") || path.components().any(|c| c.as_os_str() == "tests") {
        return String::new();
    }
    let text = blanked(&read(path));
    let tests = text.find("#[cfg(test)]\nmod ").unwrap_or(text.len());
    text[..tests].to_owned()
}

/// `src/cli/text/mod.rs` → `cli`.
fn module_of(path: &Path) -> String {
    let inside = path.strip_prefix("src").expect("a file of src");
    let first = inside.components().next().expect("a name").as_os_str().to_string_lossy().into_owned();
    first.trim_end_matches(".rs").to_owned()
}

/// First names after `crate::`, groups in braces included.
fn crate_uses(text: &str) -> BTreeSet<String> {
    let mut uses = BTreeSet::new();
    for (at, _) in text.match_indices("crate::") {
        let rest = &text[at + "crate::".len()..];
        match rest.strip_prefix('{') {
            Some(group) => uses.extend(first_names(group)),
            None => uses.extend(identifier(rest)),
        }
    }
    uses
}

fn first_names(group: &str) -> Vec<String> {
    let (mut depth, mut names, mut fresh) = (0, Vec::new(), true);
    for (i, c) in group.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => fresh = true,
            c if fresh && c.is_alphabetic() => {
                names.extend(identifier(&group[i..]));
                fresh = false;
            }
            _ => {}
        }
    }
    names
}

fn identifier(text: &str) -> Option<String> {
    let name: String = text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
    (!name.is_empty()).then_some(name)
}

/// Module to the modules that it may use, from the table in `DEVELOPERS.md`.
fn table() -> BTreeMap<String, BTreeSet<String>> {
    let modules: BTreeSet<String> = files("src", &["rs"]).iter().map(|p| module_of(p)).collect();
    let page = read("DEVELOPERS.md");
    let mut table = BTreeMap::new();
    for row in page.lines().filter(|l| l.starts_with("| `src/")) {
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let name = cells[1].trim_matches('`').trim_start_matches("src/").trim_end_matches('/').trim_end_matches(".rs");
        let may = cells[3];
        let all = may.contains("all stages") || may.contains("everything");
        let words: BTreeSet<&str> = may.split(|c: char| !c.is_alphanumeric()).collect();
        let allowed = modules.iter().filter(|m| all && *m != "main" || words.contains(m.as_str())).cloned().collect();
        table.insert(name.to_owned(), allowed);
    }
    table
}

#[test]
fn every_module_stands_in_the_table_of_the_house() {
    let table = table();
    for path in files("src", &["rs"]) {
        let module = module_of(&path);
        assert!(module == "lib" || table.contains_key(&module), "`{module}` is not in the table of DEVELOPERS.md");
    }
    assert_eq!(table["audit"], BTreeSet::from(["base".to_owned()]), "the audit shares no code with what it checks");
}

#[test]
fn modules_use_only_what_the_table_allows() {
    let table = table();
    let mut wrong = Vec::new();
    for path in files("src", &["rs"]) {
        let module = module_of(&path);
        let Some(allowed) = table.get(&module) else { continue };
        let used = crate_uses(&shipped(&path));
        let used = used.iter().filter(|u| **u != module && table.contains_key(*u) && !allowed.contains(*u));
        wrong.extend(used.map(|u| format!("{} uses {u}", path.display())));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_path_climbs_out_of_its_module_by_super() {
    let mut wrong = Vec::new();
    for path in files("src", &["rs"]) {
        let inside = path.strip_prefix("src").unwrap();
        let names_module = inside.file_name().is_some_and(|n| n == "mod.rs");
        let depth = inside.components().count() - usize::from(names_module);
        let climbs = "super::".repeat(depth);
        if shipped(&path).contains(&climbs) && module_of(&path) != "lib" {
            wrong.push(path);
        }
    }
    assert!(wrong.is_empty(), "say `crate::`: {wrong:#?}");
}

#[test]
fn files_are_of_a_size_that_can_be_read() {
    let long = |p: &PathBuf| (read(p).lines().count() > LONGEST_FILE).then(|| p.display().to_string());
    let long: Vec<String> = rust_files().iter().filter_map(long).collect();
    assert!(long.is_empty(), "over {LONGEST_FILE} lines: {long:?}");
}

/// One function: where, how many lines, how many parameters.
struct Function {
    name: String,
    lines: usize,
    parameters: usize,
}

fn functions(text: &str) -> Vec<Function> {
    let bytes = text.as_bytes();
    let begins = text
        .match_indices("fn ")
        .filter(|(i, _)| *i == 0 || !bytes[i - 1].is_ascii_alphanumeric() && bytes[i - 1] != b'_');
    begins.filter_map(|(i, _)| function(text, i)).collect()
}

fn function(text: &str, at: usize) -> Option<Function> {
    let name = identifier(&text[at + 3..])?;
    let open = at + text[at..].find('(')?;
    let close = closing(text, open)?;
    let body = close + text[close..].find(['{', ';'])?;
    let end = if text[body..].starts_with('{') { closing(text, body)? } else { body };
    let lines = text[at..=end].matches('\n').count() + 1;
    Some(Function { name, lines, parameters: parameters(&text[open + 1..close]) })
}

/// The bracket that closes the one here.
fn closing(text: &str, open: usize) -> Option<usize> {
    let mut depth = 0_usize;
    for (i, c) in text[open..].char_indices() {
        match c {
            '(' | '{' | '[' => depth += 1,
            ')' | '}' | ']' => {
                depth -= 1;
                if depth == 0 {
                    return Some(open + i);
                }
            }
            _ => {}
        }
    }
    None
}

/// Parameters between the brackets, `self` aside: names with a type at depth nothing.
fn parameters(text: &str) -> usize {
    let (mut depth, mut parts, mut part) = (0_i32, Vec::new(), String::new());
    let text = text.replace("->", "  ");
    for c in text.chars() {
        match c {
            '(' | '[' | '{' | '<' => depth += 1,
            ')' | ']' | '}' | '>' => depth -= 1,
            _ => {}
        }
        if c == ',' && depth == 0 { parts.push(std::mem::take(&mut part)) } else { part.push(c) }
    }
    parts.push(part);
    let is_self = |p: &str| {
        p.split(':')
            .next()
            .is_some_and(|n| n.split_whitespace().last().is_some_and(|w| w.trim_start_matches('&') == "self"))
    };
    parts.iter().filter(|p| !p.trim().is_empty() && !is_self(p)).count()
}

#[test]
fn functions_are_short_and_have_few_parameters() {
    let (mut wrong, mut lengths) = (Vec::new(), Vec::new());
    for path in files("src", &["rs"]) {
        for f in functions(&shipped(&path)) {
            lengths.push(f.lines);
            if f.lines > LONGEST_FUNCTION || f.parameters > MOST_PARAMETERS {
                let Function { name, lines, parameters } = f;
                wrong.push(format!("{}: {name}: {lines} lines, {parameters} parameters", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    lengths.sort_unstable();
    let median = lengths[lengths.len() / 2];
    assert!(median <= MEDIAN_FUNCTION, "half of the functions have more than {median} lines");
}

#[test]
fn the_reader_of_functions_counts_right() {
    let text = blanked("fn a(&self, b: &[u8], c: BTreeMap<A, B>) -> X {\n  \"}\"; '{'; // }\n  x\n}\nfn b();\n");
    let found = functions(&text);
    assert_eq!((found[0].name.as_str(), found[0].lines, found[0].parameters), ("a", 4, 2));
    assert_eq!((found[1].lines, found[1].parameters), (1, 0));
}

#[test]
fn the_reader_of_uses_sees_groups_and_plain_paths() {
    let uses = crate_uses("use crate::{base::{Id, Span}, model};\nlet x = crate::doc::Table;");
    assert_eq!(uses, ["base", "doc", "model"].map(str::to_owned).into());
}

#[test]
fn public_things_are_documented() {
    let (mut all, mut bare) = (0, Vec::new());
    for path in files("src", &["rs"]) {
        let text = read(&path);
        let lines: Vec<&str> = text[..text.find("#[cfg(test)]\nmod ").unwrap_or(text.len())].lines().collect();
        for (i, line) in lines.iter().enumerate().filter(|(_, l)| is_public(l)) {
            all += 1;
            let above = lines[..i].iter().rev().find(|l| !l.trim_start().starts_with("#["));
            if !above.is_some_and(|l| l.trim_start().starts_with("///") || l.trim_end().ends_with(']')) {
                bare.push(format!("{}:{}: {}", path.display(), i + 1, line.trim()));
            }
        }
    }
    let share = 1.0 - bare.len() as f64 / f64::from(all);
    assert!(share >= 0.95, "{:.1} % of public things have a comment: {bare:#?}", share * 100.0);
}

fn is_public(line: &str) -> bool {
    let words = ["fn", "struct", "enum", "trait", "const", "type", "static"];
    let rest = line.trim_start().strip_prefix("pub ").unwrap_or("");
    rest.split_whitespace().next().is_some_and(|w| words.contains(&w))
}

#[test]
fn modules_say_what_they_are_for() {
    let bare = |p: &PathBuf| !read(p).starts_with("//!");
    let bare: Vec<PathBuf> = rust_files().into_iter().filter(bare).collect();
    assert!(bare.is_empty(), "no `//!` at the top: {bare:#?}");
}

#[test]
fn nothing_stops_the_program_in_the_middle() {
    let stops = [".unwrap()", ".expect(", "panic!(", "todo!(", "unimplemented!(", "dbg!("];
    let mut wrong = Vec::new();
    for path in files("src", &["rs"]) {
        let text = shipped(&path);
        let lines = text
            .lines()
            .enumerate()
            .filter(|(_, l)| !l.contains("self.expect(") && stops.iter().any(|s| l.contains(s)));
        wrong.extend(lines.map(|(i, l)| format!("{}:{}: {}", path.display(), i + 1, l.trim())));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The other rules read a file up to its tests, so there is nothing after them.
#[test]
fn tests_stand_at_the_end_of_their_file() {
    let begins = "#[cfg(test)]\nmod tests {";
    let mut wrong = Vec::new();
    for path in files("src", &["rs"]) {
        let text = blanked(&read(&path));
        let Some(at) = text.find(begins) else { continue };
        let end = closing(&text, at + begins.len() - 1).expect("a bracket that closes the tests");
        if !text[end + 1..].trim().is_empty() {
            wrong.push(path);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Same input, same bytes: no order of a hash table, no clock, and no surroundings outside `cli`.
#[test]
fn nothing_that_differs_from_run_to_run_is_used() {
    let differs = ["HashMap", "HashSet", "SystemTime", "Instant::", "env::", "available_parallelism"];
    let mut wrong = Vec::new();
    for path in files("src", &["rs"]).into_iter().filter(|p| module_of(p) != "cli") {
        let text = shipped(&path);
        wrong.extend(differs.iter().filter(|w| text.contains(*w)).map(|w| format!("{}: {w}", path.display())));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn modules_are_named_for_what_they_do() {
    let vague = ["utils", "util", "helpers", "helper", "manager", "common", "misc"];
    for path in rust_files() {
        for part in path.components() {
            let name = part.as_os_str().to_string_lossy();
            assert!(!vague.contains(&name.trim_end_matches(".rs")), "{}", path.display());
        }
    }
}

#[test]
fn the_project_speaks_of_itself_alone() {
    // Spelled in two halves, so that this list does not find itself.
    let words = [
        ("/wo", "rk/"),
        ("/tm", "p/"),
        ("/ho", "me/"),
        ("/ro", "ot/"),
        ("C:", "\\"),
        ("local", "host"),
        ("127.0", ".0.1"),
        ("index.crates", ".io"),
        ("static.crates", ".io"),
        ("pypi", ".org"),
        ("sand", "boxed machine"),
        ("TO", "DO"),
        ("FIX", "ME"),
        ("X", "XX"),
    ];
    let mut wrong = Vec::new();
    let folders = ["src", "tests", "benches", "fuzz", "aircraft", "book", "templates", ".ci"];
    let endings = ["rs", "toml", "md", "html", "css", "js", "csv", "run", "txt", "svg"];
    let tops =
        ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "Cargo.toml", "clippy.toml", ".ci/run"].map(PathBuf::from);
    for path in folders.iter().flat_map(|f| files(f, &endings)).chain(tops) {
        let Ok(text) = fs::read_to_string(root().join(&path)) else { continue };
        let found = words.iter().map(|(a, b)| format!("{a}{b}")).filter(|w| text.contains(w.as_str()));
        wrong.extend(found.map(|w| format!("{}: {w}", path.display())));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_top_level_holds_what_was_agreed() {
    let agreed = [
        ".ci",
        ".editorconfig",
        ".gitignore",
        "CHANGELOG.md",
        "Cargo.lock",
        "Cargo.toml",
        "DEVELOPERS.md",
        "LICENSE-APACHE",
        "LICENSE-MIT",
        "README.md",
        "aircraft",
        "benches",
        "book",
        "clippy.toml",
        "fuzz",
        "licences",
        "rustfmt.toml",
        "src",
        "templates",
        "tests",
    ];
    let made = [".git", "target", "out"];
    for entry in fs::read_dir(root()).unwrap().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        assert!(agreed.contains(&name.as_str()) || made.contains(&name.as_str()), "`{name}` is not of the top level");
    }
    for name in ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE-MIT", "LICENSE-APACHE", ".ci/run"] {
        assert!(root().join(name).is_file(), "`{name}` is missing");
    }
}

#[test]
fn the_readme_is_short() {
    let lines = read("README.md").lines().count();
    assert!(lines < 150, "the README has {lines} lines");
}

#[test]
fn ci_runs_the_test_command_of_the_readme() {
    let readme = read("README.md");
    let command =
        readme.lines().map(str::trim).find(|l| l.starts_with("cargo test")).expect("the README has a test command");
    assert!(read(".ci/run").lines().any(|l| l.trim() == command), "`.ci/run` does not run `{command}`");
}

fn cargo() -> Command {
    let mut cargo = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    cargo.current_dir(root());
    cargo
}

#[test]
fn the_program_is_light() {
    let manifest: toml::Table = read("Cargo.toml").parse().unwrap();
    let direct = manifest["dependencies"].as_table().unwrap().len();
    assert!(direct <= MOST_DIRECT, "{direct} direct dependencies");
    let out =
        cargo().args(["tree", "--edges", "normal", "--prefix", "none", "--offline", "--locked"]).output().unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let tree = String::from_utf8(out.stdout).unwrap();
    let crates: BTreeSet<String> = tree.lines().map(|l| l.trim_end_matches(" (*)").to_owned()).collect();
    assert!(crates.len() > direct && crates.len() <= MOST_CRATES, "{} crates", crates.len());
}

#[test]
fn there_is_one_version_of_usvg() {
    let count = read("Cargo.lock").lines().filter(|l| *l == "name = \"usvg\"").count();
    assert_eq!(count, 1);
}

#[test]
fn sources_are_formatted() {
    let Ok(out) = cargo().args(["fmt", "--check", "--", "--color", "never"]).output() else { return };
    let said = String::from_utf8_lossy(&out.stderr);
    if said.contains("is not installed") || said.contains("no such command") {
        return; // a toolchain without the formatter
    }
    assert!(out.status.success(), "run `cargo fmt`:\n{}{said}", String::from_utf8_lossy(&out.stdout));
}
