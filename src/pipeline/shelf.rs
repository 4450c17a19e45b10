//! Puts a finished guide where it is wanted: all of it or nothing.
//!
//! The guide is written into a new folder beside its place and exchanged with what stands there, in one step where the
//! system has one. An older guide is replaced only if its manifest lists everything that is in it. A link at the place
//! is never followed.

use super::bundle::{Bundle, MANIFEST, listed};
use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Why a guide was not put in place. What stood there before stands there still.
#[derive(Debug, thiserror::Error)]
pub enum ShelfError {
    /// The place has no name of its own, as `..` or `/`.
    #[error("`{0}` cannot be the place of a guide: name a folder")]
    NoName(PathBuf),
    /// A file is to be put where a folder stands.
    #[error("`{0}` is a folder: name a file")]
    NotAFile(PathBuf),
    /// Something other than a folder stands there.
    #[error("`{0}` is {1}, not a folder: it stays as it is")]
    NotAFolder(PathBuf, &'static str),
    /// A folder that no guide was written to.
    #[error("`{0}` holds `{1}` and no manifest of a guide: it stays as it is")]
    NotAGuide(PathBuf, String),
    /// A folder with something that is not of the guide.
    #[error("`{0}` holds `{1}`, which is not part of the guide there: it stays as it is")]
    Foreign(PathBuf, String),
    /// The system refused.
    #[error("cannot {0} `{1}`: {2}")]
    System(&'static str, PathBuf, io::Error),
}

/// What stands at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Standing {
    Nothing,
    Replaceable,
}

/// Writes all files of a guide into a new folder and puts it at `place`.
///
/// # Errors
/// [`ShelfError`]; then nothing has changed at `place`.
pub fn put(bundle: &Bundle, place: &Path) -> Result<(), ShelfError> {
    let place: PathBuf = place.components().collect();
    if place.file_name().is_none() {
        return Err(ShelfError::NoName(place));
    }
    let standing = standing_at(&place)?;
    let parent = parent_of(&place);
    fs::create_dir_all(&parent).map_err(|e| ShelfError::System("make", parent.clone(), e))?;
    let fresh = new_folder(&parent)?;
    write_all(bundle, fresh.path())?;
    match standing {
        Standing::Nothing => place_new(fresh, &place),
        Standing::Replaceable => replace(fresh, &place),
    }
}

/// Writes one file whole: beside its place, then put there. A link at the place is replaced, never followed.
///
/// # Errors
/// [`ShelfError`]; then nothing has changed at `place`.
pub fn put_file(place: &Path, bytes: &[u8]) -> Result<(), ShelfError> {
    let failed = |e| ShelfError::System("write", place.to_owned(), e);
    if place.file_name().is_none() || place.is_dir() {
        return Err(ShelfError::NotAFile(place.to_owned()));
    }
    let parent = parent_of(place);
    let mut file = tempfile::Builder::new().prefix(".ribstitch-").tempfile_in(&parent).map_err(|e| failed(bare(&e)))?;
    file.write_all(bytes).and_then(|()| file.as_file().sync_all()).map_err(failed)?;
    #[cfg(unix)]
    readable(file.path()).map_err(failed)?;
    file.persist(place).map(|_| ()).map_err(|e| failed(e.error))
}

/// A temporary file is for its owner alone; an answer is for everybody.
#[cfg(unix)]
fn readable(path: &Path) -> io::Result<()> {
    fs::set_permissions(path, std::os::unix::fs::PermissionsExt::from_mode(0o644))
}

pub(super) fn parent_of(place: &Path) -> PathBuf {
    match place.parent() {
        Some(parent) if parent != Path::new("") => parent.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// A folder beside the place, open to those whom the system lets in; it goes away with its value.
pub(super) fn new_folder(parent: &Path) -> Result<tempfile::TempDir, ShelfError> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".ribstitch-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o777));
    builder.tempdir_in(parent).map_err(|e| ShelfError::System("write in", parent.to_owned(), bare(&e)))
}

/// What the system said, without the passing name of what was to be made.
fn bare(e: &io::Error) -> io::Error {
    let said = e.to_string();
    let said = said.split(" at path ").next().unwrap_or(&said);
    io::Error::new(e.kind(), said.to_owned())
}

fn write_all(bundle: &Bundle, folder: &Path) -> Result<(), ShelfError> {
    for (name, bytes) in bundle.files() {
        let path = folder.join(name);
        let write = || -> io::Result<()> {
            if let Some(parent) = path.parent() {
                fs::create_dir_all(parent)?;
            }
            let mut file = fs::File::create_new(&path)?;
            file.write_all(bytes)?;
            file.sync_all()
        };
        write().map_err(|e| ShelfError::System("write", path.clone(), e))?;
    }
    Ok(())
}

fn standing_at(place: &Path) -> Result<Standing, ShelfError> {
    let kind = match fs::symlink_metadata(place) {
        Ok(data) => data.file_type(),
        Err(e) if e.kind() == io::ErrorKind::NotFound => return Ok(Standing::Nothing),
        Err(e) => return Err(ShelfError::System("look at", place.to_owned(), e)),
    };
    if kind.is_symlink() {
        return Err(ShelfError::NotAFolder(place.to_owned(), "a link"));
    }
    if !kind.is_dir() {
        return Err(ShelfError::NotAFolder(place.to_owned(), "a file"));
    }
    only_ours(place).map(|()| Standing::Replaceable)
}

/// Everything in the folder is listed by its manifest, or there is nothing in it at all.
fn only_ours(folder: &Path) -> Result<(), ShelfError> {
    let manifest = fs::read(folder.join(MANIFEST)).ok().and_then(|bytes| listed(&bytes));
    let ours = manifest.as_ref().map(with_folders);
    for entry in walkdir::WalkDir::new(folder).min_depth(1).sort_by_file_name() {
        let entry = entry.map_err(|e| ShelfError::System("look through", folder.to_owned(), e.into()))?;
        let inside = entry.path().strip_prefix(folder).unwrap_or(entry.path());
        let name = inside.to_string_lossy().into_owned();
        let Some((files, folders)) = &ours else { return Err(ShelfError::NotAGuide(folder.to_owned(), name)) };
        let kind = entry.file_type();
        let known = (kind.is_file() && files.contains(&name)) || (kind.is_dir() && folders.contains(&name));
        if !known {
            return Err(ShelfError::Foreign(folder.to_owned(), name));
        }
        if kind.is_dir() {
            can_empty(entry.path())?;
        }
    }
    can_empty(folder)
}

/// The names of a manifest with its own, and the folders that they stand in.
fn with_folders(listed: &BTreeSet<String>) -> (BTreeSet<String>, BTreeSet<String>) {
    let folders = listed.iter().flat_map(|name| Path::new(name).ancestors().skip(1));
    let folders = folders.map(|f| f.to_string_lossy().into_owned()).filter(|f| !f.is_empty()).collect();
    let mut files = listed.clone();
    files.insert(MANIFEST.to_owned());
    (files, folders)
}

/// The old guide will have to be taken away; better to know before that it cannot be.
fn can_empty(folder: &Path) -> Result<(), ShelfError> {
    let wanted = rustix::fs::Access::WRITE_OK | rustix::fs::Access::EXEC_OK;
    rustix::fs::access(folder, wanted).map_err(|e| ShelfError::System("replace", folder.to_owned(), e.into()))
}

fn place_new(fresh: tempfile::TempDir, place: &Path) -> Result<(), ShelfError> {
    rename(fresh.path(), place, Rename::New)
        .map_err(|e| ShelfError::System("put the guide at", place.to_owned(), e))?;
    let _ = fresh.keep(); // it stands at its place now; there is nothing left to take away
    Ok(())
}

fn replace(fresh: tempfile::TempDir, place: &Path) -> Result<(), ShelfError> {
    match rename(fresh.path(), place, Rename::Exchange) {
        Ok(()) => {}
        Err(e) if no_exchange(&e) => return replace_in_two_steps(fresh, place),
        Err(e) => return Err(ShelfError::System("put the guide at", place.to_owned(), e)),
    }
    // What was there may have changed since it was looked at.
    if let Err(foreign) = only_ours(fresh.path()) {
        let _ = rename(fresh.path(), place, Rename::Exchange);
        return Err(foreign);
    }
    fresh.close().map_err(|e| ShelfError::System("take away the old guide beside", place.to_owned(), e))
}

/// For file systems that cannot exchange: for a moment nothing stands at the place.
fn replace_in_two_steps(fresh: tempfile::TempDir, place: &Path) -> Result<(), ShelfError> {
    let failed = |e| ShelfError::System("put the guide at", place.to_owned(), e);
    let parent = fresh.path().parent().unwrap_or(Path::new("."));
    let aside = new_folder(parent)?;
    let old = aside.path().join("old");
    fs::rename(place, &old).map_err(failed)?;
    if let Err(e) = fs::rename(fresh.path(), place) {
        let _ = fs::rename(&old, place);
        return Err(failed(e));
    }
    let _ = fresh.keep();
    aside.close().map_err(|e| ShelfError::System("take away the old guide beside", place.to_owned(), e))
}

/// How two names meet.
#[derive(Clone, Copy)]
pub(super) enum Rename {
    /// Nothing may stand at the second.
    New,
    /// Both stand, and change places.
    Exchange,
}

#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
pub(super) fn rename(from: &Path, to: &Path, how: Rename) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    let flags = match how {
        Rename::New => RenameFlags::NOREPLACE,
        Rename::Exchange => RenameFlags::EXCHANGE,
    };
    match (renameat_with(CWD, from, CWD, to, flags).map_err(io::Error::from), how) {
        (Err(e), Rename::New) if no_exchange(&e) => fs::rename(from, to),
        (done, _) => done,
    }
}

#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
pub(super) fn rename(from: &Path, to: &Path, how: Rename) -> io::Result<()> {
    match how {
        Rename::New => fs::rename(from, to),
        Rename::Exchange => Err(io::ErrorKind::Unsupported.into()),
    }
}

/// The system or the file system does not know the call.
fn no_exchange(e: &io::Error) -> bool {
    matches!(e.kind(), io::ErrorKind::Unsupported | io::ErrorKind::InvalidInput)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bundle(text: &str) -> Bundle {
        let mut bundle = Bundle::default();
        bundle.add("guide.html", text.as_bytes().to_vec());
        bundle.add("figures/electrical.svg", b"<svg/>".to_vec());
        bundle.seal("Sandling", "00");
        bundle
    }

    fn read(place: &Path) -> String {
        fs::read_to_string(place.join("guide.html")).unwrap()
    }

    #[test]
    fn a_guide_is_put_and_replaced_and_nothing_is_left_beside_it() {
        let home = tempfile::tempdir().unwrap();
        let place = home.path().join("deep/out");
        put(&bundle("one"), &place).unwrap();
        put(&bundle("two"), &place).unwrap();
        assert_eq!(read(&place), "two");
        assert_eq!(fs::read_dir(home.path().join("deep")).unwrap().count(), 1);
    }

    #[test]
    fn the_two_step_way_replaces_too() {
        let home = tempfile::tempdir().unwrap();
        let place = home.path().join("out");
        put(&bundle("one"), &place).unwrap();
        let fresh = new_folder(home.path()).unwrap();
        write_all(&bundle("two"), fresh.path()).unwrap();
        replace_in_two_steps(fresh, &place).unwrap();
        assert_eq!(read(&place), "two");
        assert_eq!(fs::read_dir(home.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_foreign_file_is_named_and_all_stays() {
        let home = tempfile::tempdir().unwrap();
        let place = home.path().join("out");
        put(&bundle("one"), &place).unwrap();
        fs::write(place.join("figures/notes.txt"), "mine").unwrap();
        let error = put(&bundle("two"), &place).unwrap_err().to_string();
        assert!(error.contains("figures/notes.txt"), "{error}");
        assert_eq!(read(&place), "one");
        assert_eq!(fs::read_dir(home.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_folder_of_somebody_else_stays() {
        let home = tempfile::tempdir().unwrap();
        fs::write(home.path().join("manifest.json"), r#"{"name":"web"}"#).unwrap();
        assert!(matches!(put(&bundle("x"), home.path()), Err(ShelfError::NotAGuide(..))));
        assert_eq!(fs::read_dir(home.path()).unwrap().count(), 1);
    }

    #[test]
    fn an_empty_folder_is_taken() {
        let home = tempfile::tempdir().unwrap();
        let place = home.path().join("out");
        fs::create_dir(&place).unwrap();
        put(&bundle("x"), &place).unwrap();
        assert_eq!(read(&place), "x");
    }

    #[test]
    #[cfg(unix)]
    fn a_link_is_never_followed() {
        let home = tempfile::tempdir().unwrap();
        let (real, link) = (home.path().join("real"), home.path().join("link"));
        put(&bundle("one"), &real).unwrap();
        std::os::unix::fs::symlink(&real, &link).unwrap();
        for name in ["link", "link/", "link/."] {
            assert!(matches!(put(&bundle("two"), &home.path().join(name)), Err(ShelfError::NotAFolder(..))), "{name}");
        }
        assert_eq!(read(&real), "one");
        fs::remove_file(real.join("guide.html")).unwrap();
        std::os::unix::fs::symlink("/etc/hostname", real.join("guide.html")).unwrap();
        assert!(matches!(put(&bundle("two"), &real), Err(ShelfError::Foreign(..))));
    }

    #[test]
    fn places_without_a_name_are_refused() {
        for place in ["", "/", "..", "."] {
            assert!(matches!(put(&bundle("x"), Path::new(place)), Err(ShelfError::NoName(_))), "{place}");
        }
    }
}
