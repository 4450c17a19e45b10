//! Where answers and errors are written, and why a run stops short.

use std::io::{self, Write};

/// Nothing was wrong.
pub const ALL_WELL: u8 = 0;
/// The model, the book or a guide has errors, or warnings with `--strict`.
pub const FINDINGS: u8 = 1;
/// The program was called wrongly.
pub const WRONG_USAGE: u8 = 2;
/// Something could not be read or written.
pub const MACHINE_FAILED: u8 = 3;

/// Why a verb did not end well.
#[derive(Debug, thiserror::Error)]
pub enum Stop {
    /// The findings were shown already.
    #[error("the model or the book has errors")]
    Findings,
    /// The program was called wrongly; a message and what to do.
    #[error("{0}")]
    Usage(String),
    /// Something could not be read or written; a message that names it.
    #[error("{0}")]
    Machine(String),
    /// The answer could not be written out.
    #[error("cannot write the answer: {0}")]
    Output(#[from] io::Error),
}

impl Stop {
    /// The exit status that it leads to. Nobody reading any more is no failure.
    pub fn status(&self) -> u8 {
        match self {
            Self::Findings => FINDINGS,
            Self::Usage(_) => WRONG_USAGE,
            Self::Output(e) if e.kind() == io::ErrorKind::BrokenPipe => ALL_WELL,
            Self::Machine(_) | Self::Output(_) => MACHINE_FAILED,
        }
    }

    /// The message for the error stream; nothing where all was said.
    pub fn message(&self) -> Option<String> {
        match self {
            Self::Findings => None,
            Self::Output(e) if e.kind() == io::ErrorKind::BrokenPipe => None,
            other => Some(other.to_string()),
        }
    }
}

/// The two streams of the program.
pub struct Console<'a> {
    /// For answers.
    pub out: &'a mut dyn Write,
    /// For findings and errors.
    pub err: &'a mut dyn Write,
    /// The error stream is a terminal that shows colours.
    pub colour: bool,
}

impl Console<'_> {
    /// Writes an answer, one line end at its end.
    ///
    /// # Errors
    /// [`Stop::Output`] when the stream does not take it.
    pub fn answer(&mut self, text: &str) -> Result<(), Stop> {
        self.out.write_all(text.as_bytes())?;
        if !text.ends_with('\n') {
            self.out.write_all(b"\n")?;
        }
        Ok(self.out.flush()?)
    }

    /// Writes an answer as JSON.
    ///
    /// # Errors
    /// [`Stop::Output`] when the stream does not take it.
    pub fn json<T: serde::Serialize>(&mut self, answer: &T) -> Result<(), Stop> {
        let text = serde_json::to_string_pretty(answer).map_err(|e| Stop::Output(e.into()))?;
        self.answer(&text)
    }

    /// Writes to the error stream. If even that fails there is nobody left to tell.
    pub fn complain(&mut self, text: &str) {
        let _ = self.err.write_all(text.as_bytes());
        if !text.ends_with('\n') {
            let _ = self.err.write_all(b"\n");
        }
        let _ = self.err.flush();
    }
}
