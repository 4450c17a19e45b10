//! The time on the battery alone, worked line by line.

use super::{Printed, Work, chain, spell};
use crate::analyse::battery::{self, Battery, BatteryError, Endurance, Plan};
use crate::analyse::load::mean;
use crate::base::Span;
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::compose::say::quoted;
use crate::doc::{Block, Inlines};

/// What the sums are made from: the phases, the battery and what comes of them.
pub struct OnBattery {
    /// The phases with their loads.
    pub plan: Plan,
    /// What the battery gives.
    pub battery: Battery,
    /// The phases worked out.
    pub endurance: Endurance,
}

/// Operands that come back in several lines.
struct Operands {
    rated: Printed,
    hour: Printed,
    minutes: Printed,
    rated_current: Option<Printed>,
}

impl Composer<'_> {
    /// The phases of the model on its battery; nothing where it has none, or with an error kept where it cannot be worked out.
    pub fn on_battery(&mut self, span: Span) -> Option<OnBattery> {
        self.model.endurance.as_ref()?;
        let plan = battery::plan(self.model, self.analysis, &[])?;
        let battery = Battery::of(self.model, plan.battery)?;
        match battery.endurance(&plan.phases()) {
            Ok(endurance) => Some(OnBattery { plan, battery, endurance }),
            Err(error) => {
                self.battery_error(span, error);
                None
            }
        }
    }

    /// Keeps the error that the sums of a battery cannot be done.
    pub fn battery_error(&mut self, span: Span, error: BatteryError) {
        self.error(
            "call-argument",
            span,
            error.to_string(),
            "mend the battery or `[endurance]`, or take the call away",
        );
    }

    /// The worked sum, what is carried in each phase, and the phases tabled.
    pub fn battery(&mut self, span: Span) -> Vec<Block> {
        let Some(on) = self.on_battery(span) else { return vec![Block::Para(say("none-such", &[]))] };
        let mut blocks = self.phase_loads(&on);
        blocks.extend(self.battery_worked(&on));
        blocks.extend(self.phases(&on));
        blocks.extend(self.cold(&on));
        blocks
    }

    fn battery_worked(&mut self, on: &OnBattery) -> Vec<Block> {
        let mut work = Work::default();
        let operands = self.battery_operands(on);
        let usable = self.usable_steps(on, &operands, &mut work);
        let takes = self.phase_steps(on, &operands, &mut work);
        if on.endurance.empty_in.is_none() {
            self.open_steps(on, (&usable, &takes), &operands, &mut work);
        }
        let noun = self.words.item(self.model, on.plan.battery);
        let title = say("battery-title", &[("thing", noun.into())]);
        let mut blocks = work.block(self, "battery/minutes", title, "battery-source");
        blocks.extend(
            on.endurance.empty_in.map(|at| Block::Para(say("battery-empty", &[("part", phase_name(on, at).into())]))),
        );
        blocks
    }

    fn battery_operands(&mut self, on: &OnBattery) -> Operands {
        let over = on.battery.over.filter(|_| on.battery.exponent > 1.0);
        Operands {
            rated: self.printed("battery/rated", on.battery.rated.0, "Ah", 3),
            hour: self.printed("unit/hour", 1.0, "h", 0),
            minutes: self.printed("unit/minutes", 60.0, "min", 0),
            rated_current: over.map(|h| self.printed("battery/rated-current", on.battery.rated.0 / h.0, "A", 3)),
        }
    }

    /// What is counted on, in ampere minutes.
    fn usable_steps(&mut self, on: &OnBattery, with: &Operands, work: &mut Work) -> Printed {
        let share = self.printed("battery/share", on.battery.usable, "", 4);
        let usable = self.printed("battery/usable", with.rated.value * share.value, "Ah", 3);
        work.step(say("battery-usable", &[]), spell("# × #", &[&with.rated, &share]), &usable);
        let a_min = self.printed("battery/usable-a-min", usable.value * 60.0, "A·min", 1);
        work.step(say("battery-in-minutes", &[]), spell("# × # ÷ #", &[&usable, &with.minutes, &with.hour]), &a_min);
        if let (Some(over), Some(current)) = (on.battery.over, &with.rated_current) {
            let over = self.printed("battery/over", over.0, "h", 3);
            work.step(say("battery-rated-current", &[]), spell("# ÷ #", &[&with.rated, &over]), current);
        }
        a_min
    }

    /// What each phase of a fixed time takes.
    fn phase_steps(&mut self, on: &OnBattery, with: &Operands, work: &mut Work) -> Vec<Printed> {
        let mut takes = Vec::new();
        for (at, phase) in on.plan.phases.iter().enumerate() {
            let name = phase_name(on, at);
            let counts = self.counts_as(on, at, with, work);
            let Some(lasts) = phase.lasts else { continue };
            let time = self.printed(&format!("battery/{at}/lasts"), lasts.0, "min", 1);
            let taken = self.printed(&format!("battery/{at}/taken"), counts.value * time.value, "A·min", 1);
            work.step(say("battery-takes", &[("part", name.into())]), spell("# × #", &[&counts, &time]), &taken);
            takes.push(taken);
        }
        takes
    }

    /// The current of a phase, or what it counts as where it is greater than that of the rating.
    fn counts_as(&mut self, on: &OnBattery, at: usize, with: &Operands, work: &mut Work) -> Printed {
        let current = self.printed(&format!("battery/{at}/current"), mean(&on.plan.phases[at].loads).0, "A", 3);
        let Some(rated) = with.rated_current.as_ref().filter(|r| current.value > r.value) else { return current };
        let exponent = self.printed("battery/exponent", on.battery.exponent, "", 4);
        let one = self.printed("unit/one", 1.0, "", 0);
        let share = libm::pow(current.value / rated.value, exponent.value - 1.0);
        let counts = self.printed(&format!("battery/{at}/counts"), current.value * share, "A", 2);
        let sum = spell("# × (# ÷ #) ^ (# − #)", &[&current, &current, rated, &exponent, &one]);
        work.step(say("battery-counts", &[("part", phase_name(on, at).into())]), sum, &counts);
        counts
    }

    /// What is left for the phase without a time of its own, and all of them together.
    fn open_steps(
        &mut self,
        on: &OnBattery,
        (usable, takes): (&Printed, &[Printed]),
        with: &Operands,
        work: &mut Work,
    ) {
        let Some(open) = on.plan.phases.iter().position(|p| p.lasts.is_none()) else { return };
        let name = || [("part", phase_name(on, open).into())];
        let left = usable.value - takes.iter().map(|t| t.value).sum::<f64>();
        let left = self.printed("battery/left", left, "A·min", 1);
        let all: Vec<Printed> = std::iter::once(usable.clone()).chain(takes.iter().cloned()).collect();
        if !takes.is_empty() {
            work.step(say("battery-left", &name()), chain(" − ", &all), &left);
        }
        let counts = self.counts_as(on, open, with, &mut Work::default()); // its line stands above
        let time = self.printed("battery/open", left.value / counts.value, "min", 1);
        work.step(say("battery-open", &name()), spell("# ÷ #", &[&left, &counts]), &time);
        let times: Vec<Printed> = (0..on.plan.phases.len()).map(|at| self.phase_time(on, at, &time)).collect();
        let total = self.printed("battery/total", times.iter().map(|t| t.value).sum(), "min", 1);
        work.step(say("battery-total", &[]), chain(" + ", &times), &total);
    }

    fn phase_time(&mut self, on: &OnBattery, at: usize, open: &Printed) -> Printed {
        match on.plan.phases[at].lasts {
            Some(lasts) => self.printed(&format!("battery/{at}/lasts"), lasts.0, "min", 1),
            None => open.clone(),
        }
    }
}

/// The name of a phase, as the author wrote it.
pub fn phase_name(on: &OnBattery, at: usize) -> Inlines {
    let name = on.plan.phases.get(at).map_or("", |p| p.name.as_str());
    vec![quoted(format!("endurance/phase/{}/name", at + 1), name)]
}
