//! All tests but the house rules.
mod cases {
    mod check;
    mod diagram;
    mod language;
}
