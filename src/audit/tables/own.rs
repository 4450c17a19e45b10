//! What a fault does by itself: what it takes, and what it opens.

use super::Desk;
use super::failure::Case;
use crate::audit::parts::FaultName;
use crate::audit::situation::all_met;
use std::collections::BTreeSet;

impl Desk<'_> {
    /// Each thing that is opened by every fault of the table, in a line of its own.
    pub(super) fn check_opens(&mut self, case: &Case) {
        let printed = self.names_of_lines(case, "Opens");
        for fault in &case.faults {
            let trips = self.model.faults.get(fault).map_or(&[][..], |f| &f.trips);
            let met = trips.iter().filter(|entry| all_met(&entry.when, &case.met));
            let expected: BTreeSet<String> = met.map(|entry| self.model.nodes[entry.what].id.clone()).collect();
            self.compare(&case.at("Opens"), (&printed, &expected));
        }
    }

    /// What the fault takes by itself, unless a thing simply fails; of several faults, a line for each that takes something so.
    pub(super) fn check_gone_itself(&mut self, case: &Case) {
        let place = case.at("Gone itself");
        if let [fault] = case.faults.as_slice() {
            let printed = self.names_of_lines(case, "Gone itself");
            let expected = self.gone_itself(case, fault);
            return self.compare(&place, (&printed, &expected));
        }
        let mut left = case.row("Gone itself").to_vec();
        for fault in &case.faults {
            let expected = self.gone_itself(case, fault);
            let at = left.iter().position(|line| self.gone_line(line).is_some_and(|(of, _)| of == *fault));
            let printed = at.and_then(|at| self.gone_line(&left.remove(at))).map(|(_, ids)| ids).unwrap_or_default();
            self.compare(&place, (&printed, &expected));
        }
        for line in left {
            self.notes.find("line-extra", &place, line, "a line for each fault that takes something by itself");
        }
    }

    /// `If the pitot line comes off: Pitot line`.
    fn gone_line(&self, line: &str) -> Option<(FaultName, Vec<String>)> {
        let rest = line.strip_prefix("If ")?;
        rest.match_indices(": ").find_map(|(at, sign)| {
            Some((self.clauses.find(&rest[..at])?, self.nodes.list(&rest[at + sign.len()..], &[", "])?))
        })
    }

    fn gone_itself(&self, case: &Case, name: &FaultName) -> BTreeSet<String> {
        let Some(fault) = self.model.faults.get(name) else { return BTreeSet::new() };
        let met = fault.loses.iter().chain(&fault.takes).filter(|entry| all_met(&entry.when, &case.met));
        let taken: BTreeSet<String> = met.map(|entry| self.model.nodes[entry.what].id.clone()).collect();
        let own: BTreeSet<String> = self.words.with_functions(&name.item).into_iter().collect();
        let simply = name.fault == "fails" && taken.contains(&name.item) && taken.is_subset(&own);
        if simply { BTreeSet::new() } else { taken }
    }
}
