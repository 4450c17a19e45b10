//! Claims: free sentences that are proved against the model.
//!
//! A claim proves its target and not the English around it; `check::book` looks at the English.
mod blame;
mod grammar;
mod proof;

pub use grammar::{Cause, Claim, Indicator, Relation, StateVerb, parse};

use super::composer::Composer;
use crate::base::{Diagnostic, Span, Spanned};
use crate::doc::ClaimedSentence;
use blame::Blame;

/// Proves one claim; what it speaks of, for the lints, if it is true.
///
/// # Errors
/// `claim-grammar`, `claim-unknown`, `claim-false`, kept in the composer.
pub fn prove(
    composer: &mut Composer<'_>,
    claim: &Spanned<String>,
    sentence: &str,
    span: Span,
) -> Option<ClaimedSentence> {
    let parsed = match parse(composer, claim) {
        Ok(parsed) => parsed,
        Err(diagnostic) => {
            composer.diagnostics.push(*diagnostic);
            return None;
        }
    };
    if let Err(blame) = composer.proved(&parsed) {
        composer.diagnostics.push(false_claim(claim, sentence, span, blame));
        return None;
    }
    Some(ClaimedSentence {
        span,
        claim: claim.value.clone(),
        sentence: sentence.to_owned(),
        things: parsed.things(composer),
        negative: parsed.is_negative(),
    })
}

fn false_claim(claim: &Spanned<String>, sentence: &str, span: Span, blame: Blame) -> Diagnostic {
    let message = format!("the model says otherwise: {}", blame.message);
    let mut diagnostic = Diagnostic::error("claim-false", span, message).here(format!(
        "“{}” is claimed by `{}`",
        super::value::clip(sentence),
        super::value::clip(&claim.value)
    ));
    for (place, text) in blame.places {
        diagnostic = diagnostic.also(place, text);
    }
    let help = match blame.chain {
        Some(chain) => format!("mend the sentence and its claim, or the model; the chain is: {chain}"),
        None => "mend the sentence and its claim, or the model".to_owned(),
    };
    diagnostic.help(help)
}
