//! Files that other programs read, read by other programs: the calendar by the Python package `icalendar`, the workbook
//! by the Python package `openpyxl`, the table by Python's own `csv`, the
//! schema of procedure files by the Python package `jsonschema`. Their versions are in `requirements.txt`.
#![expect(clippy::expect_used, reason = "helpers of tests fail loudly")]

mod calendar;
mod procedures;
mod tables;

use chrono::{DateTime, NaiveDate, Utc};

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

fn made() -> DateTime<Utc> {
    "2026-11-25T10:02:03Z".parse().expect("a time")
}
