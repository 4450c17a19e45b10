//! All tests but the house rules.
mod cases {
    mod book;
    mod check;
    mod clocks;
    mod compose;
    mod diagram;
    mod html;
    mod language;
    mod network;
    mod phrases;
    mod promises;
    mod verbs;
}
mod support {
    pub mod models;
}
mod outside;
mod program;
