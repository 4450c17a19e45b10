//! `instruction-in-text`: a text tells the pilot what to do

use super::Model;
use crate::base::Span;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;
use crate::model::{Entry, NodeIx};

/// The rule.
pub const RULE: Rule = Rule {
    code: "instruction-in-text",
    summary: "a text tells the pilot what to do",
    long: "The guide is a training aid and prints no procedure of its own: that is for the approved handbook. A hazard, a cue or a sign says what is, not what to do; point to the handbook with `see`.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for fault in &model.faults {
        let path = super::fault_path(model, fault);
        let hazards = fault.hazards.iter().map(|h| ("hazard", h.text.as_str()));
        for (key, text) in hazards.chain(fault.cue.as_ref().map(|c| ("cue", c.text.as_str()))) {
            tell(text, sources.place(&format!("{path}.{key}")), found);
        }
    }
    for fault in &model.faults {
        let path = super::fault_path(model, fault);
        let of_key = |key: &'static str, list: &[Entry<NodeIx>]| -> Vec<(&'static str, String)> {
            list.iter().filter_map(|e| e.text.clone()).map(|text| (key, text)).collect()
        };
        for (key, text) in of_key("misleads", &fault.misleads).into_iter().chain(of_key("weakens", &fault.weakens)) {
            tell(&text, sources.place(&format!("{path}.{key}")), found);
        }
    }
    for look in model.nodes.iter().flat_map(|n| &n.on_false) {
        tell(&look.text, look.span, found);
    }
    for alert in &model.alerts {
        let text = alert.reads.as_deref().unwrap_or("");
        tell(text, sources.place(&format!("alert.{}.reads", alert.id)), found);
    }
}

/// Verbs that, at the head of a sentence, make it an order to a pilot.
const ORDERS: [&str; 15] = [
    "Pull", "Push", "Turn", "Switch", "Set", "Reset", "Press", "Select", "Do", "Never", "Always", "Check", "Use",
    "Reduce", "Keep",
];

fn tell(text: &str, at: Span, found: &mut Diagnostics) {
    let order =
        text.split(['.', '!', '?', ';']).filter_map(|s| s.split_whitespace().next()).find(|w| ORDERS.contains(w));
    if let Some(word) = order {
        let message = format!("a sentence that begins with `{word}` reads as an instruction");
        found.push(
            Diagnostic::warning(RULE.code, at, message).help("say what is so, and point to the handbook with `see`"),
        );
    }
}
