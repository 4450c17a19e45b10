//! Files and texts to raw trees: which files belong to an aircraft, and what may not be read.

use super::{Gathered, parse};
use crate::base::{Diagnostic, Diagnostics, FileId, Id, Sources, Span};
use crate::parse::printed::shown;
use crate::parse::{LARGEST_FILE, RawTable};
use std::io::Read;
use std::path::{Path, PathBuf};

/// A folder with more files than this is no model.
const MOST_FILES: usize = 1000;

/// Reads the files that belong to an aircraft.
pub fn gather(path: &Path, sources: &mut Sources, diagnostics: &mut Diagnostics) -> Option<Gathered> {
    if path.is_dir() {
        return folder(path, sources, diagnostics);
    }
    let file = open(path, sources, diagnostics)?;
    let table = parse(file, sources, diagnostics)?;
    if table.get("tail").is_none() && !in_tails(path) {
        return Some(Gathered { at: Span::new(file, 0..0), files: vec![(file, table)], tails: Vec::new() });
    }
    let home = path.parent().unwrap_or(Path::new(""));
    let mut next = |name: &str, sources: &mut Sources, diagnostics: &mut Diagnostics| {
        open(&home.join(format!("{name}.toml")), sources, diagnostics)
    };
    let tails = chain(stem(path), file, table, &mut Reading { sources, diagnostics, open: &mut next })?;
    let of_type = if in_tails(path) { home.parent().map(Path::to_owned) } else { None };
    let of_type = of_type.filter(|p| !p.as_os_str().is_empty()).unwrap_or_else(|| PathBuf::from("."));
    Some(Gathered { tails, ..folder(&of_type, sources, diagnostics)? })
}

/// As [`gather`], from texts in memory.
pub fn gather_texts(
    texts: Vec<(String, String)>,
    sources: &mut Sources,
    diagnostics: &mut Diagnostics,
) -> Option<Gathered> {
    let mut files = Vec::new();
    let mut tails: Vec<(String, FileId, RawTable)> = Vec::new();
    for (name, text) in texts {
        let (is_tail, name_of_tail) = (in_tails(Path::new(&name)), stem(Path::new(&name)));
        let file = sources.add(name, text);
        let Some(table) = parse(file, sources, diagnostics) else { continue };
        if is_tail || table.get("tail").is_some() {
            tails.push((name_of_tail, file, table));
        } else {
            files.push((file, table));
        }
    }
    let at = Span::new(files.first().map_or(FileId(0), |f| f.0), 0..0);
    let over: Vec<String> = tails.iter().filter_map(|t| over_of(&t.2).map(|(name, _)| name)).collect();
    let outer = tails.iter().rfind(|t| !over.contains(&t.0)).or(tails.last()).cloned();
    let Some((name, file, table)) = outer else { return Some(Gathered { files, tails: Vec::new(), at }) };
    let mut next = |name: &str, sources: &mut Sources, diagnostics: &mut Diagnostics| {
        let found = tails.iter().find(|t| t.0 == name).map(|t| t.1);
        if found.is_none() {
            diagnostics.push(missing_file(sources, &format!("tails/{name}.toml")));
        }
        found
    };
    let tails = chain(name, file, table, &mut Reading { sources, diagnostics, open: &mut next })?;
    Some(Gathered { files, tails, at })
}

fn in_tails(path: &Path) -> bool {
    path.parent().and_then(Path::file_name).is_some_and(|n| n == "tails")
}

fn stem(path: &Path) -> String {
    path.file_stem().map(|s| s.to_string_lossy().into_owned()).unwrap_or_default()
}

/// The tail that a tail is over, with its place.
fn over_of(table: &RawTable) -> Option<(String, Span)> {
    let entry = table.table("tail")?.get("over")?;
    entry.value.as_text().map(|t| (t.to_owned(), entry.value.inner_span(0..t.len())))
}

/// Opens the tail of a name.
type Open<'a> = dyn FnMut(&str, &mut Sources, &mut Diagnostics) -> Option<FileId> + 'a;

struct Reading<'a> {
    sources: &'a mut Sources,
    diagnostics: &'a mut Diagnostics,
    open: &'a mut Open<'a>,
}

/// The tails from the type outward, ending with the one that is meant.
fn chain(name: String, file: FileId, table: RawTable, reading: &mut Reading<'_>) -> Option<Vec<(FileId, RawTable)>> {
    let mut names = vec![name];
    let mut found = vec![(file, table)];
    while let Some((over, span)) = found.last().and_then(|(_, table)| over_of(table)) {
        if names.contains(&over) {
            reading.diagnostics.push(ring(&names, &over, span));
            return None;
        }
        if Id::new(&over.to_lowercase()).is_err() {
            reading.diagnostics.push(climbs(span, &over));
            return None;
        }
        let file = (reading.open)(&over, reading.sources, reading.diagnostics)?;
        let table = parse(file, reading.sources, reading.diagnostics)?;
        names.push(over);
        found.push((file, table));
    }
    found.reverse();
    Some(found)
}

fn ring(names: &[String], over: &str, span: Span) -> Diagnostic {
    let from = names.iter().position(|n| n == over).unwrap_or(0);
    let ring: Vec<&str> = names.iter().skip(from).map(String::as_str).chain([over]).collect();
    Diagnostic::error(
        "overlay-ring",
        span,
        format!("these tails are over each other in a ring: {}", ring.join(" over ")),
    )
    .help("let one of them be over the type itself: take its `over` out")
}

fn climbs(span: Span, name: &str) -> Diagnostic {
    Diagnostic::error("path-climbs", span, format!("`{}` is not the name of a tail of this folder", shown(name)))
        .help("write the bare name of a file in `tails`, without folder and ending")
}

/// The files of a type's folder.
fn folder(root: &Path, sources: &mut Sources, diagnostics: &mut Diagnostics) -> Option<Gathered> {
    let mut files = Vec::new();
    let mut at = None;
    for path in model_files(root, sources, diagnostics) {
        let Some(file) = open(&path, sources, diagnostics) else { continue };
        at = at.or(Some(file));
        if let Some(table) = parse(file, sources, diagnostics) {
            files.push((file, table));
        }
    }
    let Some(at) = at else {
        if !diagnostics.has_errors() {
            diagnostics.push(no_files(sources, root));
        }
        return None;
    };
    Some(Gathered { files, tails: Vec::new(), at: Span::new(at, 0..0) })
}

fn no_files(sources: &mut Sources, root: &Path) -> Diagnostic {
    let file = sources.add(name_of(root), "");
    Diagnostic::error("no-model-files", Span::new(file, 0..0), "there is no file `*.toml` in this folder")
        .help("put the model files here, or name the folder that holds them")
}

/// All `*.toml` below a folder, sorted, without those in `tails`. Links are refused, so that nothing outside is read.
fn model_files(root: &Path, sources: &mut Sources, diagnostics: &mut Diagnostics) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let walk = walkdir::WalkDir::new(root).max_depth(8).sort_by_file_name().into_iter();
    for entry in walk.filter_entry(|e| e.depth() != 1 || e.file_name() != "tails") {
        let entry = match entry {
            Ok(entry) => entry,
            Err(error) => {
                let path = error.path().unwrap_or(root).to_owned();
                diagnostics.push(cannot_read(sources, &path, &error.to_string()));
                continue;
            }
        };
        let is_model = entry.path().extension().is_some_and(|e| e == "toml");
        if entry.depth() > 0 && entry.path_is_symlink() {
            diagnostics.push(link(sources, entry.path()));
        } else if is_model && entry.file_type().is_file() {
            found.push(entry.into_path());
        }
    }
    if found.len() > MOST_FILES {
        let why = format!("there are more than {MOST_FILES} model files in this folder");
        diagnostics.push(cannot_read(sources, root, &why).help("keep the files of one aircraft alone in it"));
        found.clear();
    }
    found
}

fn link(sources: &mut Sources, path: &Path) -> Diagnostic {
    let file = sources.add(name_of(path), "");
    Diagnostic::error("path-climbs", Span::new(file, 0..0), "this is a link, and links may lead out of the folder")
        .help("put the file itself into the folder")
}

/// Reads a file into the sources.
fn open(path: &Path, sources: &mut Sources, diagnostics: &mut Diagnostics) -> Option<FileId> {
    let name = name_of(path);
    let bytes = match read_bytes(path) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            diagnostics.push(missing_file(sources, &name));
            return None;
        }
        Err(error) => {
            diagnostics.push(cannot_read(sources, path, &error.to_string()));
            return None;
        }
    };
    if bytes.len() > LARGEST_FILE {
        let file = sources.add(name, "");
        diagnostics.push(crate::parse::too_large(file, bytes.len()));
        return None;
    }
    match String::from_utf8(bytes) {
        Ok(text) => Some(sources.add(name, text)),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let byte = error.as_bytes().get(at).copied().unwrap_or(0);
            let file = sources.add(name, String::from_utf8_lossy(error.as_bytes()));
            diagnostics.push(not_utf8(Span::new(file, at..at + '\u{fffd}'.len_utf8()), byte));
            None
        }
    }
}

/// At most one byte more than is allowed is read.
fn read_bytes(path: &Path) -> std::io::Result<Vec<u8>> {
    if !std::fs::metadata(path)?.is_file() {
        return Err(std::io::Error::other("it is not a plain file"));
    }
    let mut bytes = Vec::new();
    std::fs::File::open(path)?.take(LARGEST_FILE as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn not_utf8(span: Span, byte: u8) -> Diagnostic {
    Diagnostic::error("not-utf8", span, format!("the byte 0x{byte:02x} is not UTF-8 text"))
        .help("save the file as UTF-8 with your editor")
}

fn missing_file(sources: &mut Sources, name: &str) -> Diagnostic {
    let file = sources.add(name, "");
    Diagnostic::error("no-such-file", Span::new(file, 0..0), "there is no such file")
        .help("mend the name, or make the file")
}

fn cannot_read(sources: &mut Sources, path: &Path, why: &str) -> Diagnostic {
    let file = sources.add(name_of(path), "");
    Diagnostic::error("cannot-read", Span::new(file, 0..0), format!("this cannot be read: {why}"))
        .help("make it a plain file that you may read")
}

/// A path as its author would say it, with `/`.
fn name_of(path: &Path) -> String {
    let text = path.to_string_lossy().replace('\\', "/");
    text.strip_prefix("./").map(str::to_owned).unwrap_or(text)
}
