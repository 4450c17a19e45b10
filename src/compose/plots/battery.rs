//! How long the battery lasts, with one load more shed at each stage.

use super::{Made, Rounding, Value, heads};
use crate::analyse::battery::{self, Battery, LEAST, Stage};
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::doc::{Axis, Bar, Bars, Chart, Inline, Inlines, PlotShown};
use crate::model::ItemIx;
use crate::parse::book::Call;

const MINUTES: Rounding = Rounding { step: 0.1, unit: "min" };
const LIMIT: Rounding = Rounding { step: 1.0, unit: "min" };

impl Composer<'_> {
    /// A bar a stage. `shed` names items, one after another with spaces between.
    pub(super) fn endurance_plot(&mut self, call: &Call) -> Option<Made> {
        let shed = self.shed(call)?;
        let (model, analysis) = (self.model, self.analysis);
        let plan = model.endurance.as_ref().and_then(|_| battery::plan(model, analysis, &[]));
        let Some((plan, of)) = plan.and_then(|p| Battery::of(model, p.battery).map(|b| (p, b))) else {
            let help = "say `capacity` of a battery, and name it in `[endurance]` with its phases";
            self.lacking(call, "phases on a battery with a capacity", help);
            return None;
        };
        let stages = match battery::stages(model, analysis, &shed, &of) {
            Ok(stages) => stages,
            Err(error) => {
                self.error(
                    "call-argument",
                    call.span,
                    error.to_string(),
                    "mend the battery or the phases in the model",
                );
                return None;
            }
        };
        let Ok(nothing) = battery::nothing_off(model, analysis, &of) else { return None };
        let (bar, row) = self.battery_bar("nothing-off", say("plot-nothing-off", &[]), nothing.total.0);
        let (mut bars, mut rows) = (vec![bar], vec![row]);
        for stage in &stages {
            let (bar, row) = self.stage_bar(stage);
            bars.push(bar);
            rows.push(row);
        }
        let most = bars.iter().map(|b| b.value).fold(LEAST.0, f64::max);
        let least = self.least();
        let along = Axis { name: say("plot-time-left", &[]), unit: "min", from: 0.0, to: most };
        let limit = say("plot-limit-endurance", &[("fact", least.clone().into())]);
        let rounding = self.rounding("minutes-left", MINUTES);
        let plot = PlotShown {
            reading: say("plot-reading-endurance", &[("fact", least.into()), ("other", rounding.into())]),
            charts: vec![Chart::Bars(Bars { along, bars, limit })],
            head: heads(&["plot-head-shed", "plot-time-left"]),
            rows,
            ..PlotShown::default()
        };
        let state = self.words.state(plan.state);
        Some(("endurance".to_owned(), say("caption-plot-endurance", &[("state", state.into())]), plot))
    }

    fn shed(&mut self, call: &Call) -> Option<Vec<ItemIx>> {
        let Some(named) = call.get("shed") else { return Some(Vec::new()) };
        let mut shed = Vec::new();
        for id in named.value.split_whitespace() {
            let Some(item) = self.model.find_item(id) else {
                let named = crate::base::Spanned { value: id.to_owned(), span: named.span };
                self.unknown_name(&named);
                return None;
            };
            shed.push(item);
        }
        Some(shed)
    }

    fn least(&mut self) -> Inline {
        self.valued(Value {
            subject: "plot/endurance",
            aspect: "least".to_owned(),
            number: LEAST.0,
            rounding: LIMIT,
            method: "14 CFR 23.1353(h) before 2017",
            inputs: Vec::new(),
        })
    }

    fn stage_bar(&mut self, stage: &Stage) -> (Bar, Vec<Inlines>) {
        let ids: Vec<&str> = stage.shed.iter().map(|i| self.model[*i].id.as_str()).collect();
        let of = if ids.is_empty() { "as-planned".to_owned() } else { ids.join("+") };
        let label = match stage.shed.last() {
            None => say("plot-as-planned", &[]),
            Some(item) => say("plot-without", &[("thing", self.words.item(self.model, *item).into())]),
        };
        self.battery_bar(&of, label, stage.endurance.total.0)
    }

    fn battery_bar(&mut self, of: &str, label: Inlines, total: f64) -> (Bar, Vec<Inlines>) {
        let shown = vec![self.valued(Value {
            subject: &format!("plot/endurance/{of}"),
            aspect: "minutes".to_owned(),
            number: total,
            rounding: MINUTES,
            method: "ampere-minutes by phase",
            inputs: Vec::new(),
        })];
        (Bar { label: label.clone(), value: total, shown: shown.clone(), limit: Some(LEAST.0) }, vec![label, shown])
    }
}
