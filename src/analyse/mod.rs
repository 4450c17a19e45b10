//! What follows from a model: pure functions, each with its method cited.
pub mod airspeed;
pub mod altimeter;
pub mod answer;
pub mod atmosphere;
pub mod battery;
pub mod clocks;
pub mod due;
pub mod fuel;
pub mod gauges;
pub mod load;
pub mod measure;
pub mod network;
pub mod pitot_static;
pub mod tach;
pub mod wire;
