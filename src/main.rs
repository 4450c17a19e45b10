//! The program: the exit status, nothing else.
fn main() {}
