//! Where the aircraft that was named, and its book, are found.

use super::console::Stop;
use crate::base::text::did_you_mean;
use std::fs;
use std::path::{Component, Path, PathBuf};

/// Folder in which aircraft are found by name.
const HANGAR: &str = "aircraft";

/// Folder of the tails of a type.
const TAILS: &str = "tails";

/// An aircraft that was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Aircraft {
    /// Type folder or tail file.
    pub path: PathBuf,
    /// As it was named in the call.
    pub named: String,
    /// The type folder.
    pub folder: PathBuf,
}

/// Finds an aircraft: a type folder, a tail file, or the name of either under `aircraft/`.
///
/// # Errors
/// [`Stop::Usage`] where there is none, with the one that may be meant; where a name means several.
pub fn find(named: &Path) -> Result<Aircraft, Stop> {
    let said = named.to_string_lossy().into_owned();
    if named.is_dir() || named.extension().is_some_and(|e| e == "toml") && named.is_file() {
        return Ok(found(named.to_owned(), said));
    }
    if named.exists() {
        return Err(Stop::Usage(format!("`{said}` is neither a folder nor a TOML file")));
    }
    let known = all_in(Path::new(HANGAR));
    let meant: Vec<&PathBuf> =
        known.iter().filter(|(name, _)| name.eq_ignore_ascii_case(&said)).map(|(_, path)| path).collect();
    match meant.as_slice() {
        [one] => Ok(found((*one).clone(), said)),
        [] => Err(Stop::Usage(not_found(&said, &known))),
        several => {
            let paths: Vec<String> = several.iter().map(|p| format!("`{}`", p.display())).collect();
            Err(Stop::Usage(format!("`{said}` may mean {}: name one by its path", paths.join(" or "))))
        }
    }
}

fn not_found(said: &str, known: &[(String, PathBuf)]) -> String {
    let near = did_you_mean(said, known.iter().map(|(name, _)| name.as_str()));
    let more = match near {
        Some(near) => format!("; did you mean `{near}`?"),
        None if known.is_empty() => {
            format!("; there is no folder `{HANGAR}` here (`ribstitch new FOLDER` writes a first model)")
        }
        None => {
            let names: Vec<&str> = known.iter().map(|(name, _)| name.as_str()).collect();
            format!("; under `{HANGAR}` there are: {}", names.join(", "))
        }
    };
    format!("there is no aircraft `{said}`{more}")
}

/// Types and tails of a folder of aircraft, by name.
fn all_in(hangar: &Path) -> Vec<(String, PathBuf)> {
    let mut all = Vec::new();
    for folder in entries(hangar).into_iter().filter(|p| p.is_dir()) {
        let tails = entries(&folder.join(TAILS));
        let tails = tails.into_iter().filter(|p| p.extension().is_some_and(|e| e == "toml") && p.is_file());
        all.extend(tails.filter_map(|p| Some((p.file_stem()?.to_string_lossy().into_owned(), p))));
        if let Some(name) = folder.file_name() {
            all.push((name.to_string_lossy().into_owned(), folder));
        }
    }
    all
}

/// What stands in a folder, by name; nothing if it cannot be read.
fn entries(folder: &Path) -> Vec<PathBuf> {
    let read = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut paths: Vec<PathBuf> = read.map(|e| e.path()).collect();
    paths.sort();
    paths
}

fn found(path: PathBuf, named: String) -> Aircraft {
    let path = with_its_folder(path);
    let folder = if path.is_dir() { path.clone() } else { type_folder(&path) };
    Aircraft { path, named, folder }
}

/// A tail that is named from within its own folder `tails` shows by its path that it is one.
fn with_its_folder(path: PathBuf) -> PathBuf {
    let here = path.parent().is_some_and(|p| p.components().all(|c| c == Component::CurDir));
    let within = || fs::canonicalize(".").is_ok_and(|here| here.ends_with(TAILS));
    match path.file_name() {
        Some(file) if here && path.is_file() && within() => Path::new("..").join(TAILS).join(file),
        _ => path,
    }
}

/// The folder of the type that a file belongs to: around `tails`, or the one that it stands in.
fn type_folder(file: &Path) -> PathBuf {
    let home = file.parent().unwrap_or(Path::new(""));
    let folder = if home.ends_with(TAILS) { home.parent().unwrap_or(Path::new("")) } else { home };
    if folder == Path::new("") { PathBuf::from(".") } else { folder.to_owned() }
}

impl Aircraft {
    /// The folder of its chapters: `book` in its own folder, else `book` beside the folder `aircraft`; else nothing, and the
    /// small book that the program brings is taken.
    pub fn book(&self) -> Option<PathBuf> {
        let own = self.folder.join("book");
        if own.is_dir() {
            return Some(own);
        }
        let hangar = fs::canonicalize(&self.folder).ok()?;
        let in_hangar = hangar.parent()?.file_name()? == HANGAR;
        let beside = match self.folder.parent().and_then(Path::parent) {
            Some(home) if self.folder.parent()?.ends_with(HANGAR) => home.join("book"),
            _ => self.folder.join("../../book"),
        };
        (in_hangar && beside.is_dir()).then_some(beside)
    }

    /// Name of the type folder.
    pub fn type_name(&self) -> String {
        let full = fs::canonicalize(&self.folder).unwrap_or_else(|_| self.folder.clone());
        full.file_name().map_or_else(|| "aircraft".to_owned(), |n| n.to_string_lossy().into_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn types_and_tails_are_listed_by_name() {
        let home = tempfile::tempdir().unwrap();
        let tails = home.path().join("gull/tails");
        fs::create_dir_all(&tails).unwrap();
        fs::write(tails.join("fm-1.toml"), "").unwrap();
        fs::write(tails.join("notes.txt"), "").unwrap();
        let names: Vec<String> = all_in(home.path()).into_iter().map(|(name, _)| name).collect();
        assert_eq!(names, ["fm-1", "gull"]);
    }

    #[test]
    fn the_book_is_the_aircrafts_own_or_stands_beside_the_hangar() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("aircraft/gull");
        fs::create_dir_all(folder.join("tails")).unwrap();
        fs::write(folder.join("tails/fm-1.toml"), "").unwrap();
        let tail = find(&folder.join("tails/fm-1.toml")).unwrap();
        assert_eq!(tail.folder, folder);
        assert_eq!(tail.book(), None);
        fs::create_dir(home.path().join("book")).unwrap();
        assert_eq!(tail.book(), Some(home.path().join("book")));
        fs::create_dir(folder.join("book")).unwrap();
        assert_eq!(tail.book(), Some(folder.join("book")));
        assert_eq!(tail.type_name(), "gull");
    }

    #[test]
    fn a_model_file_belongs_to_the_folder_that_it_stands_in() {
        assert_eq!(type_folder(Path::new("gull/aircraft.toml")), Path::new("gull"));
        assert_eq!(type_folder(Path::new("gull/tails/fm-1.toml")), Path::new("gull"));
        assert_eq!(type_folder(Path::new("tails/fm-1.toml")), Path::new("."));
        assert_eq!(type_folder(Path::new("aircraft.toml")), Path::new("."));
    }

    #[test]
    fn an_unknown_aircraft_is_wrong_usage() {
        assert!(matches!(find(Path::new("no-such-aircraft")), Err(Stop::Usage(_))));
    }
}
