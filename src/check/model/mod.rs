//! Rules of a finished model, one a file.

mod alert_watches_nothing;
mod arc_outside;
mod breaker_larger_than_wire;
mod cannot_fail_and_fails;
mod contrast_too_low;
mod does_missing;
mod draws_without_electricity;
mod drop_over_allowance;
mod fault_does_nothing;
mod hazard_missing;
mod information_untold;
mod instruction_in_text;
mod kept_by_without_lasts;
mod lasts_not_computed;
mod load_over_80_percent;
mod medium_pattern_twice;
mod medium_twice;
mod name_twice;
mod never_works;
mod on_loss_missing;
mod panel_outside;
mod panel_overlap;
mod prefer_tells_not;
mod pull_not_a_breaker;
mod quantity_negative;
mod reads_without_senses;
mod rest_does_not_stay;
mod short_too_long;
mod system_empty;
mod tag_twice;
mod tells_nothing;
mod time_incomplete;
mod transient_without_reset;
mod trips_not_a_breaker;
mod usable_over_capacity;

use super::Rule;
use crate::analyse::network::Analysis;
use crate::base::{Diagnostics, Sources, Span};
use crate::model::{Fault, Model, Node, NodeKind};

/// Applies a rule.
type Check = fn(&Model, &Sources, &mut Diagnostics);

/// Every rule that the model alone can break.
const RULES: &[(&Rule, Check)] = &[
    (&alert_watches_nothing::RULE, alert_watches_nothing::check),
    (&arc_outside::RULE, arc_outside::check),
    (&breaker_larger_than_wire::RULE, breaker_larger_than_wire::check),
    (&cannot_fail_and_fails::RULE, cannot_fail_and_fails::check),
    (&contrast_too_low::RULE, contrast_too_low::check),
    (&does_missing::RULE, does_missing::check),
    (&draws_without_electricity::RULE, draws_without_electricity::check),
    (&drop_over_allowance::RULE, drop_over_allowance::check),
    (&fault_does_nothing::RULE, fault_does_nothing::check),
    (&hazard_missing::RULE, hazard_missing::check),
    (&information_untold::RULE, information_untold::check),
    (&instruction_in_text::RULE, instruction_in_text::check),
    (&kept_by_without_lasts::RULE, kept_by_without_lasts::check),
    (&medium_pattern_twice::RULE, medium_pattern_twice::check),
    (&medium_twice::RULE, medium_twice::check),
    (&name_twice::RULE, name_twice::check),
    (&on_loss_missing::RULE, on_loss_missing::check),
    (&panel_outside::RULE, panel_outside::check),
    (&panel_overlap::RULE, panel_overlap::check),
    (&prefer_tells_not::RULE, prefer_tells_not::check),
    (&pull_not_a_breaker::RULE, pull_not_a_breaker::check),
    (&quantity_negative::RULE, quantity_negative::check),
    (&reads_without_senses::RULE, reads_without_senses::check),
    (&rest_does_not_stay::RULE, rest_does_not_stay::check),
    (&short_too_long::RULE, short_too_long::check),
    (&system_empty::RULE, system_empty::check),
    (&tag_twice::RULE, tag_twice::check),
    (&tells_nothing::RULE, tells_nothing::check),
    (&time_incomplete::RULE, time_incomplete::check),
    (&transient_without_reset::RULE, transient_without_reset::check),
    (&trips_not_a_breaker::RULE, trips_not_a_breaker::check),
    (&usable_over_capacity::RULE, usable_over_capacity::check),
];

/// Every rule, for the registry.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    RULES.iter().map(|(rule, _)| *rule).chain([
        &lasts_not_computed::RULE,
        &load_over_80_percent::RULE,
        &never_works::RULE,
    ])
}

/// Everything that a model and its solved states break.
pub fn check(model: &Model, analysis: &Analysis<'_>, sources: &Sources) -> Diagnostics {
    let mut found = Diagnostics::default();
    for (_, check) in RULES {
        check(model, sources, &mut found);
    }
    lasts_not_computed::check(model, analysis, sources, &mut found);
    load_over_80_percent::check(model, analysis, sources, &mut found);
    never_works::check(model, analysis, sources, &mut found);
    found.sort(sources);
    found
}

/// The path of a node's table in model files.
fn path_of(model: &Model, node: &Node) -> String {
    match node.kind {
        NodeKind::Item(item) => format!("item.{}", model[item].id),
        NodeKind::Given(given) => format!("given.{}", model[given].id),
        NodeKind::Function(item, _) => {
            let function = node.id.rsplit('.').next().unwrap_or_default();
            format!("item.{}.function.{function}", model[item].id)
        }
    }
}

/// Where the value of a node's key stands, or its table where the key is not written.
fn place_of(model: &Model, sources: &Sources, node: &Node, key: &str) -> Span {
    sources.place(&format!("{}.{key}", path_of(model, node)))
}

/// The path of a fault's table in model files.
fn fault_path(model: &Model, fault: &Fault) -> String {
    format!("{}.fault.{}", path_of(model, &model[fault.of]), fault.id)
}
