//! The days on which a validation turns, one by one: month ends, leap days, and the cited cases.

use chrono::{Datelike, Days, NaiveDate};

use super::{Asked, Attempt, State, standing, strict_year, valid_until};
use crate::report::Outcome;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// How someone who was competent on `shown` stands on `as_of`, with a lead time of `lead_days`.
fn state(shown: &str, months: u32, strict: bool, lead_days: u32, as_of: NaiveDate) -> State {
    let on = date(shown);
    let until = valid_until(on, months).unwrap();
    let cut = strict.then(|| strict_year(on, until)).flatten();
    let attempt = Attempt { on, outcome: Outcome::Competent, valid_until: Some(until), cut, elsewhere: None };
    standing(&[attempt], Asked { required: true, lead_days, suspended: None }, as_of).state
}

/// The last valid day as computed with java.time and dateutil, which agree, and the day before and after it,
/// and the days around the lead time's first.
#[test]
fn each_boundary_the_day_before_on_and_after() {
    for (shown, months, last) in [
        ("2024-02-29", 12, "2025-02-28"),
        ("2024-02-29", 48, "2028-02-29"),
        ("2023-02-28", 12, "2024-02-28"),
        ("2023-03-01", 12, "2024-03-01"),
        ("2023-08-31", 6, "2024-02-29"),
        ("2025-08-31", 6, "2026-02-28"),
        ("2024-01-31", 1, "2024-02-29"),
        ("2024-03-31", 1, "2024-04-30"),
        ("2023-12-31", 12, "2024-12-31"),
        ("2024-12-31", 2, "2025-02-28"),
        ("1999-12-31", 2, "2000-02-29"),
        ("2099-12-31", 2, "2100-02-28"),
    ] {
        let last = date(last);
        let on = |days: i64, lead| {
            let day = last.checked_add_signed(chrono::Duration::days(days)).unwrap();
            state(shown, months, false, lead, day)
        };
        assert_eq!(
            [on(-1, 0), on(0, 0), on(1, 0)],
            [State::Current, State::DueSoon, State::Overdue],
            "{shown} + {months} months, without a lead time"
        );
        assert_eq!(
            [on(-8, 7), on(-7, 7), on(0, 7), on(1, 7)],
            [State::Current, State::DueSoon, State::DueSoon, State::Overdue],
            "{shown} + {months} months, seven days before"
        );
        assert_eq!(state(shown, months, false, 7, date(shown).pred_opt().unwrap()), State::NeverValidated);
    }
}

/// Every day of a century, against counting in years and months by hand.
#[test]
fn every_day_of_a_century_has_its_anniversary() {
    let leap = |year: i32| year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days_in = |year, month: u32| match month {
        2 => 28 + u32::from(leap(year)),
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    };
    let mut day = date("2000-01-01");
    while day < date("2101-01-01") {
        for months in [1, 3, 6, 12, 24, 36] {
            let ahead = day.month0() + months;
            let year = day.year() + i32::try_from(ahead / 12).unwrap();
            let month = ahead % 12 + 1;
            let expected = NaiveDate::from_ymd_opt(year, month, day.day().min(days_in(year, month)));
            assert_eq!(valid_until(day, months), expected, "{day} + {months} months");
        }
        let until = valid_until(day, 12).unwrap();
        let strict = strict_year(day, until).map_or(until, |cut| cut.by);
        let days = (strict - day).num_days();
        assert!(days == 365 || days == 364 && day.day() == 29, "{day}: {days} days");
        day = day.checked_add_days(Days::new(1)).unwrap();
    }
}

/// OSHA's letter of 23 December 1998 on 29 CFR 1910.134 (osha.gov/laws-regs/standardinterpretations/
/// 1998-12-23): annual means each year on or before the anniversary, with 1 February 1999 as its example;
/// that it is due on 1 February 2000 is from memory.
#[test]
fn on_or_before_the_anniversary_is_in_time() {
    let on = |as_of| state("1999-02-01", 12, false, 0, date(as_of));
    assert_eq!(on("2000-01-31"), State::Current);
    assert_eq!(on("2000-02-01"), State::DueSoon, "the anniversary itself is in time");
    assert_eq!(on("2000-02-02"), State::Overdue);
}

/// OSHA's letter of 24 January 2007 on 29 CFR 1910.1030: at least annually means at least once in twelve
/// months, not over 365 days. Across a leap day the two letters differ by one day, so that the stricter is
/// the facility's choice.
#[test]
fn not_over_365_days_is_a_choice_that_differs_by_a_day() {
    for (shown, as_of, calendar, strict) in [
        ("2023-06-15", "2024-06-14", State::Current, State::DueSoon),
        ("2023-06-15", "2024-06-15", State::DueSoon, State::Overdue),
        ("2023-06-15", "2024-06-16", State::Overdue, State::Overdue),
        ("2024-06-15", "2025-06-15", State::DueSoon, State::DueSoon),
        ("2024-02-29", "2025-02-28", State::DueSoon, State::DueSoon),
        ("2024-02-29", "2025-03-01", State::Overdue, State::Overdue),
        ("2023-03-01", "2024-02-29", State::Current, State::DueSoon),
        ("2023-03-01", "2024-03-01", State::DueSoon, State::Overdue),
    ] {
        assert_eq!(state(shown, 12, false, 0, date(as_of)), calendar, "{shown} as of {as_of}");
        assert_eq!(state(shown, 12, true, 0, date(as_of)), strict, "{shown} as of {as_of}, 365 days");
    }
}

/// Always from the demonstration: due dates counted from due dates would wander away from it.
#[test]
fn what_is_chained_would_drift() {
    let chained = (0..4).fold(date("2024-02-29"), |day, _| valid_until(day, 12).unwrap());
    assert_eq!(chained, date("2028-02-28"));
    assert_eq!(valid_until(date("2024-02-29"), 48), Some(date("2028-02-29")));
}
