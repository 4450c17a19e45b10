//! `medium-apart`: a sentence that puts an item beside a medium that it does not use.

use super::Subject;
use super::named::{find, is_negative, lower};
use crate::base::Diagnostic;
use crate::doc::{Sentence, Tie};
use crate::model::{Item, Medium, MediumIx, NodeIx};
use std::collections::BTreeSet;

/// The long explanation.
pub const EXPLAIN: &str = "A sentence that names one item and one medium seems to say that the item uses it. Where the model shows no way \
    from the medium to the item, the sentence misleads, unless it says so with a negative word or is claimed.";

/// Checks every sentence that is not claimed.
pub fn check(subject: &Subject<'_>) -> Vec<Diagnostic> {
    subject.prose.sentences.iter().filter_map(|s| apart(subject, s)).collect()
}

fn apart(subject: &Subject<'_>, sentence: &Sentence) -> Option<Diagnostic> {
    if is_negative(&sentence.text) || sentence.pieces.iter().any(|p| matches!(p.tie, Tie::Claim(_))) {
        return None;
    }
    let mut text = lower(&sentence.text);
    let items = take_items(subject, sentence, &mut text);
    let media = subject.model.media.iter().enumerate();
    let named: Vec<(usize, &Medium)> = media.filter(|(_, m)| !find(&text, &lower(&m.name)).is_empty()).collect();
    let ([item], [(at, medium)]) = (items.as_slice(), named.as_slice()) else { return None };
    if used_by(subject, item).contains(&MediumIx::new(*at)) {
        return None;
    }
    let name = &subject.model[item.node].noun.name;
    let message = format!("this puts the {name} beside {}, which it does not use in the model", medium.name);
    let help = "mend the sentence or the model, or claim what is meant";
    Some(Diagnostic::warning("medium-apart", sentence.span, message).help(help))
}

/// The items that a sentence names, tied or not; their names are blanked, so that "oil pressure gauge" names no oil pressure.
fn take_items<'a>(subject: &Subject<'a>, sentence: &Sentence, text: &mut String) -> Vec<&'a Item> {
    let tied: BTreeSet<&str> = sentence
        .pieces
        .iter()
        .filter_map(|p| if let Tie::Name(id) = &p.tie { Some(id.as_str()) } else { None })
        .collect();
    let mut names: Vec<(&String, &Item)> = Vec::new();
    for item in &subject.model.items {
        names.extend(subject.names.of(item.id.as_str()).iter().map(|n| (n, item)));
    }
    names.sort_by_key(|(name, _)| std::cmp::Reverse(name.len()));
    let mut found: Vec<&Item> = Vec::new();
    for (name, item) in names {
        for range in find(text, name) {
            let blank = " ".repeat(range.len());
            text.replace_range(range, &blank);
            found.push(item);
        }
    }
    found.extend(subject.model.items.iter().filter(|i| tied.contains(i.id.as_str())));
    found.sort_by(|a, b| a.id.cmp(&b.id));
    found.dedup_by(|a, b| a.id == b.id);
    found
}

/// Media that reach an item or its functions, and what they give.
fn used_by(subject: &Subject<'_>, item: &Item) -> BTreeSet<MediumIx> {
    let nodes = std::iter::once(item.node).chain(item.functions.iter().copied());
    let mut media = BTreeSet::new();
    for node in nodes {
        let trace = subject.analysis.trace(node);
        media.extend(trace.media.iter().copied());
        let around = trace.upstream.iter().chain(&trace.downstream).copied().chain([node]);
        media.extend(around.filter_map(|n: NodeIx| subject.model[n].gives));
    }
    media
}
