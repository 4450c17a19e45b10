//! All tests but the house rules.
mod cases {
    mod check;
    mod clocks;
    mod compose;
    mod language;
    mod network;
    mod promises;
    mod verbs;
}
mod support {
    pub mod models;
}
mod outside;
mod program;
