//! `medium-apart`: a sentence that puts an item beside a medium that it does not use.

use super::Subject;
use super::named::{is_negative, lower};
use crate::base::Diagnostic;
use crate::doc::{Sentence, Tie};
use crate::model::{Item, ItemIx, MediumIx, NodeIx};
use std::collections::BTreeSet;

/// The long explanation.
pub const EXPLAIN: &str = "A sentence that names one item and one medium seems to say that the item uses it. Where the model shows no way \
    from the medium to the item, the sentence misleads, unless it says so with a negative word or is claimed.";

/// Checks every sentence that is not claimed.
pub fn check(subject: &Subject<'_>) -> Vec<Diagnostic> {
    subject.prose.sentences.iter().filter_map(|s| apart(subject, s)).collect()
}

fn apart(subject: &Subject<'_>, sentence: &Sentence) -> Option<Diagnostic> {
    let mut text = lower(&sentence.text);
    if subject.names.media_in(&text).is_empty() || is_negative(&sentence.text) {
        return None;
    }
    if sentence.pieces.iter().any(|p| matches!(p.tie, Tie::Claim(_))) {
        return None;
    }
    let items = take_items(subject, sentence, &mut text);
    let media: BTreeSet<MediumIx> = subject.names.media_in(&text).into_iter().map(|(_, m)| m).collect();
    let (Some(item), Some(medium)) = (only(&items), only(&media)) else { return None };
    if used_by(subject, &subject.model[item]).contains(&medium) {
        return None;
    }
    let name = &subject.model[subject.model[item].node].noun.name;
    let message =
        format!("this puts the {name} beside {}, which it does not use in the model", subject.model[medium].name);
    let help = "mend the sentence or the model, or claim what is meant";
    Some(Diagnostic::warning("medium-apart", sentence.span, message).help(help))
}

fn only<T: Copy + Ord>(set: &BTreeSet<T>) -> Option<T> {
    set.first().copied().filter(|_| set.len() == 1)
}

/// The items that a sentence names, tied or not; their names are blanked, so that "oil pressure gauge" names no oil pressure.
fn take_items(subject: &Subject<'_>, sentence: &Sentence, text: &mut String) -> BTreeSet<ItemIx> {
    let tied = sentence.pieces.iter().filter_map(|p| if let Tie::Name(id) = &p.tie { Some(id) } else { None });
    let mut items: BTreeSet<ItemIx> = tied.filter_map(|id| subject.model.find_item(id)).collect();
    for (range, item) in subject.names.items_in(&sentence.text) {
        let blank = " ".repeat(range.len());
        text.replace_range(range, &blank);
        items.insert(item);
    }
    items
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
