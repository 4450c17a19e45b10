//! `panel-outside`: an item lies outside the panel

use super::Model;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "panel-outside",
    summary: "an item lies outside the panel",
    long: "The drawing of the panel shows what `[panel]` measures. An item whose edge lies beyond it would be cut. A size of zero or less is no size.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for item in &model.items {
        let Some(place) = &item.panel else { continue };
        let at = |key: &str| sources.place(&format!("item.{}.panel.{key}", item.id));
        if place.width_mm <= 0.0 || place.height_mm <= 0.0 {
            let message = format!("`{}` has no size on the panel", item.id);
            found.push(Diagnostic::error(RULE.code, at("size"), message).help("write a size above zero"));
            continue;
        }
        let Some(panel) = &model.panel else { continue };
        let fits = |centre: f64, size: f64, room: f64| centre - size / 2.0 >= 0.0 && centre + size / 2.0 <= room;
        if !fits(place.x_mm, place.width_mm, panel.width_mm) || !fits(place.y_mm, place.height_mm, panel.height_mm) {
            let (width, height) = (panel.width_mm, panel.height_mm);
            let message = format!("`{}` reaches beyond the panel of {width} mm by {height} mm", item.id);
            found.push(
                Diagnostic::error(RULE.code, at("at"), message)
                    .also(panel.span, "the panel")
                    .help("move it, make it smaller, or make the panel larger"),
            );
        }
    }
}
