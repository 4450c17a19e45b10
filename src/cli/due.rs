//! `due`: what inspection falls due when.

use super::answers::{DueAnswer, InspectionAnswer, Names, RateAnswer, VERSION, aircraft};
use super::arguments::DueArguments;
use super::console::{Console, Stop};
use super::sound::Sound;
use super::{findings, text};
use crate::analyse::due::{self, Count, Due, DueAt, Known, Log};
use crate::base::Sources;
use crate::model::{Interval, Model};
use crate::parse::LARGEST_FILE;
use jiff::civil::Date;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Usage`] where the day is none or lies before the end of the log; [`Stop::Machine`] where the log cannot be read;
/// [`Stop::Findings`] where the model or the log has errors.
pub fn run(arguments: &DueArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let on = due::day(&arguments.on).ok_or_else(|| {
        let short: String = arguments.on.chars().take(40).collect();
        Stop::Usage(format!("`{short}` is no day of the calendar; write it like `--on 2026-05-02`"))
    })?;
    let sound = Sound::read(&arguments.aircraft, console)?;
    let log = read(&arguments.log, &sound.model, console)?;
    if let Some(last) = log.entries.last().filter(|e| e.date > on) {
        return Err(Stop::Usage(format!("the log runs to {}, which is later than {on}", last.date)));
    }
    let answer = answer(&sound.model, &log, on);
    if arguments.json { console.json(&answer) } else { console.answer(&text::due(&answer)) }
}

fn read(path: &Path, model: &Model, console: &mut Console<'_>) -> Result<Log, Stop> {
    let shown = path.display();
    let failed = |e: std::io::Error| Stop::Machine(format!("cannot read the log `{shown}`: {e}"));
    let mut bytes = Vec::new();
    let most = LARGEST_FILE as u64;
    File::open(path).and_then(|f| f.take(most + 1).read_to_end(&mut bytes)).map_err(failed)?;
    if bytes.len() as u64 > most {
        return Err(Stop::Usage(format!("the log `{shown}` is larger than 8 MiB")));
    }
    let text = String::from_utf8(bytes).map_err(|_| Stop::Usage(format!("the log `{shown}` is not UTF-8 text")))?;
    let mut sources = Sources::default();
    let file = sources.add(shown.to_string(), text.clone());
    let names: Vec<_> = model.inspections.iter().map(|i| (i.name.clone(), Count::of(i.by))).collect();
    due::parse(file, &text, &names).map_err(|mut found| {
        found.sort(&sources);
        console.complain(&findings::human(&found, &sources, console.colour));
        Stop::Findings
    })
}

fn answer(model: &Model, log: &Log, on: Date) -> DueAnswer {
    let all = due::due(model, log, on);
    let rate = |count: Count| {
        let last = log.last(count)?;
        Some(RateAnswer {
            count: count.column().to_owned(),
            last_h: last.count(count)?.0,
            h_a_day: log.rate_a_day(count).map(|h| h.0),
        })
    };
    DueAnswer {
        ribstitch: VERSION,
        aircraft: aircraft(Names { model }),
        on: on.to_string(),
        first: due::first(&all).map(|d| d.name.clone()),
        rates: Count::ALL.into_iter().filter_map(rate).collect(),
        inspections: all.iter().map(inspection).collect(),
    }
}

fn inspection(of: &Due) -> InspectionAnswer {
    let every = match &of.every {
        Interval::Hours(hours) => hours.typed.clone(),
        Interval::CalendarMonths(months) => format!("{months} calendar months"),
        Interval::Days(days) => format!("{days} days"),
    };
    let known = of.known.as_ref();
    let (due_on, at) = match known.map(|k| k.due) {
        Some(DueAt::Day(day)) => (Some(day.to_string()), None),
        Some(DueAt::Count(count, at)) => (None, Some((count.column().to_owned(), at.0))),
        None => (None, None),
    };
    let (count, due_at_h) = at.unzip();
    let get = |f: fn(&Known) -> Option<f64>| known.and_then(f);
    InspectionAnswer {
        name: of.name.clone(),
        every,
        known: known.is_some(),
        done_on: known.map(|k| k.done_on.to_string()),
        done_at_h: get(|k| k.done_at.map(|h| h.0)),
        due_on,
        count,
        due_at_h,
        carried_h: known.map_or(0.0, |k| k.carried.0),
        left_h: get(|k| k.left_h.map(|h| h.0)),
        expected_on: known.and_then(|k| k.on).map(|d| d.to_string()),
        left_days: known.and_then(|k| k.left_days),
        past: known.is_some_and(|k| k.past),
    }
}
