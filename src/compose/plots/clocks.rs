//! What the tachometer counts in one hour of the clock, by engine speed.

use super::{Made, Rounding, Value, heads};
use crate::analyse::measure::{Minutes, Rpm};
use crate::analyse::tach::{Leg, tach_time};
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::doc::{Axis, Chart, Curve, Curves, Inlines, PlotShown, Stroke};
use crate::model::ArcMark;
use crate::parse::book::Call;

/// One hour of the clock.
const HOUR: Minutes = Minutes(60.0);
/// Between two speeds that are told, rpm.
const STEP: f64 = 500.0;
/// The highest speed, as a share of the reference, where the tachometer has no red mark below it.
const HIGHEST: f64 = 1.25;
const MINUTES: Rounding = Rounding { step: 0.1, unit: "min" };

impl Composer<'_> {
    /// Tachometer time beside clock time.
    pub(super) fn clocks_plot(&mut self, call: &Call) -> Option<Made> {
        let found = self.model.time.as_ref().and_then(|t| t.reference.clone().map(|r| (r, t.span)));
        let speed = found.as_ref().and_then(|(r, _)| Rpm::of(r)).filter(|r| r.0 > 0.0);
        let (Some((reference, span)), Some(speed)) = (found, speed) else {
            self.lacking(
                call,
                "the speed at which its tachometer keeps time",
                "add `reference = \"… rpm\"` to `[time]`",
            );
            return None;
        };
        let to = (speed.0 * HIGHEST).min(self.greatest_speed().filter(|most| *most > speed.0).unwrap_or(f64::MAX));
        let count = |rpm: f64| -> Option<f64> {
            if rpm <= 0.0 {
                return Some(0.0);
            }
            let leg = Leg { speed_rpm: rpm, time_min: HOUR.0 };
            tach_time(&[leg], speed.0).ok().map(|t| t.tach_h * 60.0)
        };
        let told = speeds(speed.0, to);
        let points = [0.0].iter().chain(&told).map(|rpm| Some((*rpm, count(*rpm)?))).collect::<Option<Vec<_>>>()?;
        let rows = told.iter().map(|rpm| Some(self.clock_row(*rpm, count(*rpm)?))).collect::<Option<Vec<_>>>()?;
        let fact = self.quantity("time", "reference", &reference, span);
        let level = Some((speed.0, say("plot-reference", &[("fact", fact.into())])));
        let across = Axis { name: say("plot-engine", &[]), unit: "rpm", from: 0.0, to };
        let up = Axis { name: say("plot-tach", &[]), unit: "min", from: 0.0, to: HOUR.0 * HIGHEST };
        let curves = vec![
            Curve {
                label: say("plot-clock-line", &[]),
                stroke: Stroke::Plain,
                points: vec![(0.0, HOUR.0), (to, HOUR.0)],
            },
            Curve { label: say("plot-tach-line", &[]), stroke: Stroke::Broken, points },
        ];
        let rounding = self.rounding("tachometer", MINUTES);
        let plot = PlotShown {
            reading: say("plot-reading-clocks", &[("fact", rounding.into())]),
            charts: vec![Chart::Curves(Curves { across, up, curves, level })],
            head: heads(&["plot-engine", "plot-head-clock", "plot-head-tach"]),
            rows,
            ..PlotShown::default()
        };
        Some(("clocks".to_owned(), say("caption-plot-clocks", &[]), plot))
    }

    /// The red mark of the tachometer, rpm.
    fn greatest_speed(&self) -> Option<f64> {
        let tachometer = self.model.time.as_ref()?.tachometer?;
        let arcs = &self.model[tachometer].scale.as_ref()?.arcs;
        let red = arcs.iter().filter(|arc| arc.mark == ArcMark::Red);
        red.filter_map(|arc| Rpm::of(&arc.over)).map(|rpm| rpm.0).reduce(f64::min)
    }

    fn clock_row(&mut self, rpm: f64, counts: f64) -> Vec<Inlines> {
        let subject = format!("plot/clocks/{rpm}-rpm");
        let mut value = |aspect: &str, number: f64, rounding: Rounding| {
            let (method, inputs) = ("tachometer time", vec!["time/reference".to_owned()]);
            vec![self.valued(Value { subject: &subject, aspect: aspect.to_owned(), number, rounding, method, inputs })]
        };
        let speed = value("speed", rpm, Rounding { step: 1.0, unit: "rpm" });
        vec![speed, value("clock", HOUR.0, Rounding { step: 1.0, unit: "min" }), value("tachometer", counts, MINUTES)]
    }
}

/// Round speeds, the reference, and the highest, from the lowest up.
fn speeds(reference: f64, to: f64) -> Vec<f64> {
    let mut speeds: Vec<f64> = (1..).map(|n| f64::from(n) * STEP).take_while(|s| *s < to).take(50).collect();
    speeds.extend([reference, to]);
    speeds.sort_by(f64::total_cmp);
    speeds.dedup();
    speeds
}
