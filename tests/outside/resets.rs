//! Nothing that opened by itself is offered to be closed again.
//!
//! # Source
//! FAA AC 120-80 and the draft policy of August 2010 (read): a tripped breaker is not reset in flight unless the manual says so or
//! the pilot in command judges it needed, and never more than once. A guide that prints no procedure offers none.

use super::sandling;
use ribstitch::analyse::network::Analysis;
use ribstitch::model::{Kind, NodeKind};

#[test]
fn no_fault_in_any_state_is_answered_by_closing_a_breaker_or_a_tripped_device() {
    let model = sandling();
    let analysis = Analysis::new(&model);
    let mut asked = 0;
    for state in model.state_indices() {
        for effects in analysis.single_faults(state) {
            asked += 1;
            let tripped: Vec<_> =
                effects.question.faults.iter().flat_map(|f| &model[*f].trips).map(|t| t.what).collect();
            for step in effects.restores.iter().flat_map(|r| &r.moves) {
                let item = &model[step.control];
                assert!(!matches!(item.kind, Kind::Breaker | Kind::Fuse), "{}", item.id);
                assert!(!tripped.contains(&item.node), "{}", item.id);
            }
        }
    }
    assert!(asked > 500, "only {asked} faults were asked about");
}

/// The demo has faults that trip a breaker, and losing a breaker is asked about: the check above can fail.
#[test]
fn the_demo_has_breakers_that_trip() {
    let model = sandling();
    let tripped = model.faults.iter().flat_map(|f| &f.trips).map(|t| t.what);
    let breakers = tripped.filter(|n| matches!(model[*n].kind, NodeKind::Item(i) if model[i].kind == Kind::Breaker));
    assert!(breakers.count() > 0);
}
