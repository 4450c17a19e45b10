//! What the program promises.
