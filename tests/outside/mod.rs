//! What is computed, held against values from outside the project. Each check names its source; `sources.md` lists them all.
mod colours;
mod units;
