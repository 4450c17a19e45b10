//! What is drawn in each state, beside what the alternator may carry.

use super::{Made, Rounding, Value, heads};
use crate::analyse::load::{CONTINUOUS_SHARE, StateLoad, by_state};
use crate::compose::composer::{Composer, chain_order};
use crate::compose::phrase::say;
use crate::doc::{Axis, Bar, Bars, Chart, Inline, Inlines, PlotShown};
use crate::parse::book::Call;

const AMPS: Rounding = Rounding { step: 0.1, unit: "A" };
const SHARE: Rounding = Rounding { step: 1.0, unit: "%" };

impl Composer<'_> {
    /// A bar a state.
    pub(super) fn load_plot(&mut self, call: &Call) -> Option<Made> {
        let all = by_state(self.model, self.analysis);
        if all.iter().all(|s| s.loads.is_empty()) {
            self.lacking(call, "anything that says what it `draws`", "say what the consumers draw");
            return None;
        }
        let order = chain_order(self.model);
        let loads: Vec<&StateLoad> = order.iter().filter_map(|s| all.iter().find(|l| l.state == *s)).collect();
        let (mut bars, mut rows) = (Vec::new(), Vec::new());
        for load in &loads {
            let (bar, row) = self.load_bar(load);
            bars.push(bar);
            rows.push(row);
        }
        let most = bars.iter().flat_map(|b| [b.value, b.limit.unwrap_or(0.0)]).fold(1.0, f64::max);
        let share = self.share();
        let along = Axis { name: say("plot-load", &[]), unit: "A", from: 0.0, to: most };
        let one = bars.iter().filter_map(|b| b.limit).reduce(|a, b| if a == b { a } else { f64::NAN });
        let amps = one.filter(|a| a.is_finite()).map(|a| self.limit(a));
        let mut facts = vec![("fact", share.clone().into())];
        facts.extend(amps.map(|a| ("other", a.into())));
        let limit = say("plot-limit-load", &facts);
        let rounding = self.rounding("current", AMPS);
        let plot = PlotShown {
            reading: say("plot-reading-load", &[("fact", share.clone().into()), ("other", rounding.into())]),
            charts: vec![Chart::Bars(Bars { along, bars, limit })],
            head: heads(&["plot-head-state", "plot-load", "plot-head-limit"]),
            rows,
            ..PlotShown::default()
        };
        Some(("load".to_owned(), say("caption-plot-load", &[("fact", share.into())]), plot))
    }

    fn share(&mut self) -> Inline {
        self.valued(Value {
            subject: "plot/load",
            aspect: "share".to_owned(),
            number: CONTINUOUS_SHARE * 100.0,
            rounding: SHARE,
            method: "AC 43.13-1B, paragraph 11-35",
            inputs: Vec::new(),
        })
    }

    /// The limit that all states have in common.
    fn limit(&mut self, amps: f64) -> Inline {
        self.valued(Value {
            subject: "plot/load",
            aspect: "allowed".to_owned(),
            number: amps,
            rounding: AMPS,
            method: "AC 43.13-1B, paragraph 11-35",
            inputs: Vec::new(),
        })
    }

    fn load_bar(&mut self, load: &StateLoad) -> (Bar, Vec<Inlines>) {
        let subject = format!("plot/load/{}", self.model[load.state].id);
        let mut amps = |aspect: &str, number: f64| {
            let (method, inputs) = ("sum of the continuous loads", Vec::new());
            let aspect = aspect.to_owned();
            vec![self.valued(Value { subject: &subject, aspect, number, rounding: AMPS, method, inputs })]
        };
        let shown = amps("continuous", load.continuous.0);
        let limit = (load.alternators.0 > 0.0).then_some(load.allowed().0);
        let limited = limit.map_or_else(|| say("plot-no-alternator", &[]), |l| amps("allowed", l));
        let label = vec![self.words.state(load.state).inline()];
        let row = vec![label.clone(), shown.clone(), limited];
        (Bar { label, value: load.continuous.0, shown, limit }, row)
    }
}
