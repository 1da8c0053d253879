//! Validity dates against python-dateutil, whose `relativedelta(months=n)` cuts the day to the end of
//! the month, as the rule here does.

use chrono::{Datelike, NaiveDate};
use competency::validity::valid_until;
use serde_json::json;

#[test]
fn every_day_of_a_century() {
    let first: NaiveDate = "2000-01-01".parse().expect("a date");
    let last: NaiveDate = "2100-12-31".parse().expect("a date");
    let months = [1, 3, 6, 11, 12, 13, 18, 24, 36];
    let question = json!({ "first": first.to_string(), "last": last.to_string(), "months": months });
    let answer: Vec<Vec<i32>> = suite::python::ask(include_str!("dates.py"), &question);
    for (months, days) in months.into_iter().zip(answer) {
        assert_eq!(days.len(), first.iter_days().take_while(|day| *day <= last).count());
        for (day, expected) in first.iter_days().zip(days) {
            let until = valid_until(day, months).map(|until| until.num_days_from_ce());
            assert_eq!(until, Some(expected), "{day} and {months} months");
        }
    }
}
