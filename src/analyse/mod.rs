//! What follows from a model: pure functions, each with its method cited.
pub mod answer;
pub mod network;
pub mod tach;
