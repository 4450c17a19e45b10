//! All tests but the house rules.
mod cases {
    mod book;
    mod check;
    mod compose;
    mod language;
    mod phrases;
}
