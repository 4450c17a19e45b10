//! All tests but the house rules.
mod cases {
    mod check;
    mod book;
    mod compose;
    mod language;
    mod phrases;
}
