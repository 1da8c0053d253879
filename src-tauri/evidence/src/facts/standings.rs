//! How people stand, from entries: what counts as a validation and what does not.

use chrono::NaiveDate;
use competency::{
    log::HowEnded,
    procedure::{Mode, Procedure},
    report::Outcome,
    validity::{Purpose, State},
};
use serde_json::json;
use uuid::Uuid;

use super::tests::{accepted, appointed, day, joined, required, stated};
use crate::{
    Body, DemonstrationSealed, Entry, Facts, ProcedurePublished, ProcedureRetired, RecordVoided,
    Revalidation, digest, procedure_hash,
};

/// A procedure that validates in assessed mode only.
pub(super) fn procedure() -> Procedure {
    serde_json::from_value(json!({
        "id": "doffing", "version": "1.0.0", "title": "Doffing", "phase": "doffing",
        "precautions": ["contact"], "ensemble": ["gloves"], "sources": [],
        "acts": { "gloves-off": "Gloves off" },
        "steps": [{ "id": "gloves-off", "section": "Hands", "acts": ["gloves-off"], "text": "Gloves off." }]
    }))
    .unwrap()
}

pub(super) fn sealed(on: u32, outcome: Outcome) -> DemonstrationSealed {
    let wall = format!("2026-11-{on:02}T10:00:00+01:00").parse().unwrap();
    DemonstrationSealed {
        demonstration: format!("d-{on}"),
        first_attempt: None,
        person: "p".to_owned(),
        unit: "west".to_owned(),
        observer: "o".to_owned(),
        assistant: None,
        procedure: "doffing".to_owned(),
        version: "1.0.0".to_owned(),
        procedure_hash: procedure_hash(&procedure()).unwrap(),
        purpose: Purpose::Validation,
        mode: Mode::Assessed,
        on: day(on),
        begun: wall,
        ended: wall,
        how: HowEnded::Completed,
        outcome,
        valid_until: (outcome == Outcome::Competent).then(|| NaiveDate::from_ymd_opt(2027, 11, on).unwrap()),
        score_permille: 1000,
        steps_well: 1,
        steps_counted: 1,
        critical_findings: 0,
        other_findings: 0,
        pdf: digest(b"pdf"),
        record: digest(b"record"),
    }
}

/// The facts of a facility that published the procedure, where `p` joined on day 2, with more entries
/// from number 10 on, each known on its own day.
pub(super) fn facts(more: Vec<(u32, Body)>) -> Vec<Entry> {
    let procedure = procedure();
    let hash = procedure_hash(&procedure).unwrap();
    let mut entries = vec![
        stated(1, 2, joined("p", "west", 2)),
        stated(2, 2, ProcedurePublished { procedure, hash, from: day(2), approved: None, revalidate: None }),
        stated(3, 2, required(None, true, 30, 2)),
    ];
    entries.extend((10..).zip(more).map(|(n, (known_on, body))| stated(n, known_on, body)));
    entries
}

#[track_caller]
fn check(more: Vec<(u32, Body)>, on: u32, expected: State) {
    let standing = Facts::fold(facts(more), None).standing("p", "doffing", day(on));
    assert_eq!(standing.state, expected, "{}", standing.because);
}

#[test]
fn a_validation_counts_from_its_day() {
    let competent = || vec![(5, sealed(5, Outcome::Competent).into())];
    check(competent(), 4, State::NeverValidated);
    check(competent(), 5, State::Current);
    let facts = Facts::fold(facts(competent()), None);
    let on = |year, month, day| NaiveDate::from_ymd_opt(year, month, day).unwrap();
    let state = |date| facts.standing("p", "doffing", date).state;
    // The requirement's lead time of 30 days counts.
    assert_eq!(state(on(2027, 10, 5)), State::Current);
    assert_eq!(state(on(2027, 10, 6)), State::DueSoon);
    assert_eq!(state(on(2027, 11, 5)), State::DueSoon);
    assert_eq!(state(on(2027, 11, 6)), State::Overdue);
}

#[test]
fn what_is_no_attempt_at_a_validation_changes_nothing() {
    let practice = DemonstrationSealed { purpose: Purpose::Practice, ..sealed(6, Outcome::NotYetCompetent) };
    let live = DemonstrationSealed { purpose: Purpose::LiveCare, ..sealed(7, Outcome::NotYetCompetent) };
    let guided = DemonstrationSealed { mode: Mode::Guided, ..sealed(8, Outcome::NotYetCompetent) };
    let other =
        DemonstrationSealed { procedure: "donning".to_owned(), ..sealed(8, Outcome::NotYetCompetent) };
    for changes_nothing in [practice, live, guided, other, sealed(8, Outcome::NotAssessed)] {
        check(
            vec![(5, sealed(5, Outcome::Competent).into()), (8, changes_nothing.into())],
            9,
            State::Current,
        );
    }
    check(
        vec![(5, sealed(5, Outcome::Competent).into()), (8, sealed(8, Outcome::NotYetCompetent).into())],
        9,
        State::NotYetCompetent,
    );
}

#[test]
fn a_failed_attempt_at_an_unknown_version_still_counts() {
    let unknown = DemonstrationSealed {
        procedure_hash: digest(b"another version"),
        mode: Mode::Guided,
        ..sealed(8, Outcome::NotYetCompetent)
    };
    check(vec![(5, sealed(5, Outcome::Competent).into()), (8, unknown.into())], 9, State::NotYetCompetent);
}

#[test]
fn what_was_voided_does_not_count_any_more() {
    let entries = || {
        let reason = "the wrong person was chosen".to_owned();
        let voided = RecordVoided { entry: Uuid::from_u128(11), person: "p".to_owned(), reason };
        vec![
            (5, sealed(5, Outcome::Competent).into()),
            (8, sealed(8, Outcome::NotYetCompetent).into()),
            (12, voided.into()),
        ]
    };
    check(entries(), 9, State::Current);
    let before = Facts::fold(facts(entries()), Some(day(11)));
    assert_eq!(before.standing("p", "doffing", day(9)).state, State::NotYetCompetent, "as it was known then");
    assert_eq!(before.people["p"].attempts.len(), 2, "nothing vanishes");
}

#[test]
fn evidence_from_elsewhere_counts_until_something_is_seen_here() {
    check(vec![(3, accepted().into())], 3, State::DueSoon);
    check(
        vec![(3, accepted().into()), (3, sealed(1, Outcome::NotYetCompetent).into())],
        4,
        State::NotYetCompetent,
    );
}

#[test]
fn an_observer_is_appointed_or_current() {
    let may = |more, on| Facts::fold(facts(more), None).may_observe("p", "doffing", day(on));
    assert!(!may(vec![], 11));
    assert!(may(vec![(9, appointed().into())], 11));
    assert!(!may(vec![(9, appointed().into())], 13));
    assert!(may(vec![(5, sealed(5, Outcome::Competent).into())], 13));
    assert!(!may(vec![(5, sealed(5, Outcome::NotYetCompetent).into())], 13));
}

/// A second version, from day 20 on, published after day 2's.
fn second_version(revalidate_by: Option<u32>) -> ProcedurePublished {
    let mut procedure = procedure();
    procedure.version = "2.0.0".to_owned();
    let hash = procedure_hash(&procedure).unwrap();
    let revalidate = revalidate_by.map(|by| Revalidation { by: day(by), why: "new gown".to_owned() });
    ProcedurePublished { procedure, hash, from: day(20), approved: None, revalidate }
}

#[test]
fn a_version_ends_earlier_validations_only_where_the_educator_says_so() {
    let competent = || (5, sealed(5, Outcome::Competent).into());
    check(vec![competent(), (20, second_version(None).into())], 30, State::Current);
    let entries = || vec![competent(), (20, second_version(Some(25)).into())];
    check(entries(), 19, State::Current);
    check(entries(), 25, State::DueSoon);
    check(entries(), 26, State::Overdue);
    let on_it = DemonstrationSealed {
        procedure_hash: second_version(Some(25)).hash,
        ..sealed(24, Outcome::Competent)
    };
    let mut renewed = entries();
    renewed.push((24, on_it.into()));
    check(renewed, 26, State::Current);
}

#[test]
fn what_is_retired_is_neither_in_force_nor_required() {
    let retired =
        || ProcedureRetired { procedure: "doffing".to_owned(), why: "replaced".to_owned(), from: day(10) };
    let held = |more| Facts::fold(facts(more), None);
    let gone = held(vec![(9, retired().into())]);
    assert!(gone.in_force("doffing", day(9)).is_some());
    assert!(gone.in_force("doffing", day(10)).is_none());
    assert_eq!(gone.standing("p", "doffing", day(10)).state, State::NotRequired);
    assert_eq!(gone.required_procedures(day(10)), Vec::<&String>::new());
    let back = held(vec![(9, retired().into()), (20, second_version(None).into())]);
    assert_eq!(back.in_force("doffing", day(20)).map(|one| one.procedure.version.as_str()), Some("2.0.0"));
    assert_eq!(back.standing("p", "doffing", day(20)).state, State::NeverValidated);
}

/// Clocks in São Paulo went from midnight on to one o'clock on 4 November 2018, and from midnight back to
/// eleven on 17 February of that year (IANA time zone database). The day is the one on the wall there.
#[test]
fn the_day_is_the_one_on_the_wall_where_clocks_change_at_midnight() {
    let known = |wall: &str| {
        let mut entry = stated(1, 2, joined("p", "west", 2));
        entry.wall = wall.parse().unwrap();
        entry.known_on().to_string()
    };
    assert_eq!(known("2018-11-03T23:59:59-03:00"), "2018-11-03");
    assert_eq!(known("2018-11-04T01:00:00-02:00"), "2018-11-04");
    assert_eq!(known("2018-02-17T23:50:00-02:00"), "2018-02-17");
    assert_eq!(known("2018-02-17T23:10:00-03:00"), "2018-02-17", "twenty minutes later");
    assert_eq!(known("2018-02-18T00:00:00-03:00"), "2018-02-18");
    // In the hour that comes twice, what came later decides, though its clock reads earlier.
    let at = |wall: &str, outcome| DemonstrationSealed { begun: wall.parse().unwrap(), ..sealed(5, outcome) };
    let first = at("2026-11-05T23:50:00-02:00", Outcome::Competent);
    let second = at("2026-11-05T23:10:00-03:00", Outcome::NotYetCompetent);
    check(vec![(5, second.into()), (5, first.into())], 6, State::NotYetCompetent);
}
