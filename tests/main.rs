//! All tests but the house rules.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test stops at what must not be
#![allow(clippy::float_cmp)] // where a test wants the very number, it says so
mod cases {
    mod air;
    mod aircraft;
    mod audit;
    mod audit_drawings;
    mod audit_failures;
    mod audit_figures;
    mod audit_finding;
    mod audit_lines;
    mod audit_numbers;
    mod audit_plots;
    mod book;
    mod card;
    mod check;
    mod clocks;
    mod compose;
    mod diagram;
    mod diagram_properties;
    mod endurance;
    mod expected;
    mod html;
    mod language;
    mod network;
    mod numbers;
    mod panel;
    mod phrases;
    mod plots;
    mod png;
    mod print;
    mod promises;
    mod random_networks;
    mod read_back;
    mod readme;
    mod rows;
    mod scene;
    mod solvers_agree;
    mod suspect;
    mod verbs;
}
mod outside;
mod program;
mod support {
    pub mod definition;
    pub mod expectations;
    pub mod generator;
    pub mod models;
}
