//! Where needles stand in each state.

use super::{Want, WantedRow, one};
use crate::audit::amount::Amount;
use crate::audit::page::Grid;
use crate::audit::speech::capital;
use crate::audit::tables::Desk;
use std::collections::{BTreeMap, BTreeSet};

impl Desk<'_> {
    pub(in crate::audit) fn check_needle_table(&mut self, grid: &Grid) {
        let reached: Vec<String> = self.words.states.keys().cloned().collect();
        let reached: Vec<String> = reached.into_iter().filter(|s| self.answer(s).is_some_and(|a| a.reached)).collect();
        let headings: Vec<&String> = grid.headings.iter().skip(1).collect();
        let names: BTreeSet<&String> = reached.iter().filter_map(|s| self.words.states.get(s)).collect();
        if headings.iter().copied().collect::<BTreeSet<_>>() != names || headings.len() != names.len() {
            let expected = names.into_iter().cloned().collect::<Vec<_>>().join(", ");
            return self.notes.find("state-wrong", grid.name(), grid.headings.join(", "), expected);
        }
        let id_of = |heading: &&String| reached.iter().find(|s| self.words.states.get(*s) == Some(*heading)).cloned();
        let states: Vec<String> = headings.iter().filter_map(id_of).collect();
        let called = self.book.iter().flat_map(|c| &c.calls).filter(|c| c.name == "needles");
        let gauges = called.map(|c| c.of.split_whitespace().map(str::to_owned).collect::<Vec<String>>());
        let gauges: Vec<Vec<String>> = gauges.filter(|g| g.len() == grid.rows.len()).collect();
        let Some(gauges) = gauges.first() else {
            return self.notes.find(
                "row-missing",
                grid.name(),
                format!("{} rows", grid.rows.len()),
                "a row for each gauge",
            );
        };
        let row = |gauge: &String| -> WantedRow {
            let cells = states.iter().map(|state| one(Want::text(self.needle_in(gauge, state))));
            std::iter::once(one(Want::text(capital(&self.words.name(gauge))))).chain(cells).collect()
        };
        let rows: Vec<WantedRow> = gauges.iter().map(row).collect();
        self.expect_rows(grid, rows);
    }

    /// What a cell says of a gauge in a state that is reached.
    fn needle_in(&self, gauge: &str, state: &str) -> String {
        let unknown = || "not told".to_owned();
        let scale = self.words.facts.of.get(gauge).and_then(|f| f.scale.as_ref());
        let (Some(scale), Some(number)) = (scale, self.model.number.get(gauge).copied()) else { return unknown() };
        let Ok(Some(moment)) = self.model.moment(state, &[], false) else { return unknown() };
        let printed = |text: &Option<String>| text.as_deref().and_then(printed);
        if !moment.solution.first.works[number] {
            return match scale.unfed.as_deref() {
                Some("falls to zero") => printed(&scale.rests).map_or_else(unknown, |at| format!("{at}, not fed")),
                Some("stays") => "stays where it was".to_owned(),
                Some("drifts") => "drifts".to_owned(),
                Some("flag") => "flag".to_owned(),
                _ => unknown(),
            };
        }
        if !moment.solution.truly.works[number] {
            return "false".to_owned();
        }
        let there = self.model.all_hold(&self.model.nodes[number].senses, number, &moment);
        let absent = self.words.things.get(gauge).and_then(|t| t.reads_when_absent.clone());
        if let Some(sentence) = absent.filter(|_| !there && scale.has_zero_inside()) {
            return sentence;
        }
        let at = if there { scale.usual_in.get(state).cloned().or(scale.usual.clone()) } else { scale.rests.clone() };
        let Some(shown) = printed(&at) else { return unknown() };
        match at.as_deref().and_then(|at| scale.arc(at)) {
            Some(mark) => format!("{shown}, {mark}"),
            None => shown,
        }
    }
}

/// `5 inHg` as it stands on a page: a plain number, degrees with their sign.
fn printed(text: &str) -> Option<String> {
    let (number, unit) = text.split_once(' ')?;
    let number: f64 = number.parse().ok()?;
    let unit = match unit {
        "degC" => "°C",
        "degF" => "°F",
        other => other,
    };
    Some(format!("{number} {unit}"))
}

/// The texts of a scale.
#[derive(Debug, Clone, Default)]
pub(in crate::audit) struct ScaleTexts {
    pub(super) span: String,
    pub(super) rests: Option<String>,
    pub(super) usual: Option<String>,
    /// By state, where it stands elsewhere than `usual`.
    pub(super) usual_in: BTreeMap<String, String>,
    pub(super) unfed: Option<String>,
    /// Ranges with their marks.
    pub(super) arcs: Vec<(String, String)>,
}

impl ScaleTexts {
    fn ends(text: &str) -> Option<(f64, f64, &str)> {
        let (numbers, unit) = text.rsplit_once(' ')?;
        let (low, high) = numbers.split_once("..")?;
        Some((low.trim().parse().ok()?, high.trim().parse().ok()?, unit))
    }

    fn has_zero_inside(&self) -> bool {
        Self::ends(&self.span).is_some_and(|(low, high, _)| low < 0.0 && high > 0.0)
    }

    fn arc(&self, at: &str) -> Option<&str> {
        let inside = |over: &str| {
            let (low, high, unit) = Self::ends(over)?;
            let value = Amount::read(at)?.number_in(unit)?;
            Some((low..=high).contains(&value))
        };
        self.arcs.iter().find(|(over, _)| inside(over) == Some(true)).map(|(_, mark)| mark.as_str())
    }
}
