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
mod outside;
mod program;
mod support {
    pub mod models;
}
