//! The verbs as a person calls them.
