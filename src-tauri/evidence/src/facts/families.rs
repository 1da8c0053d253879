//! Sequences of one family, any of which a facility may accept in the place of another: what was begun as one may be
//! kept as another, and whoever showed it is held to both.

use chrono::NaiveDate;
use competency::{report::Outcome, validity::State};

use super::{
    indexed::other,
    standings::{facts, sealed},
    tests::{appointed, day},
};
use crate::{Body, Cause, DemonstrationSealed, Facts, RevalidationAsked};

/// A demonstration that was kept as the other sequence.
fn as_other(on: u32, outcome: Outcome) -> DemonstrationSealed {
    let procedure_hash = other("doffing-2", false, 3, false).hash;
    DemonstrationSealed { procedure: "doffing-2".to_owned(), procedure_hash, ..sealed(on, outcome) }
}

/// Both sequences, of which the first accepts the other or not, with more entries.
fn held(accepts: bool, more: Vec<(u32, Body)>) -> Facts {
    let mut entries = vec![
        (3, other("doffing-2", false, 3, false).into()),
        (4, other("doffing", accepts, 4, false).into()),
    ];
    entries.extend(more);
    Facts::fold(facts(entries), None)
}

fn state(facts: &Facts, on: u32) -> State {
    facts.standing("p", "doffing", day(on)).state
}

#[test]
fn another_sequence_counts_only_where_it_is_accepted() {
    let shown = || vec![(5, as_other(5, Outcome::Competent).into())];
    assert_eq!(state(&held(false, shown()), 6), State::NeverValidated);
    assert_eq!(state(&held(true, shown()), 6), State::Current);
}

#[test]
fn what_asks_for_one_of_them_anew_ends_what_was_shown_by_the_other() {
    let ask = |procedure: &str, cause| -> Body {
        RevalidationAsked {
            person: Some("p".to_owned()),
            unit: None,
            procedures: Some(vec![procedure.to_owned()]),
            on: day(10),
            by: day(9),
            cause,
        }
        .into()
    };
    let seen = || ask("doffing-2", Cause::Contamination { demonstration: None });
    let own = || (5, sealed(5, Outcome::Competent).into());
    let alike = || (5, as_other(5, Outcome::Competent).into());
    // Begun as the first and kept as the other: what was seen in it counts against both.
    assert_eq!(state(&held(true, vec![own(), (10, seen())]), 11), State::Overdue);
    assert_eq!(state(&held(false, vec![own(), (10, seen())]), 11), State::Current, "they are two here");
    let gown = || ask("doffing", Cause::Equipment { what: "gown".to_owned() });
    assert_eq!(state(&held(true, vec![alike(), (10, gown())]), 11), State::Overdue);
    let apart = held(true, vec![alike(), (10, gown())]);
    assert_eq!(apart.standing("p", "doffing-2", day(11)).state, State::Current, "it holds for itself");
}

#[test]
fn a_version_that_asks_for_it_anew_asks_whoever_showed_the_other() {
    let again = |accepts| {
        let version = other("doffing", accepts, 10, true);
        held(true, vec![(5, as_other(5, Outcome::Competent).into()), (10, version.into())])
    };
    assert_eq!(state(&again(true), 13), State::DueSoon);
    assert_eq!(state(&again(true), 14), State::Overdue);
}

#[test]
fn a_repeat_names_its_first_attempt_in_whatever_sequence_that_was_kept() {
    let failed = || (5, as_other(5, Outcome::NotYetCompetent).into());
    let repeats = |accepts, more: Vec<(u32, Body)>| {
        let mut entries = vec![failed()];
        entries.extend(more);
        held(accepts, entries).repeats("p", "doffing", day(7))
    };
    assert_eq!(repeats(true, vec![]).as_deref(), Some("d-5"));
    assert_eq!(repeats(false, vec![]), None);
    assert_eq!(repeats(true, vec![(6, sealed(6, Outcome::Competent).into())]), None, "better since");
}

#[test]
fn a_failed_attempt_in_another_sequence_ends_a_validation() {
    let more =
        vec![(5, sealed(5, Outcome::Competent).into()), (8, as_other(8, Outcome::NotYetCompetent).into())];
    let ended = |accepts, on| {
        let facts = held(accepts, more.clone());
        facts.ended_on("p", &facts.people["p"].attempts[0], day(on))
    };
    assert_eq!(ended(true, 7), None);
    assert_eq!(ended(true, 8), Some(day(8)));
    assert_eq!(ended(false, 8), None);
}

#[test]
fn an_observer_is_entitled_to_what_is_kept_by_what_it_was_begun_as() {
    let by = |accepts, kept_as, on| {
        held(accepts, vec![(10, appointed().into())]).entitled_by("p", kept_as, day(on))
    };
    assert_eq!(by(true, "doffing-2", 10).as_deref(), Some("doffing"));
    assert_eq!(by(false, "doffing-2", 10), None);
    assert_eq!(by(true, "doffing-2", 13), None, "the appointment is over");
    assert_eq!(by(false, "doffing", 10).as_deref(), Some("doffing"));
}

#[test]
fn the_index_reads_them_alike() {
    let shown = as_other(5, Outcome::Competent);
    let facts = held(true, vec![(5, shown.into())]);
    let on = NaiveDate::from_ymd_opt(2026, 11, 6).unwrap();
    let index = crate::Index::of(&facts);
    let rows = index.roster(&facts, None, on);
    assert_eq!(rows[0].1[0].state, State::Current);
}
