//! What shows a fault: alerts, gauges that sense what is gone, instruments that look dead.

use super::Analysis;
use super::moment::Moment;
use super::restore::Search;
use super::view::View;
use crate::analyse::answer::{Affected, HowYouKnow, Indication};
use crate::model::{AlertIx, Entry, Fault, FaultIx, LossOf, NodeIx, Place};

/// What shows and what does not.
#[derive(Debug, Default)]
pub(super) struct Shown {
    /// Now and not before.
    pub shows: Vec<Indication>,
    /// Now and before.
    pub already_on: Vec<AlertIx>,
    /// Could before and cannot now.
    pub no_longer_warns: Vec<AlertIx>,
}

impl Analysis<'_> {
    /// Alerts and gauges before and with faults.
    pub(super) fn shown(&self, faults: &[FaultIx], before: &Moment, after: &Moment) -> Shown {
        let (was, now) = (View::as_it_stands(self.model, before), View::as_it_stands(self.model, after));
        let mut shown = Shown::default();
        for alert in (0..self.model.alerts.len()).map(AlertIx::new) {
            let hidden = self.entries(faults, after, |f| &f.hides).any(|a| a == alert);
            let told = self.entries(faults, after, |f| &f.shows).any(|a| a == alert);
            let could = self.can_show(was, alert);
            let can = !hidden && self.can_show(now, alert);
            let shown_before = could && self.is_due(was, alert);
            if can && (told || self.is_due(now, alert)) {
                if shown_before { shown.already_on.push(alert) } else { shown.shows.push(Indication::Alert(alert)) }
            }
            if could && !can {
                shown.no_longer_warns.push(alert);
            }
        }
        let gauges = self.gauges.iter().filter(|g| self.gauge_shows(**g, was, now, after));
        shown.shows.extend(gauges.map(|g| Indication::Gauge(*g)));
        shown
    }

    fn can_show(&self, view: View, alert: AlertIx) -> bool {
        let alert = &self.model[alert];
        view.intact(self.model[alert.on].node) && view.all_hold(&alert.needs, None)
    }

    fn is_due(&self, view: View, alert: AlertIx) -> bool {
        !view.all_hold(&self.model[alert].watches, None)
    }

    /// Whether an alert shows, whatever was before.
    pub(super) fn alert_shows(&self, alert: AlertIx, faults: &[FaultIx], at: &Moment) -> bool {
        let now = View::as_it_stands(self.model, at);
        let hidden = self.entries(faults, at, |f| &f.hides).any(|a| a == alert);
        let told = self.entries(faults, at, |f| &f.shows).any(|a| a == alert);
        !hidden && self.can_show(now, alert) && (told || self.is_due(now, alert))
    }

    /// A gauge that is itself false shows nothing that could be trusted.
    pub(super) fn gauge_shows(&self, gauge: NodeIx, was: View, now: View, after: &Moment) -> bool {
        let sensed = &self.model[gauge].senses;
        after.outcome.truth.has(gauge) && was.all_hold(sensed, Some(gauge)) && !now.all_hold(sensed, Some(gauge))
    }

    /// What an entry list of these faults names while the controls stand so.
    pub(super) fn entries<'a, T: Copy + 'a>(
        &'a self,
        faults: &'a [FaultIx],
        at: &'a Moment,
        list: impl Fn(&'a Fault) -> &'a Vec<Entry<T>> + 'a,
    ) -> impl Iterator<Item = T> + 'a {
        let lists = faults.iter().flat_map(move |f| list(&self.model[*f]));
        lists.filter(|e| at.setting.matches(&e.when)).map(|e| e.what)
    }

    /// True if the pilot can see that a lost instrument is dead.
    pub(super) fn looks_dead(&self, lost: &Affected) -> bool {
        let gone = |of: LossOf| match of {
            LossOf::Node(node) => lost.misses.contains(&node),
            LossOf::Medium(medium) => lost.misses.iter().any(|n| self.model[*n].gives == Some(medium)),
        };
        self.model[lost.node].on_loss.iter().any(|look| look.looks.tells() && gone(look.of))
    }

    /// The first way of coming to know that applies.
    pub(super) fn how_you_know(&self, search: &Search<'_>, shows: &[Indication], looks_dead: bool) -> HowYouKnow {
        let in_flight = search.place == Place::InFlight;
        let (faults, positions) = (search.faults, &search.after.setting.situation.positions);
        let any = |test: &dyn Fn(&Fault) -> bool| faults.iter().any(|f| test(&self.model[*f]));
        if shows.iter().any(|i| matches!(i, Indication::Alert(_))) {
            HowYouKnow::Alert
        } else if !shows.is_empty() {
            HowYouKnow::Gauge
        } else if looks_dead {
            HowYouKnow::Instrument
        } else if faults.iter().any(|f| self.model.cue_of(*f, positions).is_some()) {
            HowYouKnow::Cue
        } else if any(&|f| f.found_by.is_some_and(|by| !(in_flight && by.on_the_ground_only()))) {
            HowYouKnow::Use
        } else {
            HowYouKnow::Nothing
        }
    }
}
