use chrono::NaiveDate;
use competency::validity::State;
use export::{Reminder, Reminders, TakenBack, reminders_ics};
use serde::Deserialize;
use suite::python;

use crate::{day, made};

/// `icalendar` takes bare LF and unfolded lines too, so line ends and lengths are counted here.
const READ: &str = r#"
import json, sys
from icalendar import Calendar
raw = bytes(json.load(sys.stdin))
calendar = Calendar.from_ical(raw)
lines = raw.split(b"\r\n")
json.dump({
    "errors": [str(error) for part in calendar.walk() for error in part.errors],
    "longest": max(len(line) for line in lines),
    "bare": sum(b"\r" in line or b"\n" in line for line in lines),
    "prodid": str(calendar["PRODID"]),
    "events": [{
        "uid": str(event["UID"]), "summary": str(event["SUMMARY"]), "sequence": int(event["SEQUENCE"]),
        "start": event.decoded("DTSTART").isoformat(), "end": event.decoded("DTEND").isoformat(),
        "stamp": event.decoded("DTSTAMP").isoformat(),
        "status": str(event.get("STATUS", "")),
        "alarms": [int(alarm.decoded("TRIGGER").total_seconds()) for alarm in event.walk("VALARM")],
    } for event in calendar.walk("VEVENT")],
}, sys.stdout)
"#;

#[derive(Deserialize)]
struct Read {
    errors: Vec<String>,
    longest: usize,
    bare: usize,
    prodid: String,
    events: Vec<Event>,
}

#[derive(Deserialize)]
struct Event {
    uid: String,
    summary: String,
    sequence: i64,
    start: String,
    end: String,
    stamp: String,
    status: String,
    alarms: Vec<i64>,
}

fn reminder(person: &str, name: &str, valid_until: NaiveDate) -> Reminder {
    Reminder {
        person: person.to_owned(),
        name: name.to_owned(),
        number: "1001".to_owned(),
        role: "Nurse".to_owned(),
        unit: "Ward 5; isolation, \"north\"".to_owned(),
        procedure: "contact-doffing".to_owned(),
        title: "Removal of gown, gloves, eye protection and respirator, example 1 (gown and gloves in one)"
            .to_owned(),
        valid_until: Some(valid_until),
        state: State::DueSoon,
        because: "last competent a year ago".to_owned(),
        lead_days: vec![30, 7, 0],
        revision: 0,
    }
}

fn read(due: Vec<Reminder>) -> Read {
    read_with(due, &[])
}

fn read_with(due: Vec<Reminder>, taken_back: &[TakenBack]) -> Read {
    let reminders = Reminders {
        facility: "Höhenklinik, 日本語".to_owned(),
        facility_id: "f1".to_owned(),
        as_of: day("2026-11-25"),
        due,
    };
    python::ask(READ, &reminders_ics(&reminders, taken_back, made()).expect("a calendar"))
}

#[test]
fn a_calendar_is_read_without_errors_with_the_very_dates_and_names() {
    let due = [
        ("p1", "Ana Núñez-Ørsted", "2026-11-25"),
        ("p2", "مريم O'Neil; née \\Smith, MD", "2027-02-28"),
        ("p3", "山田 花子 山田 花子 山田 花子 山田 花子 山田 花子 山田 花子 山田 花子", "2028-02-29"),
        ("p4", "Z", "1999-12-31"),
        ("p5", "👩🏽‍⚕️ Test", "2100-02-28"),
    ];
    let read = read(due.iter().map(|(person, name, until)| reminder(person, name, day(until))).collect());
    assert_eq!(read.errors, Vec::<String>::new());
    assert_eq!(read.bare, 0, "every line ends in CRLF");
    assert!(read.longest <= 75, "{} octets in a line", read.longest);
    assert_eq!(read.prodid, "-//Doorside//Re-validation//EN");
    assert_eq!(read.events.len(), due.len());
    for (event, (person, name, until)) in read.events.iter().zip(due) {
        assert_eq!(event.start, until, "{person}");
        assert_eq!(event.end, day(until).succ_opt().expect("a next day").to_string(), "the end is exclusive");
        assert_eq!(event.stamp, "2026-11-25T10:02:03+00:00");
        assert!(event.summary.contains(name), "{} tells {name}", event.summary);
        // Eight in the morning, 30 and 7 days before the last valid day and on it.
        assert_eq!(event.alarms, [8 * 3600 - 30 * 86400, 8 * 3600 - 7 * 86400, 8 * 3600]);
    }
}

#[test]
fn a_re_validation_moves_the_entry_and_does_not_double_it() {
    let one = |until, revision| {
        read(vec![Reminder { revision, ..reminder("p1", "Ana", day(until)) }]).events.remove(0)
    };
    let (before, after) = (one("2026-12-31", 0), one("2027-12-15", 1));
    assert_eq!(before.uid, after.uid);
    assert_eq!((before.sequence, after.sequence), (0, 1));
}

#[test]
fn what_is_taken_back_keeps_its_entry_and_its_title() {
    let before = read(vec![reminder("p1", "Ana", day("2026-12-31"))]).events.remove(0);
    let due = reminder("p1", "Ana", day("2026-12-31"));
    let gone = TakenBack {
        person: due.person,
        name: due.name,
        procedure: due.procedure,
        title: due.title,
        valid_until: day("2026-12-31"),
        revision: 1,
    };
    let taken_back = read_with(Vec::new(), &[gone]).events.remove(0);
    assert_eq!((before.uid, before.summary), (taken_back.uid, taken_back.summary));
    assert_eq!((before.status.as_str(), taken_back.status.as_str()), ("", "CANCELLED"));
    assert_eq!((taken_back.sequence, taken_back.alarms), (1, Vec::new()));
}

#[test]
fn a_calendar_of_nothing_is_read_too() {
    let read = read(vec![]);
    assert_eq!((read.errors.len(), read.events.len()), (0, 0));
}
