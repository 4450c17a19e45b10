//! `panel-overlap`: two items cover each other on the panel

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "panel-overlap",
    summary: "two items cover each other on the panel",
    long: "No two things can be at one place on a panel, so one of the two places or sizes is wrong.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    let mut placed: Vec<_> = model.items.iter().filter_map(|i| i.panel.as_ref().map(|p| (i, p))).collect();
    placed.sort_by(|a, b| (a.1.x_mm - a.1.width_mm / 2.0).total_cmp(&(b.1.x_mm - b.1.width_mm / 2.0)));
    for (at, (first, a)) in placed.iter().enumerate() {
        let right = a.x_mm + a.width_mm / 2.0;
        for (second, b) in placed.iter().skip(at + 1).take_while(|(_, b)| b.x_mm - b.width_mm / 2.0 < right - PLAY_MM) {
            let apart = (a.y_mm - b.y_mm).abs() - f64::midpoint(a.height_mm, b.height_mm);
            if apart < -PLAY_MM {
                found.push(overlap((first, a), (second, b), sources));
            }
        }
    }
}

/// Edges may touch; rounding of units must not tell otherwise.
const PLAY_MM: f64 = 0.001;

type Placed<'a> = (&'a crate::model::Item, &'a crate::model::PanelPlace);

fn overlap(first: Placed<'_>, second: Placed<'_>, sources: &Sources) -> Diagnostic {
    let (first, second) = if first.0.id < second.0.id { (first, second) } else { (second, first) };
    let at = |of: Placed<'_>| sources.place(&format!("item.{}.panel.at", of.0.id));
    let message = format!("`{}` and `{}` cover each other on the panel", first.0.id, second.0.id);
    Diagnostic::error(RULE.code, at(second), message)
        .also(at(first), "the other one")
        .help("measure both again: centre from the panel's top left, then width and height")
}
