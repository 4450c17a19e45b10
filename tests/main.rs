//! All tests but the house rules.
mod cases {
    mod check;
    mod clocks;
    mod compose;
    mod diagram;
    mod html;
    mod language;
    mod network;
}
mod support {
    pub mod models;
}
