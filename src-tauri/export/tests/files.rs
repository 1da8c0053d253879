//! The files, byte for byte where a standard says so; other programs read them in the `suite` package.
#![expect(clippy::expect_used, reason = "helpers of tests fail loudly")]

use chrono::{DateTime, NaiveDate, Utc};
use competency::validity::{Origin, Standing, State};
use contract::{Person, Roster, RosterColumn, RosterRow};
use export::{Reminder, Reminders, reminders_csv, reminders_ics, roster_csv, roster_json, roster_xlsx};
use proptest::prelude::*;

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

fn made() -> DateTime<Utc> {
    "2026-11-25T10:02:03Z".parse().expect("a time")
}

fn person(id: &str, name: &str) -> Person {
    Person {
        id: id.to_owned(),
        name: name.to_owned(),
        number: format!("N-{id}"),
        unit: "u1".to_owned(),
        unit_name: "Ward 5, isolation".to_owned(),
        role: "Nurse".to_owned(),
        observes: false,
    }
}

fn standing(state: State, valid_until: Option<&str>) -> Standing {
    Standing {
        state,
        valid_until: valid_until.map(day),
        decided_on: valid_until.map(|_| day("2026-01-31")),
        evidence: valid_until.map(|_| Origin::Elsewhere),
        suspended_since: None,
        because: "Said \"so\", and signed.".to_owned(),
    }
}

fn roster() -> Roster {
    let column = |id: &str, title: &str| RosterColumn { id: id.to_owned(), title: title.to_owned() };
    Roster {
        facility: "Höhenklinik".to_owned(),
        unit: None,
        as_of: day("2026-11-25"),
        known_at: None,
        procedures: vec![column("donning", "Putting on"), column("doffing", "Taking off, example 1")],
        rows: vec![
            RosterRow {
                put_right: Vec::new(),
                person: person("1", "Ana Núñez"),
                standings: vec![
                    standing(State::Current, Some("2027-01-31")),
                    standing(State::NeverValidated, None),
                ],
            },
            RosterRow {
                put_right: Vec::new(),
                person: person("2", "=HYPERLINK(\"x\")"),
                standings: vec![
                    standing(State::Overdue, Some("2026-11-24")),
                    standing(State::DueSoon, Some("2026-11-25")),
                ],
            },
        ],
        unknown_entries: 0,
        rules: 1,
        standings: 4,
        covers: "It rests on 9 entries.".to_owned(),
    }
}

fn reminder(name: &str, valid_until: &str) -> Reminder {
    Reminder {
        person: "p1".to_owned(),
        name: name.to_owned(),
        number: "1001".to_owned(),
        role: "Nurse".to_owned(),
        unit: "Ward 5".to_owned(),
        procedure: "doffing".to_owned(),
        title: "Taking off".to_owned(),
        valid_until: Some(day(valid_until)),
        state: State::DueSoon,
        because: "last competent a year ago".to_owned(),
        lead_days: vec![30, 7, 0],
        revision: 3,
    }
}

fn reminders(due: Vec<Reminder>) -> Reminders {
    Reminders {
        facility: "Höhenklinik".to_owned(),
        facility_id: "f1".to_owned(),
        as_of: day("2026-11-25"),
        due,
    }
}

fn ics(due: Vec<Reminder>) -> String {
    String::from_utf8(reminders_ics(&reminders(due), &[], made()).expect("a calendar")).expect("UTF-8")
}

/// RFC 5545, 3.1 (from memory): CRLF, and at most 75 octets without it.
#[track_caller]
fn well_formed(file: &str) {
    assert!(file.ends_with("END:VCALENDAR\r\n"));
    for line in file.split("\r\n") {
        assert!(!line.contains(['\r', '\n']), "{line:?} has a bare line end");
        assert!(line.len() <= 75, "{line:?} has {} octets", line.len());
    }
}

#[test]
fn a_roster_as_csv_says_on_every_line_as_of_when_and_of_how_many() {
    let text = String::from_utf8(roster_csv(&roster()).unwrap()).unwrap();
    let lines: Vec<&str> = text.split_terminator("\r\n").collect();
    assert_eq!(lines.len(), 5, "a header and two people times two procedures");
    assert!(lines[0].starts_with("\u{feff}row,of rows,name,"), "{}", lines[0]);
    assert_eq!(
        lines[1],
        "1,4,Ana Núñez,N-1,Nurse,\"Ward 5, isolation\",Putting on,current,2027-01-31,2026-01-31,from elsewhere,\
         \"Said \"\"so\"\", and signed.\",donning,Höhenklinik,2026-11-25,,1,0,It rests on 9 entries."
    );
    assert!(lines[3].contains("\"'=HYPERLINK(\"\"x\"\")\""), "no formula: {}", lines[3]);
    assert!(lines[2].contains(",never validated,,,,"), "no date where there is none: {}", lines[2]);
}

#[test]
fn a_roster_as_json_is_what_crosses_to_the_window() {
    let bytes = roster_json(&roster()).unwrap();
    let back: Roster = serde_json::from_slice(&bytes).unwrap();
    assert_eq!(back, roster());
}

#[test]
fn the_same_roster_at_the_same_time_is_the_same_workbook() {
    let first = roster_xlsx(&roster(), made()).unwrap();
    assert_eq!(first, roster_xlsx(&roster(), made()).unwrap());
    assert_ne!(first, roster_xlsx(&roster(), made() + chrono::TimeDelta::days(1)).unwrap());
    assert!(first.starts_with(b"PK"), "a ZIP archive");
}

#[test]
fn a_roster_of_nobody_and_a_date_no_spreadsheet_has_are_written() {
    let mut roster = roster();
    for standing in roster.rows.iter_mut().flat_map(|row| &mut row.standings) {
        standing.valid_until = Some(day("1899-12-30"));
    }
    assert!(roster_xlsx(&roster, made()).is_ok());
    roster.rows.clear();
    assert!(roster_xlsx(&roster, made()).is_ok());
    assert_eq!(String::from_utf8(roster_csv(&roster).unwrap()).unwrap().lines().count(), 1);
}

#[test]
fn a_reminder_is_an_all_day_entry_on_the_last_valid_day() {
    let file = ics(vec![reminder("Ana Núñez", "2026-12-31")]);
    well_formed(&file);
    for line in [
        "PRODID:-//Doorside//Re-validation//EN",
        "DTSTART;VALUE=DATE:20261231",
        "DTEND;VALUE=DATE:20270101",
        "DTSTAMP:20261125T100203Z",
        "SEQUENCE:3",
        "CLASS:PRIVATE",
        "SUMMARY:Re-validation due: Ana Núñez\\, Taking off",
    ] {
        assert!(file.contains(&format!("{line}\r\n")), "{line} in {file}");
    }
    assert_eq!(file.matches("BEGIN:VALARM").count(), 3);
    assert_eq!(file.matches("DTSTAMP").count(), 1, "none in an alarm");
}

#[test]
fn an_entry_is_recognised_after_re_validation_and_other_entries_are_not_taken_for_it() {
    let uid = |due: Reminder| {
        let file = ics(vec![due]).replace("\r\n ", "");
        file.lines().find_map(|line| line.strip_prefix("UID:").map(str::to_owned)).expect("a UID")
    };
    let first = uid(reminder("Ana", "2026-12-31"));
    assert_eq!(first, uid(reminder("Ana Núñez-Smith", "2027-12-31")), "a new name and date");
    for other in [
        Reminder { person: "p2".to_owned(), ..reminder("Ana", "2026-12-31") },
        Reminder { procedure: "donning".to_owned(), ..reminder("Ana", "2026-12-31") },
        Reminder {
            person: "p1d".to_owned(),
            procedure: "offing".to_owned(),
            ..reminder("Ana", "2026-12-31")
        },
    ] {
        assert_ne!(first, uid(other));
    }
}

#[test]
fn days_left_end_at_nought_on_the_last_valid_day() {
    for (until, left) in [("2026-11-26", "1"), ("2026-11-25", "0"), ("2026-11-24", ""), ("2027-11-25", "365")]
    {
        let bytes = reminders_csv(&reminders(vec![reminder("Ana", until)])).unwrap();
        let text = String::from_utf8(bytes).unwrap();
        assert!(
            text.contains(&format!(",due soon,{until},{left},last competent a year ago,2026-11-25,")),
            "{text}"
        );
    }
}

#[test]
fn who_holds_nothing_is_in_the_table_without_a_day_and_in_no_calendar() {
    let none = Reminder { valid_until: None, state: State::NeverValidated, ..reminder("Ana", "2026-12-31") };
    let text = String::from_utf8(reminders_csv(&reminders(vec![none.clone()])).unwrap()).unwrap();
    assert!(text.contains(",never validated,,,"), "{text}");
    assert!(!ics(vec![none]).contains("BEGIN:VEVENT"));
}

proptest! {
    #[test]
    fn no_name_breaks_the_calendar_file(
        name in "\\PC{0,120}", title in "[\\x00-\\x7f]{0,120}", unit in ".{0,40}", days in 0_u64..40_000,
    ) {
        let due = Reminder {
            title, unit, valid_until: Some(day("1990-01-01") + chrono::Days::new(days)), ..reminder(&name, "2026-12-31")
        };
        let file = ics(vec![due]);
        well_formed(&file);
        prop_assert_eq!(file.matches("BEGIN:VEVENT\r\n").count(), 1);
        prop_assert_eq!(file.matches("\r\nUID:").count(), 4);
    }
}
