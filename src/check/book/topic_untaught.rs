//! `topic-untaught`: a topic of the examination that no heading names.

use super::Subject;
use crate::base::Diagnostic;

/// The long explanation.
pub const EXPLAIN: &str = "The table of topics lists every topic of the examination that is about systems. One that no heading teaches has an empty place \
    there. Say `teaches=` at the heading that teaches it, or `leaves-out=` at one that says why the guide has nothing of it.";

/// Checks every topic of a book that lists them.
pub fn check(subject: &Subject<'_>) -> Vec<Diagnostic> {
    let warn = |(code, at): &(String, crate::base::Span)| {
        let help = format!("write `{{#id teaches={code}}}` at a heading, or `{{#id leaves-out={code}}}`");
        Diagnostic::warning("topic-untaught", *at, format!("no heading teaches the topic `{code}`")).help(help)
    };
    subject.prose.untaught.iter().map(warn).collect()
}
