//! A folder that is built where nobody looks, and stands at its place whole or not at all.

use super::shelf::{Rename, ShelfError, new_folder, parent_of, rename};
use std::ffi::OsString;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// A folder that is being built; it goes away with its value unless it is put in place.
#[derive(Debug)]
pub struct Fresh {
    built: tempfile::TempDir,
    place: PathBuf,
}

impl Fresh {
    /// Begins one: beside a place where nothing stands yet, else within the empty folder there, which keeps its identity for
    /// those who are in it.
    ///
    /// # Errors
    /// [`ShelfError::System`] where the system refuses.
    pub fn begin(place: &Path) -> Result<Self, ShelfError> {
        let around = if place.is_dir() { place.to_owned() } else { parent_of(place) };
        fs::create_dir_all(&around).map_err(|e| ShelfError::System("make", around.clone(), e))?;
        Ok(Self { built: new_folder(&around)?, place: place.to_owned() })
    }

    /// Where to build.
    pub fn path(&self) -> &Path {
        self.built.path()
    }

    /// Writes a file, and the folders that it lies in.
    ///
    /// # Errors
    /// [`ShelfError::System`] where the system refuses.
    pub fn write(&self, name: &str, text: &str) -> Result<(), ShelfError> {
        let path = self.path().join(name);
        let folder = path.parent().map_or(Ok(()), fs::create_dir_all);
        let failed = |e| ShelfError::System("write", self.place.join(name), e);
        folder.and_then(|()| fs::write(&path, text)).map_err(failed)
    }

    /// Puts all of it in place.
    ///
    /// # Errors
    /// [`ShelfError::System`] where the system refuses; then nothing of it stands there.
    pub fn put(self) -> Result<(), ShelfError> {
        let failed = |e| ShelfError::System("put the new folder at", self.place.clone(), e);
        if self.place.is_dir() {
            move_all(self.built.path(), &self.place).map_err(failed)?;
            return self.built.close().map_err(failed);
        }
        rename(self.built.path(), &self.place, Rename::New).map_err(failed)?;
        let _ = self.built.keep(); // it stands at its place now; there is nothing left to take away
        Ok(())
    }
}

/// Moves everything from one folder into another; what was moved goes back if the rest cannot follow.
fn move_all(from: &Path, to: &Path) -> io::Result<()> {
    let names = fs::read_dir(from)?.map(|e| e.map(|e| e.file_name())).collect::<io::Result<Vec<OsString>>>()?;
    for (moved, name) in names.iter().enumerate() {
        if let Err(e) = rename(&from.join(name), &to.join(name), Rename::New) {
            for back in names.iter().take(moved) {
                let _ = fs::rename(to.join(back), from.join(back));
            }
            return Err(e);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> =
            fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    #[test]
    fn nothing_stands_at_the_place_until_it_is_put() {
        let home = tempfile::tempdir().unwrap();
        let place = home.path().join("deep/new");
        let fresh = Fresh::begin(&place).unwrap();
        fresh.write("book/a.md", "a").unwrap();
        assert!(!place.exists());
        fresh.put().unwrap();
        assert_eq!(names(&home.path().join("deep")), ["new"]);
        assert_eq!(fs::read_to_string(place.join("book/a.md")).unwrap(), "a");
    }

    #[test]
    fn what_is_given_up_leaves_nothing() {
        let home = tempfile::tempdir().unwrap();
        let fresh = Fresh::begin(&home.path().join("new")).unwrap();
        fresh.write("a", "a").unwrap();
        drop(fresh);
        assert!(names(home.path()).is_empty());
    }

    #[test]
    fn in_an_empty_folder_a_name_that_was_taken_meanwhile_sends_everything_back() {
        let home = tempfile::tempdir().unwrap();
        let fresh = Fresh::begin(home.path()).unwrap();
        for name in ["a", "b", "c"] {
            fresh.write(name, "new").unwrap();
        }
        fs::write(home.path().join("b"), "mine").unwrap();
        assert!(fresh.put().is_err());
        assert_eq!(names(home.path()), ["b"]);
        assert_eq!(fs::read_to_string(home.path().join("b")).unwrap(), "mine");
    }
}
