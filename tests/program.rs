//! The program, called as a person calls it: in this process where the folder does not matter, else as its own.

use ribstitch::cli::{self, Console};
use serde_json::Value;
use std::ffi::OsString;
use std::path::Path;
use std::process::Command;

/// What came of a call.
#[derive(Debug)]
pub struct Called {
    /// Exit status.
    pub status: u8,
    /// What was answered.
    pub out: String,
    /// What was complained of.
    pub err: String,
}

impl Called {
    /// The answer as JSON; the call has to have gone well.
    pub fn json(&self) -> Value {
        assert_eq!(self.status, 0, "{}", self.err);
        serde_json::from_str(&self.out).unwrap_or_else(|e| panic!("{e}: {}", self.out))
    }
}

/// Calls the program in this process, from the folder of the project.
pub fn call(arguments: &[&str]) -> Called {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let words = std::iter::once("ribstitch").chain(arguments.iter().copied()).map(OsString::from);
    let status = cli::run(words, &mut Console { out: &mut out, err: &mut err, colour: false });
    Called { status, out: String::from_utf8(out).unwrap(), err: String::from_utf8(err).unwrap() }
}

/// The program as its own process, to be run from a folder.
pub fn program(folder: &Path) -> Command {
    let mut program = Command::new(env!("CARGO_BIN_EXE_ribstitch"));
    program.current_dir(folder).stdin(std::process::Stdio::null());
    program
}

/// Calls the program from a folder.
pub fn call_in(folder: &Path, arguments: &[&str]) -> Called {
    let done = program(folder).args(arguments).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    let status = done.status.code().and_then(|c| u8::try_from(c).ok()).unwrap_or(u8::MAX);
    Called { status, out: text(done.stdout), err: text(done.stderr) }
}

/// `whatif sandling … --json`.
pub fn whatif(arguments: &str) -> Value {
    let words: Vec<&str> = ["whatif", "sandling", "--json"].into_iter().chain(arguments.split_whitespace()).collect();
    call(&words).json()
}

/// The values of one key of a list of objects.
pub fn all(list: &Value, key: &str) -> Vec<String> {
    let list = list.as_array().unwrap_or_else(|| panic!("no list: {list}"));
    list.iter().map(|o| o[key].as_str().unwrap_or_else(|| panic!("no `{key}` in {o}")).to_owned()).collect()
}
