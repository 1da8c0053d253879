//! Invitations to sessions: what a calendar reads, and what is printed.
#![expect(clippy::expect_used, reason = "helpers of tests fail loudly")]

use chrono::{DateTime, Utc};
use export::{Invitation, Invitations, invitations_csv, invitations_ics};

fn at(text: &str) -> DateTime<Utc> {
    text.parse().expect("a time")
}

fn invitation() -> Invitation {
    Invitation {
        person: "p1".to_owned(),
        name: "Ada Berg".to_owned(),
        number: "007".to_owned(),
        unit: "West".to_owned(),
        procedure: "contact-doffing".to_owned(),
        title: "Taking off, contact; gown and gloves".to_owned(),
        on: "2026-12-31".parse().expect("a date"),
        at: None,
        place: "Anteroom, West".to_owned(),
        observer: "Bo Carl".to_owned(),
        because: "On 31 December 2026, 1 day before it runs out on 1 January 2027.".to_owned(),
        revision: 0,
        cancelled: false,
    }
}

/// The content lines of a file of these, unfolded; RFC 5545 asks for CRLF and 75 octets (from memory).
fn lines(invited: Vec<Invitation>) -> Vec<String> {
    let (facility, facility_id) = ("St. Anna".to_owned(), "f".to_owned());
    let file = Invitations { facility, facility_id, invited };
    let bytes = invitations_ics(&file, at("2026-11-25T10:02:03Z")).expect("a calendar");
    let text = String::from_utf8(bytes).expect("UTF-8");
    assert!(text.ends_with("\r\n") && !text.replace("\r\n", "").contains(['\r', '\n']));
    assert!(text.split("\r\n").all(|line| line.len() <= 75));
    text.replace("\r\n ", "").lines().map(str::to_owned).collect()
}

#[track_caller]
fn has(lines: &[String], line: &str) {
    assert!(lines.iter().any(|one| one == line), "{line} is not among {lines:#?}");
}

#[test]
fn an_invitation_is_a_day_or_a_time() {
    let day = lines(vec![invitation()]);
    has(&day, "DTSTART;VALUE=DATE:20261231");
    has(&day, "DTEND;VALUE=DATE:20270101");
    has(&day, "SUMMARY:Demonstration: Ada Berg\\, Taking off\\, contact\\; gown and gloves");
    let time = Some((at("2026-12-31T08:00:00Z"), at("2026-12-31T08:30:00Z")));
    let timed = lines(vec![Invitation { at: time, ..invitation() }]);
    has(&timed, "DTSTART:20261231T080000Z");
    has(&timed, "DTEND:20261231T083000Z");
}

#[test]
fn a_moved_or_cancelled_one_is_the_same_entry_later() {
    let uid = |lines: &[String]| lines.iter().find(|line| line.starts_with("UID:")).cloned();
    let first = lines(vec![invitation()]);
    has(&first, "SEQUENCE:0");
    has(&first, "STATUS:CONFIRMED");
    let on = "2026-12-30".parse().expect("a date");
    let moved = lines(vec![Invitation { on, revision: 1, ..invitation() }]);
    has(&moved, "SEQUENCE:1");
    let cancelled = lines(vec![Invitation { revision: 2, cancelled: true, ..invitation() }]);
    has(&cancelled, "STATUS:CANCELLED");
    assert_eq!((uid(&first), uid(&moved)), (uid(&moved), uid(&cancelled)));
    let other = lines(vec![Invitation { procedure: "contact-donning".to_owned(), ..invitation() }]);
    assert_ne!(uid(&first), uid(&other));
}

#[test]
fn the_list_leaves_out_what_was_cancelled() {
    let cancelled = Invitation { cancelled: true, ..invitation() };
    let formula = Invitation { place: "=1+1".to_owned(), ..invitation() };
    let invited = vec![cancelled, formula];
    let file = Invitations { facility: String::new(), facility_id: String::new(), invited };
    let text = String::from_utf8(invitations_csv(&file).expect("CSV")).expect("UTF-8");
    let rows: Vec<_> = text.lines().collect();
    assert_eq!(rows.len(), 2);
    let row = "2026-12-31,,,'=1+1,Bo Carl,Ada Berg,007,West,\"Taking off, contact; gown and gloves\",\"On 31 December 2026, 1 day before it runs out on 1 January 2027.\",p1";
    assert_eq!(rows.last(), Some(&row));
}
