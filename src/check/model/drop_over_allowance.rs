//! `drop-over-allowance`: a wire drops more voltage than it may

use super::Model;
use crate::analyse::load::{WireCheck, circuits};
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "drop-over-allowance",
    summary: "a wire drops more voltage than it may",
    long: "AC 43.13-1B allows a drop from the bus to the load: in a 14 V system 0.5 V while current flows on and on and 1 V for moments, in a 28 V system 1 V and 2 V. The drop is resistance (Table 11-9) × length × the sum of `draws` on the circuit.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for circuit in circuits(model) {
        let Some(wire) = circuit.wire.filter(WireCheck::drops_too_much) else { continue };
        let Some(allowed) = wire.allowed else { continue };
        let of = &model[circuit.item].id;
        let (drop, most) = if wire.continuous_drop > allowed.continuous {
            (wire.continuous_drop, allowed.continuous)
        } else {
            (wire.total_drop, allowed.intermittent)
        };
        let message = format!("the wire of `{of}` drops {:.2} V, and it may drop {} V", drop.0, most.0);
        found.push(
            Diagnostic::warning(RULE.code, sources.place(&format!("item.{of}.wire.length")), message)
                .help("mend the size or length of the wire, or what is drawn through it"),
        );
    }
}
