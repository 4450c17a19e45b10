//! Wrong models with the diagnostics they get, and their corrected twins.
