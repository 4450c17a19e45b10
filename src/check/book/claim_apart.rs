//! `claim-apart`: a sentence that does not speak of what its claim proves.

use super::Subject;
use super::named::{find, is_negative, lower};
use crate::base::Diagnostic;
use crate::doc::ClaimedSentence;

/// The long explanation.
pub const EXPLAIN: &str = "A claim proves its target, not the English around it. The sentence that a claim stands in names each thing \
    that the claim speaks of, by its name or an alias, and holds a negative word where the claim says that something is not so. \
    Otherwise a reader may be told one thing while another was proved.";

/// Checks every claim.
pub fn check(subject: &Subject<'_>) -> Vec<Diagnostic> {
    subject.prose.claims.iter().flat_map(|claim| apart(subject, claim)).collect()
}

fn apart(subject: &Subject<'_>, claim: &ClaimedSentence) -> Vec<Diagnostic> {
    let sentence = lower(&claim.sentence);
    let mut found = Vec::new();
    for thing in &claim.things {
        let names = subject.names.of(thing);
        if names.iter().any(|name| !find(&sentence, name).is_empty()) {
            continue;
        }
        let name = names.first().map_or(thing.as_str(), String::as_str);
        let message = format!("the claim `{}` speaks of `{thing}`, and its sentence does not name it", claim.claim);
        let help = format!("write “{name}” or an alias into the sentence, or claim what the sentence says");
        found.push(Diagnostic::warning("claim-apart", claim.span, message).help(help));
    }
    if claim.negative && !is_negative(&claim.sentence) {
        let message =
            format!("the claim `{}` says that something is not so, and its sentence holds no such word", claim.claim);
        let help = "say it with “not”, “no”, “without” or the like";
        found.push(Diagnostic::warning("claim-apart", claim.span, message).help(help));
    }
    found
}
