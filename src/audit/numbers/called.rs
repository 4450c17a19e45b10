//! Every worked sum that a chapter calls for stands in it.

use crate::audit::book::{Call, Chapter};
use crate::audit::page::Page;
use crate::audit::speech::bare;
use crate::audit::tables::Desk;

/// The title that a sum has to have: words, a name with or without its article, words.
#[derive(Debug)]
struct Title {
    first: String,
    /// Any where none is told.
    name: Option<String>,
    last: &'static str,
}

impl Title {
    fn whole(text: impl Into<String>) -> Self {
        Self { first: text.into(), name: Some(String::new()), last: "" }
    }

    fn of(first: &str, name: &str, last: &'static str) -> Self {
        Self { first: first.to_owned(), name: Some(name.to_owned()), last }
    }

    fn any(first: &str) -> Self {
        Self { first: first.to_owned(), name: None, last: "" }
    }

    fn fits(&self, title: &str) -> bool {
        let rest = title.strip_prefix(self.first.as_str()).and_then(|rest| rest.strip_suffix(self.last));
        rest.is_some_and(|rest| self.name.as_ref().is_none_or(|name| bare(rest) == bare(name)))
    }

    fn told(&self) -> String {
        format!("{}{}{}", self.first, self.name.as_deref().unwrap_or("…"), self.last)
    }
}

impl Desk<'_> {
    /// Counts the worked sums of each chapter against what it calls for.
    pub(in crate::audit) fn check_worked_called(&mut self, page: &Page, book: &[Chapter]) {
        for part in page.parts.iter().filter(|p| p.chapter) {
            let Some(chapter) = book.iter().find(|c| c.id == part.id) else { continue };
            let mut left: Vec<&str> =
                page.sums.iter().filter(|s| s.place == part.name).map(|s| s.title.as_str()).collect();
            let wanted: Vec<Title> = chapter.calls.iter().flat_map(|call| self.titles(call)).collect();
            for title in wanted {
                match left.iter().position(|seen| title.fits(seen)) {
                    Some(at) => drop(left.remove(at)),
                    None => self.notes.find("sum-missing", &part.name, "no such worked sum", title.told()),
                }
            }
            for title in left {
                self.notes.find("sum-extra", &part.name, title, "no worked sum that the chapter calls for, or once");
            }
        }
    }

    /// The worked sums that a call promises: none where the model has nothing to work out.
    fn titles(&mut self, call: &Call) -> Vec<Title> {
        let flight = self.words.facts.flights.get(&call.of).map(|f| f.name.clone());
        let title = match call.name.as_str() {
            "drain" => {
                let left_on = self.left_on_results().and_then(|_| self.battery_plan());
                let left_on =
                    left_on.map(|(battery, _)| Title::of("", &self.words.name(&battery), " with the master left on"));
                return self.battery_title("drain").into_iter().chain(left_on).collect();
            }
            "clocks" => return clock_titles(call.get("legs").unwrap_or_default()),
            "battery" => self.battery_title(&call.name),
            "loads" => self.load_title(),
            "circuits" => self.drops_anything().then(|| Title::any("Voltage drop of the wire behind ")),
            "flight_clocks" => flight.map(|name| Title::of("Times of one ", &name, "")),
            "months" => Some(Title::whole("What the ratio of the two clocks does")),
            "blocked" => self.blocked_title(call).map(Title::whole),
            "reserves" => {
                let first = call.get("trips").and_then(|trips| trips.split_whitespace().next());
                first.map(|minutes| Title::whole(format!("Fuel for a flight of {minutes} min")))
            }
            "one_tank" => Some(Title::of("", &self.words.name(&call.of), " alone")),
            _ => None,
        };
        title.into_iter().collect()
    }

    fn battery_title(&mut self, call: &str) -> Option<Title> {
        let (battery, _) = self.battery_plan()?;
        let name = self.words.name(&battery);
        if call == "battery" {
            return self.battery_results().map(|_| Title::of("Time on ", &name, " alone"));
        }
        let drains = self.drain_results()?.iter().all(|(number, _)| number.is_finite());
        drains.then(|| Title::of("", &name, " with everything off"))
    }

    /// Of the reference state, if an alternator works in it; else of any.
    fn load_title(&mut self) -> Option<Title> {
        const FIRST: &str = "Continuous load in the state ";
        let reference = self.reference.clone().and_then(|state| self.words.states.get(&state).cloned());
        let worked = reference.filter(|name| self.load_results(name).is_some());
        let any = || self.has_loads().then(|| Title::any(FIRST));
        worked.as_ref().map(|name| Title::of(FIRST, name, "")).or_else(any)
    }
}

/// `2400:60 1200:60`: each leg, and all of them.
fn clock_titles(legs: &str) -> Vec<Title> {
    let one = |leg: &str| {
        let (speed, minutes) = leg.split_once(':')?;
        let (speed, minutes): (f64, f64) = (speed.parse().ok()?, minutes.parse().ok()?);
        Some(Title::whole(format!("{speed} rpm for {minutes} min")))
    };
    let mut titles: Vec<Title> = legs.split_whitespace().filter_map(one).collect();
    if titles.len() > 1 {
        titles.push(Title::whole("All legs"));
    }
    titles
}
