//! Fuel by tank, with its reserves, and on one tank alone.

use super::{Printed, Toward, Work, beginning, spell};
use crate::analyse::fuel::{self, FuelError, Light, POUNDS_A_GALLON, Tank};
use crate::analyse::measure::{Gallons, GallonsPerHour, Minutes};
use crate::base::Spanned;
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::compose::say::then_sentence;
use crate::doc::{Block, Cell, Column, Inline, Inlines, Row, TableKind};
use crate::parse::book::Call;

impl Composer<'_> {
    /// The rate that a chapter names: the id of a quantity.
    fn rate(&mut self, call: &Call) -> Option<(GallonsPerHour, Inline)> {
        let named = call.get("rate")?;
        let quantity = self.model.quantities.iter().find(|q| q.id.as_str() == named.value);
        let Some(rate) = quantity.and_then(|q| GallonsPerHour::of(&q.value)) else {
            let message = format!("`{}` is no consumption of the model", crate::compose::value::clip(&named.value));
            self.error("value-unknown", named.span, message, "write the id of a quantity in gph");
            return None;
        };
        let printed = self.printed(&format!("fuel/rate/{}", named.value), rate.0, "gph", 2);
        Some((rate, printed.inline()))
    }

    fn fuel_error(&mut self, at: &Call, error: FuelError) -> Vec<Block> {
        self.error("call-argument", at.span, error.to_string(), "mend the numbers of the call or of the model");
        Vec::new()
    }

    /// Each tank, and all of them, with the time that they last at a rate.
    pub fn tanks(&mut self, call: &Call) -> Vec<Block> {
        let Some((rate, shown)) = self.rate(call) else { return Vec::new() };
        let tanks = fuel::tanks(self.model);
        let mut rows = Vec::new();
        for tank in &tanks {
            let id = self.model[tank.item].id.to_string();
            let name = Cell::line(vec![beginning(self.words.item(self.model, tank.item))]);
            match self.tank_cells(name, (tank.holds, tank.usable), rate, &id) {
                Ok(cells) => rows.push(Row { about: id, cells }),
                Err(error) => return self.fuel_error(call, error),
            }
        }
        let all = |of: fn(&Tank) -> Gallons| tanks.iter().map(of).sum::<Gallons>();
        let sums = (all(|t| t.holds), all(|t| t.usable));
        match self.tank_cells(Cell::line(say("in-all", &[])), sums, rate, "all") {
            Ok(cells) if !rows.is_empty() => rows.push(Row { about: "all".to_owned(), cells }),
            Ok(_) => {}
            Err(error) => return self.fuel_error(call, error),
        }
        let columns = vec![Column::Tank, Column::Holds, Column::Usable, Column::Time];
        let caption = say("caption-tanks", &[("fact", shown.into())]);
        let mut blocks = self.table_or_none("fuel/tanks", TableKind::Tanks, caption, columns, rows);
        blocks.push(Block::Para(say("times-down", &[])));
        blocks
    }

    fn tank_cells(
        &mut self,
        name: Cell,
        (holds, usable): (Gallons, Gallons),
        rate: GallonsPerHour,
        id: &str,
    ) -> Result<Vec<Cell>, FuelError> {
        let time = fuel::endurance(usable, rate)?.minutes();
        Ok(vec![
            name,
            self.printed(&format!("fuel/{id}/holds"), holds.0, "gal", 2).cell(),
            self.printed(&format!("fuel/{id}/usable"), usable.0, "gal", 2).cell(),
            self.printed_toward(&format!("fuel/{id}/time"), time.0, "min", (0, Toward::Down)).cell(),
        ])
    }

    /// Times in minutes, as a chapter lists them.
    fn minutes_of(&mut self, given: &Spanned<String>) -> Option<Vec<Minutes>> {
        let read: Result<Vec<f64>, _> = given.value.split_whitespace().map(str::parse::<f64>).collect();
        let times = read.ok().filter(|t| !t.is_empty() && t.iter().all(|m| (1.0..=10_000.0).contains(m)));
        if times.is_none() {
            self.error("call-argument", given.span, "these are no times in minutes", "write them like `60 120`");
        }
        times.map(|t| t.into_iter().map(Minutes).collect())
    }

    /// The fuel for flights of these times with their reserves, the first one worked.
    pub fn reserves(&mut self, call: &Call) -> Vec<Block> {
        let (Some((rate, shown)), Some(given)) = (self.rate(call), call.get("trips")) else { return Vec::new() };
        let Some(trips) = self.minutes_of(given) else { return Vec::new() };
        let mut rows = Vec::new();
        for trip in &trips {
            let (Ok(by_day), Ok(by_night)) =
                (fuel::needed(*trip, rate, Light::Day), fuel::needed(*trip, rate, Light::Night))
            else {
                return self.fuel_error(call, FuelError::Time(trip.0));
            };
            let of = |what: &str| format!("fuel/trip-{}/{what}", trip.0);
            let cells = vec![
                self.printed(&of("time"), trip.0, "min", 1).cell(),
                self.printed_toward(&of("day"), by_day.0, "gal", (1, Toward::Up)).cell(),
                self.printed_toward(&of("night"), by_night.0, "gal", (1, Toward::Up)).cell(),
            ];
            rows.push(Row { about: format!("trip-{}", trip.0), cells });
        }
        let caption = say("caption-reserves", &[("fact", shown.into())]);
        let columns = vec![Column::TripTime, Column::ByDay, Column::ByNight];
        let mut blocks = self.table_or_none("fuel/reserves", TableKind::Reserves, caption, columns, rows);
        blocks.push(Block::Para(self.longest(rate)));
        blocks.extend(trips.first().map_or_else(Vec::new, |trip| self.reserve_worked(*trip, rate)));
        blocks
    }

    /// What is said below the reserves: how they are rounded, and the longest flight that keeps them.
    fn longest(&mut self, rate: GallonsPerHour) -> Inlines {
        let mut below = say("fuel-up", &[]);
        let usable: Gallons = fuel::tanks(self.model).iter().map(|t| t.usable).sum();
        let Ok(whole) = fuel::endurance(usable, rate) else { return below };
        let left = |light| whole.minutes().0 - fuel::reserve(light).0;
        if left(Light::Night) < 1.0 {
            return below;
        }
        let fact = self.printed("fuel/all/usable", usable.0, "gal", 2).inline();
        let [day, night] = [("day", Light::Day), ("night", Light::Night)].map(|(what, light)| {
            self.printed_toward(&format!("fuel/longest/{what}"), left(light), "min", (0, Toward::Down)).inline()
        });
        let facts = [("fact", fact.into()), ("other", day.into()), ("third", night.into())];
        then_sentence(&mut below, say("fuel-longest", &facts));
        below
    }

    fn reserve_worked(&mut self, trip: Minutes, rate: GallonsPerHour) -> Vec<Block> {
        let mut work = Work::default();
        let time = self.printed(&format!("fuel/trip-{}/time", trip.0), trip.0, "min", 1);
        let burn = self.printed("fuel/worked/rate", rate.0, "gph", 2);
        for (light, phrase, what) in [(Light::Day, "reserves-day", "day"), (Light::Night, "reserves-night", "night")] {
            let kept = self.printed(&format!("fuel/reserve/{what}"), fuel::reserve(light).0, "min", 0);
            let needs = (time.value + kept.value) / 60.0 * burn.value;
            let needs = self.printed_toward(&format!("fuel/worked/{what}"), needs, "gal", (1, Toward::Up));
            work.step(say(phrase, &[]), spell("(# + #) × #", &[&time, &kept, &burn]), &needs);
        }
        let title = say("reserves-title", &[("fact", time.inline().into())]);
        work.block(self, "fuel/reserves/worked", title, "reserves-source")
    }

    /// What a selector does that stays on one tank.
    pub fn one_tank(&mut self, call: &Call) -> Vec<Block> {
        let (Some((rate, shown)), Some(of), Some(given)) = (self.rate(call), call.get("of"), call.get("times")) else {
            return Vec::new();
        };
        let Some(times) = self.minutes_of(given) else { return Vec::new() };
        let tanks = fuel::tanks(self.model);
        let Some(selected) = tanks.iter().position(|t| self.model[t.item].id.as_str() == of.value) else {
            let message = format!("`{}` is no tank that says what it holds", crate::compose::value::clip(&of.value));
            self.error("name-unknown", of.span, message, "use the id of a fuel tank");
            return Vec::new();
        };
        let usable: Vec<Gallons> = tanks.iter().map(|t| t.usable).collect();
        let mut rows = Vec::new();
        for time in times {
            let after = match fuel::on_one_tank(&usable, selected, rate, time) {
                Ok(after) => after,
                Err(error) => return self.fuel_error(call, error),
            };
            let name = |what: &str| format!("fuel/one/{}/{}/{what}", of.value, time.0);
            let left = after.left.get(selected).map_or(0.0, |g| g.0);
            let cells = vec![
                self.printed(&name("time"), time.0, "min", 1).cell(),
                self.printed(&name("left"), left, "gal", 1).cell(),
                self.printed(&name("difference"), after.difference.0, "lb", 0).cell(),
            ];
            rows.push(Row { about: format!("after-{}", time.0), cells });
        }
        let noun = self.words.item(self.model, tanks[selected].item);
        let caption = say("caption-one-tank", &[("thing", noun.into()), ("fact", shown.into())]);
        let columns = vec![Column::After, Column::Left, Column::Difference];
        let id = format!("fuel/one/{}", of.value);
        let mut blocks = self.table_or_none(&id, TableKind::OneTank, caption, columns, rows);
        blocks.extend(self.one_tank_worked(&tanks, selected, rate));
        blocks
    }

    fn one_tank_worked(&mut self, tanks: &[Tank], selected: usize, rate: GallonsPerHour) -> Vec<Block> {
        let mut work = Work::default();
        let id = self.model[tanks[selected].item].id.to_string();
        let holds = self.printed(&format!("fuel/{id}/usable"), tanks[selected].usable.0, "gal", 2);
        let burn = self.printed("fuel/worked/rate", rate.0, "gph", 2);
        let dry = self.printed_toward(
            &format!("fuel/one/{id}/dry"),
            holds.value / burn.value * 60.0,
            "min",
            (0, Toward::Down),
        );
        work.step(say("one-tank-dry", &[]), spell("# ÷ #", &[&holds, &burn]), &dry);
        let others = tanks.iter().enumerate().filter(|(at, _)| *at != selected).map(|(_, t)| t.usable.0);
        let fullest: Option<f64> = others.reduce(f64::max);
        if let Some(fullest) = fullest {
            let full = self.printed(&format!("fuel/one/{id}/fullest"), fullest, "gal", 2);
            let pounds = self.printed("fuel/pounds-a-gallon", POUNDS_A_GALLON, "lb/gal", 1);
            let weight: Printed = self.printed(&format!("fuel/one/{id}/heavier"), full.value * pounds.value, "lb", 0);
            work.step(say("one-tank-weight", &[]), spell("# × #", &[&full, &pounds]), &weight);
        }
        let title = say("one-tank-title", &[("thing", self.words.item(self.model, tanks[selected].item).into())]);
        work.block(self, &format!("fuel/one/{id}/worked"), title, "one-tank-source")
    }
}
