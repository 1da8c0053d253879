//! Suspensions and early triggers, from entries: each with its reason and date.

use competency::{
    report::{Finding, FindingKind, Outcome, Report, Severity},
    validity::{Purpose, State},
};
use uuid::Uuid;

use super::{
    standings::{facts, sealed},
    tests::{appointed, day},
};
use crate::{
    Body, Cause, DemonstrationSealed, FacilityRulesSet, Facts, LeaveStated, PersonSuspended, RecordVoided,
    RequirementSet, RevalidationAsked, SuspensionLifted,
};

/// What holds on a day of a person who was competent on day 5, with more entries from number 11 on.
#[track_caller]
fn check(more: Vec<(u32, Body)>, on: u32, state: State, because: &str) {
    let mut entries = vec![(5, sealed(5, Outcome::Competent).into())];
    entries.extend(more);
    let standing = Facts::fold(facts(entries), None).standing("p", "doffing", day(on));
    assert_eq!((standing.state, standing.because.as_str()), (state, because), "on day {on}");
}

const HOLDS: &str = "Competent on 5 November 2026, valid through 5 November 2027.";

fn suspended(procedures: Option<&str>) -> Body {
    let procedures = procedures.map(|one| vec![one.to_owned()]);
    let why = "unsafe at the door.".to_owned();
    PersonSuspended { person: "p".to_owned(), procedures, why, from: day(10) }.into()
}

fn asked(cause: Cause, by: u32) -> RevalidationAsked {
    RevalidationAsked {
        person: Some("p".to_owned()),
        unit: None,
        procedures: None,
        on: day(10),
        by: day(by),
        cause,
    }
}

fn unseen() -> Cause {
    Cause::Contamination { demonstration: None }
}

fn rules(leave_limit_days: Option<u32>, strict_year: bool) -> Body {
    FacilityRulesSet { leave_limit_days, strict_year, medical_clearance: false, from: day(1) }.into()
}

#[test]
fn a_suspension_holds_from_its_day_until_it_is_lifted() {
    let since = "Suspended since 10 November 2026: unsafe at the door.";
    let lifted = || {
        let (person, why) = ("p".to_owned(), "coached".to_owned());
        SuspensionLifted { suspension: Uuid::from_u128(11), person, why, from: day(20) }.into()
    };
    let both = || vec![(9, suspended(None)), (19, lifted())];
    check(both(), 9, State::Current, HOLDS);
    check(both(), 10, State::Suspended, since);
    check(both(), 19, State::Suspended, since);
    check(both(), 20, State::Current, HOLDS);
    check(vec![(9, suspended(Some("doffing")))], 10, State::Suspended, since);
    check(vec![(9, suspended(Some("donning")))], 10, State::Current, HOLDS);
    // What lifts one suspension leaves another standing.
    check(vec![(9, suspended(None)), (19, lifted()), (19, suspended(None))], 20, State::Suspended, since);
    let entry = Uuid::from_u128(12);
    let voided = RecordVoided { entry, person: "p".to_owned(), reason: "too soon".to_owned() };
    check(vec![(9, suspended(None)), (19, lifted()), (20, voided.into())], 20, State::Suspended, since);
}

#[test]
fn nobody_observes_while_suspended() {
    let may = |more| Facts::fold(facts(more), None).may_observe("p", "doffing", day(11));
    assert!(may(vec![(9, appointed().into())]));
    assert!(!may(vec![(9, appointed().into()), (9, suspended(None))]));
}

#[test]
fn every_early_trigger_shows_its_reason_and_date() {
    let text = "what".to_owned();
    for (cause, by, reason) in [
        (unseen(), 9, "a contamination event on 10 November 2026 was not recognised or not dealt with"),
        (Cause::Equipment { what: text.clone() }, 14, "new equipment since 10 November 2026: what"),
        (Cause::LossOfSkill { noted: text }, 9, "loss of skill noted on 10 November 2026: what"),
    ] {
        let ask = || vec![(10, asked(cause.clone(), by).into())];
        let last = format!("competent on 5 November 2026, valid through {by} November 2026; {reason}.");
        check(ask(), 9, State::Current, HOLDS);
        let since = format!("Overdue since {} November 2026: last {last}", by + 1);
        check(ask(), by + 1, State::Overdue, &since);
        if by > 10 {
            check(ask(), by, State::DueSoon, &format!("Due soon: {last}"));
        }
        let renewed = "Competent on 12 November 2026, valid through 12 November 2027.";
        let mut again = ask();
        again.push((12, sealed(12, Outcome::Competent).into()));
        check(again, 16, State::Current, renewed);
    }
}

#[test]
fn a_trigger_reaches_those_it_means_and_no_others() {
    let mean = |change: fn(&mut RevalidationAsked)| {
        let mut ask = asked(unseen(), 9);
        change(&mut ask);
        let entries = vec![(5, sealed(5, Outcome::Competent).into()), (10, ask.into())];
        Facts::fold(facts(entries), None).standing("p", "doffing", day(10)).state == State::Overdue
    };
    assert!(mean(|ask| ask.person = None));
    assert!(!mean(|ask| ask.person = Some("q".to_owned())));
    assert!(mean(|ask| ask.unit = Some("west".to_owned())));
    assert!(!mean(|ask| ask.unit = Some("east".to_owned())));
    assert!(mean(|ask| ask.procedures = Some(vec!["doffing".to_owned()])));
    assert!(!mean(|ask| ask.procedures = Some(vec!["donning".to_owned()])));
}

#[test]
fn on_the_day_of_the_event_the_moments_decide() {
    // The entry is written at half past eleven at night; the demonstration began at ten in the morning.
    let entries = |wall: &str| {
        let begun = wall.parse().unwrap();
        let again = DemonstrationSealed { begun, ..sealed(10, Outcome::Competent) };
        Facts::fold(facts(vec![(10, asked(unseen(), 9).into()), (10, again.into())]), None)
    };
    let state = |wall| entries(wall).standing("p", "doffing", day(11)).state;
    assert_eq!(state("2026-11-10T10:00:00+01:00"), State::Overdue);
    assert_eq!(state("2026-11-10T23:45:00+01:00"), State::Current);
}

/// A report whose only finding is a contamination event of this severity.
fn contaminated(severity: Severity) -> Report {
    let kind = FindingKind::Contamination;
    let (because, text) = (Vec::new(), "Touched.".to_owned());
    let finding = Finding { kind, step: None, observation: None, severity, because, text };
    Report {
        alignment_cost: 0,
        score_permille: 1000,
        steps_well: 1,
        steps_counted: 1,
        outcome: Outcome::NotYetCompetent,
        steps: Vec::new(),
        findings: vec![finding],
    }
}

#[test]
fn a_contamination_seen_in_practice_ends_what_was_shown_before_that_moment() {
    let practice = DemonstrationSealed { purpose: Purpose::Practice, ..sealed(10, Outcome::NotYetCompetent) };
    assert_eq!(RevalidationAsked::of(&practice, &contaminated(Severity::Other)), None, "it was dealt with");
    let asked = RevalidationAsked::of(&practice, &contaminated(Severity::Critical)).unwrap();
    let state = |again: &str| {
        let begun = again.parse().unwrap();
        let again = DemonstrationSealed {
            demonstration: "again".to_owned(),
            begun,
            ..sealed(10, Outcome::Competent)
        };
        // The practice, at ten in the morning, is sealed only the day after.
        let entries = vec![(10, again.into()), (11, practice.clone().into()), (11, asked.clone().into())];
        Facts::fold(facts(entries), None).standing("p", "doffing", day(12)).state
    };
    assert_eq!(state("2026-11-10T09:00:00+01:00"), State::Overdue);
    assert_eq!(state("2026-11-10T11:00:00+01:00"), State::Current);
}

#[test]
fn what_was_seen_in_a_voided_demonstration_is_voided_with_it() {
    let seen_in = Cause::Contamination { demonstration: Some("d-10".to_owned()) };
    let practice = DemonstrationSealed { purpose: Purpose::Practice, ..sealed(10, Outcome::NotYetCompetent) };
    let entry = Uuid::from_u128(11);
    let voided = RecordVoided { entry, person: "p".to_owned(), reason: "another person".to_owned() };
    let mut entries = vec![(10, practice.into()), (10, asked(seen_in, 9).into())];
    let since = "Overdue since 10 November 2026: last competent on 5 November 2026, valid through 9 November 2026; a contamination event on 10 November 2026 was not recognised or not dealt with.";
    check(entries.clone(), 11, State::Overdue, since);
    entries.push((11, voided.into()));
    let told = format!("{HOLDS} The record of 10 November 2026 was voided on 11 November 2026.");
    check(entries, 11, State::Current, &told);
}

#[test]
fn a_leave_longer_than_the_limit_ends_what_was_shown_before_it() {
    let leave = |through: Option<u32>| {
        let through = through.map(day);
        LeaveStated { person: "p".to_owned(), from: day(10), through }.into()
    };
    let away = |through| vec![(9, rules(Some(10), false)), (9, leave(through))];
    let since = "Overdue since 20 November 2026: last competent on 5 November 2026, valid through 19 November 2026; away since 10 November 2026, longer than the 10 days allowed.";
    check(away(None), 19, State::Current, HOLDS);
    check(away(None), 20, State::Overdue, since);
    check(away(Some(19)), 25, State::Current, HOLDS);
    check(away(Some(20)), 25, State::Overdue, since);
    let mut back_sooner = away(None);
    back_sooner.push((15, leave(Some(14))));
    check(back_sooner, 25, State::Current, HOLDS);
    check(vec![(9, leave(None))], 25, State::Current, HOLDS);
}

/// The choice between OSHA's letters of 23 December 1998 and 24 January 2007: see the boundary tables of
/// [`competency::validity`].
#[test]
fn a_facility_may_count_a_year_as_365_days() {
    let on = |year, month, day| chrono::NaiveDate::from_ymd_opt(year, month, day).unwrap();
    let state = |rules: Vec<(u32, Body)>| {
        let mut demonstration = sealed(5, Outcome::Competent);
        (demonstration.on, demonstration.valid_until) = (on(2027, 6, 15), Some(on(2028, 6, 15)));
        let entries = std::iter::once((5, demonstration.into())).chain(rules).collect();
        let facts = Facts::fold(facts(entries), None);
        [on(2028, 6, 14), on(2028, 6, 15)].map(|day| facts.standing("p", "doffing", day).state)
    };
    assert_eq!(state(vec![]), [State::DueSoon, State::DueSoon]);
    assert_eq!(state(vec![(5, rules(None, true))]), [State::DueSoon, State::Overdue]);
    assert_eq!(state(vec![(5, rules(None, true)), (6, rules(None, false))]), [State::DueSoon; 2]);
}

/// The same letters, read for a requirement: 15 June 2027 and 365 days are 14 June 2028, by dateutil.
#[test]
fn a_year_that_a_requirement_asks_for_is_read_as_the_facility_reads_one() {
    let on = |year, month, day| chrono::NaiveDate::from_ymd_opt(year, month, day).unwrap();
    let told = |strict: bool, day| {
        let mut demonstration = sealed(5, Outcome::Competent);
        (demonstration.on, demonstration.valid_until) = (on(2027, 6, 15), Some(on(2029, 6, 15)));
        let required = super::tests::required(Some("west"), true, 7, 2);
        let every = RequirementSet { months: Some(12), ..required };
        let entries = vec![(5, demonstration.into()), (5, every.into()), (6, rules(None, strict))];
        Facts::fold(facts(entries), None).standing("p", "doffing", day)
    };
    assert_eq!(told(false, on(2028, 6, 15)).state, State::DueSoon);
    assert_eq!(told(false, on(2028, 6, 16)).state, State::Overdue);
    assert_eq!(told(true, on(2028, 6, 14)).state, State::DueSoon);
    let over = told(true, on(2028, 6, 15));
    assert_eq!(over.state, State::Overdue);
    assert!(over.because.ends_with("the facility counts a year as 365 days at most."), "{}", over.because);
}

#[test]
fn a_requirement_may_ask_for_it_more_often_than_the_procedure() {
    let every = |months| {
        let set = RequirementSet { months, ..super::tests::required(Some("west"), true, 7, 2) };
        (4, set.into())
    };
    let cut = "Overdue since 6 February 2027: last competent on 5 November 2026, valid through 5 February 2027; required here every 3 months.";
    let on = |month, day| chrono::NaiveDate::from_ymd_opt(2027, month, day).unwrap();
    let held = |months| {
        let entries = vec![(5, sealed(5, Outcome::Competent).into()), every(months)];
        Facts::fold(facts(entries), None)
    };
    let state = |months, date| held(months).standing("p", "doffing", date).state;
    assert_eq!(state(Some(3), on(2, 5)), State::DueSoon);
    let over = held(Some(3)).standing("p", "doffing", on(2, 6));
    assert_eq!((over.state, over.because.as_str()), (State::Overdue, cut));
    assert_eq!(state(None, on(2, 6)), State::Current);
    assert_eq!(state(Some(24), on(11, 5)), State::DueSoon, "it never makes anything hold longer");
    assert_eq!(state(Some(24), on(11, 6)), State::Overdue);
}

/// What is chosen today was not so yesterday: a roster as of yesterday rightly said that it held.
#[test]
fn a_rule_that_is_chosen_today_ends_nothing_before_today() {
    let on = |month, day| chrono::NaiveDate::from_ymd_opt(2027, month, day).unwrap();
    let told = |more: Vec<(u32, Body)>, date| {
        let mut entries = vec![(5, sealed(5, Outcome::Competent).into())];
        entries.extend(more);
        let standing = Facts::fold(facts(entries), None).standing("p", "doffing", date);
        (standing.state, standing.because)
    };
    let holds = (State::Current, HOLDS.to_owned());
    let over = |since: &str, through: &str, why: &str| {
        let last = "last competent on 5 November 2026";
        (State::Overdue, format!("Overdue since {since}: {last}, valid through {through}; {why}."))
    };
    let every = |from, months| -> Body {
        let required = super::tests::required(Some("west"), true, 7, 2);
        RequirementSet { months: Some(months), from, ..required }.into()
    };
    let set = || vec![(6, every(on(6, 1), 3))];
    assert_eq!(told(set(), on(5, 31)), holds);
    let why = "required here every 3 months since 1 June 2027";
    assert_eq!(told(set(), on(6, 20)), over("1 June 2027", "31 May 2027", why));
    // What was asked for before, though less often, ended it on its own day.
    let stricter = vec![(6, every(day(6), 6)), (7, every(on(6, 1), 3))];
    let why = "required here every 6 months";
    assert_eq!(told(stricter, on(6, 20)), over("6 May 2027", "5 May 2027", why));

    let away = |from| -> Vec<(u32, Body)> {
        let rules = FacilityRulesSet {
            leave_limit_days: Some(10),
            strict_year: false,
            medical_clearance: false,
            from,
        };
        let leave = LeaveStated { person: "p".to_owned(), from: day(10), through: Some(on(1, 10)) };
        vec![(6, leave.into()), (7, rules.into())]
    };
    assert_eq!(told(away(on(6, 1)), on(5, 31)), holds);
    let why = "away since 10 November 2026, longer than the 10 days allowed since 1 June 2027";
    assert_eq!(told(away(on(6, 1)), on(6, 1)), over("1 June 2027", "31 May 2027", why));
}
