//! Lints of the chapters: one rule a file, its code the name of the file. They run on what `compose` made of the book.
//!
//! All are warnings; `--strict` makes them errors. They look at the English: that a claim is true was proved before.
mod claim_apart;
mod item_undrawn;
mod item_untold;
mod item_without_failure;
mod long_sentence;
mod medium_apart;
mod named;
mod refused;
mod topic_untaught;
mod untied_name;
mod untied_number;

use crate::analyse::network::Analysis;
use crate::base::{Diagnostic, Diagnostics};
use crate::doc::Prose;
use crate::model::Model;
use named::Names;

/// What a rule is given.
struct Subject<'a> {
    model: &'a Model,
    analysis: &'a Analysis<'a>,
    prose: &'a Prose,
    names: &'a Names,
}

/// One rule.
struct Rule {
    code: &'static str,
    explain: &'static str,
    check: fn(&Subject<'_>) -> Vec<Diagnostic>,
}

const RULES: &[Rule] = &[
    Rule { code: "claim-apart", explain: claim_apart::EXPLAIN, check: claim_apart::check },
    Rule { code: "item-undrawn", explain: item_undrawn::EXPLAIN, check: item_undrawn::check },
    Rule { code: "item-untold", explain: item_untold::EXPLAIN, check: item_untold::check },
    Rule { code: "item-without-failure", explain: item_without_failure::EXPLAIN, check: item_without_failure::check },
    Rule { code: "long-sentence", explain: long_sentence::EXPLAIN, check: long_sentence::check },
    Rule { code: "medium-apart", explain: medium_apart::EXPLAIN, check: medium_apart::check },
    Rule { code: "topic-untaught", explain: topic_untaught::EXPLAIN, check: topic_untaught::check },
    Rule { code: "untied-name", explain: untied_name::EXPLAIN, check: untied_name::check },
    Rule { code: "untied-number", explain: untied_number::EXPLAIN, check: untied_number::check },
];

/// Runs every rule.
pub fn check(model: &Model, analysis: &Analysis<'_>, prose: &Prose) -> Diagnostics {
    let names = Names::new(model);
    let subject = Subject { model, analysis, prose, names: &names };
    let mut diagnostics = Diagnostics::default();
    RULES.iter().flat_map(|rule| (rule.check)(&subject)).for_each(|d| diagnostics.push(d));
    diagnostics
}

/// Every code that a chapter can get, lints and errors, each with its long explanation.
pub fn explanations() -> impl Iterator<Item = (&'static str, &'static str)> {
    RULES.iter().map(|r| (r.code, r.explain)).chain(refused::REFUSED.iter().copied())
}
