//! Inspections due by a log.
//!
//! # Source
//! 14 CFR 91.409(b) (read): the 100 hours may be exceeded by up to 10 h on the way to the place of inspection, and the excess counts in
//! the next 100. Calendar months run to the last day: done in March 2026, 24 months later it is due by 31 March 2028 (reprint read).
//! 14 CFR 91.171: 30 days (read).

use super::sandling;
use jiff::civil::date;
use ribstitch::analyse::due::{Count, Due, DueAt, Known, Log, due, end_of_months, first, parse};
use ribstitch::analyse::measure::Hours;
use ribstitch::base::{FileId, Sources};

const HEAD: &str = "date,tachometer,hour-meter,in-service,inspection\n";

fn names() -> Vec<(String, Option<Count>)> {
    sandling().inspections.iter().map(|i| (i.name.clone(), Count::of(i.by))).collect()
}

fn log(lines: &str) -> Log {
    parse(FileId(0), &format!("{HEAD}{lines}"), &names()).unwrap_or_else(|found| panic!("{found:?}"))
}

fn all(lines: &str, on: jiff::civil::Date) -> Vec<Due> {
    due(&sandling(), &log(lines), on)
}

fn known(all: &[Due], name: &str) -> Known {
    all.iter().find(|d| d.name == name).and_then(|d| d.known.clone()).unwrap_or_else(|| panic!("nothing of {name}"))
}

#[test]
fn calendar_months_run_to_the_last_day() {
    assert_eq!(end_of_months(date(2026, 3, 4), 24), Some(date(2028, 3, 31)));
    let all = all("2026-03-04,1000,1200,950,transponder test\n", date(2028, 3, 31));
    let test = known(&all, "transponder test");
    assert_eq!((test.due, test.past), (DueAt::Day(date(2028, 3, 31)), false));
    let later = due(&sandling(), &log("2026-03-04,1000,1200,950,transponder test\n"), date(2028, 4, 1));
    assert!(known(&later, "transponder test").past);
}

#[test]
fn an_overrun_of_the_hundred_hours_counts_in_the_next() {
    let found = all(
        "2026-01-05,1000,1200,900,100-hour inspection\n2026-03-05,1090,1310,1004,100-hour inspection\n",
        date(2026, 3, 6),
    );
    let hundred = known(&found, "100-hour inspection");
    assert_eq!(
        hundred.due,
        DueAt::Count(Count::Service, Hours(1100.0)),
        "from the 1000 at which it was due, not from 1004"
    );
    assert_eq!((hundred.carried, hundred.left_h), (Hours(4.0), Some(Hours(96.0))));
}

#[test]
fn one_that_is_done_early_counts_from_when_it_is_done() {
    let found = all(
        "2026-01-05,1000,1200,900,100-hour inspection\n2026-03-05,1080,1300,990,100-hour inspection\n",
        date(2026, 3, 6),
    );
    assert_eq!(known(&found, "100-hour inspection").due, DueAt::Count(Count::Service, Hours(1090.0)));
}

#[test]
fn thirty_days_are_days() {
    let found = all("2026-01-31,1000,1200,900,VOR check\n", date(2026, 3, 2));
    let check = known(&found, "VOR check");
    assert_eq!((check.due, check.past, check.left_days), (DueAt::Day(date(2026, 3, 2)), false, Some(0)));
}

#[test]
fn what_the_log_does_not_tell_of_is_not_known() {
    let found = all("2026-01-31,1000,1200,900,\n", date(2026, 3, 2));
    assert!(found.iter().all(|d| d.known.is_none()) && first(&found).is_none());
}

/// Ten hours of tachometer in twenty days: the oil change at 50 h comes after eighty days more.
#[test]
fn the_first_is_told_at_the_present_rate() {
    let found = all("2026-01-01,1000,1200,900,oil change\n2026-01-21,1010,1213,909,\n", date(2026, 1, 21));
    let oil = known(&found, "oil change");
    assert_eq!((oil.due, oil.on), (DueAt::Count(Count::Tachometer, Hours(1050.0)), Some(date(2026, 4, 11))));
    assert_eq!(oil.left_days, Some(80));
    assert_eq!(first(&found).map(|d| d.name.as_str()), Some("oil change"));
}

/// Each wrong line: code, line, column of its first and after its last character.
#[test]
fn wrong_lines_are_named_at_their_exact_characters() {
    let text = format!(
        "{HEAD}2026-02-30,1000,,,\n2026-03-01,1000,1200,900,\n2026-02-28,1001,,,\n2026-03-02,999,,,\n2026-03-03,1e9,,,\n\
         2026-03-04,-5,,,\n2026-03-05,1300,,,\n2026-03-06,,,,oil changes\n2026-03-07,,,,oil change\n2026-03-08,1\n"
    );
    let mut sources = Sources::default();
    let file = sources.add("log.csv", text.clone());
    let mut found = parse(file, &text, &names()).unwrap_err();
    found.sort(&sources);
    let told: Vec<(&str, (usize, usize))> =
        found.iter().map(|d| (d.code, sources.line_column(d.primary.span))).collect();
    let wanted = [
        ("log-date", (2, 1)),
        ("log-backwards", (4, 1)),
        ("log-backwards", (5, 12)),
        ("log-number", (6, 12)),
        ("log-number", (7, 12)),
        ("log-too-fast", (8, 12)),
        ("log-inspection", (9, 15)),
        ("log-count-missing", (10, 15)),
        ("log-fields", (11, 1)),
    ];
    assert_eq!(told, wanted);
    assert!(found.iter().all(|d| d.help.is_some()));
    assert!(parse(file, "date,tach\n2026-01-01,1\n", &names()).is_err());
    assert!(parse(file, "", &names()).is_err());
}
