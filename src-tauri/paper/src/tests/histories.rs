use competency::{
    procedure::Mode,
    report::{Outcome, Severity},
    validity::Purpose,
};
use contract::{Amended, Amendment, History, HistoryLine, Person};

use super::text_of;
use crate::HistoryOrigin;

fn line() -> HistoryLine {
    let day = |text: &str| text.parse().unwrap();
    HistoryLine {
        record: "demo-1".to_owned(),
        entry: "e-1".to_owned(),
        on: day("2026-11-25"),
        sealed_on: day("2026-11-26"),
        procedure: "Removal after contact precautions".to_owned(),
        version: "1.2.0".to_owned(),
        purpose: Purpose::Validation,
        mode: Mode::Assessed,
        procedure_hash: "ab".repeat(32),
        observer: "Ines Odum".to_owned(),
        observer_id: "p-2".to_owned(),
        observer_then: (true, "current that day".to_owned()),
        observations: vec![("10:02:03".to_owned(), "Gloves off".to_owned())],
        counts: true,
        amendments: vec![Amendment {
            entry: "e-2".to_owned(),
            on: day("2026-11-27"),
            by: "Ines Odum".to_owned(),
            what: Amended::Date { from: day("2026-11-26"), on: day("2026-11-25"), valid_until: None },
            reason: "by the duty roster.".to_owned(),
            counts: true,
        }],
        disputed: false,
        second: None,
        outcome: Outcome::NotYetCompetent,
        steps_well: 3,
        steps_counted: 5,
        findings: vec![(Severity::Critical, "The gown came off too early.".to_owned())],
        valid_until: None,
        ended_on: None,
        digest: "cd".repeat(32),
    }
}

fn told(line: HistoryLine) -> String {
    let person = Person {
        id: "p-1".to_owned(),
        name: "Tomas Rehn".to_owned(),
        number: "1002".to_owned(),
        unit: "u".to_owned(),
        unit_name: "Ward 3".to_owned(),
        role: "Nurse".to_owned(),
        observes: false,
    };
    let history = History {
        ahead: None,
        person,
        as_of: "2026-11-28".parse().unwrap(),
        known_at: "2026-11-29".parse().unwrap(),
        facility: "Harbour Hospital".to_owned(),
        standings: Vec::new(),
        demonstrations: vec![line],
    };
    let drawn = "2026-11-30T10:00:00+01:00".parse().unwrap();
    let drawn =
        crate::history(&history, &HistoryOrigin { drawn, program: "Doorside", records: &[] }).unwrap();
    text_of(&crate::archive::written(drawn).unwrap())
}

#[test]
fn a_history_says_both_dates_and_both_times() {
    let text = told(line());
    for said in [
        "As of 28 November 2026, by what was known by the end of 29 November 2026",
        "26 November 2026, put right to 25 November 2026: Removal after contact precautions",
        "27 November 2026, Ines Odum: date put right from 26 November 2026, as it was sealed, to 25 November 2026; \
         grants nothing. Reason: by the duty roster.",
        "Not valid; an earlier validation of this procedure ends with it",
        "Findings Critical: The gown came off too early. Observations",
    ] {
        assert!(text.contains(said), "{said:?} must stand in: {text}");
    }
}

#[test]
fn a_voided_record_is_not_said_to_end_anything() {
    let text = told(HistoryLine { counts: false, ..line() });
    assert!(text.contains("Nothing: it does not count any more"), "{text}");
    assert!(!text.contains("ends with it"), "{text}");
}
