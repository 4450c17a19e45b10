//! What the audit says: where guide and model disagree, and how much was proved.

use std::collections::BTreeSet;
use std::fmt;

/// One place where the guide and its model disagree, or that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Finding {
    /// What sort of disagreement: `name-missing`, `number-wrong`, `unreadable` …
    pub code: &'static str,
    /// Chapter, table, row and column, as a reader would name them.
    pub place: String,
    /// What the guide says there.
    pub says: String,
    /// What it should say by its model.
    pub expected: String,
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}: says {}; expected {}", self.code, self.place, self.says, self.expected)
    }
}

/// How much was held against the model.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Proved {
    /// Tables of a known sort.
    pub tables: usize,
    /// Cells of those tables.
    pub cells: usize,
    /// Numbers, each at its place.
    pub numbers: usize,
    /// Connections of drawings.
    pub connections: usize,
    /// Training-aid notices.
    pub notices: usize,
}

impl fmt::Display for Proved {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { tables, cells, numbers, connections, notices } = self;
        write!(
            f,
            "{tables} tables, {cells} cells, {numbers} numbers, {connections} drawn connections, {notices} notices"
        )
    }
}

/// What an audit gives.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Report {
    /// Disagreements in the order of the page.
    pub findings: Vec<Finding>,
    /// What was held against the model, disagreeing or not.
    pub proved: Proved,
}

impl Report {
    /// Takes in the report on another part of the guide.
    pub fn join(&mut self, other: Self) {
        let Proved { tables, cells, numbers, connections, notices } = other.proved;
        self.proved.tables += tables;
        self.proved.cells += cells;
        self.proved.numbers += numbers;
        self.proved.connections += connections;
        self.proved.notices += notices;
        self.findings.extend(other.findings);
    }
}

/// The report in the making.
#[derive(Debug, Default)]
pub(super) struct Notes {
    pub(super) report: Report,
}

impl Notes {
    /// Notes a disagreement.
    pub(super) fn find(
        &mut self,
        code: &'static str,
        place: impl Into<String>,
        says: impl Into<String>,
        expected: impl Into<String>,
    ) {
        let (place, says, expected) = (place.into(), brief(says.into()), brief(expected.into()));
        self.report.findings.push(Finding { code, place, says, expected });
    }

    /// The report, each finding once.
    pub(super) fn finish(mut self) -> Report {
        let mut seen = BTreeSet::new();
        self.report.findings.retain(|finding| seen.insert(finding.clone()));
        self.report
    }
}

/// Long texts are cut for the report.
fn brief(text: String) -> String {
    const LONGEST: usize = 400;
    if text.chars().count() <= LONGEST { text } else { text.chars().take(LONGEST).chain(['…']).collect() }
}
