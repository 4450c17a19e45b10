//! The program: the exit status, nothing else.

use ribstitch::cli;
use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(cli::main())
}
