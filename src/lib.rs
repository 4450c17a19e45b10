//! Ribstitch compiles a study guide for one aircraft from a model of it.
pub mod analyse;
pub mod audit;
pub mod base;
pub mod check;
pub mod cli;
pub mod compose;
pub mod diagram;
pub mod doc;
pub mod model;
pub mod parse;
pub mod pipeline;
pub mod render;
pub mod resolve;
