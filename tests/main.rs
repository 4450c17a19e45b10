//! All tests but the house rules.
mod cases {
    mod check;
    mod clocks;
    mod language;
    mod network;
    mod random_networks;
    mod solvers_agree;
}
mod support {
    pub mod definition;
    pub mod generator;
    pub mod models;
}
