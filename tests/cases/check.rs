//! Wrong models with the diagnostics they get, and their corrected twins.
//!
//! A case is a folder `tests/check/<code>/` with `bad.toml` and `good.toml`, or with folders `bad/` and `good/`; where one has a folder
//! `tails`, its `tail.toml` is what is read. The wrong one holds what it must get as comments:
//! `# error 12:9-12:20 code: part of the message`, with the file before the place where the case is a folder.
//! `# fill N` makes the file so many bytes long; `# alone` leaves `tests/check/aircraft.toml` out.
use ribstitch::analyse::network::Analysis;
use ribstitch::base::{Diagnostic, Diagnostics, Sources};
use ribstitch::cli::findings;
use ribstitch::model::Model;
use ribstitch::{check, resolve};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/check")
}

/// A case as its files lie in a folder of their own, and what it says it must get.
struct Case {
    folder: tempfile::TempDir,
    read: PathBuf,
    expected: Vec<String>,
}

fn lay_out(code: &str, twin: &str) -> Case {
    let folder = tempfile::tempdir().unwrap();
    let from = root().join(code);
    let mut files = Vec::new();
    if from.join(twin).is_dir() {
        collect(&from.join(twin), Path::new(""), &mut files);
    } else {
        let bytes = std::fs::read(from.join(format!("{twin}.toml"))).unwrap();
        files.push((PathBuf::from(format!("{twin}.toml")), bytes));
    }
    let says = |word: &[u8]| files.iter().any(|(_, bytes)| bytes.windows(word.len()).any(|w| w == word));
    let own = files.iter().any(|(path, bytes)| !path.starts_with("tails") && bytes.starts_with(b"[aircraft]"));
    if !own && !says(b"# alone") && !says(b"[aircraft]\nname") {
        files.push((PathBuf::from("aircraft.toml"), std::fs::read(root().join("aircraft.toml")).unwrap()));
    }
    let mut expected = Vec::new();
    for (path, bytes) in &files {
        let text = String::from_utf8_lossy(bytes).into_owned();
        let marks = text.lines().filter(|l| l.starts_with("# error ") || l.starts_with("# warning "));
        expected.extend(marks.map(|l| l.trim_start_matches("# ").to_owned()));
        put(&folder.path().join(path), fill(bytes, &text));
    }
    let tail = folder.path().join("tails/tail.toml");
    let read = if tail.exists() { tail } else { folder.path().to_owned() };
    Case { folder, read, expected }
}

fn collect(folder: &Path, below: &Path, files: &mut Vec<(PathBuf, Vec<u8>)>) {
    let mut entries: Vec<_> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        let name = below.join(path.file_name().unwrap());
        if path.is_dir() {
            collect(&path, &name, files);
        } else {
            files.push((name, std::fs::read(&path).unwrap()));
        }
    }
}

fn fill(bytes: &[u8], text: &str) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    let wanted = text.lines().find_map(|l| l.strip_prefix("# fill ")).and_then(|n| n.parse::<usize>().ok());
    if let Some(wanted) = wanted {
        bytes.push(b'#');
        bytes.resize(wanted.max(bytes.len()), b'-');
    }
    bytes
}

fn put(path: &Path, bytes: Vec<u8>) {
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(path, bytes).unwrap();
}

fn read(case: &Case) -> (Option<Model>, Diagnostics, Sources) {
    let mut sources = Sources::default();
    let (model, mut found) = resolve::load(&case.read, &mut sources);
    if let Some(model) = &model {
        found.append(check::model::check(model, &Analysis::new(model), &sources));
    }
    found.sort(&sources);
    (model, found, sources)
}

/// A diagnostic as a case writes it, with the whole message.
fn written(d: &Diagnostic, case: &Case, sources: &Sources) -> String {
    let root = case.folder.path().to_string_lossy().into_owned();
    let name = sources.name(d.primary.span.file);
    let name = name.strip_prefix(&root).unwrap_or(name).trim_start_matches('/');
    let file = match name {
        "bad.toml" => String::new(),
        "" => ". ".to_owned(),
        name => format!("{name} "),
    };
    let end = ribstitch::base::Span { start: d.primary.span.end, ..d.primary.span };
    let ((l, c), (m, e)) = (sources.line_column(d.primary.span), sources.line_column(end));
    format!("{} {file}{l}:{c}-{m}:{e} {}: {}", d.severity.word(), d.code, d.message)
}

fn agree(expected: &[String], found: &[String]) -> bool {
    let mut left: Vec<&String> = found.iter().collect();
    let all = expected.iter().all(|e| {
        let (head, part) = e.split_once(": ").unwrap_or((e, ""));
        let fits = |f: &&String| f.split_once(": ").is_some_and(|(h, message)| h == head && message.contains(part));
        left.iter().position(fits).map(|at| left.remove(at)).is_some()
    });
    all && left.is_empty()
}

fn cases() -> Vec<String> {
    let entries = std::fs::read_dir(root()).unwrap().map(|e| e.unwrap().path());
    let mut names: Vec<String> =
        entries.filter(|p| p.is_dir()).map(|p| p.file_name().unwrap().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn every_code_has_a_case_and_every_case_a_code() {
    let cases: BTreeSet<String> = cases().into_iter().collect();
    let codes: BTreeSet<String> = check::registry().into_iter().map(|r| r.code.to_owned()).collect();
    assert_eq!(cases, codes);
}

#[test]
fn wrong_models_get_exactly_what_they_say() {
    let mut wrong = Vec::new();
    for code in cases() {
        let case = lay_out(&code, "bad");
        let (_, found, sources) = read(&case);
        let lines: Vec<String> = found.iter().map(|d| written(d, &case, &sources)).collect();
        let of_code = found.iter().any(|d| d.code == code);
        let helped = found.iter().all(|d| d.help.as_ref().is_some_and(|h| !h.is_empty()));
        if !agree(&case.expected, &lines) || !of_code || !helped {
            wrong.push(format!("== {code}\n# {}", lines.join("\n# ")));
        }
    }
    assert!(wrong.is_empty(), "these get something else:\n{}", wrong.join("\n"));
}

#[test]
fn corrected_twins_get_nothing_and_survive_their_canonical_text() {
    let mut wrong = Vec::new();
    for code in cases() {
        let case = lay_out(&code, "good");
        let (model, found, sources) = read(&case);
        if !found.is_empty() {
            wrong.push(format!("== {code}\n{}", findings::human(&found, &sources, false)));
        }
        let Some(model) = model else { continue };
        let text = resolve::canonical_model(&model);
        let (again, _) = resolve::load_texts(vec![("model.toml".to_owned(), text.clone())], &mut Sources::default());
        if again.is_none_or(|m| resolve::canonical_model(&m) != text) {
            wrong.push(format!("== {code}: the canonical text is not read back as it was"));
        }
    }
    assert!(wrong.is_empty(), "these are not right:\n{}", wrong.join("\n"));
}

#[test]
fn every_code_is_explained() {
    for code in check::codes() {
        let text = check::explain(code).unwrap();
        assert!(text.starts_with(code) && text.len() > code.len() + 40, "{code}");
    }
    assert_eq!(check::explain("no-such-code"), None);
}
