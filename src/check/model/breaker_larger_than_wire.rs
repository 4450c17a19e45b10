//! `breaker-larger-than-wire`: a breaker or fuse opens later than its wire can bear

use super::Model;
use crate::analyse::load::circuits;
use crate::base::{Diagnostic, Diagnostics, Sources};
use crate::check::Rule;

/// The rule.
pub const RULE: Rule = Rule {
    code: "breaker-larger-than-wire",
    summary: "a breaker or fuse opens later than its wire can bear",
    long: "A breaker protects its wire (AC 43.13-1B, paragraph 11-48). Table 11-3 there gives the greatest breaker and the greatest fuse for each size of copper wire; a greater one lets the wire burn before it opens.",
};

/// Applies it.
pub fn check(model: &Model, sources: &Sources, found: &mut Diagnostics) {
    for circuit in circuits(model).iter().filter(|c| c.breaker_is_larger_than_wire()) {
        let Some((wire, opens)) = circuit.wire.zip(circuit.opens_at) else { continue };
        let of = &model[circuit.item].id;
        let most = wire.protected_to.map_or(0.0, |a| a.0);
        let message = format!(
            "`{of}` opens at {} A, and a wire of size {} is protected up to {most} A",
            opens.0,
            wire.gauge.word()
        );
        found.push(
            Diagnostic::warning(RULE.code, sources.place(&format!("item.{of}.rating")), message)
                .also(sources.place(&format!("item.{of}.wire.gauge")), "its wire")
                .help("mend the rating or the size of the wire"),
        );
    }
}
