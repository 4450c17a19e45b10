//! What the instruments show while an opening is blocked: a flight of the model tabled, one moment worked, and the encoder.

use super::flights::{flight_name, leg_name};
use super::{Printed, Work, spell};
use crate::analyse::airspeed::{calibrated, speed_of_sound};
use crate::analyse::altimeter::{CORRESPONDENCE, STANDARD_SETTING, encoder_hundreds, shown_altitude, static_pressure};
use crate::analyse::atmosphere::{self, SEA_LEVEL_TEMPERATURE, pressure_altitude};
use crate::analyse::measure::{Feet, Knots, Pascals};
use crate::analyse::pitot_static::{
    Agreement, AirFlight, CLEAR, FlownLeg, Openings, PitotLine, SAME_AIRSPEED, SAME_ALTITUDE, SAME_VERTICAL,
    StaticLine, cabin_offset,
};
use crate::base::{Quantity, Spanned};
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::compose::say::{joined, then_sentence};
use crate::doc::{Block, Cell, Column, Inlines, Row, TableKind};
use crate::model::{Flight, Place};
use crate::parse::book::Call;

/// What can be blocked, as a chapter asks for it, with the phrase that says it.
const WHATS: [(&str, &str); 5] = [
    ("ram-hole", "blocked-ram-hole"),
    ("ram-hole-and-drain", "blocked-ram-hole-and-drain"),
    ("static", "blocked-static"),
    ("alternate", "blocked-alternate"),
    ("leak", "blocked-leak"),
];

/// A flight of the model with something blocked from a leg on.
struct Blocked<'f> {
    flight: &'f Flight,
    phrase: &'static str,
    what: &'static str,
    openings: Openings,
    from: usize,
    air: AirFlight,
    flown: Vec<FlownLeg>,
}

/// Pressures that stand in the lines, as they are printed.
struct Lines {
    pitot: Printed,
    statics: Printed,
}

/// Constants of the sums.
struct Constants {
    sea_level: Printed,
    scale: Printed,
    exponent: Printed,
    sound: Printed,
}

impl<'a> Composer<'a> {
    /// True and shown readings at the end of each leg in flight, and one of them worked. On the ground no air is drawn out of the cabin.
    pub fn blocked(&mut self, call: &Call) -> Vec<Block> {
        let Some(blocked) = self.blocked_flight(call) else { return Vec::new() };
        let mut blocks = self.blocked_table(&blocked);
        blocks.extend(self.blocked_worked(&blocked));
        blocks
    }

    fn blocked_flight(&mut self, call: &Call) -> Option<Blocked<'a>> {
        let flight = self.flight_of(call.get("of")?)?;
        let what = call.get("what")?;
        let Some((name, phrase)) = WHATS.into_iter().find(|(name, _)| *name == what.value) else {
            let message = format!("`{}` is nothing that can be blocked here", crate::compose::value::clip(&what.value));
            let help = "write `ram-hole`, `ram-hole-and-drain`, `static`, `alternate` or `leak`";
            self.error("call-argument", what.span, message, help);
            return None;
        };
        let from = self.whole(call.get("leg"), 1, flight.legs.len())?.saturating_sub(1);
        let share = self.share_of(call.get("share"))?;
        let openings = self.openings_of(name, share, what)?;
        let air = AirFlight::of(flight, STANDARD_SETTING).with(openings, from);
        match air.fly() {
            Ok(flown) => Some(Blocked { flight, phrase, what: name, openings, from, air, flown }),
            Err(error) => {
                self.error("call-argument", what.span, error.to_string(), "mend the legs of the flight");
                None
            }
        }
    }

    /// A whole number from 1, as a chapter gives it.
    fn whole(&mut self, given: Option<&Spanned<String>>, usual: usize, most: usize) -> Option<usize> {
        let Some(given) = given else { return Some(usual) };
        let number = given.value.parse::<usize>().ok().filter(|n| (1..=most).contains(n));
        if number.is_none() {
            self.error("call-argument", given.span, "there is no such leg", format!("write a number from 1 to {most}"));
        }
        number
    }

    fn share_of(&mut self, given: Option<&Spanned<String>>) -> Option<f64> {
        let Some(given) = given else { return Some(0.5) };
        let share = given.value.parse::<f64>().ok().filter(|s| (0.0..=1.0).contains(s));
        if share.is_none() {
            self.error("call-argument", given.span, "a leak is a share from 0 to 1", "write it like `0.5`");
        }
        share
    }

    fn openings_of(&mut self, what: &str, share: f64, at: &Spanned<String>) -> Option<Openings> {
        let pitot = |pitot| Some(Openings { pitot, ..CLEAR });
        let statics = |statics| Some(Openings { statics, ..CLEAR });
        match what {
            "ram-hole" => return pitot(PitotLine::RamBlocked),
            "ram-hole-and-drain" => return pitot(PitotLine::Trapped),
            "static" => return statics(StaticLine::Trapped),
            _ => {}
        }
        let Some((_, offset)) = cabin_offset(self.model) else {
            let help = "add `pressure-offset` to the alternate source, or take the call away";
            self.error("value-unknown", at.span, "the model does not say how cabin pressure differs", help);
            return None;
        };
        if what == "leak" { statics(StaticLine::Leak { offset, share }) } else { statics(StaticLine::Cabin(offset)) }
    }

    fn blocked_table(&mut self, of: &Blocked<'_>) -> Vec<Block> {
        let mut rows = Vec::new();
        let in_flight =
            |at: usize| of.flight.legs.get(at).is_some_and(|l| self.model[l.state].place == Place::InFlight);
        let airborne: Vec<usize> = (0..of.flown.len()).filter(|at| in_flight(*at)).collect();
        for (at, leg) in airborne.into_iter().filter_map(|at| Some((at, of.flown.get(at)?))) {
            let (real, shown) = (leg.to.true_reading, leg.to.shown);
            let name = |what: &str| format!("air/{}/{}/{}/{at}/{what}", of.flight.id, of.what, of.from);
            let mut cells = vec![Cell::line(leg_name(of.flight, at))];
            let mut put = |what: &str, value: f64, unit: &str, decimals: usize| {
                cells.push(self.printed(&name(what), value, unit, decimals).cell());
            };
            put("true-airspeed", real.airspeed.0, "kt", 1);
            put("airspeed", shown.airspeed.0, "kt", 1);
            put("true-altitude", real.altitude.0, "ft", 0);
            put("altitude", shown.altitude.0, "ft", 0);
            put("true-vertical", real.vertical.0, "ft/min", 0);
            put("vertical", shown.vertical.0, "ft/min", 0);
            put("reported", f64::from(shown.reported_hundreds) * 100.0, "ft", 0);
            cells.push(Cell::line(agreeing(leg.to.agreement())));
            rows.push(Row { about: format!("leg-{}", at + 1), cells });
        }
        let (flight, leg) = (flight_name(of.flight), leg_name(of.flight, of.from));
        let caption = say(
            "caption-blocked",
            &[("what", say(of.phrase, &[]).into()), ("part", leg.into()), ("other", flight.into())],
        );
        use Column::{AtEndOf, Reported, ShownAirspeed, ShownAltitude, ShownVertical, StillTrue};
        use Column::{TrueAirspeed, TrueAltitude, TrueVertical};
        let columns = vec![
            AtEndOf,
            TrueAirspeed,
            ShownAirspeed,
            TrueAltitude,
            ShownAltitude,
            TrueVertical,
            ShownVertical,
            Reported,
            StillTrue,
        ];
        let id = format!("air/{}/{}", of.flight.id, of.what);
        let mut blocks = self.table_or_none(&id, TableKind::Blocked, caption, columns, rows);
        blocks.push(Block::Para(self.blocked_below(of)));
        blocks
    }

    /// How near is near, and what the sum takes for granted.
    fn blocked_below(&mut self, of: &Blocked<'_>) -> Inlines {
        let airspeed = self.printed("air/same/airspeed", SAME_AIRSPEED.0, "kt", 1).inline();
        let altitude = self.printed("air/same/altitude", SAME_ALTITUDE.0, "ft", 0).inline();
        let vertical = self.printed("air/same/vertical", SAME_VERTICAL.0, "ft/min", 0).inline();
        let facts = [("fact", airspeed.into()), ("other", altitude.into()), ("third", vertical.into())];
        let mut below = say("blocked-same", &facts);
        if matches!(of.openings.statics, StaticLine::Cabin(_) | StaticLine::Leak { .. }) {
            then_sentence(&mut below, say("blocked-offset", &[]));
        }
        below
    }

    /// The end of the first leg from where it was blocked that ends at another altitude.
    fn blocked_worked(&mut self, of: &Blocked<'_>) -> Vec<Block> {
        let (altitude, airspeed) = start_of(&of.air, of.from);
        let Some(at) = worked_leg(of, altitude) else { return Vec::new() };
        let mut work = Work::default();
        let constants = self.constants();
        let lines = self.line_steps(of, (altitude, airspeed), at, &constants, &mut work);
        let stops = self.shown_steps(of, &lines, &constants, &mut work);
        let part = leg_name(of.flight, at);
        let title = say(
            "blocked-title",
            &[("what", say(of.phrase, &[]).into()), ("part", part.into()), ("other", flight_name(of.flight).into())],
        );
        let mut blocks = work.block(self, &format!("air/{}/{}/worked", of.flight.id, of.what), title, "blocked-source");
        if stops {
            let stop = self.printed("air/stop/airspeed", 0.0, "kt", 0).inline();
            blocks.insert(1, Block::Para(say("blocked-stop", &[("fact", stop.into())])));
        }
        blocks
    }

    fn constants(&mut self) -> Constants {
        Constants {
            sea_level: self.printed("air/sea-level", 1013.25, "hPa", 2),
            scale: self.printed("air/scale", SEA_LEVEL_TEMPERATURE.0 / atmosphere::LAPSE_K_PER_M / 0.3048, "ft", 0),
            exponent: self.printed("air/exponent", 5.255_88, "", 5),
            sound: self.printed("air/sound", speed_of_sound(SEA_LEVEL_TEMPERATURE).0, "kt", 2),
        }
    }

    /// What stands in the pitot line and in the static line.
    fn line_steps(
        &mut self,
        of: &Blocked<'_>,
        start: (Feet, Knots),
        at: usize,
        with: &Constants,
        work: &mut Work,
    ) -> Lines {
        let leg = of.air.legs[at];
        let around = self.static_step(of, "around", leg.altitude, with, work);
        let closed =
            matches!(of.openings.pitot, PitotLine::Trapped) || matches!(of.openings.statics, StaticLine::Trapped);
        let before = closed.then(|| self.static_step(of, "before", start.0, with, work));
        let pitot = match (of.openings.pitot, &before) {
            (PitotLine::Clear, _) => self.pitot_step(of, ("blocked-impact", leg.airspeed), &around, with, work),
            (PitotLine::RamBlocked, _) => around.clone(),
            (PitotLine::Trapped, before) => {
                let before = before.clone().unwrap_or_else(|| around.clone());
                self.pitot_step(of, ("blocked-impact-before", start.1), &before, with, work)
            }
        };
        let statics = match (of.openings.statics, before) {
            (StaticLine::Ports, _) => around,
            (StaticLine::Trapped, before) => before.unwrap_or(around),
            (StaticLine::Cabin(offset), _) => self.cabin_step(of, &around, (offset, 1.0), work),
            (StaticLine::Leak { offset, share }, _) => self.cabin_step(of, &around, (offset, share), work),
        };
        Lines { pitot, statics }
    }

    fn air_fact(&mut self, of: &Blocked<'_>, what: &str, value: f64, unit: &str, decimals: usize) -> Printed {
        self.printed(&format!("air/{}/{}/{}/worked/{what}", of.flight.id, of.what, of.from), value, unit, decimals)
    }

    fn static_step(
        &mut self,
        of: &Blocked<'_>,
        what: &str,
        altitude: Feet,
        with: &Constants,
        work: &mut Work,
    ) -> Printed {
        let feet = self.air_fact(of, &format!("{what}-altitude"), altitude.0, "ft", 0);
        let one = self.printed("unit/one", 1.0, "", 0);
        let ratio = libm::pow(1.0 - feet.value / with.scale.value, with.exponent.value);
        let pressure = self.air_fact(of, &format!("{what}-pressure"), with.sea_level.value * ratio, "hPa", 3);
        let sum = spell("# × (# − # ÷ #) ^ #", &[&with.sea_level, &one, &feet, &with.scale, &with.exponent]);
        let phrase = if what == "around" { "blocked-around" } else { "blocked-before" };
        work.step(say(phrase, &[]), sum, &pressure);
        pressure
    }

    fn pitot_step(
        &mut self,
        of: &Blocked<'_>,
        (phrase, airspeed): (&str, Knots),
        statics: &Printed,
        with: &Constants,
        work: &mut Work,
    ) -> Printed {
        let speed = self.air_fact(of, "impact-speed", airspeed.0, "kt", 1);
        let [one, two] = [("unit/one", 1.0), ("unit/two", 2.0)].map(|(name, n)| self.printed(name, n, "", 0));
        let [fifth, power] =
            [("unit/fifth", 0.2), ("unit/three-and-a-half", 3.5)].map(|(name, n)| self.printed(name, n, "", 1));
        let mach = speed.value / with.sound.value;
        let rise = with.sea_level.value * (libm::pow(1.0 + 0.2 * mach * mach, 3.5) - 1.0);
        let rise = self.air_fact(of, "impact", rise, "hPa", 3);
        let numbers = [&with.sea_level, &one, &fifth, &speed, &with.sound, &two, &power, &one];
        work.step(say(phrase, &[]), spell("# × ((# + # × (# ÷ #) ^ #) ^ # − #)", &numbers), &rise);
        let pitot = self.air_fact(of, "pitot", statics.value + rise.value, "hPa", 3);
        work.step(say("blocked-pitot", &[]), spell("# + #", &[statics, &rise]), &pitot);
        pitot
    }

    fn cabin_step(
        &mut self,
        of: &Blocked<'_>,
        around: &Printed,
        (offset, share): (Pascals, f64),
        work: &mut Work,
    ) -> Printed {
        let (less, size) = (offset.0 < 0.0, offset.0.abs() / 100.0);
        let size = self.printed("air/offset", size, "hPa", 3);
        let part = self.air_fact(of, "share", share, "", 3);
        let sign = if less { -1.0 } else { 1.0 };
        let statics = around.value + sign * size.value * part.value;
        let statics = self.air_fact(of, "statics", statics, "hPa", 3);
        let pattern = match (share == 1.0, less) {
            (true, true) => "# − #",
            (true, false) => "# + #",
            (false, true) => "# − # × #",
            (false, false) => "# + # × #",
        };
        let phrase = if share == 1.0 { "blocked-cabin" } else { "blocked-leaking" };
        work.step(say(phrase, &[]), spell(pattern, &[around, &size, &part]), &statics);
        statics
    }

    /// What the airspeed indicator and the altimeter make of the lines; says whether the airspeed indicator rests at its stop.
    fn shown_steps(&mut self, of: &Blocked<'_>, lines: &Lines, with: &Constants, work: &mut Work) -> bool {
        let [one, two, five, seven] = [("one", 1.0), ("two", 2.0), ("five", 5.0), ("seven", 7.0)]
            .map(|(name, n)| self.printed(&format!("unit/{name}"), n, "", 0));
        let half = self.printed("unit/half", 0.5, "", 1);
        let difference = self.air_fact(of, "difference", lines.pitot.value - lines.statics.value, "hPa", 3);
        work.step(say("blocked-difference", &[]), spell("# − #", &[&lines.pitot, &lines.statics]), &difference);
        if difference.value >= 0.0 {
            let shown = calibrated(Pascals(difference.value * 100.0)).0;
            let shown = self.air_fact(of, "airspeed", shown, "kt", 1);
            let numbers = [&with.sound, &five, &difference, &with.sea_level, &one, &two, &seven, &one, &half];
            work.step(
                say("blocked-airspeed", &[]),
                spell("# × (# × ((# ÷ # + #) ^ (# ÷ #) − #)) ^ #", &numbers),
                &shown,
            );
        }
        let shown = pressure_altitude(Pascals(lines.statics.value * 100.0)).0;
        let shown = self.air_fact(of, "altitude", shown, "ft", 0);
        let numbers = [&with.scale, &one, &lines.statics, &with.sea_level, &one, &with.exponent];
        work.step(say("blocked-altitude", &[]), spell("# × (# − (# ÷ #) ^ (# ÷ #))", &numbers), &shown);
        difference.value < 0.0
    }

    /// What the encoder reports along a flight, with another setting in the altimeter's window.
    pub fn encoder(&mut self, call: &Call) -> Vec<Block> {
        let (Some(of), Some(given)) = (call.get("of"), call.get("setting")) else { return Vec::new() };
        let Some(flight) = self.flight_of(of) else { return Vec::new() };
        let setting = Quantity::parse(&given.value).ok().as_ref().and_then(Pascals::of);
        let Some(setting) = setting.filter(|s| (90_000.0..=110_000.0).contains(&s.0)) else {
            let help = "write it like `1003 hPa`, from 900 to 1100 hPa";
            self.error("call-argument", given.span, "this is no altimeter setting", help);
            return Vec::new();
        };
        let air = AirFlight::of(flight, setting);
        let rows =
            air.legs.iter().enumerate().map(|(at, leg)| self.encoder_row(flight, at, leg.altitude, setting)).collect();
        let hpa = self.printed("encoder/setting", setting.0 / 100.0, "hPa", 2).inline();
        let limit = self.printed("encoder/correspondence", CORRESPONDENCE.0, "ft", 0).inline();
        let caption = say(
            "caption-encoder",
            &[("part", flight_name(flight).into()), ("other", hpa.into()), ("fact", limit.into())],
        );
        use Column::{Altitude, AtEndOf, ControllerSees, OutBy, PressureAltitude, Reported};
        let columns = vec![AtEndOf, Altitude, PressureAltitude, Reported, OutBy, ControllerSees];
        self.table_or_none("encoder", TableKind::Encoder, caption, columns, rows)
    }

    fn encoder_row(&mut self, flight: &Flight, at: usize, altitude: Feet, setting: Pascals) -> Row {
        let of = |what: &str| format!("encoder/{}/{at}/{what}", flight.id);
        let around = static_pressure(altitude, setting);
        let (pressure, reported) =
            (shown_altitude(around, STANDARD_SETTING).0, f64::from(encoder_hundreds(around)) * 100.0);
        // The controller's computer takes off what the setting of the day makes of the report.
        let corrected = reported - shown_altitude(setting, STANDARD_SETTING).0;
        let cells = vec![
            Cell::line(leg_name(flight, at)),
            self.printed(&of("altitude"), altitude.0, "ft", 0).cell(),
            self.printed(&of("pressure-altitude"), pressure, "ft", 0).cell(),
            self.printed(&of("reported"), reported, "ft", 0).cell(),
            self.printed(&of("apart"), reported - pressure, "ft", 0).cell(),
            self.printed(&of("controller"), libm::floor(corrected / 100.0 + 0.5) * 100.0, "ft", 0).cell(),
        ];
        Row { about: format!("leg-{}", at + 1), cells }
    }
}

/// The leg that is worked: with the ram hole alone blocked the first, else the first that ends at another altitude.
fn worked_leg(of: &Blocked<'_>, altitude: Feet) -> Option<usize> {
    let moves = |l: &usize| (of.air.legs[*l].altitude - altitude).0.abs() > 1.0;
    let ram_alone = of.openings.pitot == PitotLine::RamBlocked;
    (of.from..of.air.legs.len()).find(|l| ram_alone || moves(l))
}

/// Altitude and airspeed at the beginning of a leg.
fn start_of(air: &AirFlight, leg: usize) -> (Feet, Knots) {
    let before = leg.checked_sub(1).and_then(|b| air.legs.get(b));
    before.map_or((air.altitude, air.airspeed), |b| (b.altitude, b.airspeed))
}

/// Which of the instruments show what is true.
fn agreeing(a: Agreement) -> Inlines {
    let all = [
        (a.airspeed, "agree-airspeed"),
        (a.altitude, "agree-altitude"),
        (a.vertical, "agree-vertical"),
        (a.reported, "agree-encoder"),
    ];
    let named: Vec<Inlines> = all.into_iter().filter(|(shows, _)| *shows).map(|(_, phrase)| say(phrase, &[])).collect();
    if named.is_empty() { say("agree-none", &[]) } else { joined(named, ", ") }
}
