//! The feeds of a model as a flat graph, solved for many scenarios at once.
