use chrono::NaiveDate;
use competency::validity::{Standing, State};
use contract::{Person, Roster, RosterColumn, RosterRow};

use super::text_of;

pub(super) fn roster(people: usize, columns: usize) -> Roster {
    let states = [
        State::Current,
        State::DueSoon,
        State::Overdue,
        State::NotYetCompetent,
        State::NeverValidated,
        State::Suspended,
        State::NotRequired,
    ];
    let date = |text: &str| text.parse::<NaiveDate>().unwrap();
    let procedures = (0..columns)
        .map(|column| RosterColumn {
            id: format!("p-{column}"),
            title: format!("Procedure {column} with a long title"),
        })
        .collect();
    let rows = (0..people)
        .map(|row| RosterRow {
            put_right: Vec::new(),
            person: Person {
                id: format!("{row}"),
                name: format!("Person Number {row}"),
                number: format!("{:04}", 1000 + row),
                unit: "u".to_owned(),
                unit_name: "Ward 3".to_owned(),
                role: "Registered nurse".to_owned(),
                observes: false,
            },
            standings: (0..columns)
                .map(|column| {
                    let state = states[(row + column) % states.len()];
                    let valid_until = match state {
                        State::Current => Some(date("2027-05-31")),
                        State::DueSoon => Some(date("2026-12-20")),
                        State::Overdue => Some(date("2026-11-01")),
                        State::NotYetCompetent
                        | State::NeverValidated
                        | State::Suspended
                        | State::NotRequired => None,
                    };
                    let suspended = state == State::Suspended;
                    let suspended_since = suspended.then(|| date("2026-11-20"));
                    let (decided_on, evidence, because) = (None, None, String::new());
                    Standing { state, valid_until, decided_on, evidence, suspended_since, because }
                })
                .collect(),
        })
        .collect();
    Roster {
        facility: "Hilltop Hospital".to_owned(),
        unit: Some("Ward 3".to_owned()),
        as_of: date("2026-11-25"),
        known_at: None,
        procedures,
        rows,
        unknown_entries: 0,
        rules: 1,
        standings: u32::try_from(people * columns).unwrap(),
        covers: "It rests on 9 entries.".to_owned(),
    }
}

pub(super) fn drawn(roster: &Roster) -> Vec<u8> {
    crate::roster(roster, "2026-11-25T10:00:00+01:00".parse().unwrap(), "Doorside 0.1.0").unwrap()
}

#[test]
fn every_state_is_told_in_words() {
    let text = text_of(&drawn(&roster(7, 1)));
    for said in [
        "Roster: Ward 3, as of 25 November 2026",
        "Current through 31 May 2027",
        "Due soon through 20 Dec 2026",
        "Overdue ran out 1 Nov 2026",
        "Not yet competent",
        "Never validated",
        "Suspended",
        "Not required",
        "Overdue: 1 · Not yet competent: 1 · Suspended: 1 · Never validated: 1 · Due soon: 1 · Current: 1",
    ] {
        assert!(text.contains(said), "{said:?} must stand in: {text}");
    }
}

#[test]
fn many_people_and_procedures_all_stand_in_it() {
    let text = text_of(&drawn(&roster(60, 8)));
    for said in ["Person Number 0 ", "Person Number 59", "Procedure 0", "Procedure 7", "1059"] {
        assert!(text.contains(said), "{said:?} must stand in it");
    }
}

#[test]
fn an_empty_or_incomplete_roster_says_so() {
    assert!(text_of(&drawn(&roster(0, 1))).contains("Nobody belongs to this unit"));
    assert!(text_of(&drawn(&roster(1, 0))).contains("Nothing is required here"));
    let incomplete = Roster { unknown_entries: 2, ..roster(1, 1) };
    assert!(text_of(&drawn(&incomplete)).contains("may be incomplete: 2 entries are of a kind"));
}

#[test]
fn what_was_put_right_is_told_under_the_state() {
    let mut roster = roster(2, 2);
    roster.rows[0].put_right = vec![None, Some(contract::PutRight::Voided)];
    roster.rows[1].put_right = vec![Some(contract::PutRight::Disputed), None];
    let text = text_of(&drawn(&roster));
    for said in ["a record was voided", "two corrections differ"] {
        assert_eq!(text.matches(said).count(), 1, "{said:?} must stand once in: {text}");
    }
}
